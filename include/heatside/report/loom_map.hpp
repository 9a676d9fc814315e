#pragma once

#include <cstddef>
#include <map>
#include <string>

#include "heatside/casefile/case.hpp"
#include "heatside/inspection/case_order.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/report/drawing.hpp"

/// The looms of a case as a map of what has to come off to reach them.

namespace heatside::report {

/// Which opening of the plan each segment is, by its id: 1 is opened first, a 2 may be next, depending on what 1 shows.
/// Segments that are not in the plan are left out; without a plan that pays there are none.
[[nodiscard]] std::map<std::string, std::size_t> opening_numbers(const inspection::CaseOrder& order);

/// Covers are fields, and in each field the looms run from node to node, a row for every segment: what it is, its likeliest
/// condition by heat in words, colour and line pattern, the chances of all five, the zone, and what was seen there. A node
/// that more than one field shows bears a letter. Wide places get several columns of fields.
///
/// @param numbers  openings by segment id, see `opening_numbers`; may be empty
/// @throws DomainError  a width or a prefix that is not allowed, or an estimate of another case
/// @par Tested by  tests/report/loom_map_drawing_test.cpp
[[nodiscard]] std::string loom_map(const casefile::Case& job, const library::Library& library,
                                   const population::Estimate& estimate, const std::map<std::string, std::size_t>& numbers,
                                   const DrawingPlace& place);

}  // namespace heatside::report
