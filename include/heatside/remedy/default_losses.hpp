#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "heatside/library/records.hpp"
#include "heatside/population/value_of_information.hpp"

namespace heatside::remedy {

/// The choice of one loom where a case names no remedies: `leave` it, or `replace` it.
///
/// `leave` costs, for every segment and condition, the chance that the segment so left leads to a bare-wire fault, times the
/// cost of such a fault; the faults of several segments add up. `replace` costs one loom and leaves no fault by heat.
///
/// @param loom              id of the choice
/// @param segments          of that loom, as they are numbered in the knowledge
/// @param opening           the model's constants, in minutes of work
/// @param money_per_minute  what a minute of work costs [money/min], > 0; 1 counts money in minutes of work
/// @throws DomainError      a rate that is not above 0
/// @par Source     the figures are judgement, see materials/model.json
/// @par Tested by  tests/remedy/default_losses_test.cpp
[[nodiscard]] population::Choice leave_or_replace(const std::string& loom, const std::vector<std::size_t>& segments,
                                                  const library::ModelConstants::Opening& opening, double money_per_minute);

}  // namespace heatside::remedy
