#pragma once

#include <string>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/case_story.hpp"
#include "heatside/report/estimate_report.hpp"

namespace heatside::report {

/// What a case shows about heat, on one page: where the damage comes from, what ten kelvin does, why a straight line from
/// ovens misleads, what one trip up a hill costs.
[[nodiscard]] std::string story_text(const population::CaseStory& story, const casefile::Case& job,
                                     const library::Library& library, const BirthCertificate& certificate);

/// Format "heatside-story" version 1: the same numbers for programs.
/// @par Tested by  tests/app/classroom_test.py
[[nodiscard]] std::string story_json(const population::CaseStory& story, const casefile::Case& job,
                                     const BirthCertificate& certificate);

}  // namespace heatside::report
