#pragma once

#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/inspection/case_order.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/ageing_curves.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/report/drawing.hpp"

/// Drawings of what a case's numbers say. All throw DomainError for a width or prefix that is not allowed.
///
/// @par Tested by  tests/report/case_drawings_test.cpp

namespace heatside::report {

/// Elongation over the years: the middle of the draws, the band of eight in ten, where conditions begin, and what was found.
[[nodiscard]] std::string ageing_drawing(const population::AgeingCurve& curve, const casefile::Case& job,
                                         const population::SegmentEstimate& segment, const DrawingPlace& place);

/// Life over temperature of the segment's compound, with its life in service at the constant temperature that ages it as
/// much, and what a straight line from the ovens would say.
[[nodiscard]] std::string life_drawing(const population::LifeLine& line, const casefile::Case& job,
                                       const population::SegmentEstimate& segment, const DrawingPlace& place);

/// At which temperature a segment aged, and when: running, in the hot soak, parked.
[[nodiscard]] std::string heat_drawing(const std::vector<population::HeatBand>& bands,
                                       const population::SegmentEstimate& segment, const DrawingPlace& place);

/// What to open, and what then: the plan of the opening order from top to bottom.
[[nodiscard]] std::string order_drawing(const inspection::CaseOrder& order, const DrawingPlace& place);

/// What one remedy is expected to cost, and how far that is known.
struct CostRange {
  std::string name;
  double p5{}, mean{}, p95{};  ///< [money]; p5 <= p95
};

/// Remedies side by side, in the order given.
/// @param currency  empty: money is counted in minutes of work
/// @throws DomainError  a number that is not finite, or a p5 above its p95
[[nodiscard]] std::string cost_drawing(const std::vector<CostRange>& ranges, const std::string& currency,
                                       const DrawingPlace& place);

}  // namespace heatside::report
