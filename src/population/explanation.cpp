#include "heatside/population/explanation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>

#include "heatside/population/estimate.hpp"
#include "heatside/population/segment_trip.hpp"
#include "population/heat_bands.hpp"
#include "population/place.hpp"
#include "population/placed_wire.hpp"
#include "population/worst_place.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using casefile::Segment;
using exposure::PerRegime;
using exposure::TemperatureMeasure;
using exposure::total;
using exposure::UseSpan;
using library::Library;

double mean_clock(const Case& job, const Ground& ground, bool conduction, const Where& where) {
  LikelyPlaces clocks{job, ground.library, conduction, ground.scores};
  return mean_clock(job, clocks, where);
}

// The case without one of its causes of heat.
Case without_currents(Case job) {
  for (Segment& segment : job.segments) {
    for (casefile::WireGroup& group : segment.groups) group.current.reset();
  }
  return job;
}

Case without_hot_bodies(Case job, const Library& library) {
  for (Segment& segment : job.segments) {
    for (casefile::Stretch& stretch : segment.stretches) {
      const library::Zone& zone = library.zones.at(stretch.zone);
      if (zone.radiant && !stretch.hot_bodies.empty()) stretch.zone = zone.air_zone;
      stretch.hot_bodies.clear();
    }
  }
  return job;
}

Case without_terminals(Case job) {
  for (casefile::Node& node : job.nodes) node.terminal.reset();
  return job;
}

bool has_current(const Case& job) {
  return std::any_of(job.segments.begin(), job.segments.end(), [](const Segment& segment) {
    return std::any_of(segment.groups.begin(), segment.groups.end(),
                       [](const casefile::WireGroup& group) { return group.current && group.current->value() > 0.0; });
  });
}

bool has_hot_body(const Case& job) {
  return std::any_of(job.segments.begin(), job.segments.end(), [](const Segment& segment) {
    return std::any_of(segment.stretches.begin(), segment.stretches.end(),
                       [](const casefile::Stretch& stretch) { return !stretch.hot_bodies.empty(); });
  });
}

bool has_terminal(const Case& job) {
  return std::any_of(job.nodes.begin(), job.nodes.end(),
                     [](const casefile::Node& node) { return node.terminal.has_value(); });
}

std::vector<CauseShare> shares_by_cause(const Case& job, const Ground& ground, const Where& where, double full) {
  const Case bare = without_terminals(without_hot_bodies(without_currents(job), ground.library));
  std::vector<CauseShare> causes{{"zone", mean_clock(bare, ground, false, where) / full}};
  const auto add = [&](const char* name, double without) { causes.push_back({name, (full - without) / full}); };
  if (has_current(job)) add("own current", mean_clock(without_currents(job), ground, true, where));
  if (has_hot_body(job)) add("hot body", mean_clock(without_hot_bodies(job, ground.library), ground, true, where));
  const Case loose = without_terminals(job);
  const double untied = has_terminal(job) ? mean_clock(loose, ground, true, where) : full;
  if (has_terminal(job)) add("terminal", untied);
  causes.push_back({"neighbouring zones", (untied - mean_clock(loose, ground, false, where)) / full});
  return causes;
}

std::array<StateShare, 4> shares_by_state(LikelyPlaces& clocks, const Place& at, const std::vector<AgedSpan>& spans,
                                          double damage) {
  return over_service(spans, std::array<StateShare, 4>{}, [&](auto& shares, const AgedSpan& span, double hours) {
    for (std::size_t state = 0; state < shares.size(); ++state) {
      const double mix = span.use.duty.running_mix[state];
      if (span.use.duty.trips.empty() || mix <= 0.0) continue;
      // A week driven wholly in this state.
      UseSpan pure = span.use;
      pure.duty.running_mix = {};
      pure.duty.running_mix[state] = 1.0;
      const PerRegime clock = clocks.clock(at, at.insulation.paths, clocks.surroundings(at, span.use), pure);
      shares[state].running += hours * mix * clock[0] / damage;
      shares[state].soak += hours * mix * clock[1] / damage;
    }
  });
}

