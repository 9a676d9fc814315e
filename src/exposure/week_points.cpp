#include "exposure/week_points.hpp"

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

#include "exposure/day_clock.hpp"
#include "exposure/interval_course.hpp"

namespace heatside::exposure {

namespace {

constexpr double alike = 1.0e-6;  // of states [-] and of times [min]

struct PanelRule {
  std::vector<double> points, weights;  // on [0, 1]
};

const PanelRule& panel_rule() {
  static const PanelRule rule = [] {
    using Gauss = boost::math::quadrature::gauss<double, 5>;
    PanelRule made;
    for (std::size_t i = 0; i < Gauss::abscissa().size(); ++i) {
      const double x = Gauss::abscissa()[i], weight = 0.5 * Gauss::weights()[i];
      for (const double side : {0.5 * (1.0 + x), 0.5 * (1.0 - x)}) {
        if (x == 0.0 && !made.points.empty()) break;
        made.points.push_back(side);
        made.weights.push_back(weight);
      }
    }
    return made;
  }();
  return rule;
}

bool same_state(const TraceState& a, const TraceState& b) {
  const auto values = [](const TraceState& s) {
    return std::array{s.engine,     s.exhaust,     s.running,       s.by_engine,
                      s.by_exhaust, s.running_cos, s.by_engine_cos, s.by_exhaust_cos};
  };
  const auto left = values(a), right = values(b);
  return std::equal(left.begin(), left.end(), right.begin(), [](double x, double y) { return std::abs(x - y) < alike; });
}

bool same_interval(const TraceInterval& a, const TraceInterval& b) {
  const double apart = std::remainder((a.start - b.start).value(), minutes_per_day);
  return a.running == b.running && std::abs((a.length - b.length).value()) < alike && std::abs(apart) < alike &&
         same_state(a.at_start, b.at_start);
}

struct CountedInterval {
  TraceInterval interval;
  double count = 1.0;
};

std::vector<CountedInterval> different_intervals(const std::vector<TraceInterval>& week) {
  std::vector<CountedInterval> different;
  for (const TraceInterval& interval : week) {
    const auto known = std::find_if(different.begin(), different.end(), [&](const CountedInterval& counted) {
      return same_interval(counted.interval, interval);
    });
    if (known == different.end()) {
      different.push_back({interval, 1.0});
    } else {
      known->count += 1.0;
    }
  }
  return different;
}

// A whole week of standing repeats itself every day.
std::vector<CountedInterval> intervals_of(const ZoneTrace& trace) {
  if (trace.week.size() == 1 && !trace.week.front().running) {
    TraceInterval day = trace.week.front();
    day.length = Minutes{minutes_per_day};
    return {{day, 7.0}};
  }
  return different_intervals(trace.week);
}

bool shines(const SunHeat& sun) { return sun.rise.value() != 0.0; }

double from_sun_centre(const TraceConstants& constants, double time_of_week) {
  return std::remainder(time_of_week - minutes(constants.sun_centre_hour).value(), minutes_per_day);
}

// No panel straddles a jump of the sun.
void add_sun_edges(std::vector<double>& edges, const TraceConstants& constants, const TraceInterval& interval,
                   const SunHeat& sun) {
  const double half = 0.5 * minutes(sun.length).value();
  const double first_centre = -from_sun_centre(constants, interval.start.value());
  for (double centre = first_centre - minutes_per_day; centre - half < interval.length.value(); centre += minutes_per_day) {
    for (const double edge : {centre - half, centre + half}) {
      if (edge > 0.0 && edge < interval.length.value()) edges.push_back(edge);
    }
  }
}

std::vector<double> panel_edges(const TraceConstants& constants, const TraceInterval& interval, const SunHeat& sun) {
  constexpr double longest = 240.0, after_start = 4.0, after_stop = 8.0;  // [min]
  std::vector<double> edges{0.0};
  double step = interval.running ? after_start : after_stop;
  for (double edge = step; edge < interval.length.value(); edge += step) {
    edges.push_back(edge);
    step = std::min(2.0 * step, longest);
  }
  edges.push_back(interval.length.value());
  if (!interval.running && shines(sun)) add_sun_edges(edges, constants, interval, sun);
  std::sort(edges.begin(), edges.end());
  return edges;
}

WeekPoint point_at(const ZoneTrace& trace, const TraceInterval& interval, const TraceState& state, double after,
                   const SunHeat& sun) {
  const double time = interval.start.value() + after;
  const double by_engine = trace.soak.engine.value(), by_exhaust = trace.soak.exhaust.value();
  const double soak = by_engine * state.by_engine + by_exhaust * state.by_exhaust;
  const double soak_cos = by_engine * state.by_engine_cos + by_exhaust * state.by_exhaust_cos;
  // A zone that is held at its temperature is warmed by as much more as the ambient is colder than the anchor.
  const double peak = trace.heat.soak_peak.value();
  const double held = (1.0 - trace.heat.ambient_following) * (state.running + soak / peak);
  WeekPoint point;
  point.day_cosine = day_cosine(trace.constants, Minutes{time});
  point.following = 1.0 - held;
  point.following_cos = point.day_cosine - (1.0 - trace.heat.ambient_following) * (state.running_cos + soak_cos / peak);
  point.running = state.running;
  point.soak_kelvin = soak;
  point.constant_kelvin = held * trace.constants.anchor_ambient.value();
  const double half_sun = 0.5 * minutes(sun.length).value();
  if (!interval.running && std::abs(from_sun_centre(trace.constants, time)) < half_sun)
    point.constant_kelvin += sun.rise.value();
  return point;
}

}  // namespace

std::vector<WeekPoint> week_points(const ZoneTrace& trace, const SunHeat& sun) {
  const PanelRule& rule = panel_rule();
  std::vector<WeekPoint> points;
  for (const CountedInterval& counted : intervals_of(trace)) {
    const IntervalCourse course{trace, counted.interval};
    const std::vector<double> edges = panel_edges(trace.constants, counted.interval, sun);
    for (std::size_t panel = 0; panel + 1 < edges.size(); ++panel) {
      const double length = edges[panel + 1] - edges[panel];
      for (std::size_t i = 0; i < rule.points.size(); ++i) {
        const double after = edges[panel] + length * rule.points[i];
        WeekPoint point = point_at(trace, counted.interval, course.at(Minutes{after}), after, sun);
        point.share = counted.count * length * rule.weights[i] / week_length.value();
        points.push_back(point);
      }
    }
  }
  return points;
}

}  // namespace heatside::exposure
