#pragma once

#include <cstddef>
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

/// A few days that stand for the 36 of `days_of_year`, for rates of thermally activated processes.
///
/// A Gauss rule on the days' mean temperatures, exact for polynomials times the rate of a middling process
/// (50 kJ/mol; 90 kJ/mol where the half range varies). Where the half range is the same all year there is one day a node.
/// Where it varies there are two, which keep mean, spread and skewness of the half range at that temperature as far as
/// polynomials of degree nodes - 1 can tell them; they may lie half a kelvin outside the months' half ranges.
/// Weights are above 0 and sum to 1.
///
/// @param nodes    mean temperatures, at least 1; more than the year has are not made
/// @return         at most `nodes` days, or twice as many where the half range varies; coldest first
/// @throws DomainError  no nodes
/// @par Accuracy   largest error of a year's mean rate over all zones and climates of the library, three duties, 15 to
///                 190 kJ/mol: with 4, 5, 6, 7 nodes 5e-4, 1.5e-5, 4e-7, 8e-9 where the half range is constant;
///                 with 5, 6, 7 nodes 1.2e-3, 7e-5, 1.8e-4 where it varies
/// @par Source     Golub & Welsch 1969, Math. Comp. 23, 221-230, doi:10.1090/S0025-5718-69-99647-1
/// @par Tested by  tests/exposure/ambient_days_test.cpp
[[nodiscard]] std::vector<DailyCourse> gauss_days(const library::Climate& climate, std::size_t nodes);

/// As few of them as keep a year's mean rate within 1e-4 for activation energies from 15 to 190 kJ/mol: 3 to 5 days in the
/// climates of the library, up to 12 where the half range varies. The number is found by trying it on a laid-up year,
/// which feels the whole ambient; where more than nine nodes would be needed all days are returned.
[[nodiscard]] std::vector<DailyCourse> gauss_days(const library::Climate& climate);

}  // namespace heatside::exposure
