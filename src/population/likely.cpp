#include <algorithm>
#include <map>
#include <tuple>

#include "base/text.hpp"
#include "heatside/population/estimate.hpp"
#include "population/likely_case.hpp"
#include "population/place.hpp"
#include "population/reliances.hpp"

namespace heatside::population {

namespace {

using ageing::ClockRates;
using ageing::ClockSpan;
using casefile::Case;
using exposure::PerRegime;
using exposure::total;
using exposure::UseSpan;
using library::Library;

class LikelyCase {
 public:
  LikelyCase(const Case& job, const Library& library, LikelyOptions options, std::shared_ptr<exposure::LikelyYears> years)
      : job_{job}, library_{library}, options_{options}, clocks_{job, library, options.conduction, std::move(years)} {}

  SegmentEstimate segment(std::size_t number) try {
    std::vector<SegmentEstimate> places;
    for (const Place& at : clocks_.places(number)) places.push_back(report(at, clocks_.past(at), clocks_.future(at)));
    // The worst condition first, then whichever cracks first; years are the earliest of all places.
    auto worst = std::min_element(places.begin(), places.end(), [](const SegmentEstimate& a, const SegmentEstimate& b) {
      return std::tuple(-static_cast<int>(a.most_likely), a.flex_cracks.p50, a.cracked.p50) <
             std::tuple(-static_cast<int>(b.most_likely), b.flex_cracks.p50, b.cracked.p50);
    });
    for (const SegmentEstimate& other : places) {
      if (other.flex_cracks.p50 < worst->flex_cracks.p50) worst->flex_cracks = other.flex_cracks;
      if (other.cracked.p50 < worst->cracked.p50) worst->cracked = other.cracked;
    }
    return std::move(*worst);
  } catch (const DomainError& error) {
    throw DomainError("segment \"" + job_.segments[number].id + "\": " + error.what());
  }

 private:
  SegmentEstimate report(const Place& at, const std::vector<AgedSpan>& past, const AgedSpan& future) {
    const ageing::Kinetics kinetics = ageing::likely_kinetics(at.insulation, library_.model);
    const Metres radius = at.segment.route_radius.value_or(millimetres(library_.model.condition.route_radius.value));
    const ageing::ConditionThresholds thresholds = ageing::condition_thresholds(
        kinetics.initial, PerKelvin{at.insulation.expansion.value}, {at.group.outer_diameter, radius}, library_.model);
    std::vector<ClockSpan> spans;
    for (const AgedSpan& span : past) spans.push_back({span.length, {total(span.extent), span.guard}});
    const ClockRates future_rates{total(future.extent), future.guard};
    const auto until = [&](Strain threshold) {
      const Years time = ageing::years_until(kinetics, spans, future_rates, threshold, options_.solution);
      return Quantiles<Years>{time, time, time};
    };
    const Strain elongation = ageing::elongation_after(kinetics, spans, options_.solution);

    SegmentEstimate estimate;
    estimate.id = at.segment.id;
    estimate.name = at.segment.name;
    estimate.loom = at.segment.loom;
    estimate.lot = at.lot.id;
    estimate.insulation = at.insulation.head.id;
    estimate.guarded = at.insulation.law == library::KineticsLaw::guarded;
    estimate.compound_known = at.lot.compound_known;
    estimate.compound_chance = at.lot.candidates.front().weight;
    estimate.worst_stretch = at.stretch.id;
    estimate.zone = at.stretch.zone;
    estimate.worst_from_start = at.from_start;
    estimate.elongation = {elongation, elongation, elongation};
    estimate.most_likely = ageing::condition_at(elongation, thresholds);
    estimate.chance[static_cast<std::size_t>(estimate.most_likely)] = 1.0;
    estimate.flex_cracks = until(thresholds.flex_cracks);
    estimate.cracked = until(thresholds.cracked);
    add_service_summary(at, past, future, estimate);
    return estimate;
  }

