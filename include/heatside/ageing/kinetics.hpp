#pragma once

#include "heatside/base/units.hpp"
#include "heatside/library/records.hpp"

/// From clock rates to the extent of ageing and the elongation that is left, in closed form.
///
/// Extent x runs from 0 (new) to 1; stabiliser s from 1 (full) to 0. With clock rates a_x, a_s [1/h]:
///
///     gradual:  x' = c a_x (1-x)
///     guarded:  s' = -g a_s s     x' = c a_x exp(-8 s) (0.02 + x) (1 - x)
///
/// g = ln(8)/i with i the induction share; c makes x = x_ref after the hours of the thermal-life point.
/// Elongation at break: ln(e/e0) = -W x, W = ln(e0 / 0.2 %).

namespace heatside::ageing {

/// Share of the life that passes in an hour [1/h].
struct ClockRates {
  double extent{};  ///< a_x
  double guard{};   ///< a_s
};

/// A compound's law with its constants.
struct Kinetics {
  library::KineticsLaw law{};
  double rate{};            ///< c [-]
  double guard_rate{};      ///< g [-]; guarded only
  double guard_strength{};  ///< 8
  double seed{};            ///< 0.02
  Strain initial{0.0};      ///< e0
  Strain floor{0.0};        ///< 0.2 %, what is left at x = 1
};

/// The law of an insulation at its likely numbers.
/// @throws DomainError  elongations not in the order floor < end < initial
[[nodiscard]] Kinetics likely_kinetics(const library::Insulation& insulation, const library::ModelConstants& model);

/// How far ageing has come. `progress` is the transformed extent in which time adds up:
/// -ln(1-x) for gradual, ln[(0.02+x)/(0.02(1-x))]/1.02 for guarded.
struct AgeingState {
  double progress = 0.0;
  double ln_guard = 0.0;  ///< ln s
};

/// State after a time at constant rates. Times add: ageing for t1 and then t2 is ageing for t1 + t2.
///
/// @param time  >= 0
/// @par Source     separation of variables; the guarded law through the exponential integral E1
/// @par Tested by  tests/ageing/kinetics_test.cpp, against Boost.Odeint, GSL odeiv2 and SciPy solve_ivp
[[nodiscard]] AgeingState aged(const Kinetics& kinetics, const AgeingState& state, const ClockRates& rates, Hours time);

/// Time from `state` until the extent is reached; 0 when it has been reached. Infinite when the clock stands still.
/// @param extent  below 1
[[nodiscard]] Hours time_until(const Kinetics& kinetics, const AgeingState& state, const ClockRates& rates, double extent);

[[nodiscard]] double extent_of(const Kinetics& kinetics, const AgeingState& state);
[[nodiscard]] double progress_at(const Kinetics& kinetics, double extent);

/// Elongation at break that is left at an extent, and the extent at which it is left.
[[nodiscard]] Strain elongation_at(const Kinetics& kinetics, double extent);
[[nodiscard]] double extent_at(const Kinetics& kinetics, Strain elongation);

/// E1(exp(ln_z)), also where exp(ln_z) underflows.
/// @par Source  Abramowitz & Stegun 5.1.11 for small arguments, Boost.Math expint elsewhere
[[nodiscard]] double exponential_integral_of_exp(double ln_z);

}  // namespace heatside::ageing
