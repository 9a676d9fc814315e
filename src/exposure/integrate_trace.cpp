#include "heatside/exposure/integrate_trace.hpp"

#include <array>
#include <boost/numeric/odeint/integrate/integrate_adaptive.hpp>
#include <boost/numeric/odeint/stepper/controlled_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>

#include "exposure/day_clock.hpp"

namespace heatside::exposure {

namespace {

namespace odeint = boost::numeric::odeint;
using State = std::array<double, 3>;  // engine warmth, exhaust warmth [-], rise above ambient [K]

struct TraceEquations {
  const ZoneTrace& trace;
  const DailyCourse& day;
  double rise;
  bool running;

  double colder_than_anchor(double time) const {
    const double ambient = day.mean.value() + day.half_range.value() * day_cosine(trace.constants, Minutes{time});
    return (trace.constants.anchor_ambient.value() - ambient) * (1.0 - trace.heat.ambient_following);
  }

  void operator()(const State& y, State& rate, double time) const {
    const double rise_time = trace.heat.tau_soak_rise.value();
    if (running) {
      rate[0] = (1.0 - y[0]) / trace.constants.engine_warm_time.value();
      rate[1] = (1.0 - y[1]) / trace.constants.exhaust_warm_time.value();
      rate[2] = ((rise + colder_than_anchor(time)) * y[0] - y[2]) /
                (trace.constants.running_response_share * trace.heat.tau_warm.value());
      return;
    }
    const double decay_time = trace.heat.tau_soak_decay.value();
    const double exhaust_time = trace.constants.exhaust_decay_time.value();
    const double peak = trace.heat.soak_peak.value();
    const double input = trace.soak.engine.value() * y[0] * (1.0 - rise_time / decay_time) +
                         trace.soak.exhaust.value() * y[1] * (1.0 - rise_time / exhaust_time);
    rate[0] = -y[0] / decay_time;
    rate[1] = -y[1] / exhaust_time;
    rate[2] = ((peak + colder_than_anchor(time)) / peak * input - y[2]) / rise_time;
  }
};

}  // namespace

std::vector<KelvinRise> integrate_trace(const ZoneTrace& trace, const DailyCourse& day, KelvinRise rise,
                                        const std::vector<Minutes>& times) {
  constexpr double tolerance = 1.0e-11;
  auto stepper = odeint::make_controlled(tolerance, tolerance, odeint::runge_kutta_dopri5<State>());
  const TraceInterval& first = trace.week.front();
  State y{first.at_start.engine, first.at_start.exhaust, rise_above_ambient(trace, first.at_start, day, rise).value()};
  double time = first.start.value();
  auto wanted = times.begin();
  std::vector<KelvinRise> rises;

  const auto advance_to = [&](const TraceInterval& interval, double end) {
    if (end <= time) return;
    try {
      odeint::integrate_adaptive(stepper, TraceEquations{trace, day, rise.value(), interval.running}, y, time, end,
                                 std::min(0.1, end - time));
    } catch (const odeint::step_adjustment_error&) {
      throw NumericsError("zone trace: no step is small enough at minute " + std::to_string(time) + " of the week");
    }
    time = end;
  };

  for (const TraceInterval& interval : trace.week) {
    const double end = (interval.start + interval.length).value();
    for (; wanted != times.end() && wanted->value() <= end; ++wanted) {
      advance_to(interval, wanted->value());
      rises.emplace_back(y[2]);
    }
    advance_to(interval, end);
  }
  return rises;
}

}  // namespace heatside::exposure
