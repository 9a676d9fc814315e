#pragma once

#include <cstddef>
#include <vector>

#include "heatside/inspection/case_order.hpp"

/// What the opening order of a case chooses between.

namespace heatside::inspection {

/// A choice with what its actions mean.
struct WordedChoice {
  population::Choice choice;
  std::vector<ActionWords> words;               ///< by action
  std::vector<std::size_t> segments;            ///< of the looms that it is about, numbers in the case
  std::vector<std::vector<std::size_t>> mends;  ///< by action, rising: where bare conductor does not stay as it is
};

/// Looms whose remedies the case states are chosen among these, at what they cost over the years; the others are left or
/// replaced. Where bare conductor was seen a loom is not left, whatever it costs.
[[nodiscard]] std::vector<WordedChoice> choices_of(const casefile::Case& job, const library::Library& library,
                                                   const population::DrawnAnswer& answer);

/// What may no longer be chosen once a segment was seen cracked or crumbling: all that leaves it as it is.
[[nodiscard]] std::vector<population::RuledOut> ruled_out(const std::vector<WordedChoice>& choices, std::size_t segment);

/// What is taken for granted of the choices.
[[nodiscard]] std::vector<casefile::Assumption> assumptions_of_choices(const casefile::Case& job,
                                                                       const library::Library& library);

}  // namespace heatside::inspection
