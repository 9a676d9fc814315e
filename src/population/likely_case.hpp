#pragma once

#include <memory>

#include "heatside/population/estimate.hpp"
#include "population/heat_memory.hpp"

namespace heatside::population {

/// As `likely_estimate`, and what is worked out of the heat stays known.
/// @param scores  of the case
/// @param memory  of the same library and scores
[[nodiscard]] Estimate likely_estimate(const casefile::Case& job, const library::Library& library, LikelyOptions options,
                                       const exposure::ZoneScores& scores, const std::shared_ptr<HeatMemory>& memory);

}  // namespace heatside::population
