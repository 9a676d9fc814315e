#include "remedy/compare_outcomes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "remedy/compare_build.hpp"

namespace heatside::remedy {

namespace {

using population::Belief;
using population::Quantiles;
using population::SegmentYears;
using population::StretchHeat;
using population::StretchYears;

constexpr double never = std::numeric_limits<double>::infinity();

// The first of several places to crack, draw by draw.
class First {
 public:
  void add(const StretchYears& years) {
    take(flex_cracks, years.flex_cracks);
    take(cracked, years.cracked);
  }
  void add(const SegmentYears& stretches) {
    for (const StretchYears& years : stretches) add(years);
  }

  std::vector<double> flex_cracks, cracked;

 private:
  static void take(std::vector<double>& first, const std::vector<double>& years) {
    if (first.empty()) first.assign(years.size(), never);
    for (std::size_t n = 0; n < years.size(); ++n) first[n] = std::min(first[n], years[n]);
  }
};

Quantiles<Years> years_at(const Belief& belief, const std::vector<double>& values) {
  const std::vector<double> at = population::quantiles(belief, values, {0.1, 0.5, 0.9});
  return {Years{at[0]}, Years{at[1]}, Years{at[2]}};
}

double chance_of_lasting(const Belief& belief, const std::vector<double>& years, Years wanted) {
  double chance = 0.0;
  for (std::size_t n = 0; n < years.size(); ++n) {
    if (years[n] > wanted.value()) chance += belief.weights[n];
  }
  return std::min(chance, 1.0);
}

LifeSpread life_of(const First& first, const Yardstick& by) {
  return {years_at(by.belief, first.flex_cracks), years_at(by.belief, first.cracked),
          chance_of_lasting(by.belief, first.flex_cracks, by.wanted)};
}

Quantiles<Years> gain_of(const First& before, const First& after, const Yardstick& by) {
  const double cap = by.cap.value();
  std::vector<double> gain(before.flex_cracks.size());
  for (std::size_t n = 0; n < gain.size(); ++n)
    gain[n] = std::clamp(after.flex_cracks[n], -cap, cap) - std::clamp(before.flex_cracks[n], -cap, cap);
  return years_at(by.belief, gain);
}

HotMoment moment_of(const StretchHeat& heat) {
  if (heat.hottest_while_running()) return HotMoment::running;
  return heat.soak ? HotMoment::soak : HotMoment::parked;
}

HeatMargin margin_of(const StretchHeat& heat, Kelvin limit) {
  return {heat.hottest(), moment_of(heat), limit, population::hours_above(heat, limit)};
}

// The stretch that comes nearest to the limit.
const StretchHeat& hottest_of(const std::vector<StretchHeat>& stretches) {
  return *std::max_element(stretches.begin(), stretches.end(),
                           [](const StretchHeat& a, const StretchHeat& b) { return a.hottest().p50 < b.hottest().p50; });
}

std::size_t weakest_stretch(const SegmentYears& stretches, const Belief& belief) {
  std::size_t weakest = 0;
  double least = never;
  for (std::size_t i = 0; i < stretches.size() && stretches.size() > 1; ++i) {
    const double p10 = population::quantiles(belief, stretches[i].flex_cracks, {0.1}).front();
    if (p10 < least) {
      least = p10;
      weakest = i;
    }
  }
  return weakest;
}

SegmentOutcome segment_outcome(const Build& build, std::size_t k, const Yardstick& by) {
  const casefile::Segment& segment = build.job.segments[build.segments[k]];
  First first;
  first.add(build.years[k]);
  const StretchHeat& hottest = hottest_of(build.heat[k]);
  const casefile::Stretch& weakest = segment.stretches[weakest_stretch(build.years[k], by.belief)];
  SegmentOutcome outcome{
      segment.id,   segment.loom, weakest.id,  weakest.zone, life_of(first, by), margin_of(hottest, build.limits[k]),
      hottest.zone, false,        std::nullopt};
  outcome.serves = !outcome.heat.over() && outcome.life.lasts >= by.chance;
  return outcome;
}

// A zone as it is gathered from the stretches that lie in it.
struct Gathered {
  ZoneOutcome outcome;
  First first;
};

void add_to_zone(Gathered& zone, const casefile::Segment& segment, const StretchYears& years, const HeatMargin& heat) {
  zone.first.add(years);
  if (!contains(zone.outcome.segments, segment.id)) zone.outcome.segments.push_back(segment.id);
  const bool nearer = zone.outcome.zone.empty() || heat.margin().p50 < zone.outcome.heat.margin().p50;
  if (nearer) zone.outcome.heat = heat;
}

std::vector<ZoneOutcome> zone_outcomes(const Build& build, const Yardstick& by) {
  std::map<std::string, Gathered> zones;
  for (std::size_t k = 0; k < build.segments.size(); ++k) {
    const casefile::Segment& segment = build.job.segments[build.segments[k]];
    for (std::size_t i = 0; i < segment.stretches.size(); ++i) {
      Gathered& zone = zones[segment.stretches[i].zone];
      add_to_zone(zone, segment, build.years[k][i], margin_of(build.heat[k][i], build.limits[k]));
      zone.outcome.zone = segment.stretches[i].zone;
    }
  }
  std::vector<ZoneOutcome> outcomes;
  for (auto& [id, zone] : zones) {
    zone.outcome.life = life_of(zone.first, by);
    zone.outcome.serves = !zone.outcome.heat.over() && zone.outcome.life.lasts >= by.chance;
    outcomes.push_back(std::move(zone.outcome));
  }
  return outcomes;
}

}  // namespace

double error_of(double chance, const Belief& belief) {
  return std::sqrt(std::max(0.0, chance * (1.0 - chance)) / population::effective_sample(belief));
}

Candidate outcome_of(const Build& build, const Yardstick& by) {
  Candidate outcome;
  First whole;
  std::map<std::string, First> looms;
  for (std::size_t k = 0; k < build.segments.size(); ++k) {
    outcome.segments.push_back(segment_outcome(build, k, by));
    whole.add(build.years[k]);
    looms[outcome.segments.back().loom].add(build.years[k]);
  }
  outcome.whole = life_of(whole, by);
  outcome.lasts_error = error_of(outcome.whole.lasts, by.belief);
  for (const auto& [id, first] : looms) outcome.looms.push_back({id, life_of(first, by)});
  const auto weakest = std::min_element(outcome.segments.begin(), outcome.segments.end(),
                                        [](const SegmentOutcome& a, const SegmentOutcome& b) {
                                          return std::tie(a.life.flex_cracks.p10, a.life.flex_cracks.p50, a.id) <
                                                 std::tie(b.life.flex_cracks.p10, b.life.flex_cracks.p50, b.id);
                                        });
  outcome.weakest = static_cast<std::size_t>(weakest - outcome.segments.begin());
  outcome.zones = zone_outcomes(build, by);
  return outcome;
}

void add_change(const Build& before, const Build& after, const Yardstick& by, Candidate& outcome) {
  First whole_before, whole_after;
  for (std::size_t k = 0; k < before.segments.size(); ++k) {
    First was, is;
    was.add(before.years[k]);
    is.add(after.years[k]);
    whole_before.add(before.years[k]);
    whole_after.add(after.years[k]);
    outcome.segments[k].change =
        ChangeOfLife{life_of(was, by), gain_of(was, is, by), hottest_of(before.heat[k]).hottest().p50};
  }
  outcome.change = ChangeOfLife{life_of(whole_before, by), gain_of(whole_before, whole_after, by), std::nullopt};
}

std::vector<ZoneNeed> zone_needs(const std::vector<std::string>& segments,
                                 const std::vector<std::vector<StretchHeat>>& heat) {
  std::map<std::string, ZoneNeed> needs;
  for (std::size_t k = 0; k < segments.size(); ++k) {
    for (const StretchHeat& stretch : heat[k]) {
      ZoneNeed& need = needs[stretch.zone];
      if (need.zone.empty() || need.hottest.p50 < stretch.hottest().p50) {
        need.hottest = stretch.hottest();
        need.moment = moment_of(stretch);
      }
      need.zone = stretch.zone;
      if (!contains(need.segments, segments[k])) need.segments.push_back(segments[k]);
    }
  }
  std::vector<ZoneNeed> sorted;
  for (auto& [id, need] : needs) {
    need.by_middle = lowest_class_for(need.hottest.p50);
    need.by_p90 = lowest_class_for(need.hottest.p90);
    sorted.push_back(std::move(need));
  }
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const ZoneNeed& a, const ZoneNeed& b) { return a.hottest.p50 > b.hottest.p50; });
  return sorted;
}

}  // namespace heatside::remedy
