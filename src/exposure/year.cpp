#include "heatside/exposure/year.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

#include "exposure/day_clock.hpp"
#include "exposure/sampled_week.hpp"

namespace heatside::exposure {

namespace {

// Gauss-Legendre points of a panel on [0, 1].
struct PanelRule {
  std::vector<double> points, weights;
};

template <unsigned Order>
PanelRule panel_rule() {
  using Rule = boost::math::quadrature::gauss<double, Order>;
  PanelRule rule;
  for (std::size_t i = 0; i < Rule::abscissa().size(); ++i) {
    const double x = Rule::abscissa()[i];
    const double weight = 0.5 * Rule::weights()[i];
    rule.points.push_back(0.5 * (1.0 + x));
    rule.weights.push_back(weight);
    if (x == 0.0) continue;  // The middle of an odd rule is its own mirror.
    rule.points.push_back(0.5 * (1.0 - x));
    rule.weights.push_back(weight);
  }
  return rule;
}

PanelRule panel_rule_of(int order) {
  switch (order) {
    case 5:
      return panel_rule<5>();
    case 8:
      return panel_rule<8>();
    case 10:
      return panel_rule<10>();
    default:
      throw DomainError("a panel takes 5, 8 or 10 points, not " + std::to_string(order));
  }
}

// Ends of the sun's hours that fall into an interval, so that no panel straddles a jump.
void add_sun_edges(std::vector<double>& edges, const ZoneTrace& trace, const TraceInterval& interval, const SunHeat& sun) {
  if (sun.rise.value() == 0.0 || interval.running) return;
  const double half = 0.5 * minutes(sun.length).value();
  const double start = interval.start.value();
  const double length = interval.length.value();
  const double first_day = std::floor(start / minutes_per_day) - 1.0;
  for (double day = first_day; day * minutes_per_day < start + length + minutes_per_day; day += 1.0) {
    const double centre = day * minutes_per_day + minutes(trace.constants.sun_centre_hour).value();
    for (const double edge : {centre - half - start, centre + half - start}) {
      if (edge > 0.0 && edge < length) edges.push_back(edge);
    }
  }
}

// Panels get longer away from the switch, where the fast exponentials have died out.
std::vector<double> panel_edges(const ZoneTrace& trace, const TraceInterval& interval, const SunHeat& sun,
                                double refinement) {
  constexpr double longest = 240.0;
  double step = (interval.running ? 4.0 : 8.0) / refinement;
  std::vector<double> edges{0.0};
  const double length = interval.length.value();
  for (double edge = step; edge < length; edge += step) {
    edges.push_back(edge);
    step = std::min(2.0 * step, longest / refinement);
  }
  edges.push_back(length);
  add_sun_edges(edges, trace, interval, sun);
  std::sort(edges.begin(), edges.end());
  return edges;
}

bool in_sun(const TraceConstants& constants, const SunHeat& sun, double time_of_week) {
  const double from_centre = time_of_week - minutes(constants.sun_centre_hour).value();
  return std::abs(std::remainder(from_centre, minutes_per_day)) < 0.5 * minutes(sun.length).value();
}

class Sampler {
 public:
  Sampler(const ZoneTrace& zone, const SunHeat& sun, const Quadrature& quadrature)
      : zone_{zone}, sun_{sun}, quadrature_{quadrature}, rule_{panel_rule_of(quadrature.order)} {}

  SampledWeek sample() {
    for (const TraceInterval& interval : zone_.week) {
      const std::vector<double> edges = panel_edges(zone_, interval, sun_, quadrature_.refinement);
      for (std::size_t i = 0; i + 1 < edges.size(); ++i) add_panel(interval, edges[i], edges[i + 1]);
    }
    return std::move(samples_);
  }

 private:
  void add_panel(const TraceInterval& interval, double from, double to) {
    for (std::size_t i = 0; i < rule_.points.size(); ++i) {
      const double after = from + (to - from) * rule_.points[i];
      const double share = (to - from) * rule_.weights[i] / week_length.value();
      if (share > 0.0) add(interval, Minutes{after}, share);
    }
  }

