#include <iostream>

#include "heatside/ageing/integrate.hpp"
#include "kinetics_case.hpp"

/// Reads a list of cases (see kinetics_cases.json) from standard input and prints what the library makes of them:
/// constants of the law, extent after each period by both solutions, elongation at the end.

using namespace heatside;

int main() {
  nlohmann::json answers = nlohmann::json::array();
  for (const nlohmann::json& json : nlohmann::json::parse(std::cin)) {
    const tests::KineticsCase each = tests::kinetics_case(json);
    nlohmann::json closed = nlohmann::json::array();
    nlohmann::json integrated = nlohmann::json::array();
    ageing::AgeingState state;
    ageing::LawState law_state;
    for (const ageing::ClockSpan& period : each.periods) {
      state = ageing::aged(each.kinetics, state, period.rates, period.length);
      closed.push_back(ageing::extent_of(each.kinetics, state));
      law_state = ageing::integrate_law(ageing::rate_law(each.kinetics, period.rates), law_state, period.length);
      integrated.push_back(law_state.extent);
    }
    const Strain left = ageing::elongation_after(each.kinetics, each.periods, ageing::Solution::closed_form);
    answers.push_back({{"name", each.name},
                       {"rate", each.kinetics.rate},
                       {"guard_rate", each.kinetics.guard_rate},
                       {"closed_form", closed},
                       {"integrated", integrated},
                       {"elongation_percent", in_percent(left)}});
  }
  std::cout << answers.dump(2) << '\n';  // every double with as many digits as it takes to read it back, up to 17
}
