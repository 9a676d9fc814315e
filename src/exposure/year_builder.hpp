#pragma once

#include <algorithm>
#include <array>
#include <vector>

#include "exposure/sampled_week.hpp"

namespace heatside::exposure {

/// A wire that has the temperature of the first zone's air.
struct AirAlone {
  double operator()(const Instant& instant, bool) const { return instant.air[0]; }
};

/// Makes the year of a spot, instant by instant. Its temperature is a template, because it is asked for a hundred thousand
/// times a year.
template <class TemperatureOf>
class YearBuilder {
 public:
  YearBuilder(const std::vector<SampledZone>& zones, const YearOfUse& use, TemperatureOf temperature,
              const Quadrature& quadrature)
      : use_{use},
        temperature_{temperature},
        negligible_{quadrature.negligible},
        threshold_{zones.front().trace.constants.soak_threshold.value()},
        instants_{zones.front().week.size()},
        zones_(zones.size()),
        air_(zones.size()),
        engine_(zones.size()) {
    for (std::size_t i = 0; i < zones.size(); ++i) {
      ZoneNow& zone = zones_[i];
      zone.week = zones[i].week.data();
      zone.anchor = zones[i].trace.constants.anchor_ambient.value();
      zone.sun = use.sun.rise.value() * use.sun_shares[i];
      for (std::size_t state = 0; state < states; ++state) {
        zone.rises[state] = zones[i].trace.heat.rise[state].value();
        zone.rises[mixed] += use.running_mix[state] * zone.rises[state];
      }
    }
  }

  TemperatureMeasure build() {
    nodes_.reserve(instants_ * use_.days.size() * states);
    for (std::size_t i = 0; i < instants_; ++i) add_instant(i);
    return by_regime();
  }

 private:
  static constexpr std::size_t states = 4, mixed = states;

  struct ZoneNow {
    const WeekSample* week{};
    double anchor{}, sun{};                  // [K]
    std::array<double, states + 1> rises{};  // [K] of each running state, and of their mixture
    WeekSample now;
    double sun_now{}, without_rise{};  // [K]; above the ambient, before the rise of a running state
  };

  struct Node {
    double kelvin, ambient, share;
    Regime regime;
  };

  void add_instant(std::size_t i) {
    double response = 0.0;
    for (std::size_t z = 0; z < zones_.size(); ++z) {
      ZoneNow& zone = zones_[z];
      zone.now = zone.week[i];
      zone.sun_now = zone.now.sunny ? zone.sun : 0.0;
      engine_[z] = zone.now.engine;
      response = std::max(response, zone.now.response);
    }
    const bool all_alike = std::max(response, warmth_remembered()) < negligible_;
    for (const DailyCourse& day : use_.days) add_day(day, all_alike);
  }

  // A hot part cools from the state it was heated in, so a wire beside it keeps the states apart for as long as that lasts.
  [[nodiscard]] double warmth_remembered() const {
    const double exhaust = zones_.front().now.exhaust;
    switch (use_.memory) {
      case StateMemory::exhaust:
        return exhaust;
      case StateMemory::engine:
        return std::max(exhaust, *std::max_element(engine_.begin(), engine_.end()));
      case StateMemory::zone:
        break;
    }
    return 0.0;
  }

  // Where the responses are weak the mixed rise stands for those of all states.
  void add_day(const DailyCourse& day, bool all_alike) {
    const WeekSample& first = zones_.front().now;
    const double mean = day.mean.value(), half = day.half_range.value();
    Instant instant;
    instant.running = first.running;
    instant.exhaust_warmth = first.exhaust;
    instant.ambient = mean + half * first.day_cosine;
    instant.air = air_.data();
    instant.engine_warmth = engine_.data();
    for (ZoneNow& zone : zones_)
      zone.without_rise = zone.now.soak + ((zone.anchor - mean) * zone.now.by_mean - half * zone.now.by_half);
    const double share = first.share * day.weight;
    if (all_alike) {
      add(instant, mixed, share);
      return;
    }
    for (std::size_t state = 0; state < states; ++state) {
      if (use_.running_mix[state] <= 0.0) continue;
      instant.state = static_cast<library::RunningState>(state);
      add(instant, state, share * use_.running_mix[state]);
    }
  }

  void add(const Instant& instant, std::size_t rise, double share) {
    double theta = 0.0;
    for (std::size_t z = zones_.size(); z-- > 0;) {
      const ZoneNow& zone = zones_[z];
      theta = zone.rises[rise] * zone.now.response + zone.without_rise;
      air_[z] = instant.ambient + theta + zone.sun_now;
    }
    const Regime regime = instant.running ? Regime::running : theta > threshold_ ? Regime::soak : Regime::parked;
    const double loaded = instant.running ? use_.loaded_share : 0.0;
    if (loaded > 0.0) push(regime, instant, true, share * loaded);
    if (loaded < 1.0) push(regime, instant, false, share * (1.0 - loaded));
  }

  void push(Regime regime, const Instant& instant, bool loaded, double share) {
    nodes_.push_back({temperature_(instant, loaded), instant.ambient, share, regime});
    ++count_[static_cast<std::size_t>(regime)];
  }

  [[nodiscard]] TemperatureMeasure by_regime() const {
    TemperatureMeasure year;
    for (std::size_t regime = 0; regime < count_.size(); ++regime) {
      for (std::vector<double>* column : columns_of(year.by_regime[regime])) column->reserve(count_[regime]);
    }
    for (const Node& node : nodes_) {
      Nodes& nodes = year.by_regime[static_cast<std::size_t>(node.regime)];
      nodes.kelvin.push_back(node.kelvin);
      nodes.ambient_kelvin.push_back(node.ambient);
      nodes.share.push_back(node.share);
    }
    return year;
  }

  static std::array<std::vector<double>*, 3> columns_of(Nodes& nodes) {
    return {&nodes.kelvin, &nodes.ambient_kelvin, &nodes.share};
  }

  const YearOfUse& use_;
  TemperatureOf temperature_;
  double negligible_, threshold_;
  std::size_t instants_;
  std::vector<ZoneNow> zones_;
  std::vector<double> air_;     // [K] of each zone
  std::vector<double> engine_;  // warmth of the engine as each zone cools
  std::vector<Node> nodes_;
  std::array<std::size_t, 3> count_{};
};

}  // namespace heatside::exposure
