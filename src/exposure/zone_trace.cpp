#include "heatside/exposure/zone_trace.hpp"

#include <algorithm>
#include <cmath>
#include <complex>

#include "exposure/day_clock.hpp"

namespace heatside::exposure {

namespace {

using Complex = std::complex<double>;

// Response of y' = (input - y)/tau from rest to the input e^(mu t).
double response(double mu, double tau, double t) {
  // Written with expm1 so that it also holds where mu = -1/tau.
  const double gap = mu + 1.0 / tau;
  const double growth = gap == 0.0 ? t : std::expm1(gap * t) / gap;
  return std::exp(-t / tau) * growth / tau;
}

Complex response(Complex mu, double tau, double t) { return (std::exp(mu * t) - std::exp(-t / tau)) / (1.0 + mu * tau); }

TraceState running_state_at(const ZoneTrace& trace, const TraceInterval& interval, double t) {
  const TraceState& from = interval.at_start;
  const double tau = trace.constants.running_response_share * trace.heat.tau_warm.value();
  const double warming = -1.0 / trace.constants.engine_warm_time.value();
  const double own = std::exp(-t / tau);
  const double cold = 1.0 - from.engine;
  const Complex phase = day_phase(trace.constants, interval.start);
  const Complex day{0.0, day_angular_rate};

  TraceState state;
  state.engine = 1.0 - cold * std::exp(warming * t);
  state.exhaust = 1.0 - (1.0 - from.exhaust) * std::exp(-t / trace.constants.exhaust_warm_time.value());
  state.running = from.running * own + response(0.0, tau, t) - cold * response(warming, tau, t);
  state.running_cos =
      from.running_cos * own + (phase * (response(day, tau, t) - cold * response(warming + day, tau, t))).real();
  state.by_engine = from.by_engine * own;
  state.by_exhaust = from.by_exhaust * own;
  state.by_engine_cos = from.by_engine_cos * own;
  state.by_exhaust_cos = from.by_exhaust_cos * own;
  return state;
}

TraceState stopped_state_at(const ZoneTrace& trace, const TraceInterval& interval, double t) {
  const TraceState& from = interval.at_start;
  const double tau = trace.heat.tau_soak_rise.value();
  const double engine_decay = -1.0 / trace.heat.tau_soak_decay.value();
  const double exhaust_decay = -1.0 / trace.constants.exhaust_decay_time.value();
  const double own = std::exp(-t / tau);
  const Complex phase = day_phase(trace.constants, interval.start);
  const Complex day{0.0, day_angular_rate};
  const double engine_input = from.engine * (1.0 + engine_decay * tau);
  const double exhaust_input = from.exhaust * (1.0 + exhaust_decay * tau);

  TraceState state;
  state.engine = from.engine * std::exp(engine_decay * t);
  state.exhaust = from.exhaust * std::exp(exhaust_decay * t);
  state.running = from.running * own;
  state.running_cos = from.running_cos * own;
  // The inputs' factors cancel the responses' denominators: what is left is a plain difference of exponentials.
  state.by_engine = from.by_engine * own + (state.engine - from.engine * own);
  state.by_exhaust = from.by_exhaust * own + (state.exhaust - from.exhaust * own);
  state.by_engine_cos = from.by_engine_cos * own + engine_input * (phase * response(engine_decay + day, tau, t)).real();
  state.by_exhaust_cos = from.by_exhaust_cos * own + exhaust_input * (phase * response(exhaust_decay + day, tau, t)).real();
  return state;
}

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
  return interval.running ? running_state_at(trace, interval, after.value())
                          : stopped_state_at(trace, interval, after.value());
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
