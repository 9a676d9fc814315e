#pragma once

#include <cstddef>
#include <vector>

#include "heatside/base/units.hpp"

namespace heatside::labfit {

/// A point of a curve that falls exponentially in time at a rate that rises with temperature.
struct DecayPoint {
  Kelvin temperature;
  double time;  ///< in the caller's unit
  double ln_value;
};

/// How the rate hangs on temperature T.
enum class RateLaw {
  arrhenius,          ///< exp(-B (1/T - 1/T_ref)), B in K
  exponential_in_cel  ///< exp(B (T - T_ref)), B in 1/K
};

/// ln value = start - rate(T_ref) f(T) time, fitted to all points at once.
struct DecayFit {
  double start, ln_rate, steepness;                    ///< ln_rate at T_ref, of 1/time; steepness B
  double start_error, ln_rate_error, steepness_error;  ///< standard errors from the linearised problem
  double ln_rate_steepness_covariance;
  double residual_sum, residual_sd;
  std::size_t degrees;
};

/// Nonlinear least squares by Gauss-Newton with damping.
///
/// @param reference  T_ref; the middle of the data keeps the parameters apart
/// @throws DomainError  fewer than four points, one temperature only, or values that do not fall with time
/// @par Tested by  tests/labfit/rate_law_test.cpp against certified values of a published data set
[[nodiscard]] DecayFit fit_decay(const std::vector<DecayPoint>& points, RateLaw law, Kelvin reference);

}  // namespace heatside::labfit
