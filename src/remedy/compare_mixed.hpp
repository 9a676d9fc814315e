#pragma once

#include <vector>

#include "heatside/remedy/compare.hpp"

namespace heatside::remedy {

/// By the temperature that they are chosen by, then by chance of lasting, then by id; those that are no longer made are left
/// out unless all are.
[[nodiscard]] std::vector<const Candidate*> lowest_class_first(const std::vector<Candidate>& candidates);

/// For each compared segment the candidate of the lowest class that serves it; where none does, the one that lasts with
/// the best chance.
/// @param candidates  at least one, of the same segments
[[nodiscard]] std::vector<const Candidate*> assign_lowest_class(const std::vector<Candidate>& candidates);

/// The build in words of its parts.
/// @param assigned  of each segment
/// @param outcome   of the build as it was run
[[nodiscard]] MixedBuild described(const std::vector<const Candidate*>& assigned, const Candidate& outcome,
                                   const casefile::Case& job);

}  // namespace heatside::remedy
