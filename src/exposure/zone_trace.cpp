#include "heatside/exposure/zone_trace.hpp"

#include <algorithm>
#include <cmath>
#include <complex>

#include "exposure/day_clock.hpp"
#include "exposure/interval_course.hpp"

namespace heatside::exposure {

namespace {

using Complex = std::complex<double>;

// Response at t of y' = (input - y)/tau from rest to the input e^(mu t); `own` is e^(-t/tau).
double response(double mu, double tau, double t, double own) {
  // Written with expm1 so that it also holds where mu = -1/tau.
  const double gap = mu + 1.0 / tau;
  const double growth = gap == 0.0 ? t : std::expm1(gap * t) / gap;
  return own * growth / tau;
}

}  // namespace

IntervalCourse::IntervalCourse(const ZoneTrace& trace, const TraceInterval& interval)
    : running_{interval.running},
      from_{interval.at_start},
      tau_{interval.running ? trace.constants.running_response_share * trace.heat.tau_warm.value()
                            : trace.heat.tau_soak_rise.value()},
      engine_{-1.0 / (interval.running ? trace.constants.engine_warm_time : trace.heat.tau_soak_decay).value()},
      exhaust_warm_time_{trace.constants.exhaust_warm_time.value()},
      exhaust_decay_{-1.0 / trace.constants.exhaust_decay_time.value()},
      phase_{day_phase(trace.constants, interval.start)} {
  const Complex day{0.0, day_angular_rate};
  of_day_ = 1.0 + day * tau_;
  of_engine_day_ = 1.0 + (engine_ + day) * tau_;
  of_exhaust_day_ = 1.0 + (exhaust_decay_ + day) * tau_;
}

// What the responses to inputs e^(mu t) have in common is worked out once: e^(-t/tau), the day's wave, and the decays.
TraceState IntervalCourse::running_at(double t) const {
  const double own = std::exp(-t / tau_);
  const double warming = std::exp(engine_ * t);
  const double cold = 1.0 - from_.engine;
  const Complex day{std::cos(day_angular_rate * t), std::sin(day_angular_rate * t)};

  TraceState state;
  state.engine = 1.0 - cold * warming;
  state.exhaust = 1.0 - (1.0 - from_.exhaust) * std::exp(-t / exhaust_warm_time_);
  state.running = from_.running * own + response(0.0, tau_, t, own) - cold * response(engine_, tau_, t, own);
  state.running_cos =
      from_.running_cos * own + (phase_ * ((day - own) / of_day_ - cold * ((warming * day - own) / of_engine_day_))).real();
  state.by_engine = from_.by_engine * own;
  state.by_exhaust = from_.by_exhaust * own;
  state.by_engine_cos = from_.by_engine_cos * own;
  state.by_exhaust_cos = from_.by_exhaust_cos * own;
  return state;
}

TraceState IntervalCourse::stopped_at(double t) const {
  const double own = std::exp(-t / tau_);
  const double by_engine = std::exp(engine_ * t), by_exhaust = std::exp(exhaust_decay_ * t);
  const Complex day{std::cos(day_angular_rate * t), std::sin(day_angular_rate * t)};
  const double engine_input = from_.engine * (1.0 + engine_ * tau_);
  const double exhaust_input = from_.exhaust * (1.0 + exhaust_decay_ * tau_);

  TraceState state;
  state.engine = from_.engine * by_engine;
  state.exhaust = from_.exhaust * by_exhaust;
  state.running = from_.running * own;
  state.running_cos = from_.running_cos * own;
  // The inputs' factors cancel the responses' denominators: what is left is a plain difference of exponentials.
  state.by_engine = from_.by_engine * own + (state.engine - from_.engine * own);
  state.by_exhaust = from_.by_exhaust * own + (state.exhaust - from_.exhaust * own);
  state.by_engine_cos =
      from_.by_engine_cos * own + engine_input * (phase_ * ((by_engine * day - own) / of_engine_day_)).real();
  state.by_exhaust_cos =
      from_.by_exhaust_cos * own + exhaust_input * (phase_ * ((by_exhaust * day - own) / of_exhaust_day_)).real();
  return state;
}

TraceState IntervalCourse::at(Minutes after) const {
  return running_ ? running_at(after.value()) : stopped_at(after.value());
}

namespace {

// Running and standing in turn, from the first key-on of the week to the same one a week later.
std::vector<TraceInterval> intervals_between(const std::vector<Drive>& drives) {
  if (drives.empty()) return {{Minutes{0.0}, week_length, false, {}}};
  std::vector<TraceInterval> week;
  for (std::size_t i = 0; i < drives.size(); ++i) {
    const Drive& drive = drives[i];
    const Minutes end = drive.start + drive.length;
    const Minutes next = i + 1 < drives.size() ? drives[i + 1].start : drives.front().start + week_length;
    week.push_back({drive.start, drive.length, true, {}});
    if (next > end) week.push_back({end, next - end, false, {}});
  }
  return week;
}

}  // namespace

std::vector<Drive> weekly_drives(const library::Duty& duty) {
  std::vector<Drive> drives;
  for (const library::WeeklyTrip& trip : duty.trips) {
    for (const int day : trip.days) {
      for (int i = 0; i < trip.repeat; ++i) {
        drives.push_back({Minutes{day * minutes_per_day} + trip.start + trip.every * static_cast<double>(i), trip.length});
      }
    }
  }
  std::sort(drives.begin(), drives.end(), [](const Drive& a, const Drive& b) { return a.start < b.start; });
  return drives;
}

ZoneTrace periodic_week(const ZoneHeat& heat, const SoakAmplitudes& soak, const TraceConstants& constants,
                        const std::vector<Drive>& drives) {
  ZoneTrace trace{heat, soak, constants, intervals_between(drives)};
  // From cold, the first lap forgets its start but for e^(-week / slowest decay); the laps end when a lap changes nothing.
  constexpr int most_laps = 100;
  TraceState state;
  for (int lap = 0; lap < most_laps; ++lap) {
    const TraceState before = state;
    for (TraceInterval& interval : trace.week) {
      interval.at_start = state;
      state = state_at(trace, interval, interval.length);
    }
    const double change = std::max(std::abs(state.engine - before.engine), std::abs(state.by_engine - before.by_engine));
    if (lap > 0 && change < 1.0e-13) break;
  }
  return trace;
}

TraceState state_at(const ZoneTrace& trace, const TraceInterval& interval, Minutes after) {
  return IntervalCourse{trace, interval}.at(after);
}

double day_cosine(const TraceConstants& constants, Minutes time_of_week) {
  return day_phase(constants, time_of_week).real();
}

KelvinRise rise_above_ambient(const ZoneTrace& trace, const TraceState& state, const DailyCourse& day, KelvinRise rise) {
  const double peak = trace.heat.soak_peak.value();
  const double soak = trace.soak.engine.value() * state.by_engine + trace.soak.exhaust.value() * state.by_exhaust;
  const double soak_cos =
      trace.soak.engine.value() * state.by_engine_cos + trace.soak.exhaust.value() * state.by_exhaust_cos;
  const double colder = (trace.constants.anchor_ambient - day.mean).value();
  const double anchored =
      colder * (state.running + soak / peak) - day.half_range.value() * (state.running_cos + soak_cos / peak);
  return KelvinRise{rise.value() * state.running + soak + (1.0 - trace.heat.ambient_following) * anchored};
}

}  // namespace heatside::exposure
