#include "heatside/exposure/temperature_measure.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <map>

#include "exposure/day_clock.hpp"
#include "heatside/base/constants.hpp"

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
    case 5: return panel_rule<5>();
    case 8: return panel_rule<8>();
    case 10: return panel_rule<10>();
    default: throw DomainError("a panel takes 5, 8 or 10 points, not " + std::to_string(order));
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
std::vector<double> panel_edges(const ZoneTrace& trace, const TraceInterval& interval, const SunHeat& sun, double refinement) {
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
  const double hour = std::fmod(time_of_week + 2.0 * week_length.value(), minutes_per_day) / 60.0;
  return std::abs(hour - constants.sun_centre_hour.value()) < 0.5 * sun.length.value();
}

class YearBuilder {
 public:
  YearBuilder(const ZoneTrace& trace, const std::vector<DailyCourse>& days, const std::array<double, 4>& running_mix,
              SunHeat sun, Quadrature quadrature)
      : trace_{trace}, days_{days}, mix_{running_mix}, sun_{sun}, quadrature_{quadrature}, rule_{panel_rule_of(quadrature.order)} {
    for (std::size_t state = 0; state < mix_.size(); ++state) mixed_rise_ += mix_[state] * trace_.heat.rise[state].value();
  }

  TemperatureMeasure build() {
    for (const TraceInterval& interval : trace_.week) {
      const std::vector<double> edges = panel_edges(trace_, interval, sun_, quadrature_.refinement);
      for (std::size_t i = 0; i + 1 < edges.size(); ++i) add_panel(interval, edges[i], edges[i + 1]);
    }
    return std::move(year_);
  }

 private:
  void add_panel(const TraceInterval& interval, double from, double to) {
    for (std::size_t i = 0; i < rule_.points.size(); ++i) {
      const double after = from + (to - from) * rule_.points[i];
      const double share = (to - from) * rule_.weights[i] / week_length.value();
      if (share > 0.0) add_instant(interval, Minutes{after}, share);
    }
  }

  void add_instant(const TraceInterval& interval, Minutes after, double share) {
    const TraceState state = state_at(trace_, interval, after);
    const Minutes time = interval.start + after;
    const double cosine = day_cosine(trace_.constants, time);
    const bool sunny = !interval.running && sun_.rise.value() > 0.0 && in_sun(trace_.constants, sun_, time.value());
    const double sun = sunny ? sun_.rise.value() : 0.0;
    if (state.running < quadrature_.negligible) {
      add_days(interval, state, KelvinRise{mixed_rise_}, cosine, sun, share);
      return;
    }
    for (std::size_t i = 0; i < mix_.size(); ++i) {
      if (mix_[i] > 0.0) add_days(interval, state, trace_.heat.rise[i], cosine, sun, share * mix_[i]);
    }
  }

  void add_days(const TraceInterval& interval, const TraceState& state, KelvinRise rise, double cosine, double sun, double share) {
    for (const DailyCourse& day : days_) {
      const double theta = rise_above_ambient(trace_, state, day, rise).value();
      const double ambient = day.mean.value() + day.half_range.value() * cosine;
      const Regime regime = interval.running                                    ? Regime::running
                            : theta > trace_.constants.soak_threshold.value() ? Regime::soak
                                                                              : Regime::parked;
      Nodes& nodes = year_.by_regime[static_cast<std::size_t>(regime)];
      nodes.kelvin.push_back(ambient + theta + sun);
      nodes.ambient_kelvin.push_back(ambient);
      nodes.share.push_back(share * day.weight);
    }
  }

  const ZoneTrace& trace_;
  const std::vector<DailyCourse>& days_;
  const std::array<double, 4>& mix_;
  SunHeat sun_;
  Quadrature quadrature_;
  PanelRule rule_;
  double mixed_rise_ = 0.0;
  TemperatureMeasure year_;
};

}  // namespace

TemperatureMeasure year_at(const ZoneTrace& trace, const std::vector<DailyCourse>& days, const std::array<double, 4>& running_mix,
                           SunHeat sun, Quadrature quadrature) {
  return YearBuilder{trace, days, running_mix, sun, quadrature}.build();
}

PerRegime mean_acceleration(const TemperatureMeasure& year, JoulePerMole activation_energy, Kelvin reference) {
  const double slope = activation_energy.value() / molar_gas_constant;  // [K]
  const double inverse_reference = 1.0 / reference.value();
  PerRegime mean{};
  for (std::size_t regime = 0; regime < mean.size(); ++regime) {
    const Nodes& nodes = year.by_regime[regime];
    double sum = 0.0;
    for (std::size_t i = 0; i < nodes.kelvin.size(); ++i) {
      sum += nodes.share[i] * std::exp(slope * (inverse_reference - 1.0 / nodes.kelvin[i]));
    }
    mean[regime] = sum;
  }
  return mean;
}

PerRegime mean_wet_acceleration(const TemperatureMeasure& year, JoulePerMole activation_energy, Kelvin reference,
                                const Humidity& humidity) {
  const double slope = activation_energy.value() / molar_gas_constant;
  const double drying = humidity.vaporisation.value() / molar_gas_constant;
  const double inverse_reference = 1.0 / reference.value();
  const bool trapped = humidity.trapped_percent > 0.0;
  const double wet = std::pow((trapped ? humidity.trapped_percent : humidity.ambient_percent) / humidity.reference_percent,
                              humidity.exponent);
  PerRegime mean{};
  for (std::size_t regime = 0; regime < mean.size(); ++regime) {
    const Nodes& nodes = year.by_regime[regime];
    for (std::size_t i = 0; i < nodes.kelvin.size(); ++i) {
      const double inverse = 1.0 / nodes.kelvin[i];
      const double dried = trapped ? 0.0 : humidity.exponent * drying * (inverse - 1.0 / nodes.ambient_kelvin[i]);
      mean[regime] += wet * nodes.share[i] * std::exp(slope * (inverse_reference - inverse) + dried);
    }
  }
  return mean;
}

std::vector<HoursAtTemperature> hours_at_temperature(const TemperatureMeasure& driven, const TemperatureMeasure& laid_up,
                                                     double usage) {
  std::map<int, PerRegime> bins;
  const auto add = [&](const TemperatureMeasure& year, double factor) {
    for (std::size_t regime = 0; regime < year.by_regime.size(); ++regime) {
      const Nodes& nodes = year.by_regime[regime];
      for (std::size_t i = 0; i < nodes.kelvin.size(); ++i) {
        const int bin = static_cast<int>(std::lround(in_celsius(Kelvin{nodes.kelvin[i]})));
        bins[bin][regime] += factor * nodes.share[i] * hours_per_year;
      }
    }
  };
  if (usage != 0.0) add(driven, usage);
  if (usage != 1.0) add(laid_up, 1.0 - usage);

  std::vector<HoursAtTemperature> histogram;
  for (const auto& [celsius, hours] : bins) histogram.push_back({celsius, hours});
  return histogram;
}

Kelvin equivalent_temperature(double mean_acceleration, JoulePerMole activation_energy, Kelvin reference) {
  const double slope = activation_energy.value() / molar_gas_constant;
  return Kelvin{1.0 / (1.0 / reference.value() - std::log(mean_acceleration) / slope)};
}

}  // namespace heatside::exposure