std::vector<BandShare> shares_by_temperature(LikelyPlaces& clocks, const Place& at, const std::vector<AgedSpan>& spans) {
  std::vector<BandShare> list;
  for (const HeatBand& band : bands_over(clocks, at, spans))
    list.push_back({band.from_celsius, band.to_celsius, total(band.hours_a_year), total(band.share)});
  return list;
}

// The same place in a changed case; `past` stays what it was.
ChangeEffect in_changed_case(std::string change, std::string remark, const Case& changed, const Ground& ground,
                             const Where& where, LikelyPlaces& as_it_is, const Place& at, const AgedSpan& future,
                             bool keeps_wire) {
  LikelyPlaces clocks{changed, ground.library, true, ground.scores};
  const Place there = place_at(clocks, where);
  const AgedSpan then = clocks.future(there);
  const Lives lives{ground.library};
  ChangeEffect effect{std::move(change), std::move(remark), total(then.extent) / total(future.extent), std::nullopt,
                      lives.new_wire(there, rates_of(then))};
  if (keeps_wire) effect.remaining = lives.remaining(as_it_is, at, rates_of(then));
  return effect;
}

std::optional<ChangeEffect> foil_sleeve(const Case& job, const Ground& ground, const Where& where, LikelyPlaces& clocks,
                                        const Place& at, const AgedSpan& future) {
  const std::string sleeve = "shield-alu";
  if (!ground.library.coverings.contains(sleeve) || at.stretch.covering == sleeve) return std::nullopt;
  Case changed = job;
  for (casefile::Stretch& stretch : changed.segments[where.segment].stretches) stretch.covering = sleeve;
  const bool hidden = ground.library.zones.at(at.stretch.zone).radiant && at.stretch.hot_bodies.empty();
  return in_changed_case("a foil sleeve over it",
                         hidden ? "the radiation is part of this zone's temperature: state the hot part to see what a "
                                  "sleeve keeps off"
                         : at.stretch.hot_bodies.empty() ? "nothing radiates on it: a sleeve only changes what covers it"
                                                         : "",
                         changed, ground, where, clocks, at, future, true);
}

const library::ConductorSize* next_size(const Library& library, const std::string& label) {
  for (const auto& [id, table] : library.conductors) {
    const auto here = std::find_if(table.sizes.begin(), table.sizes.end(),
                                   [&](const library::ConductorSize& size) { return size.label == label; });
    if (here == table.sizes.end()) continue;
    const library::ConductorSize* next = nullptr;
    for (const library::ConductorSize& size : table.sizes) {
      if (size.area.value <= here->area.value || !(size.thin || size.thick)) continue;
      if (next == nullptr || size.area.value < next->area.value) next = &size;
    }
    return next;
  }
  return nullptr;
}

std::optional<ChangeEffect> bigger_conductor(const Case& job, const Ground& ground, const Where& where, LikelyPlaces& clocks,
                                             const Place& at, const AgedSpan& future) {
  const library::ConductorSize* size = next_size(ground.library, at.group.size);
  if (size == nullptr) return std::nullopt;
  const bool loaded = at.group.current && at.group.current->value() > 0.0;
  Case changed = job;
  casefile::WireGroup& group = changed.segments[where.segment].groups[where.group];
  const library::WallSize& wall = size->thin ? *size->thin : *size->thick;
  group.size = size->label;
  group.wall = millimetres(wall.wall.value);
  group.outer_diameter = millimetres(wall.outer_diameter.value);
  return in_changed_case("a bigger conductor, " + size->label,
                         loaded ? "" : "no current is stated for it: what is left is the other wall and more copper",
                         changed, ground, where, clocks, at, future, false);
}

