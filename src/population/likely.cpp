#include <algorithm>
#include <map>
#include <optional>
#include <tuple>

#include "heatside/ageing/clock.hpp"
#include "heatside/exposure/use.hpp"
#include "heatside/population/estimate.hpp"
#include "population/placed_wire.hpp"
#include "population/reliances.hpp"

namespace heatside::population {

namespace {

using ageing::ClockRates;
using ageing::ClockSpan;
using casefile::Case;
using casefile::Segment;
using casefile::Stretch;
using casefile::WireGroup;
using exposure::PerRegime;
using exposure::total;
using exposure::UseSpan;
using library::Insulation;
using library::Library;

// A span of use with its clock: what it does to the extent by regime, and to the stabiliser.
struct AgedSpan {
  UseSpan use;
  Hours length{0.0};
  PerRegime extent{};  // [1/h], all paths
  double dry = 0.0;    // [1/h], dry paths alone
  double guard = 0.0;  // [1/h]
};

// One wire group in one stretch: everything its ageing depends on.
struct Place {
  const Segment& segment;
  const Stretch& stretch;
  const WireGroup& group;
  const casefile::Lot& lot;
  const Insulation& insulation;
  std::string zone;                         // whose air it takes
  std::optional<exposure::WireOfUse> wire;  // where the insulation differs from that air

  [[nodiscard]] const exposure::WireOfUse* differing_wire() const { return wire ? &*wire : nullptr; }
};

std::vector<library::AgeingPath> dry_paths(const std::vector<library::AgeingPath>& paths) {
  std::vector<library::AgeingPath> dry;
  std::copy_if(paths.begin(), paths.end(), std::back_inserter(dry),
               [](const library::AgeingPath& path) { return path.kind != library::PathKind::hydrolysis; });
  return dry;
}

class LikelyCase {
 public:
  LikelyCase(const Case& job, const Library& library, LikelyOptions options)
      : job_{job}, library_{library}, options_{options}, future_{exposure::future_use(job, library)} {
    for (const casefile::Loom& loom : job.looms) past_.emplace(loom.id, exposure::past_use(job, loom, library));
  }

  SegmentEstimate segment(const Segment& segment) try {
    std::vector<SegmentEstimate> places;
    for (const Stretch& stretch : segment.stretches) {
      for (const WireGroup& group : segment.groups) places.push_back(place(segment, stretch, group));
    }
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
    throw DomainError("segment \"" + segment.id + "\": " + error.what());
  }

 private:
  SegmentEstimate place(const Segment& segment, const Stretch& stretch, const WireGroup& group) {
    const casefile::Lot& lot = *casefile::find_by_id(job_.lots, group.lot);
    const Insulation& insulation = library_.insulations.at(lot.candidates.front().insulation);
    Place at{segment, stretch, group, lot, insulation, zone_of_air(stretch, library_), std::nullopt};
    const exposure::PlacedWire placed = placed_wire(segment, stretch, group, insulation, library_);
    if (exposure::differs_from_air(placed)) {
      at.wire = exposure::WireOfUse{segment.id + "/" + stretch.id + "/" + lot.id + "/" + group.size, placed};
    }

    std::vector<AgedSpan> past;
    for (const UseSpan& use : cut_at_leaks(past_.at(segment.loom), segment)) past.push_back(aged_span(at, use));
    const AgedSpan future = aged_span(at, future_);
    return report(at, past, future);
  }

  SegmentEstimate report(const Place& at, const std::vector<AgedSpan>& past, const AgedSpan& future) const {
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
                           SegmentEstimate& estimate) const {
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
      dry += weight * span->dry * ageing::life_factor(at.insulation, surroundings(at, span->use));
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
        ageing::equivalent_temperature(at.insulation, at.group.wall, at.insulation.lot_median.value, dry / hours);
    for (auto& [celsius, bin] : bins) {
      for (double& part : bin) part /= hours;
      estimate.hours_at_temperature.push_back({celsius, bin});
    }
  }

  std::vector<exposure::HoursAtTemperature> hours_of(const Place& at, const UseSpan& use) const {
    return exposure::hours_at_temperature(years_.at(exposure::place_of_use(at.zone, use, true, at.differing_wire())),
                                          years_.at(exposure::place_of_use(at.zone, use, false, nullptr)), use.usage);
  }

