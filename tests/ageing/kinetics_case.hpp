#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "compounds.hpp"
#include "heatside/ageing/history.hpp"
#include "heatside/ageing/kinetics.hpp"

/// The cases of kinetics_cases.json, on which the library is compared with integrators of others.

namespace heatside::tests {

struct KineticsCase {
  std::string name;
  ageing::Kinetics kinetics;
  std::vector<ageing::ClockSpan> periods;
};

inline KineticsCase kinetics_case(const nlohmann::json& json) {
  const Elongations elongations{json.at("initial_percent").get<double>(), json.at("end_percent").get<double>()};
  const bool guarded = json.at("law").get<std::string>() == "guarded";
  KineticsCase found;
  found.name = json.at("name").get<std::string>();
  found.kinetics = ageing::likely_kinetics(
      guarded ? guarded_compound(elongations, json.at("induction_share").get<double>()) : gradual_compound(elongations),
      model_constants());
  for (const nlohmann::json& period : json.at("periods")) {
    found.periods.push_back({Hours{period.at("hours").get<double>()},
                             {period.at("extent_clock").get<double>(), period.at("guard_clock").get<double>()}});
  }
  return found;
}

}  // namespace heatside::tests
