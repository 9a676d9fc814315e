#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/alternative.hpp"
#include "heatside/population/estimate.hpp"

/// How hot the insulation gets in the use to come.

namespace heatside::population {

/// The hottest instants of a year in one stretch, at its hottest wire and spot: on a hot day of the hottest month, in the
/// hottest running state that the duty has, own current, hot parts and heat along the copper included.
///
/// The three quantiles are those of the zones' temperatures (10, 50, 90 % of what is believed of each after measurements
/// and findings), all zones together; the days are the same in all three.
struct StretchHeat {
  std::string stretch, zone;                                                  ///< id; zone as the case names it
  Quantiles<Kelvin> running{Kelvin{273.15}, Kelvin{273.15}, Kelvin{273.15}};  ///< what is never driven: as `stopped`
  Quantiles<Kelvin> stopped{Kelvin{273.15}, Kelvin{273.15}, Kelvin{273.15}};  ///< after key-off, or parked
  bool soak = false;                  ///< the hottest instant while stopped is in the soak after key-off
  exposure::TemperatureMeasure year;  ///< at the middle of what is believed, in a week driven as the duty says
  double usage = 1.0;                 ///< weeks so driven, of all; 1 where it is never driven

  /// Of the hottest instant at all.
  [[nodiscard]] Quantiles<Kelvin> hottest() const;
  [[nodiscard]] bool hottest_while_running() const { return running.p50 > stopped.p50; }
};

/// Hours a year above a temperature, at the middle of what is believed.
[[nodiscard]] Hours hours_above(const StretchHeat& heat, Kelvin limit);

/// Every stretch of some segments in the future use of a case, by segment.
///
/// @param segments  their numbers in `job.segments`
/// @par Source     quadrature nodes of the year; they lie within about 1 K of its extremes
/// @par Tested by  tests/population/service_heat_test.cpp
[[nodiscard]] std::vector<std::vector<StretchHeat>> service_heat(const casefile::Case& job, const library::Library& library,
                                                                 const Population& population,
                                                                 const std::vector<std::size_t>& segments);

}  // namespace heatside::population