  std::vector<UseSpan> cut_at_leaks(const std::vector<UseSpan>& spans, const Segment& segment) const {
    std::vector<UseSpan> cut = spans;
    for (const casefile::Leak& leak : segment.leaks) {
      std::vector<UseSpan> next;
      for (const UseSpan& span : cut) {
        UseSpan before = span, after = span;
        before.to = std::clamp(leak.since.day, span.from, span.to);
        after.from = before.to;
        if (before.from < before.to) next.push_back(before);
        if (after.from < after.to) next.push_back(after);
      }
      cut = std::move(next);
    }
    return cut;
  }

  ageing::WireSurroundings surroundings(const Place& at, const UseSpan& use) const {
    const casefile::Loom& loom = *casefile::find_by_id(job_.looms, at.segment.loom);
    ageing::WireSurroundings around;
    around.wall = at.group.wall;
    around.copper = loom.copper;
    // On the shelf nothing leaks on it, and nobody knows what it lay in.
    if (use.from < loom.fitted.day) return around;
    around.covering = at.stretch.covering.empty() ? nullptr : &library_.coverings.at(at.stretch.covering);
    around.damp = at.stretch.damp;
    for (const casefile::Leak& leak : at.segment.leaks) {
      if (leak.since.day > use.from) continue;
      (leak.fluid == casefile::Fluid::oil ? around.oil : around.coolant) = true;
    }
    return around;
  }

  AgedSpan aged_span(const Place& at, const UseSpan& use) {
    AgedSpan span;
    span.use = use;
    span.length = hours(years_between(use.from, use.to));
    const ageing::WireSurroundings around = surroundings(at, use);
    span.extent = clock(at, at.insulation.paths, around, use);
    span.dry = total(clock(at, dry_paths(at.insulation.paths), around, use));
    span.guard =
        at.insulation.guard_paths.empty() ? total(span.extent) : total(clock(at, at.insulation.guard_paths, around, use));
    return span;
  }

  // rate = laid up + usage (as the duty says - laid up), regime by regime
  PerRegime clock(const Place& at, const std::vector<library::AgeingPath>& paths, const ageing::WireSurroundings& around,
                  const UseSpan& use) {
    const auto rate = [&](bool driven) {
      return ageing::clock_rate(at.insulation, paths, around, at.insulation.lot_median.value,
                                [&](const library::AgeingPath& path) { return path_mean(at, path, use, driven); });
    };
    const PerRegime driven = rate(true);
    const PerRegime laid_up = rate(false);
    PerRegime mixed{};
    for (std::size_t i = 0; i < mixed.size(); ++i) {
      mixed[i] = laid_up[i] + use.usage * (driven[i] - laid_up[i]);
    }
    // Far above the duty a process that driving slows down could come out below nothing.
    if (total(mixed) < 0.0) mixed = driven;
    return mixed;
  }

  PerRegime path_mean(const Place& at, const library::AgeingPath& path, const UseSpan& use, bool driven) {
    const exposure::PlaceOfUse place = exposure::place_of_use(at.zone, use, driven, at.differing_wire());
    const auto key = std::tuple(place, at.insulation.head.id, path.id, path.activation_energy.value, at.stretch.damp);
    if (const auto known = means_.find(key); known != means_.end()) return known->second;
    const exposure::TemperatureMeasure& year =
        exposure::likely_year(years_, library_, at.zone, use, driven, at.differing_wire());
    const double humidity = library_.climates.at(use.climate).relative_humidity.value;
    const PerRegime mean = ageing::likely_path_mean(at.insulation, path, year, humidity, at.stretch.damp, library_.model);
    return means_.emplace(key, mean).first->second;
  }

  const Case& job_;
  const Library& library_;
  LikelyOptions options_;
  UseSpan future_;
  std::map<std::string, std::vector<UseSpan>> past_;
  exposure::YearsByPlace years_;
  std::map<std::tuple<exposure::PlaceOfUse, std::string, std::string, double, bool>, PerRegime> means_;
};

}  // namespace

Estimate likely_estimate(const Case& job, const Library& library, LikelyOptions options) {
  Estimate estimate;
  estimate.solution = options.solution;
  estimate.assumptions = job.assumptions;
  estimate.relies_on = reliances(job, library);
  LikelyCase likely{job, library, options};
  for (const Segment& segment : job.segments) estimate.segments.push_back(likely.segment(segment));
  std::sort(estimate.segments.begin(), estimate.segments.end(), [](const SegmentEstimate& a, const SegmentEstimate& b) {
    return std::tuple(a.flex_cracks.p50, a.cracked.p50, a.id) < std::tuple(b.flex_cracks.p50, b.cracked.p50, b.id);
  });
  return estimate;
}

}  // namespace heatside::population