  void add(const TraceInterval& interval, Minutes after, double share) {
    const TraceState state = state_at(zone_, interval, after);
    const Minutes time = interval.start + after;
    const double peak = zone_.heat.soak_peak.value(), anchored = 1.0 - zone_.heat.ambient_following;
    const double engine = zone_.soak.engine.value(), exhaust = zone_.soak.exhaust.value();
    WeekSample sample;
    sample.running = interval.running;
    sample.sunny = !interval.running && sun_.rise.value() > 0.0 && in_sun(zone_.constants, sun_, time.value());
    sample.share = share;
    sample.day_cosine = day_cosine(zone_.constants, time);
    sample.engine = state.engine;
    sample.exhaust = state.exhaust;
    sample.response = state.running;
    sample.soak = engine * state.by_engine + exhaust * state.by_exhaust;
    sample.by_mean = anchored * (state.running + sample.soak / peak);
    sample.by_half = anchored * (state.running_cos + (engine * state.by_engine_cos + exhaust * state.by_exhaust_cos) / peak);
    samples_.push_back(sample);
  }

  const ZoneTrace& zone_;
  const SunHeat& sun_;
  const Quadrature& quadrature_;
  PanelRule rule_;
  SampledWeek samples_;
};

// What a year is built from: everything but the place of its own that a temperature may add.
class YearBuilder {
 public:
  YearBuilder(const std::vector<SampledZone>& zones, const YearOfUse& use, const Temperature& temperature,
              const Quadrature& quadrature)
      : zones_{zones},
        use_{use},
        temperature_{temperature},
        negligible_{quadrature.negligible},
        threshold_{zones.front().trace.constants.soak_threshold.value()},
        sun_(zones.size()),
        without_rise_(zones.size()),
        air_(zones.size()),
        engine_(zones.size()) {
    for (std::size_t zone = 0; zone < zones.size(); ++zone) {
      const auto& rises = zones[zone].trace.heat.rise;
      double rise = 0.0;
      for (std::size_t state = 0; state < use.running_mix.size(); ++state)
        rise += use.running_mix[state] * rises[state].value();
      mixed_rises_.push_back(rise);
    }
  }

  TemperatureMeasure build() {
    for (std::size_t i = 0; i < zones_.front().week.size(); ++i) add_instant(i);
    return std::move(year_);
  }

 private:
  [[nodiscard]] const WeekSample& sample(std::size_t zone) const { return zones_[zone].week[at_]; }

  void add_instant(std::size_t i) {
    at_ = i;
    double response = 0.0;
    for (std::size_t zone = 0; zone < zones_.size(); ++zone) {
      const WeekSample& here = sample(zone);
      engine_[zone] = here.engine;
      response = std::max(response, here.response);
      sun_[zone] = here.sunny ? use_.sun.rise.value() * use_.sun_shares[zone] : 0.0;
    }
    const bool mixed = std::max(response, warmth_remembered()) < negligible_;
    for (const DailyCourse& day : use_.days) add_day(day, mixed);
  }

  // A hot part cools from the state it was heated in, so a wire beside it keeps the states apart for as long as that lasts.
  double warmth_remembered() const {
    switch (use_.memory) {
      case StateMemory::exhaust:
        return sample(0).exhaust;
      case StateMemory::engine:
        return std::max(sample(0).exhaust, *std::max_element(engine_.begin(), engine_.end()));
      case StateMemory::zone:
        break;
    }
    return 0.0;
  }

