#pragma once

#include <string>
#include <vector>

#include "heatside/ageing/condition.hpp"
#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/alternative.hpp"
#include "heatside/population/estimate.hpp"

/// What can be drawn of one segment: its elongation over the years, the life of its compound over temperature, and the
/// heat that its ageing came from.

namespace heatside::population {

struct ElongationAt {
  Years after{0.0};  ///< the inspection; negative before it
  Quantiles<Strain> elongation{Strain{0.0}, Strain{0.0}, Strain{0.0}};
};

/// Elongation at break of the worst wire of a segment over time.
struct AgeingCurve {
  std::string segment;               ///< id
  std::vector<ElongationAt> points;  ///< in order of time
  /// Where conditions begin, at likely numbers, for the wires and the stretch that the estimate reports.
  ageing::ConditionThresholds thresholds{Strain{0.0}, Strain{0.0}, Strain{0.0}, Strain{0.0}};
};

/// From the making of the loom to some years after the inspection, in equal steps, the inspection always one of them.
///
/// @param of     the segment, as estimated from the same population
/// @param ahead  years after the inspection, above 0
/// @param steps  about how many points, at least 2
/// @throws DomainError  a number outside its range, or a segment, stretch or lot that the case does not have
/// @par Tested by  tests/population/ageing_curves_test.cpp: against estimates of the case inspected on other days
[[nodiscard]] AgeingCurve ageing_curve(const casefile::Case& job, const library::Library& library,
                                       const Population& population, const SegmentEstimate& of, Years ahead,
                                       std::size_t steps = 80);

/// Those of several segments, in their order: the same as one by one, sooner.
/// @throws DomainError  as `ageing_curve`
[[nodiscard]] std::vector<AgeingCurve> ageing_curves(const casefile::Case& job, const library::Library& library,
                                                     const Population& population,
                                                     const std::vector<SegmentEstimate>& segments, Years ahead,
                                                     std::size_t steps = 80);

struct LifeAt {
  Kelvin temperature{ice_point_kelvin};
  Quantiles<Years> life{Years{0.0}, Years{0.0}, Years{0.0}};  ///< of a new wire until it cracks when handled
  Years straight{0.0};  ///< what a straight line from the ovens says instead of the middle
};

/// Life of a wire that is always at one temperature and dry, with the covering, copper and fluids of its place.
struct LifeLine {
  std::string insulation;  ///< the likely compound
  bool compound_known = false;
  std::vector<LifeAt> points;  ///< coolest first
  Kelvin oven{ice_point_kelvin};
  Hours oven_hours{0.0};  ///< thermal-life point of the likely compound, as its record has it
  double oven_end{};      ///< elongation at break that it ends at [-]
};

/// Over all candidates of the lot, by their weights after the findings. The straight line goes through the middle at the
/// temperature of the thermal-life point, with the slope that the likely compound has there: what somebody would draw who
/// only has results from the ovens.
///
/// @param temperatures  rising
/// @throws DomainError  as `ageing_curve`
/// @par Tested by  tests/population/ageing_curves_test.cpp: against the Arrhenius law by hand
[[nodiscard]] LifeLine life_line(const casefile::Case& job, const library::Library& library, const Population& population,
                                 const SegmentEstimate& of, const std::vector<Kelvin>& temperatures);

/// Ageing between two temperatures of the insulation.
struct HeatBand {
  int from_celsius{}, to_celsius{};
  exposure::PerRegime hours_a_year{};
  exposure::PerRegime share{};  ///< of the clock since fitting; all bands and regimes together sum to 1
};

/// Bands of 10 K, coldest first, of the wires and the stretch that the estimate reports, in the likely case. With more use
/// than the duty says a share may come out below 0, where driving keeps a place from something that parking brings.
/// @throws DomainError  as `ageing_curve`
/// @par Tested by  tests/population/ageing_curves_test.cpp: against the estimate's shares, and Arrhenius between bands
[[nodiscard]] std::vector<HeatBand> heat_bands(const casefile::Case& job, const library::Library& library,
                                               const exposure::ZoneScores& zone_scores, bool conduction,
                                               const SegmentEstimate& of);

/// All three of one segment.
struct SegmentCurves {
  AgeingCurve ageing;
  LifeLine life;
  std::vector<HeatBand> heat;
};

/// The curves of several segments, in their order: the same as one by one, sooner.
/// @throws DomainError  as `ageing_curve`
/// @par Tested by  tests/population/ageing_curves_test.cpp
[[nodiscard]] std::vector<SegmentCurves> segment_curves(const casefile::Case& job, const library::Library& library,
                                                        const Population& population,
                                                        const std::vector<SegmentEstimate>& segments, Years ahead,
                                                        const std::vector<Kelvin>& temperatures, std::size_t steps = 80);

}  // namespace heatside::population
