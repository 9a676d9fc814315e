#pragma once

#include "heatside/report/owner_report.hpp"

namespace heatside::report {

/// Every drawing of a report, each with ids of its own: the map, the opening plan, costs side by side, and for every segment
/// its elongation over the years, its life over temperature and where its ageing came from.
/// @throws DomainError  see the drawings
/// @par Tested by  tests/report/case_pictures_test.cpp
[[nodiscard]] ReportPictures case_pictures(const casefile::Case& job, const library::Library& library,
                                           const population::DrawnAnswer& answer, const inspection::CaseOrder& order,
                                           const remedy::Answer& remedies);

}  // namespace heatside::report
