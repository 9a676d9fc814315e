#pragma once

#include <vector>

#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/exposure/zone_trace.hpp"

/// A zone's week as few instants that stand for all of it. The zone's temperature at each is linear in the ambient, the
/// rise of the running state and the strength of the soak:
///
///     T = ambient_mean * following + half_range * following_cos + rise * running + soak + constant

namespace heatside::exposure {

struct WeekPoint {
  double share{};          ///< of the week [-]
  double following{};      ///< of the day's mean temperature [-]
  double following_cos{};  ///< of the day's half range [-]
  double running{};        ///< of the running state's rise [-]
  double soak_kelvin{};    ///< heat after key-off at the trace's amplitudes; scales with them
  double constant_kelvin{};
  double day_cosine{};  ///< ambient = mean + half_range * day_cosine
};

/// Gauss-Legendre points of five on panels that get longer away from each switch. Intervals that are alike in kind, length,
/// hour of day and start are taken together. Shares sum to 1.
[[nodiscard]] std::vector<WeekPoint> week_points(const ZoneTrace& trace, const SunHeat& sun);

}  // namespace heatside::exposure