// Temperature class of an insulation: the highest one that its rating reaches (ISO 6722-1 and ISO 19642, classes A to H).
int class_of(const library::Insulation& insulation) {
  constexpr std::array<int, 8> classes{85, 100, 125, 150, 175, 200, 225, 250};
  int reached = 0;
  for (const int limit : classes) {
    if (insulation.rating.value >= limit) reached = limit;
  }
  return reached;
}

// How common an insulation is in new looms of a region.
std::map<std::string, double> common_today(const Library& library, const std::string& region, int year) {
  std::map<std::string, double> weights;
  const auto decade = library.eras.find(region);
  if (decade == library.eras.end() || decade->second.decades.empty()) return weights;
  const int latest = decade->second.decades.back().to;
  for (const library::EraCandidate& candidate : library::era_candidates(library, region, std::min(year, latest)))
    weights[candidate.insulation] = candidate.weight;
  return weights;
}

// The commonest insulation of the next class that new looms are made with.
const library::Insulation* next_class(const Library& library, const Place& at, const Case& job) {
  const auto today = common_today(library, casefile::find_by_id(job.looms, at.segment.loom)->region,
                                  static_cast<int>(std::chrono::year_month_day{job.inspected.day}.year()));
  const auto weight = [&](const library::Insulation& insulation) {
    const auto found = today.find(insulation.head.id);
    return found == today.end() ? 0.0 : found->second;
  };
  const library::Insulation* next = nullptr;
  for (const auto& [id, other] : library.insulations) {
    if (other.in_use_to || class_of(other) <= class_of(at.insulation)) continue;
    const bool nearer = next == nullptr || class_of(other) < class_of(*next);
    if (nearer || (class_of(other) == class_of(*next) && weight(other) > weight(*next))) next = &other;
  }
  return next;
}

std::optional<ChangeEffect> next_rating(const Case& job, const Ground& ground, const Where& where, LikelyPlaces& clocks,
                                        const Place& at, const AgedSpan& future) {
  const library::Insulation* next = next_class(ground.library, at, job);
  if (next == nullptr) return std::nullopt;
  Case changed = job;
  for (casefile::Lot& lot : changed.lots) {
    if (lot.id == at.lot.id) lot.candidates = {{next->head.id, 1.0}};
  }
  return in_changed_case(fmt::format("the next class, {} ({} degC)", next->head.id, class_of(*next)),
                         fmt::format("this wire's compound is of the class of {} degC", class_of(at.insulation)), changed,
                         ground, where, clocks, at, future, false);
}

void add_changes(const Case& job, const Ground& ground, const Where& where, LikelyPlaces& clocks, const Place& at,
                 const AgedSpan& future, Explanation& explanation) {
  const Lives lives{ground.library};
  explanation.changes.push_back(
      when_warmer("10 K cooler while it runs and soaks", KelvinRise{-10.0}, lives, clocks, at, future));
  for (const auto& effect :
       {foil_sleeve(job, ground, where, clocks, at, future), bigger_conductor(job, ground, where, clocks, at, future),
        next_rating(job, ground, where, clocks, at, future)}) {
    if (effect) explanation.changes.push_back(*effect);
  }
}

Explanation head_of(const Place& at) {
  Explanation head;
  head.id = at.segment.id;
  head.name = at.segment.name;
  head.loom = at.segment.loom;
  head.lot = at.lot.id;
  head.insulation = at.insulation.head.id;
  head.insulation_name = at.insulation.head.name;
  head.compound_known = at.lot.compound_known;
  head.stretch = at.stretch.id;
  head.zone = at.stretch.zone;
  head.from_start = at.from_start;
  return head;
}

