#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "remedy/draws.hpp"

/// What an owner does about a loom in which old insulation was left: the first fault is mended, and then the whole loom is
/// renewed, because the next one would not be long. So leaving costs one fault and one renewal at most, and a stop on the
/// road is paid once at most: expected costs stay straight lines in its cost. Where no renewal of the whole loom is offered,
/// faults are mended one by one, as they are in what is new.

namespace heatside::remedy {

/// Looms that are renewed together after a fault in one of them.
struct Unit {
  std::vector<std::string> looms;      ///< ids
  std::vector<std::size_t> places;     ///< of their segments among those of the question
  std::optional<std::size_t> renewal;  ///< offer that is then taken; absent: none renews all of them
  std::vector<double> price;           ///< [money] its parts and work, by draw
  std::vector<double> fixed, stops;    ///< its own faults over a whole horizon, by draw: [money] without stops, and stops
};

/// The units of a question: every loom by itself where each has a renewal of its own, else all together where one offer
/// renews all. Segments with airbag circuits need not be renewed to make it whole.
///
/// Of several renewals the one that costs least: parts and work, once more at the chance that it faults itself, and mending.
/// The cost of a stop is left out of it, so that the choice is the same whatever a stop costs.
/// @param allowed  by offer: the rules do not strike it out
[[nodiscard]] std::vector<Unit> units_of(const Common& common, const Offered& question,
                                         const std::vector<RemedyDraws>& draws, const std::vector<bool>& allowed);

/// Where a remedy leaves old insulation in a unit that has a renewal: the first fault in every draw.
/// @param units  outlive the draws
void add_first_faults(const Common& common, const Offered& question, const std::vector<Unit>& units, RemedyDraws& draws);

/// What follows the first fault, for each unit in which the remedy leaves old insulation.
[[nodiscard]] std::vector<AfterFault> after_faults(const Common& common, const Offered& question,
                                                   const std::vector<Unit>& units, const RemedyDraws& draws);

/// By segment of the question: what the faults are expected to cost under the policy, as a share of what they would cost
/// mended one by one; 1 where they are.
[[nodiscard]] std::vector<double> policy_shares(const Common& common, const Offered& question, const RemedyDraws& draws);

}  // namespace heatside::remedy
