#pragma once

#include <cstddef>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"

/// A case as it is once a remedy has been done on the day of the inspection.

namespace heatside::remedy {

/// True for what takes the old insulation out: branches, rewiring, rebuilt looms, used and new parts.
[[nodiscard]] bool renews(library::RemedyAct act);

/// Numbers of the segments that a remedy covers, rising.
[[nodiscard]] std::vector<std::size_t> covered_segments(const casefile::Case& job, const casefile::Remedy& remedy);

/// When what goes in was made. Where nobody knows: a used part as early as its donor or, without one, as the vehicle; all
/// else on the day of the inspection.
[[nodiscard]] Date made_of(const casefile::Case& job, const casefile::Remedy& remedy, library::RemedyAct act);

/// The case with the covered segments on looms and lots of their own, named after the remedy: its compounds and its date of
/// make, fitted on the day of the inspection, with the donor's years for a used part. Route, size, covering, current and
/// leaks stay as they are. Nothing changes where the remedy leaves or covers.
/// @par Tested by  tests/remedy/wired_test.cpp
[[nodiscard]] casefile::Case wired(const casefile::Case& job, const casefile::Remedy& remedy, library::RemedyAct act);

/// What a covering that is put on now makes of the years that are left: a factor on them, at equal temperature. The worst of
/// the segment's stretches and wires counts, each with its likely compound. Years that are over do not come back.
/// @throws DomainError  the covering is not in the library
[[nodiscard]] double life_under_cover(const casefile::Case& job, const library::Library& library, std::size_t segment,
                                      const std::string& covering);

}  // namespace heatside::remedy
