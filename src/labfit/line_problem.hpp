#pragma once

#include <optional>
#include <vector>

#include "heatside/labfit/life_fit.hpp"
#include "labfit/maximise.hpp"

/// The life line as a problem for `maximise`, with its narrower and wider neighbours.

namespace heatside::labfit {

/// A line over (x - pivot)/spread, so that neither the origin nor the unit of x costs digits.
struct LineProblem {
  Distribution distribution{};
  std::vector<TemperatureSample> samples;
  double pivot{}, spread{};  ///< of x, weighed by failures [1/K]
  Layout line;               ///< parameters: location at the pivot, slope spread, ln scales
};

/// @throws DomainError  the data cannot tell a line, and why
[[nodiscard]] LineProblem line_problem(const LifeTest& test, Distribution distribution, ScaleKind scale);

/// @throws DomainError  the likelihood has no maximum inside
[[nodiscard]] Maximum fitted_line(const LineProblem& problem);

/// The line with its slope [K] held.
[[nodiscard]] Layout with_slope(const LineProblem& problem, double slope);

struct QuantilePlace {
  Kelvin temperature;
  double p;
};
/// The line with one quantile of ln life held; common scale only. Parameters: slope spread, ln scale.
[[nodiscard]] Layout with_quantile(const LineProblem& problem, QuantilePlace place, double ln_hours);

/// Location and ln scale of one temperature; empty where it has fewer than two different failures.
[[nodiscard]] std::optional<Maximum> fit_alone(const TemperatureSample& sample, Distribution distribution);

[[nodiscard]] std::vector<TemperatureFit> fits_by_temperature(const LineProblem& problem);

/// Common scale, straight line, both together, and one line for all groups of the test.
[[nodiscard]] std::vector<RatioTest> ratio_tests(const LineProblem& problem, const LifeTest& test);

}  // namespace heatside::labfit
