#pragma once

#include <array>
#include <functional>

#include "heatside/ageing/kinetics.hpp"

/// Kinetics integrated step by step with Boost.Odeint: the reference for the closed forms, the way for any law
/// without one, and what answers the likely case.

namespace heatside::ageing {

/// Extent x and stabiliser s [-].
struct LawState {
  double extent = 0.0;
  double guard = 1.0;
};

/// Rates of a law per hour at a state; it must not depend on time.
using RateLaw = std::function<LawState(const LawState&)>;

/// The law of a compound at constant clock rates.
[[nodiscard]] RateLaw rate_law(const Kinetics& kinetics, const ClockRates& rates);

/// State after `time`, Dormand-Prince 5 with error control (relative and absolute 1e-11 a step).
/// @throws NumericsError  the step size went to zero
[[nodiscard]] LawState integrate_law(const RateLaw& law, LawState from, Hours time);

/// Time until the extent is reached; 0 when it has been reached.
/// @param extent  must be reached in the end: the caller checks that the clock runs
/// @throws NumericsError  not reached within a million steps
[[nodiscard]] Hours integrate_until(const RateLaw& law, LawState from, double extent);

}  // namespace heatside::ageing
