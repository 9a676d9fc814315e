#pragma once

#include <complex>
#include <numbers>

#include "heatside/exposure/zone_heat.hpp"

namespace heatside::exposure {

inline constexpr double minutes_per_day = 1440.0;
inline constexpr Minutes week_length{7.0 * minutes_per_day};
inline constexpr double day_angular_rate = 2.0 * std::numbers::pi / minutes_per_day;  ///< [rad/min]

/// e^(i phi) with phi the day's angle since the hottest hour.
inline std::complex<double> day_phase(const TraceConstants& constants, Minutes time_of_week) {
  return std::polar(1.0, day_angular_rate * (time_of_week - minutes(constants.hottest_hour)).value());
}

}  // namespace heatside::exposure