  // Where the responses are weak the mixed rise stands for those of all states.
  void add_day(const DailyCourse& day, bool mixed) {
    Instant instant;
    instant.running = sample(0).running;
    instant.exhaust_warmth = sample(0).exhaust;
    instant.ambient = day.mean.value() + day.half_range.value() * sample(0).day_cosine;
    instant.air = air_.data();
    instant.engine_warmth = engine_.data();
    for (std::size_t zone = 0; zone < zones_.size(); ++zone) {
      const WeekSample& here = sample(zone);
      const double colder = (zones_[zone].trace.constants.anchor_ambient - day.mean).value();
      without_rise_[zone] = here.soak + (colder * here.by_mean - day.half_range.value() * here.by_half);
    }
    const double share = sample(0).share * day.weight;
    if (mixed) {
      add(instant, mixed_rises_, share);
      return;
    }
    for (std::size_t state = 0; state < use_.running_mix.size(); ++state) {
      if (use_.running_mix[state] <= 0.0) continue;
      instant.state = static_cast<library::RunningState>(state);
      add(
          instant, [&](std::size_t zone) { return zones_[zone].trace.heat.rise[state].value(); },
          share * use_.running_mix[state]);
    }
  }

  void add(const Instant& instant, const std::vector<double>& rises, double share) {
    add(
        instant, [&](std::size_t zone) { return rises[zone]; }, share);
  }

  template <class RiseOf>
  void add(const Instant& instant, const RiseOf& rise_of, double share) {
    double theta = 0.0;
    for (std::size_t zone = 0; zone < zones_.size(); ++zone) {
      const double above = rise_of(zone) * sample(zone).response + without_rise_[zone];
      if (zone == 0) theta = above;
      air_[zone] = instant.ambient + above + sun_[zone];
    }
    const Regime regime = instant.running ? Regime::running : theta > threshold_ ? Regime::soak : Regime::parked;
    const double loaded = instant.running ? use_.loaded_share : 0.0;
    if (loaded > 0.0) push(regime, instant, true, share * loaded);
    if (loaded < 1.0) push(regime, instant, false, share * (1.0 - loaded));
  }

  void push(Regime regime, const Instant& instant, bool loaded, double share) {
    Nodes& nodes = year_.by_regime[static_cast<std::size_t>(regime)];
    nodes.kelvin.push_back(temperature_ ? temperature_(instant, loaded) : instant.air[0]);
    nodes.ambient_kelvin.push_back(instant.ambient);
    nodes.share.push_back(share);
  }

  const std::vector<SampledZone>& zones_;
  const YearOfUse& use_;
  const Temperature& temperature_;
  double negligible_, threshold_;
  std::size_t at_ = 0;
  std::vector<double> mixed_rises_;
  std::vector<double> sun_;           // [K] of each zone
  std::vector<double> without_rise_;  // [K] of each zone above the ambient, before that of a running state
  std::vector<double> air_;           // [K] of each zone
  std::vector<double> engine_;        // warmth of the engine as each zone cools
  TemperatureMeasure year_;
};

}  // namespace

SampledWeek sampled_week(const ZoneTrace& zone, const SunHeat& sun, const Quadrature& quadrature) {
  return Sampler{zone, sun, quadrature}.sample();
}

TemperatureMeasure year_of_samples(const std::vector<SampledZone>& zones, const YearOfUse& use,
                                   const Temperature& temperature, const Quadrature& quadrature) {
  return YearBuilder{zones, use, temperature, quadrature}.build();
}

TemperatureMeasure year_of(const std::vector<ZoneTrace>& zones, const YearOfUse& use, const Temperature& temperature,
                           Quadrature quadrature) {
  std::vector<SampledWeek> weeks;
  weeks.reserve(zones.size());
  std::vector<SampledZone> sampled;
  for (const ZoneTrace& zone : zones) {
    weeks.push_back(sampled_week(zone, use.sun, quadrature));
    sampled.push_back({zone, weeks.back()});
  }
  return year_of_samples(sampled, use, temperature, quadrature);
}

TemperatureMeasure year_at(const ZoneTrace& trace, const std::vector<DailyCourse>& days,
                           const std::array<double, 4>& running_mix, SunHeat sun, Quadrature quadrature) {
  return year_of({trace}, {days, running_mix, sun, {1.0}, 0.0}, {}, quadrature);
}

}  // namespace heatside::exposure
