#include "heatside/exposure/year.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

#include "exposure/air_mixture_year.hpp"
#include "exposure/day_clock.hpp"
#include "exposure/interval_course.hpp"
#include "exposure/sampled_week.hpp"
#include "exposure/year_builder.hpp"

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
      const IntervalCourse course{zone_, interval};
      const std::vector<double> edges = panel_edges(zone_, interval, sun_, quadrature_.refinement);
      for (std::size_t i = 0; i + 1 < edges.size(); ++i) add_panel(interval, course, edges[i], edges[i + 1]);
    }
    return std::move(samples_);
  }

 private:
  void add_panel(const TraceInterval& interval, const IntervalCourse& course, double from, double to) {
    for (std::size_t i = 0; i < rule_.points.size(); ++i) {
      const double after = from + (to - from) * rule_.points[i];
      const double share = (to - from) * rule_.weights[i] / week_length.value();
      if (share > 0.0) add(interval, course, Minutes{after}, share);
    }
  }

  void add(const TraceInterval& interval, const IntervalCourse& course, Minutes after, double share) {
    const TraceState state = course.at(after);
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

}  // namespace

SampledWeek sampled_week(const ZoneTrace& zone, const SunHeat& sun, const Quadrature& quadrature) {
  return Sampler{zone, sun, quadrature}.sample();
}

TemperatureMeasure year_of_samples(const std::vector<SampledZone>& zones, const YearOfUse& use,
                                   const Temperature& temperature, const Quadrature& quadrature) {
  if (!temperature) return YearBuilder{zones, use, AirAlone{}, quadrature}.build();
  return YearBuilder<const Temperature&>{zones, use, temperature, quadrature}.build();
}

TemperatureMeasure year_of_samples(const std::vector<SampledZone>& zones, const YearOfUse& use, const Mixture& mixture,
                                   const Quadrature& quadrature) {
  const std::vector<double> weights = mixture.weights_of_air();
  if (weights.size() == zones.size() && use.loaded_share == 0.0 && use.memory == StateMemory::zone)
    return year_of_air_mixture(zones, weights, use, quadrature);
  return YearBuilder<const Mixture&>{zones, use, mixture, quadrature}.build();
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
