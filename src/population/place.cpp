#include "population/place.hpp"

#include <algorithm>

#include "heatside/exposure/temperature_measure.hpp"
#include "population/heat_names.hpp"
#include "population/placed_wire.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using casefile::Segment;
using exposure::PerRegime;
using exposure::total;
using exposure::UseSpan;
using library::AgeingPath;
using library::Library;

std::vector<AgeingPath> dry_paths(const std::vector<AgeingPath>& paths) {
  std::vector<AgeingPath> dry;
  std::copy_if(paths.begin(), paths.end(), std::back_inserter(dry),
               [](const AgeingPath& path) { return path.kind != library::PathKind::hydrolysis; });
  return dry;
}

// Currents that flow at all flow together, in the wire and in those that its copper reaches.
double loaded_share(const std::vector<exposure::LocalHeat>& parts) {
  double share = 0.0;
  for (const exposure::LocalHeat& part : parts) {
    if (const auto* wire = std::get_if<exposure::PlacedWire>(&part.source)) share = std::max(share, wire->loaded_share);
  }
  return share;
}

double weeks_driven(const UseSpan& use) {
  return use.duty.trips.empty() ? 0.0 : use.usage * years_between(use.from, use.to).value();
}

std::vector<UseSpan> cut_at(const std::vector<UseSpan>& spans, std::chrono::sys_days day) {
  std::vector<UseSpan> cut;
  for (const UseSpan& span : spans) {
    UseSpan before = span, after = span;
    before.to = std::clamp(day, span.from, span.to);
    after.from = before.to;
    if (before.from < before.to) cut.push_back(before);
    if (after.from < after.to) cut.push_back(after);
  }
  return cut;
}

}  // namespace

std::map<std::string, double> mean_scores(const exposure::ZoneScores& scores) {
  std::map<std::string, double> means;
  if (scores.residuals.empty()) return means;
  for (std::size_t i = 0; i < scores.zones.size(); ++i) means[scores.zones[i]] = scores.scores[i].mean;
  return means;
}

LikelyPlaces::LikelyPlaces(const Case& job, const Library& library, bool conduction,
                           std::map<std::string, double> zone_scores, double decay_factor)
    : LikelyPlaces{job, library, conduction,
                   std::make_shared<exposure::LikelyYears>(
                       exposure::LikelyYears{library, decay_factor, std::move(zone_scores), {}, {}, {}})} {}

LikelyPlaces::LikelyPlaces(const Case& job, const Library& library, bool conduction,
                           std::shared_ptr<exposure::LikelyYears> years)
    : job_{job}, library_{library}, future_{exposure::future_use(job, library)}, years_{std::move(years)} {
  for (const casefile::Loom& loom : job.looms) past_.emplace(loom.id, exposure::past_use(job, loom, library));
  if (!conduction || typical_use() == nullptr) return;
  copper_ = loom_copper(job, library);
  if (copper_->cells.empty()) {
    copper_.reset();
  } else {
    find_levels();
  }
}

// The use that most of the driving was done in, or is to come.
const UseSpan* LikelyPlaces::typical_use() const {
  const UseSpan* typical = future_.duty.trips.empty() || future_.usage <= 0.0 ? nullptr : &future_;
  for (const auto& [loom, spans] : past_) {
    for (const UseSpan& span : spans) {
      if (weeks_driven(span) > 0.0 && (typical == nullptr || weeks_driven(span) > weeks_driven(*typical))) typical = &span;
    }
  }
  return typical;
}

void LikelyPlaces::find_levels() {
  constexpr JoulePerMole common = kilojoule_per_mole(95.0);  // of most insulations; only ranks spots of one stretch
  constexpr Kelvin warm = celsius(100.0);
  const UseSpan& use = *typical_use();
  bool all_air = true;
  for (const exposure::LocalHeat& source : copper_->sources) {
    const exposure::WarmSpot spot{source.name, {source}, loaded_share({source})};
    all_air = all_air && source.name.empty();
    try {
      const exposure::TemperatureMeasure& year =
          exposure::likely_year(*years_, source.zone, use, true, source.name.empty() ? nullptr : &spot);
      heat_.levels.push_back(
          exposure::equivalent_temperature(total(exposure::mean_acceleration(year, common, warm)), common, warm).value());
    } catch (const DomainError& error) {
      throw DomainError("segment \"" + source.name.substr(0, source.name.find('/')) + "\": " + error.what());
    }
  }
  if (!all_air) heat_.samples = exposure::sample_sources(*years_, copper_->sources, use, loaded_share(copper_->sources));
}

