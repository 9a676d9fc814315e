#include "heatside/ageing/integrate.hpp"

#include <boost/math/tools/roots.hpp>
#include <boost/numeric/odeint/stepper/controlled_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>
#include <cstdint>

namespace heatside::ageing {

namespace {

namespace odeint = boost::numeric::odeint;
using State = std::array<double, 2>;
using Stepper = odeint::runge_kutta_dopri5<State>;

constexpr double tolerance = 1.0e-11;
constexpr int most_steps = 1'000'000;
// A step is known no better than to the tolerance. Nearer than this to its end a quantity would only follow the rounding of
// the steps, for ever and by steps as short as its own fast decay allows.
constexpr double settled = 10.0 * tolerance;
constexpr double complete = 1.0 - settled;

struct Equations {
  const RateLaw& law;
  void operator()(const State& y, State& rate, double) const {
    const LawState rates = law({y[0], y[1]});
    rate = {rates.extent, rates.guard};
  }
};

// A first step: a thousandth of the time in which either of the two would change by 1 at its present rate.
double first_step(const RateLaw& law, const LawState& from) {
  const LawState rates = law(from);
  const double fastest = std::max(std::abs(rates.extent), std::abs(rates.guard));
  return fastest > 0.0 ? 1.0e-3 / fastest : 1.0;
}

// A stabiliser that is used up is gone: its decay no longer shortens the steps.
template <class Controlled>
void settle(State& y, Controlled& stepper) {
  if (y[1] == 0.0 || std::abs(y[1]) >= settled) return;
  y[1] = 0.0;
  stepper.reset();  // it keeps the rates of the state it has left
}

[[noreturn]] void give_up(const char* what, double time) {
  throw NumericsError(std::string{"ageing law: "} + what + " after " + std::to_string(time) + " h at a tolerance of 1e-11");
}

// Where within an accepted step the extent is reached.
double crossing_within(const Equations& equations, const State& from, double step, double extent) {
  const auto excess = [&](double part) {
    if (part == 0.0) return from[0] - extent;
    Stepper stepper;
    State y = from;
    stepper.do_step(equations, y, 0.0, part);
    return y[0] - extent;
  };
  if (excess(step) <= 0.0) return step;
  std::uintmax_t iterations = 200;
  const auto bracket =
      boost::math::tools::toms748_solve(excess, 0.0, step, boost::math::tools::eps_tolerance<double>(48), iterations);
  return 0.5 * (bracket.first + bracket.second);
}

}  // namespace

RateLaw rate_law(const Kinetics& kinetics, const ClockRates& rates) {
  if (kinetics.law == library::KineticsLaw::gradual) {
    return [c = kinetics.rate * rates.extent](const LawState& y) { return LawState{c * (1.0 - y.extent), 0.0}; };
  }
  return [k = kinetics, rates](const LawState& y) {
    return LawState{k.rate * rates.extent * std::exp(-k.guard_strength * y.guard) * (k.seed + y.extent) * (1.0 - y.extent),
                    -k.guard_rate * rates.guard * y.guard};
  };
}

LawState integrate_law(const RateLaw& law, LawState from, Hours time) {
  const Equations equations{law};
  auto stepper = odeint::make_controlled(tolerance, tolerance, Stepper());
  State y{from.extent, from.guard};
  const double end = time.value();
  double t = 0.0;
  double step = std::min(first_step(law, from), end);
  for (int count = 0; t < end && y[0] < complete; ++count) {
    if (count == most_steps) give_up("too many steps", t);
    step = std::min(step, end - t);
    const double before = t;
    if (stepper.try_step(equations, y, t, step) == odeint::fail && before + step == before)
      give_up("the step went to zero", t);
    settle(y, stepper);
  }
  return {y[0], y[1]};
}

Hours integrate_until(const RateLaw& law, LawState from, double extent) {
  if (from.extent >= extent) return Hours{0.0};
  const Equations equations{law};
  auto stepper = odeint::make_controlled(tolerance, tolerance, Stepper());
  State y{from.extent, from.guard};
  double t = 0.0;
  double step = first_step(law, from);
  for (int count = 0; count < most_steps; ++count) {
    const State before = y;
    const double time_before = t;
    if (stepper.try_step(equations, y, t, step) == odeint::fail) {
      if (time_before + step == time_before) give_up("the step went to zero", t);
      continue;
    }
    if (y[0] >= extent) return Hours{time_before + crossing_within(equations, before, t - time_before, extent)};
    settle(y, stepper);
  }
  give_up("the extent was not reached", t);
}

}  // namespace heatside::ageing
