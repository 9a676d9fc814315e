#include "heatside/ageing/kinetics.hpp"

#include <boost/math/special_functions/expint.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>

namespace heatside::ageing {

namespace {

using library::KineticsLaw;

// E1(8 s) at the end of a time less that at its start: the part of the guarded law that carries the time.
double guard_opening(const Kinetics& kinetics, double ln_guard_before, double ln_guard_after) {
  const double ln_strength = std::log(kinetics.guard_strength);
  return exponential_integral_of_exp(ln_strength + ln_guard_after) -
         exponential_integral_of_exp(ln_strength + ln_guard_before);
}

double guarded_progress(const Kinetics& kinetics, const AgeingState& state, const ClockRates& rates, double hours) {
  const double decay = kinetics.guard_rate * rates.guard * hours;
  if (decay == 0.0) {
    const double guard = std::exp(state.ln_guard);
    return state.progress + kinetics.rate * rates.extent * hours * std::exp(-kinetics.guard_strength * guard);
  }
  const double opening = guard_opening(kinetics, state.ln_guard, state.ln_guard - decay);
  return state.progress + kinetics.rate * rates.extent / (kinetics.guard_rate * rates.guard) * opening;
}

double guarded_time_until(const Kinetics& kinetics, const AgeingState& state, const ClockRates& rates, double goal) {
  const auto missing = [&](double hours) { return guarded_progress(kinetics, state, rates, hours) - goal; };
  // Progress grows at least linearly once the stabiliser is gone, so doubling finds an upper end.
  double high = 1.0 / rates.extent;
  while (missing(high) < 0.0) high *= 2.0;
  std::uintmax_t iterations = 300;
  const auto bracket = boost::math::tools::toms748_solve(missing, 0.0, high, missing(0.0), missing(high),
                                                         boost::math::tools::eps_tolerance<double>(50), iterations);
  return 0.5 * (bracket.first + bracket.second);
}

}  // namespace

Kinetics likely_kinetics(const library::Insulation& insulation, const library::ModelConstants& model) {
  Kinetics kinetics;
  kinetics.law = insulation.law;
  kinetics.guard_strength = model.ageing.guard_strength.value;
  kinetics.seed = model.ageing.seed_extent.value;
  kinetics.initial = percent(insulation.initial_elongation.value);
  kinetics.floor = percent(model.ageing.floor_elongation.value);
  const Strain end = percent(insulation.end_elongation.value);
  if (!(kinetics.floor < end && end < kinetics.initial)) {
    throw DomainError("end elongation " + std::to_string(in_percent(end)) + " % must lie between " +
                      std::to_string(in_percent(kinetics.floor)) + " % and " + std::to_string(in_percent(kinetics.initial)) +
                      " %");
  }
  const double goal = progress_at(kinetics, extent_at(kinetics, end));
  if (kinetics.law == KineticsLaw::gradual) {
    kinetics.rate = goal;
    return kinetics;
  }
  kinetics.guard_rate = std::log(kinetics.guard_strength) / insulation.induction_share->value;
  kinetics.rate = goal * kinetics.guard_rate / guard_opening(kinetics, 0.0, -kinetics.guard_rate);
  return kinetics;
}

AgeingState aged(const Kinetics& kinetics, const AgeingState& state, const ClockRates& rates, Hours time) {
  if (kinetics.law == KineticsLaw::gradual) {
    return {state.progress + kinetics.rate * rates.extent * time.value(), state.ln_guard};
  }
  return {guarded_progress(kinetics, state, rates, time.value()),
          state.ln_guard - kinetics.guard_rate * rates.guard * time.value()};
}

Hours time_until(const Kinetics& kinetics, const AgeingState& state, const ClockRates& rates, double extent) {
  if (extent <= 0.0) return Hours{0.0};
  const double goal = progress_at(kinetics, extent);
  if (goal <= state.progress) return Hours{0.0};
  if (rates.extent <= 0.0) return Hours{std::numeric_limits<double>::infinity()};
  if (kinetics.law == KineticsLaw::gradual) return Hours{(goal - state.progress) / (kinetics.rate * rates.extent)};
  return Hours{guarded_time_until(kinetics, state, rates, goal)};
}

double extent_of(const Kinetics& kinetics, const AgeingState& state) {
  if (kinetics.law == KineticsLaw::gradual) return -std::expm1(-state.progress);
  const double stretched = (1.0 + kinetics.seed) * state.progress;
  constexpr double complete = 60.0;  // beyond e^60 the extent is 1 in double
  if (stretched > complete) return 1.0;
  return kinetics.seed * std::expm1(stretched) / (1.0 + kinetics.seed * std::exp(stretched));
}

double progress_at(const Kinetics& kinetics, double extent) {
  if (kinetics.law == KineticsLaw::gradual) return -std::log1p(-extent);
  return (std::log1p(extent / kinetics.seed) - std::log1p(-extent)) / (1.0 + kinetics.seed);
}

Strain elongation_at(const Kinetics& kinetics, double extent) {
  return kinetics.initial * std::exp(-extent * std::log(kinetics.initial / kinetics.floor));
}

double extent_at(const Kinetics& kinetics, Strain elongation) {
  return std::log(kinetics.initial / elongation) / std::log(kinetics.initial / kinetics.floor);
}

double exponential_integral_of_exp(double ln_z) {
  // Below e^-40 the series -gamma - ln z + z is exact in double, and e^ln_z may not even be a number above 0.
  if (ln_z < -40.0) return -std::numbers::egamma - ln_z;
  return boost::math::expint(1u, std::exp(ln_z));
}

}  // namespace heatside::ageing
