#include "heatside/exposure/zone_heat.hpp"

#include <boost/math/tools/minima.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>
#include <string>

namespace heatside::exposure {

namespace {

struct SoakCurve {
  double city, rise_time, decay_time, exhaust_time;

  double at(double t, double engine, double exhaust) const {
    const double own = std::exp(-t / rise_time);
    return city * own + engine * (std::exp(-t / decay_time) - own) + exhaust * (std::exp(-t / exhaust_time) - own);
  }

  double peak(double engine, double exhaust) const {
    // One hump: the curve rises within a few rise times and then follows the slowest decay.
    const double latest = 12.0 * rise_time + 3.0 * exhaust_time;
    constexpr int digits = 40;
    std::uintmax_t iterations = 200;
    const auto minimum = boost::math::tools::brent_find_minima([&](double t) { return -at(t, engine, exhaust); }, 0.0,
                                                               latest, digits, iterations);
    return std::max(-minimum.second, city);
  }
};

// The amplitude at which a growing peak reaches its goal.
template <class PeakOf>
double amplitude_for(double goal, PeakOf peak_of) {
  double high = goal;
  constexpr double absurd = 1.0e5;  // [K]
  while (peak_of(high) < goal) {
    high *= 2.0;
    if (high > absurd) {
      throw DomainError("no heat after key-off lifts this zone to its soak peak of " + std::to_string(goal) +
                        " K: it rises too slowly");
    }
  }
  std::uintmax_t iterations = 200;
  const auto bracket = boost::math::tools::toms748_solve([&](double s) { return peak_of(s) - goal; }, 0.0, high,
                                                         boost::math::tools::eps_tolerance<double>(48), iterations);
  return 0.5 * (bracket.first + bracket.second);
}

}  // namespace

ZoneHeat likely_zone_heat(const library::Zone& zone) {
  ZoneHeat heat;
  heat.ambient_following = zone.ambient_following.value;
  for (std::size_t state = 0; state < heat.rise.size(); ++state) heat.rise[state] = KelvinRise{zone.rise[state].value};
  heat.soak_peak = KelvinRise{zone.soak_peak.value};
  heat.tau_warm = Minutes{zone.tau_warm.value};
  heat.tau_soak_rise = Minutes{zone.tau_soak_rise.value};
  heat.tau_soak_decay = Minutes{zone.tau_soak_decay.value};
  return heat;
}

TraceConstants trace_constants(const library::ModelConstants& model) {
  const library::ModelConstants::Trace& trace = model.trace;
  TraceConstants constants;
  constants.engine_warm_time = Minutes{trace.engine_warm_time.value};
  constants.exhaust_warm_time = Minutes{trace.exhaust_warm_time.value};
  constants.exhaust_decay_time = Minutes{trace.exhaust_decay_time.value};
  constants.engine_excess = KelvinRise{trace.engine_excess.value};
  constants.slow_decay_from = Minutes{trace.slow_decay_from.value};
  constants.running_response_share = trace.running_response_share.value;
  constants.soak_threshold = KelvinRise{trace.soak_threshold.value};
  constants.anchor_ambient = celsius(trace.anchor_ambient.value);
  constants.hottest_hour = Hours{trace.hottest_hour.value};
  constants.sun_centre_hour = Hours{trace.sun_centre_hour.value};
  return constants;
}

SoakAmplitudes soak_amplitudes(const ZoneHeat& heat, const TraceConstants& constants) {
  const SoakCurve curve{heat.rise[static_cast<std::size_t>(library::RunningState::city)].value(), heat.tau_soak_rise.value(),
                        heat.tau_soak_decay.value(), constants.exhaust_decay_time.value()};
  const double goal = heat.soak_peak.value();
  if (goal < curve.city) {
    throw DomainError("soak peak " + std::to_string(goal) + " K lies below the city rise " + std::to_string(curve.city) +
                      " K");
  }
  const double engine = amplitude_for(goal, [&](double s) { return curve.peak(s, 0.0); });
  const double excess = constants.engine_excess.value();
  if (heat.tau_soak_decay < constants.slow_decay_from || engine <= excess) return {KelvinRise{engine}, KelvinRise{0.0}};
  const double exhaust = amplitude_for(goal, [&](double s) { return curve.peak(excess, s); });
  return {constants.engine_excess, KelvinRise{exhaust}};
}

}  // namespace heatside::exposure
