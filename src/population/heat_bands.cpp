#include "population/heat_bands.hpp"

#include <cmath>
#include <map>

namespace heatside::population {

namespace {

constexpr int band_width = 10;  // [K]

// By the nearest whole degree, as the histogram counts.
int band_of(double kelvin) {
  const double degrees = std::round(in_celsius(Kelvin{kelvin}));
  return band_width * static_cast<int>(std::floor(degrees / band_width));
}

exposure::TemperatureMeasure in_band(const exposure::TemperatureMeasure& year, int band) {
  exposure::TemperatureMeasure part;
  for (std::size_t regime = 0; regime < year.by_regime.size(); ++regime) {
    const exposure::Nodes& nodes = year.by_regime[regime];
    exposure::Nodes& kept = part.by_regime[regime];
    for (std::size_t i = 0; i < nodes.kelvin.size(); ++i) {
      if (band_of(nodes.kelvin[i]) != band) continue;
      kept.kelvin.push_back(nodes.kelvin[i]);
      kept.ambient_kelvin.push_back(nodes.ambient_kelvin[i]);
      kept.share.push_back(nodes.share[i]);
    }
  }
  return part;
}

}  // namespace

std::vector<HeatBand> bands_over(LikelyPlaces& places, const Place& at, const std::vector<AgedSpan>& spans) {
  double service = 0.0, damage = 0.0;
  for (const AgedSpan& span : spans) {
    service += span.length.value();
    damage += span.length.value() * exposure::total(span.extent);
  }
  std::map<int, HeatBand> bands;
  for (const AgedSpan& span : spans) {
    const double length = span.length.value();
    const auto bins =
        exposure::hours_at_temperature(places.year(at, span.use, true), places.year(at, span.use, false), span.use.usage);
    for (const exposure::HoursAtTemperature& bin : bins) {
      HeatBand& band = bands[band_of(celsius(bin.celsius).value())];
      for (std::size_t i = 0; i < bin.hours.size(); ++i) band.hours_a_year[i] += bin.hours[i] * length / service;
    }
    const ageing::WireSurroundings around = places.surroundings(at, span.use);
    for (auto& [from, band] : bands) {
      const auto of_band = [from = from](const exposure::TemperatureMeasure& year) { return in_band(year, from); };
      const exposure::PerRegime clock = places.clock(at, at.insulation.paths, around, span.use, of_band);
      for (std::size_t i = 0; i < clock.size(); ++i) band.share[i] += length * clock[i] / damage;
    }
  }
  std::vector<HeatBand> list;
  for (auto& [from, band] : bands) {
    band.from_celsius = from;
    band.to_celsius = from + band_width;
    list.push_back(band);
  }
  return list;
}

}  // namespace heatside::population
