#pragma once

#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/library/records.hpp"

namespace heatside::exposure {

/// Ambient temperature of one kind of day: mean + half_range * cos(2 pi (t - hottest hour) / 24 h).
struct DailyCourse {
  Kelvin mean{273.15};
  KelvinRise half_range{0.0};
  double weight{};  ///< share of the year [-]
};

/// The days of a year: twelve equal months, each with three deviations from its mean
/// (-sqrt(3), 0, +sqrt(3) standard deviations with weights 1/6, 2/3, 1/6). Weights sum to 1.
///
/// @par Source     three-node Gauss-Hermite rule, Abramowitz & Stegun table 25.10
/// @par Tested by  tests/exposure/climate_test.cpp, against hourly weather histograms
[[nodiscard]] std::vector<DailyCourse> days_of_year(const library::Climate& climate);

}  // namespace heatside::exposure
