#pragma once

#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"

/// From the dates of a case to spans of one kind of use.

namespace heatside::exposure {

/// A time with one way of use.
struct UseSpan {
  std::chrono::sys_days from{}, to{};
  std::string climate;
  library::Duty duty;  ///< without trips when laid up
  double usage = 0.0;  ///< weeks driven as the duty says; 0 is laid up
  bool sun = false;    ///< parked in the open
};

/// What a loom went through from its making to the inspection, in order of time and without gaps: on the shelf and
/// between service periods it is laid up in the climate of the nearest period (the later one before service). A used part
/// was in its donor first.
[[nodiscard]] std::vector<UseSpan> past_use(const casefile::Case& job, const casefile::Loom& loom,
                                            const library::Library& library);

/// What is to come; `from` is the inspection and `to` has no meaning.
[[nodiscard]] UseSpan future_use(const casefile::Case& job, const library::Library& library);

}  // namespace heatside::exposure