// Everything but what changed cases show.
Explanation heat_of(const Case& job, LikelyPlaces& clocks, const Lives& lives, const Place& at, double damage) {
  const std::vector<AgedSpan> spans = in_service(job, clocks, at);
  const AgedSpan future = clocks.future(at);
  Explanation explanation = head_of(at);
  explanation.remaining = lives.remaining(clocks, at, rates_of(future));
  explanation.new_wire = lives.new_wire(at, rates_of(future));
  for (const AgedSpan& span : spans) {
    for (std::size_t i = 0; i < explanation.by_regime.size(); ++i)
      explanation.by_regime[i] += span.length.value() * span.extent[i] / damage;
  }
  const double dry = over_service(spans, 0.0, [&](double& sum, const AgedSpan& span, double hours) {
    sum += hours * span.dry * ageing::life_factor(at.insulation, clocks.surroundings(at, span.use));
  });
  explanation.equivalent_temperature =
      ageing::equivalent_temperature(at.insulation, at.group.wall, at.insulation.lot_median.value, dry / hours_of(spans),
                                     clocks.surroundings(at, future.use).plasticiser_rate);
  explanation.by_state = shares_by_state(clocks, at, spans, damage);
  explanation.by_temperature = shares_by_temperature(clocks, at, spans);
  return explanation;
}

double damage_of(const Case& job, LikelyPlaces& clocks, const Place& at) {
  return over_service(in_service(job, clocks, at), 0.0,
                      [](double& sum, const AgedSpan& span, double hours) { sum += hours * total(span.extent); });
}

}  // namespace

Explanation explain_segment(const Case& job, const Library& library, const std::string& segment) {
  const Ground ground = ground_of(job, library);
  LikelyPlaces clocks{job, library, true, ground.scores};
  const Where where = worst_place(job, ground, clocks, segment);
  const Place at = place_at(clocks, where);
  const double damage = damage_of(job, clocks, at);
  Explanation explanation = heat_of(job, clocks, Lives{library}, at, damage);
  const double service = hours_of(in_service(job, clocks, at));
  explanation.by_cause = shares_by_cause(job, ground, where, damage / service);
  add_changes(job, ground, where, clocks, at, clocks.future(at), explanation);
  return explanation;
}

std::vector<Explanation> explain_heat(const Case& job, const Library& library) {
  const Ground ground = ground_of(job, library);
  LikelyPlaces clocks{job, library, true, ground.scores};
  std::vector<Explanation> list;
  for (const Segment& segment : job.segments) {
    const Place at = place_at(clocks, worst_place(job, ground, clocks, segment.id));
    list.push_back(heat_of(job, clocks, Lives{library}, at, damage_of(job, clocks, at)));
  }
  return list;
}

SegmentTrip segment_trip(const Case& job, const Library& library, const std::string& segment, const TripOptions& options) {
  const Ground ground = ground_of(job, library);
  const Where where = worst_place(job, ground, segment);
  LikelyPlaces clocks{job, library, false, ground.scores};
  const Place at = place_at(clocks, where);
  const exposure::PlacedWire wire = placed_wire(at.segment, at.stretch, at.group, at.insulation, library);
  const library::Covering* covering = at.stretch.covering.empty() ? nullptr : &library.coverings.at(at.stretch.covering);
  const exposure::HeatStore store = exposure::heat_store(*library::find_conductor_size(library, at.group.size), covering);

  SegmentTrip answer{at.segment.id, at.stretch.id, at.stretch.zone, at.lot.id, {}, Minutes{0.0}, {}};
  answer.trip.state = options.state;
  answer.trip.length = options.length;
  answer.trip.loaded = wire.loaded_share > 0.0;
  exposure::WireSetting warm;
  warm.air = celsius(80.0);
  answer.time_constant = exposure::time_constant(wire, store, warm, warm.air + KelvinRise{10.0});
  const exposure::DailyCourse day{options.ambient, KelvinRise{0.0}, 1.0};
  const std::vector<Minutes> times = exposure::trip_times(options.length, options.length + options.after, options.step);
  answer.rows = exposure::trip_trace(clocks.week(at), day, wire, store, answer.trip, times);
  return answer;
}

}  // namespace heatside::population
