#pragma once

#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/population/estimate.hpp"

namespace heatside::population {

/// What an estimate says of every segment, in the order of the case, as a case stores it before a finding.
[[nodiscard]] std::vector<casefile::PredictedSegment> predicted_segments(const Estimate& estimate,
                                                                         const casefile::Case& job);

}  // namespace heatside::population
