#include "heatside/exposure/year.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <optional>

#include "exposure/day_clock.hpp"

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

// What a year is built from: everything but the place of its own that a temperature may add.
class YearBuilder {
 public:
  YearBuilder(const std::vector<ZoneTrace>& zones, const YearOfUse& use, const Temperature& temperature,
              Quadrature quadrature)
      : zones_{zones},
        use_{use},
        temperature_{temperature},
        quadrature_{quadrature},
        rule_{panel_rule_of(quadrature.order)},
        states_(zones.size()),
        air_(zones.size()),
        engine_(zones.size()) {
    for (const ZoneTrace& zone : zones) {
      double rise = 0.0;
      for (std::size_t state = 0; state < use.running_mix.size(); ++state)
        rise += use.running_mix[state] * zone.heat.rise[state].value();
      mixed_rises_.push_back(rise);
    }
  }

  TemperatureMeasure build() {
    const std::vector<TraceInterval>& week = zones_.front().week;
    for (std::size_t interval = 0; interval < week.size(); ++interval) {
      const std::vector<double> edges = panel_edges(zones_.front(), week[interval], use_.sun, quadrature_.refinement);
      for (std::size_t i = 0; i + 1 < edges.size(); ++i) add_panel(interval, edges[i], edges[i + 1]);
    }
    return std::move(year_);
  }

 private:
  void add_panel(std::size_t interval, double from, double to) {
    for (std::size_t i = 0; i < rule_.points.size(); ++i) {
      const double after = from + (to - from) * rule_.points[i];
      const double share = (to - from) * rule_.weights[i] / week_length.value();
      if (share > 0.0) add_instant(interval, Minutes{after}, share);
    }
  }

  void add_instant(std::size_t interval, Minutes after, double share) {
    const TraceInterval& first = zones_.front().week[interval];
    double response = 0.0;
    for (std::size_t zone = 0; zone < zones_.size(); ++zone) {
      states_[zone] = state_at(zones_[zone], zones_[zone].week[interval], after);
      engine_[zone] = states_[zone].engine;
      response = std::max(response, states_[zone].running);
    }
    const TraceConstants& constants = zones_.front().constants;
    const Minutes time = first.start + after;
    cosine_ = day_cosine(constants, time);
    sunny_ = !first.running && use_.sun.rise.value() > 0.0 && in_sun(constants, use_.sun, time.value());
    if (std::max(response, warmth_remembered()) < quadrature_.negligible) {
      add_days(first.running, std::nullopt, share);
      return;
    }
    for (std::size_t state = 0; state < use_.running_mix.size(); ++state) {
      if (use_.running_mix[state] > 0.0) add_days(first.running, state, share * use_.running_mix[state]);
    }
  }

  // A hot part cools from the state it was heated in, so a wire beside it keeps the states apart for as long as that lasts.
  double warmth_remembered() const {
    switch (use_.memory) {
      case StateMemory::exhaust:
        return states_.front().exhaust;
      case StateMemory::engine:
        return std::max(states_.front().exhaust, *std::max_element(engine_.begin(), engine_.end()));
      case StateMemory::zone:
        break;
    }
    return 0.0;
  }

  // Without a state the responses are so weak that the mixed rise stands for all of them.
  void add_days(bool running, std::optional<std::size_t> state, double share) {
    for (const DailyCourse& day : use_.days) {
      Instant instant;
      instant.state = static_cast<library::RunningState>(state.value_or(0));
      instant.running = running;
      instant.exhaust_warmth = states_.front().exhaust;
      instant.ambient = day.mean.value() + day.half_range.value() * cosine_;
      double theta = 0.0;
      for (std::size_t zone = 0; zone < zones_.size(); ++zone) {
        const KelvinRise rise = state ? zones_[zone].heat.rise[*state] : KelvinRise{mixed_rises_[zone]};
        const double above = rise_above_ambient(zones_[zone], states_[zone], day, rise).value();
        if (zone == 0) theta = above;
        air_[zone] = instant.ambient + above + (sunny_ ? use_.sun.rise.value() * use_.sun_shares[zone] : 0.0);
      }
      instant.air = air_.data();
      instant.engine_warmth = engine_.data();
      add(instant, theta, share * day.weight);
    }
  }

  void add(const Instant& instant, double theta, double share) {
    const Regime regime = instant.running                                           ? Regime::running
                          : theta > zones_.front().constants.soak_threshold.value() ? Regime::soak
                                                                                    : Regime::parked;
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

  const std::vector<ZoneTrace>& zones_;
  const YearOfUse& use_;
  const Temperature& temperature_;
  Quadrature quadrature_;
  PanelRule rule_;
  std::vector<double> mixed_rises_;
  std::vector<TraceState> states_;
  std::vector<double> air_;     // [K] of each zone
  std::vector<double> engine_;  // warmth of the engine as each zone cools
  double cosine_ = 0.0;
  bool sunny_ = false;
  TemperatureMeasure year_;
};

}  // namespace

TemperatureMeasure year_of(const std::vector<ZoneTrace>& zones, const YearOfUse& use, const Temperature& temperature,
                           Quadrature quadrature) {
  return YearBuilder{zones, use, temperature, quadrature}.build();
}

TemperatureMeasure year_at(const ZoneTrace& trace, const std::vector<DailyCourse>& days,
                           const std::array<double, 4>& running_mix, SunHeat sun, Quadrature quadrature) {
  return year_of({trace}, {days, running_mix, sun, {1.0}, 0.0}, {}, quadrature);
}

}  // namespace heatside::exposure
