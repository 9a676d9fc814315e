#include "heatside/remedy/default_losses.hpp"

#include <cmath>

#include "heatside/base/error.hpp"

namespace heatside::remedy {

population::Choice leave_or_replace(const std::string& loom, const std::vector<std::size_t>& segments,
                                    const library::ModelConstants::Opening& opening, double money_per_minute) {
  if (!(money_per_minute > 0.0 && std::isfinite(money_per_minute))) {
    throw DomainError("a minute of work costs " + std::to_string(money_per_minute) + ", which is not above 0");
  }
  const double fault = opening.fault_cost.value * money_per_minute;
  const population::ConditionRow left{0.0, opening.fault_stiff.value * fault, opening.fault_flex_cracks.value * fault,
                                      opening.fault_cracked.value * fault, opening.fault_crumbling.value * fault};
  population::Action leave, replace;
  leave.id = "leave";
  for (const std::size_t segment : segments) leave.segments.push_back({segment, left});
  replace.id = "replace";
  replace.fixed = opening.loom_cost.value * money_per_minute;
  return {loom, {leave, replace}};
}

}  // namespace heatside::remedy
