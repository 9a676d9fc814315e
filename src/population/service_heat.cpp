#include "heatside/population/service_heat.hpp"

#include <algorithm>
#include <array>
#include <map>

#include "population/place.hpp"

namespace heatside::population {

namespace {

using exposure::Nodes;
using exposure::TemperatureMeasure;

constexpr std::array<double, 3> shares{0.1, 0.5, 0.9};
using Scores = std::map<std::string, double>;

// What is believed of each zone's score, at the three shares.
std::array<Scores, 3> believed_scores(const Population& population) {
  const exposure::ZoneScores& scores = population.zone_scores;
  Normals normals = population.normals;
  const std::size_t zones = scores.zones.size();
  std::array<Scores, 3> believed;
  for (std::size_t zone = 0; zone < zones; ++zone) {
    std::vector<double> drawn(normals.draws(), scores.scores[zone].mean);
    const auto add = [&](double gain, const std::string& name) {
      if (gain == 0.0) return;
      const std::vector<double>& column = normals.of(name);
      for (std::size_t n = 0; n < drawn.size(); ++n) drawn[n] += gain * column[n];
    };
    const double* gains = &scores.gains[zone * (zones + 1)];
    add(gains[0], quantity::bay);
    for (std::size_t other = 0; other < zones; ++other) add(gains[other + 1], quantity::zone(scores.zones[other]));
    const std::vector<double> at = quantiles(population.belief, drawn, {shares.begin(), shares.end()});
    for (std::size_t i = 0; i < shares.size(); ++i)
      believed[i][scores.zones[zone]] = std::clamp(at[i], -exposure::score_limit, exposure::score_limit);
  }
  return believed;
}

double hottest_of(const Nodes& nodes) {
  return nodes.kelvin.empty() ? 0.0 : *std::max_element(nodes.kelvin.begin(), nodes.kelvin.end());
}

struct Peaks {
  double running = 0.0, soak = 0.0, parked = 0.0;  // [K]; 0 where that never happens
};

Peaks peaks_of(const TemperatureMeasure& year) {
  return {hottest_of(year.by_regime[0]), hottest_of(year.by_regime[1]), hottest_of(year.by_regime[2])};
}

Kelvin& part(Quantiles<Kelvin>& quantiles, std::size_t share) {
  return share == 0 ? quantiles.p10 : share == 1 ? quantiles.p50 : quantiles.p90;
}

// Takes the hotter of the stretch as it is so far and one of its wire groups.
void add_group(StretchHeat& heat, std::size_t share, const TemperatureMeasure& year) {
  const Peaks peaks = peaks_of(year);
  const double stopped = std::max(peaks.soak, peaks.parked);
  const double running = peaks.running > 0.0 ? peaks.running : stopped;
  const Kelvin so_far = std::max(part(heat.running, share), part(heat.stopped, share));
  if (share == 1 && (heat.year.by_regime[2].kelvin.empty() || std::max(running, stopped) > so_far.value())) heat.year = year;
  part(heat.running, share) = std::max(part(heat.running, share), Kelvin{running});
  if (Kelvin{stopped} < part(heat.stopped, share)) return;
  part(heat.stopped, share) = Kelvin{stopped};
  if (share == 1) heat.soak = peaks.soak >= peaks.parked;
}

}  // namespace

Quantiles<Kelvin> StretchHeat::hottest() const {
  return {std::max(running.p10, stopped.p10), std::max(running.p50, stopped.p50), std::max(running.p90, stopped.p90)};
}

Hours hours_above(const StretchHeat& heat, Kelvin limit) {
  double share = 0.0;
  for (const Nodes& nodes : heat.year.by_regime) {
    for (std::size_t i = 0; i < nodes.kelvin.size(); ++i) {
      if (nodes.kelvin[i] > limit.value()) share += nodes.share[i];
    }
  }
  return Hours{hours_per_year * std::min(1.0, heat.usage * share)};
}

std::vector<std::vector<StretchHeat>> service_heat(const casefile::Case& job, const library::Library& library,
                                                   const Population& population, const std::vector<std::size_t>& segments) {
  constexpr Kelvin coldest{1.0};
  std::vector<std::vector<StretchHeat>> heat(segments.size());
  std::array<Scores, 3> scores = believed_scores(population);
  for (std::size_t share = 0; share < shares.size(); ++share) {
    LikelyPlaces places{job, library, population.conduction, std::move(scores[share])};
    const exposure::UseSpan& use = places.future_use();
    for (std::size_t k = 0; k < segments.size(); ++k) {
      std::size_t stretch = 0;
      for (const Place& at : places.places(segments[k])) {
        while (stretch < heat[k].size() && heat[k][stretch].stretch != at.stretch.id) ++stretch;
        if (stretch == heat[k].size()) {
          heat[k].push_back({at.stretch.id,
                             at.stretch.zone,
                             {coldest, coldest, coldest},
                             {coldest, coldest, coldest},
                             false,
                             {},
                             use.duty.trips.empty() ? 1.0 : use.usage});
        }
        add_group(heat[k][stretch], share, places.year(at, use, true));
      }
    }
  }
  return heat;
}

}  // namespace heatside::population
