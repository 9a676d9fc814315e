#pragma once

#include <vector>

#include "heatside/remedy/remedies.hpp"
#include "remedy/draws.hpp"

namespace heatside::remedy {

/// What could be found out before choosing: compounds, lives of batches, temperatures, use, firm prices, a used part's past.
/// @param draws  of each result
[[nodiscard]] std::vector<UnknownGroup> unknown_groups(const Common& common, const Question& question,
                                                       const std::vector<RemedyDraws>& draws);

/// Value of an opening at each segment that is not open yet and has no airbag circuits, before its own cost.
[[nodiscard]] std::vector<LookWorth> worth_of_looks(const Common& common, const Question& question);

/// How old each used part may be: written into its question.
void add_used_part_limits(const Common& common, std::vector<Question>& questions);

}  // namespace heatside::remedy
