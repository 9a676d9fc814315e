#pragma once

#include <array>
#include <functional>
#include <vector>

#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/exposure/zone_trace.hpp"

/// The year of a wire: the air of one zone or of several, and what the wire makes of it.

namespace heatside::exposure {

/// All that a wire's temperature can depend on at one instant of one kind of day in one running state.
struct Instant {
  library::RunningState state{};  ///< meaningful while running and shortly after
  bool running{};
  double exhaust_warmth{};        ///< 0 cold to 1 warm
  double ambient{};               ///< [K]
  const double* air{};            ///< [K] of each zone, in the order they were given
  const double* engine_warmth{};  ///< 0 cold to 1 warm, as each zone's engine cools
};

/// Temperature of the wire's insulation [K] at an instant, with or without its current. Empty: that of the first zone's air.
using Temperature = std::function<double(const Instant&, bool loaded)>;

/// For how long after key-off a temperature still depends on the running state before.
enum class StateMemory { zone, exhaust, engine };

/// How a place is used over a year.
struct YearOfUse {
  std::vector<DailyCourse> days;
  std::array<double, 4> running_mix{};
  SunHeat sun;                     ///< at a zone that feels all of it
  std::vector<double> sun_shares;  ///< of each zone
  double loaded_share = 0.0;       ///< share of the running time in which the current flows
  StateMemory memory = StateMemory::zone;
};

/// The year of a wire.
///
/// @param zones  traces of one and the same weekly schedule, at least one; the first says what is soak and what is parked
/// @return       shares that sum to 1
/// @par Tested by  tests/exposure/temperature_measure_test.cpp
[[nodiscard]] TemperatureMeasure year_of(const std::vector<ZoneTrace>& zones, const YearOfUse& use,
                                         const Temperature& temperature, Quadrature quadrature = {});

}  // namespace heatside::exposure
