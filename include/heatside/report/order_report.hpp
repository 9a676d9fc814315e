#pragma once

#include <string>

#include "heatside/casefile/case.hpp"
#include "heatside/inspection/case_order.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/report/estimate_report.hpp"

namespace heatside::report {

/// Where to open first, and what then: cautions, what can be learnt without opening, the next opening with its reason and
/// how to handle it, a tree of the next ones in plain words, when to stop, when to look again.
///
/// @param by_chance  also the plain order by the chance of being cracked
[[nodiscard]] std::string order_text(const inspection::CaseOrder& order, const population::Estimate& estimate,
                                     const casefile::Case& job, bool by_chance, const BirthCertificate& certificate);

/// Format "heatside-order" version 1.
[[nodiscard]] std::string order_json(const inspection::CaseOrder& order, const population::Estimate& estimate,
                                     const casefile::Case& job, const BirthCertificate& certificate);

}  // namespace heatside::report
