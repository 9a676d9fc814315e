#pragma once

#include <map>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/inspection/case_order.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/remedy/remedies.hpp"
#include "heatside/report/document.hpp"
#include "heatside/report/estimate_report.hpp"

/// The report on a case: a page for the owner, then everything that it rests on.

namespace heatside::report {

/// The drawings of a report; what is missing is left out.
struct ReportPictures {
  std::vector<Picture> overview;                           ///< on the owner's page
  std::vector<Picture> opening, remedies;                  ///< in their chapters
  std::map<std::string, std::vector<Picture>> by_segment;  ///< by id
};

struct ReportInput {
  const casefile::Case& job;
  const library::Library& library;
  const population::Estimate& estimate;
  const inspection::CaseOrder& order;
  const remedy::Answer& remedies;
  const ReportPictures& pictures;
  const BirthCertificate& certificate;
};

/// The first page is for the owner, in plain words, with chances as "about 6 in 10" and per cent. The rest is for whoever
/// does the work or checks it.
/// @par Tested by  tests/report/owner_report_test.cpp: numbers equal those of the estimate
[[nodiscard]] Document owner_report(const ReportInput& input);

/// "about 6 in 10 (62 %)", "less than 1 in 100", "nearly certain (over 99 %)"
[[nodiscard]] std::string plain_chance(double chance);

}  // namespace heatside::report
