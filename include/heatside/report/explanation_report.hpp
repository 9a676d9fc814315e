#pragma once

#include <string>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/explanation.hpp"
#include "heatside/report/estimate_report.hpp"

namespace heatside::report {

/// Where the ageing of one segment came from and what would change it, in plain words.
[[nodiscard]] std::string explanation_text(const population::Explanation& explanation, const casefile::Case& job,
                                           const library::Library& library, const BirthCertificate& certificate);

/// The same for programs.
[[nodiscard]] std::string explanation_json(const population::Explanation& explanation, const casefile::Case& job,
                                           const library::Library& library, const BirthCertificate& certificate);

}  // namespace heatside::report
