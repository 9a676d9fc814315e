#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "heatside/labfit/distribution.hpp"
#include "heatside/labfit/oven_test.hpp"

/// Life over temperature by maximum likelihood, for lives that are known to the hour, to an interval or not yet over.
///
///     ln life = intercept + slope/T + scale z,   z standard normal or standard smallest extreme value
///
/// The likelihood of an exact life is its density by hours.
///
/// @par Source    method: Nelson 1990, Accelerated Testing, ch. 5; Meeker and Escobar 1998, ch. 8 and 19 (from memory)
/// @par Tested by tests/labfit/life_fit_test.cpp against published fits, tests/labfit/r_survival_test.py against R survival

namespace heatside::labfit {

enum class ScaleKind { common, per_temperature };
enum class IntervalMethod { profile, wald };
inline constexpr std::array<std::string_view, 2> interval_method_names{"profile likelihood", "wald"};
[[nodiscard]] std::string_view name_of(IntervalMethod method);

/// What is asked of a fit.
struct FitRequest {
  Distribution distribution = Distribution::log_normal;
  ScaleKind scale = ScaleKind::common;
  double level = 0.95;                              ///< of all intervals, inside (0, 1)
  IntervalMethod method = IntervalMethod::profile;  ///< wald is taken for more than 200 000 different intervals
  std::vector<Kelvin> temperatures{};               ///< at each of which the life is wanted ...
  std::vector<double> quantiles{};                  ///< ... that these shares of the specimens do not reach
};

/// A number and the limits within which the data hold it; a limit is empty where they set none.
struct WithLimits {
  double value{};
  std::optional<double> lo, hi;
  IntervalMethod method{};
};

struct LifeEstimate {
  Kelvin temperature{ice_point_kelvin};
  double p{};         ///< share that has failed by then
  WithLimits hours;   ///< [h]
  double ln_error{};  ///< standard error of ln hours
};

/// Twice the gain in ln likelihood of a wider model. Empty statistic: not tested, and why.
struct RatioTest {
  std::string
      name;  ///< what is doubted: "common scale", "straight line", "scale and line together", "one line for all groups"
  std::optional<double> statistic;
  std::size_t degrees{};
  double limit{};        ///< 95 % of the chi-squared distribution
  double probability{};  ///< of a statistic at least as large by chance alone
  std::string why_not;
};

/// A temperature by itself, fitted without the line.
struct TemperatureFit {
  Kelvin temperature{ice_point_kelvin};
  double failed{}, alive{};                               ///< specimens
  std::optional<double> location, scale, log_likelihood;  ///< of ln life; empty where the temperature alone cannot tell
};

/// How far a life lies from the fit.
struct Residual {
  Life life;
  double standardised{};  ///< (ln hours - location)/scale; of an interval: of its beginning, or end if it has none
  std::optional<double> standardised_to;  ///< of the end of an interval
  double cox_snell{};  ///< cumulative hazard at `standardised`; exponential with mean 1 if the model is right
};

/// A fitted life line. `covariance` belongs to (ln hours at the pivot, slope, ln of each scale).
struct LifeModel {
  Distribution distribution{};
  ScaleKind scale_kind{};
  double pivot{};              ///< 1/T about which the line is held [1/K]
  double ln_hours{};           ///< location of ln life at the pivot
  double slope{};              ///< [K]
  std::vector<double> scales;  ///< of ln life: one, or one a temperature
  std::vector<Kelvin> temperatures;
  std::vector<double> covariance;  ///< row by row

  double log_likelihood{};
  std::size_t parameters{};
  double aic{};
  int iterations{};
  double gradient{};             ///< largest slope of the ln likelihood by a parameter, in scaled parameters
  WithLimits activation_energy;  ///< kJ/mol
  double level{};
  std::vector<LifeEstimate> lives;
  std::vector<RatioTest> tests;
  std::vector<TemperatureFit> by_temperature;  ///< empty with more than 60 temperatures

  [[nodiscard]] double intercept() const { return ln_hours - slope * pivot; }
  [[nodiscard]] double intercept_error() const;
  [[nodiscard]] double slope_error() const;  ///< [K]
  [[nodiscard]] double scale_error(std::size_t index) const;
  [[nodiscard]] double location(Kelvin temperature) const;  ///< of ln life
};

/// ln of a life and its standard error by the delta method.
struct LnLife {
  double value, error;
};

/// ln of the life that the share p does not reach.
/// @throws DomainError  p not inside (0, 1), or the model has a scale a temperature and none for this one
[[nodiscard]] LnLife ln_life(const LifeModel& model, Kelvin temperature, double p);

/// @throws DomainError  the data cannot tell the model: fewer than two temperatures, no failures, failures at one
///                      temperature only, no spread, a slope or scale without bound; the text says which
[[nodiscard]] LifeModel fit_life(const LifeTest& test, const FitRequest& request);

/// Residuals row by row, in the order of `test.lives`.
[[nodiscard]] std::vector<Residual> residuals(const LifeTest& test, const LifeModel& model);

/// Lives at a single temperature, without a line: location and scale of ln life with the standard errors of location and
/// ln scale.
struct SingleFit {
  double location, scale, location_error, ln_scale_error, log_likelihood;
};
/// @throws DomainError  fewer than two different failures
[[nodiscard]] SingleFit fit_single_temperature(const LifeTest& test, Distribution distribution);

}  // namespace heatside::labfit
