#pragma once

#include <string>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/remedy/compare.hpp"
#include "heatside/report/estimate_report.hpp"

namespace heatside::report {

/// Insulations side by side for people, at most 100 columns wide: cautions, the best one, all of them ranked, why the others
/// fail and where, what each zone asks for, a build of the lowest class that serves each segment, what a change does.
/// @param estimate  of the case as it is
/// @par Tested by  tests/report/compare_report_test.cpp
[[nodiscard]] std::string compare_text(const remedy::Comparison& comparison, const population::Estimate& estimate,
                                       const casefile::Case& job, const library::Library& library,
                                       const BirthCertificate& certificate);

/// Format "heatside-comparison" version 1; see the README for the fields.
[[nodiscard]] std::string compare_json(const remedy::Comparison& comparison, const population::Estimate& estimate,
                                       const casefile::Case& job, const library::Library& library,
                                       const BirthCertificate& certificate);

}  // namespace heatside::report