  // Shares, equivalent temperature and histogram since fitting; a part that was never in service shows its future.
  void add_service_summary(const Place& at, const std::vector<AgedSpan>& past, const AgedSpan& future,
                           SegmentEstimate& estimate) {
    const auto fitted = casefile::find_by_id(job_.looms, at.segment.loom)->fitted.day;
    std::vector<std::pair<const AgedSpan*, double>> service;  // with hours as weight
    for (const AgedSpan& span : past) {
      if (span.use.from >= fitted) service.emplace_back(&span, span.length.value());
    }
    if (service.empty()) service.emplace_back(&future, 1.0);

    double hours = 0.0, dry = 0.0;
    std::map<int, PerRegime> bins;
    for (const auto& [span, weight] : service) {
      hours += weight;
      // Without what touches the wire: the temperature is that of the heat alone.
      dry += weight * span->dry * ageing::life_factor(at.insulation, clocks_.surroundings(at, span->use));
      for (std::size_t i = 0; i < estimate.damage_share.size(); ++i) estimate.damage_share[i] += weight * span->extent[i];
      if (!options_.histogram) continue;
      for (const exposure::HoursAtTemperature& bin : hours_of(at, span->use)) {
        for (std::size_t i = 0; i < bin.hours.size(); ++i) bins[bin.celsius][i] += weight * bin.hours[i];
      }
    }
    // With more use than the duty says, the difference to laid-up years can dip below zero where little happens anyway.
    for (double& share : estimate.damage_share) share = std::max(share, 0.0);
    const double damage = total(estimate.damage_share);
    for (double& share : estimate.damage_share) share /= damage;
    estimate.equivalent_temperature =
        ageing::equivalent_temperature(at.insulation, at.group.wall, at.insulation.lot_median.value, dry / hours,
                                       clocks_.surroundings(at, future.use).plasticiser_rate);
    for (auto& [celsius, bin] : bins) {
      for (double& part : bin) part /= hours;
      estimate.hours_at_temperature.push_back({celsius, bin});
    }
  }

  std::vector<exposure::HoursAtTemperature> hours_of(const Place& at, const UseSpan& use) {
    return exposure::hours_at_temperature(clocks_.year(at, use, true), clocks_.year(at, use, false), use.usage);
  }

  const Case& job_;
  const Library& library_;
  LikelyOptions options_;
  LikelyPlaces clocks_;
};

bool differs_in_share(const casefile::Segment& segment) {
  std::optional<double> first;
  for (const casefile::WireGroup& group : segment.groups) {
    if (!group.current) continue;
    if (first && *first != group.current_share) return true;
    first = group.current_share;
  }
  return false;
}

// What the heat of wires and hot parts leaves out.
std::vector<casefile::Assumption> about_hot_parts(const Case& job) {
  bool hot = false;
  std::vector<std::string> together;
  for (const casefile::Segment& segment : job.segments) {
    for (const casefile::WireGroup& group : segment.groups) hot = hot || group.current;
    for (const casefile::Stretch& stretch : segment.stretches) hot = hot || !stretch.hot_bodies.empty();
    if (differs_in_share(segment)) together.push_back(segment.id);
  }
  for (const casefile::Node& node : job.nodes) hot = hot || node.terminal;
  std::vector<casefile::Assumption> list;
  if (hot)
    list.push_back({"/segments",
                    "currents, hot parts, shields and terminals are as stated or typical in every draw: their own spread is "
                    "not in the intervals",
                    Grade::judgement});
  if (!together.empty())
    list.push_back(
        {"/segments",
         "currents of one bundle flow together, for as long as the one with the largest current_share: " + join(together),
         Grade::judgement});
  return list;
}

std::vector<casefile::Assumption> with_what_is_added(const Case& job, const Library& library,
                                                     const exposure::ZoneScores& scores) {
  std::vector<casefile::Assumption> all = job.assumptions;
  all.insert(all.end(), scores.assumptions.begin(), scores.assumptions.end());
  for (casefile::Assumption& assumption : about_hot_parts(job)) all.push_back(std::move(assumption));
  for (casefile::Assumption& assumption : slow_cables(job, library)) all.push_back(std::move(assumption));
  return all;
}

}  // namespace

std::vector<casefile::Assumption> assumptions_of(const Case& job, const Library& library) {
  return with_what_is_added(job, library, exposure::zone_scores(job, library));
}

Estimate likely_estimate(const Case& job, const Library& library, LikelyOptions options) {
  const exposure::ZoneScores scores = exposure::zone_scores(job, library);
  return likely_estimate(job, library, options, scores, std::make_shared<HeatMemory>(library, scores));
}

Estimate likely_estimate(const Case& job, const Library& library, LikelyOptions options, const exposure::ZoneScores& scores,
                         const std::shared_ptr<HeatMemory>& memory) {
  Estimate estimate;
  estimate.solution = options.solution;
  estimate.conduction = options.conduction;
  estimate.relies_on = reliances(job, library);
  estimate.zone_scores = scores;
  estimate.assumptions = with_what_is_added(job, library, estimate.zone_scores);
  LikelyCase likely{job, library, options, likely_years_of(memory)};
  for (std::size_t i = 0; i < job.segments.size(); ++i) estimate.segments.push_back(likely.segment(i));
  std::sort(estimate.segments.begin(), estimate.segments.end(), [](const SegmentEstimate& a, const SegmentEstimate& b) {
    return std::tuple(a.flex_cracks.p50, a.cracked.p50, a.id) < std::tuple(b.flex_cracks.p50, b.cracked.p50, b.id);
  });
  return estimate;
}

}  // namespace heatside::population
