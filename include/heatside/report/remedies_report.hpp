#pragma once

#include <optional>
#include <string>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/remedy/plan.hpp"
#include "heatside/remedy/remedies.hpp"
#include "heatside/report/estimate_report.hpp"

namespace heatside::report {

/// What can be done, side by side: cautions, for each choice its advice in two sentences, what no price overrides, a table,
/// a few lines for each remedy, the cost of a stop at which the choice changes, what would be worth knowing, how old a used
/// part may be, and what every remedy ends with.
/// @par Tested by  tests/report/remedies_report_test.cpp
[[nodiscard]] std::string remedies_text(const remedy::Answer& answer, const population::Estimate& estimate,
                                        const casefile::Case& job, const library::Library& library,
                                        const BirthCertificate& certificate);

/// Format "heatside-remedies" version 1.
/// @param plan  of one remedy, where one is asked for
[[nodiscard]] std::string remedies_json(const remedy::Answer& answer, const population::Estimate& estimate,
                                        const casefile::Case& job, const library::Library& library,
                                        const std::optional<remedy::Plan>& plan, const BirthCertificate& certificate);

/// The plan of one remedy, to print and to hold in the hand; with boxes to tick.
[[nodiscard]] std::string plan_text(const remedy::Plan& plan, const remedy::Answer& answer, const casefile::Case& job,
                                    const BirthCertificate& certificate);

/// The advice of one choice: what to do with its interval, and why.
[[nodiscard]] std::string advice_in_words(const remedy::Question& question, const remedy::Worth& worth,
                                          const casefile::Case& job);

/// What a remedy does to what, as a request: "Replace the branches to-coil-1, to-coil-2".
[[nodiscard]] std::string request_in_words(const remedy::Offer& offer);

}  // namespace heatside::report
