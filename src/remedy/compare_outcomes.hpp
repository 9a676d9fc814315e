#pragma once

#include <map>
#include <string>
#include <vector>

#include "heatside/population/alternative.hpp"
#include "heatside/population/service_heat.hpp"
#include "heatside/remedy/compare.hpp"

namespace heatside::remedy {

/// What all outcomes of a comparison are measured by.
struct Yardstick {
  const population::Belief& belief;
  Years wanted;
  double chance;
  Years cap;  ///< longer lives are cut in differences
};

/// Lives and heat of the compared segments of one build, all in one order.
struct Build {
  const casefile::Case& job;
  const std::vector<std::size_t>& segments;  ///< their numbers in the case
  std::vector<population::SegmentYears> years;
  const std::vector<std::vector<population::StretchHeat>>& heat;
  std::vector<Kelvin> limits;  ///< temperature of the class in each segment
};

/// Everything of a candidate that follows from its draws; its record's fields stay empty.
[[nodiscard]] Candidate outcome_of(const Build& build, const Yardstick& by);

/// What a change did: `after` gets the lives before it and the gains, draw by draw.
/// @param heat_before  of the segments
void add_change(const Build& before, const Build& after, const Yardstick& by, Candidate& outcome);

/// The zones of the compared segments with the hottest of each; `lowest` stays empty.
[[nodiscard]] std::vector<ZoneNeed> zone_needs(const std::vector<std::string>& segments,
                                               const std::vector<std::vector<population::StretchHeat>>& heat);

/// Standard error of a chance by the number of draws that count.
[[nodiscard]] double error_of(double chance, const population::Belief& belief);

}  // namespace heatside::remedy
