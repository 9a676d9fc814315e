#pragma once

#include <vector>

#include "heatside/remedy/remedies.hpp"
#include "remedy/draws.hpp"
#include "remedy/policy.hpp"

/// Remedies summed up over their draws.

namespace heatside::remedy {

/// What goes in and cracks within that time in that share of the draws is no repair; judgement.
inline constexpr double no_repair_years = 1.0;
inline constexpr double no_repair_from = 0.5;

/// Chance that what a remedy puts in cracks when handled within `no_repair_years`, anywhere.
[[nodiscard]] double chance_of_cracking_soon(const Common& common, const Offered& question, const RemedyDraws& draws);

/// Expected cost of each draw [money].
[[nodiscard]] std::vector<double> cost_by_draw(const Common& common, const ExpectedDraws& expected);

/// A remedy with its price, its weakest segments and what the rules say; what its faults cost is not in it yet.
/// @param chance_cracked  cracked or worse now, by segment of the case
[[nodiscard]] Result judged(const Common& common, const Offered& question, const Offer& offer, const RemedyDraws& draws,
                            const std::vector<double>& chance_cracked);

/// What follows the work, over the horizon.
void add_costs(const Common& common, const Offered& question, const std::vector<Unit>& units, const RemedyDraws& draws,
               Result& result);

/// Quantiles of what each remedy turns out to cost, and how often it is the cheapest; the first of equals.
void add_futures(const Common& common, const Offered& question, const std::vector<RemedyDraws>& draws,
                 std::vector<Result>& results);

}  // namespace heatside::remedy