std::vector<Place> LikelyPlaces::places(std::size_t number) {
  const Segment& segment = job_.segments[number];
  std::vector<Place> places;
  for (std::size_t i = 0; i < segment.stretches.size(); ++i) {
    const casefile::Stretch& stretch = segment.stretches[i];
    for (const casefile::WireGroup& group : segment.groups) {
      const casefile::Lot& lot = *casefile::find_by_id(job_.lots, group.lot);
      const library::Insulation& insulation = library_.insulations.at(lot.candidates.front().insulation);
      const exposure::LocalHeat own = own_heat(job_, segment, stretch, group, library_);
      Place place{segment, stretch, group, lot, insulation, own.zone, std::nullopt, std::nullopt};
      const auto spot = copper_ ? hottest_spot(*copper_, job_, number, i, own, heat_) : std::nullopt;
      if (spot) {
        place.from_start = spot->from_start;
        place.spot = exposure::WarmSpot{segment.id + "/" + stretch.id + "+" + numbers_of(spot->parts), spot->parts,
                                        loaded_share(spot->parts)};
      } else if (!own.name.empty()) {
        place.spot = exposure::WarmSpot{own.name, {own}, loaded_share({own})};
      }
      places.push_back(std::move(place));
    }
  }
  return places;
}

std::vector<UseSpan> LikelyPlaces::past_use(const Segment& segment) const {
  std::vector<UseSpan> spans = past_.at(segment.loom);
  for (const casefile::Leak& leak : segment.leaks) spans = cut_at(spans, leak.since.day);
  return spans;
}

std::vector<AgedSpan> LikelyPlaces::past(const Place& at) {
  std::vector<AgedSpan> spans;
  for (const UseSpan& use : past_use(at.segment)) spans.push_back(aged_span(at, use));
  return spans;
}

AgedSpan LikelyPlaces::future(const Place& at) { return aged_span(at, future_); }

ageing::WireSurroundings LikelyPlaces::surroundings(const Place& at, const UseSpan& use) const {
  const casefile::Loom& loom = *casefile::find_by_id(job_.looms, at.segment.loom);
  ageing::WireSurroundings around;
  around.wall = at.group.wall;
  around.copper = loom.copper;
  if (at.group.inner) around.plasticiser_rate = library_.model.ageing.inner_wire_loss.value;
  // Before its fitting nothing leaks on it; on the shelf nobody knows what it lay in.
  if (use.from < loom.fitted.day) {
    if (!use.duty.trips.empty() && !at.stretch.covering.empty())
      around.covering = &library_.coverings.at(at.stretch.covering);
    return around;
  }
  around.covering = at.stretch.covering.empty() ? nullptr : &library_.coverings.at(at.stretch.covering);
  around.damp = at.stretch.damp;
  for (const casefile::Leak& leak : at.segment.leaks) {
    if (leak.since.day > use.from) continue;
    (leak.fluid == casefile::Fluid::oil ? around.oil : around.coolant) = true;
  }
  return around;
}

AgedSpan LikelyPlaces::aged_span(const Place& at, const UseSpan& use) {
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

const exposure::ZoneTrace& LikelyPlaces::week(const Place& at) {
  const UseSpan* use = typical_use();
  return exposure::likely_week(*years_, at.zone, use == nullptr ? library::Duty{} : use->duty);
}

void LikelyPlaces::forget_spot(const std::string& spot) {
  if (!spot.empty()) std::erase_if(years_->years, [&](const auto& year) { return year.first.spot == spot; });
}

const exposure::TemperatureMeasure& LikelyPlaces::year(const Place& at, const UseSpan& use, bool driven) {
  return exposure::likely_year(*years_, at.zone, use, driven, driven ? at.differing() : nullptr);
}

// rate = laid up + usage (as the duty says - laid up), regime by regime
PerRegime LikelyPlaces::clock(const Place& at, const std::vector<AgeingPath>& paths, const ageing::WireSurroundings& around,
                              const UseSpan& use, const YearChange& change) {
  const double humidity = library_.climates.at(use.climate).relative_humidity.value;
  const auto rate = [&](bool driven) {
    std::optional<exposure::TemperatureMeasure> changed;
    if (change) changed = change(year(at, use, driven));
    return ageing::clock_rate(at.insulation, paths, around, at.insulation.lot_median.value, [&](const AgeingPath& path) {
      return changed ? ageing::likely_path_mean(at.insulation, path, *changed, humidity, at.stretch.damp, library_.model)
                     : path_mean(at, path, use, driven);
    });
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

PerRegime LikelyPlaces::path_mean(const Place& at, const AgeingPath& path, const UseSpan& use, bool driven) {
  const exposure::PlaceOfUse place = exposure::place_of_use(at.zone, use, driven, at.differing());
  const auto key = std::tuple(place, at.insulation.head.id, path.id, path.activation_energy.value, at.stretch.damp);
  if (const auto known = means_.find(key); known != means_.end()) return known->second;
  const double humidity = library_.climates.at(use.climate).relative_humidity.value;
  const PerRegime mean =
      ageing::likely_path_mean(at.insulation, path, year(at, use, driven), humidity, at.stretch.damp, library_.model);
  return means_.emplace(key, mean).first->second;
}

}  // namespace heatside::population
