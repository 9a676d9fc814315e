#include "population/trip_ageing.hpp"

#include <algorithm>

namespace heatside::population {

double rate_at(const TripClock& clock, Kelvin insulation, const library::ModelConstants& model) {
  exposure::TemperatureMeasure instant;
  instant.by_regime.front() = {{insulation.value()}, {clock.ambient.value()}, {1.0}};
  const auto mean = [&](const library::AgeingPath& path) {
    return ageing::likely_path_mean(clock.insulation, path, instant, clock.humidity_percent, clock.damp, model);
  };
  return exposure::total(
      ageing::clock_rate(clock.insulation, clock.insulation.paths, clock.around, clock.insulation.lot_median.value, mean));
}

TripAgeing ageing_of(const std::vector<exposure::TripRow>& rows, const TripClock& clock,
                     const library::ModelConstants& model) {
  TripAgeing ageing;
  double before = 0.0;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const double rate = rate_at(clock, rows[i].insulation, model);
    if (i > 0) {
      constexpr double minutes_per_hour = 60.0;
      const double hours = (rows[i].since_key_on - rows[i - 1].since_key_on).value() / minutes_per_hour;
      const bool running = rows[i].phase == exposure::TripPhase::warm_up || rows[i].phase == exposure::TripPhase::run;
      (running ? ageing.running : ageing.after) += 0.5 * (before + rate) * hours;
    }
    before = rate;
  }
  return ageing;
}

const exposure::TripRow& hottest_of(const std::vector<exposure::TripRow>& rows) {
  return *std::max_element(rows.begin(), rows.end(), [](const exposure::TripRow& a, const exposure::TripRow& b) {
    return a.insulation < b.insulation;
  });
}

}  // namespace heatside::population
