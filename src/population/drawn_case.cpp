#include "population/drawn_case.hpp"

#include <algorithm>
#include <cmath>

#include "base/four_doubles.hpp"
#include "population/age_law.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using exposure::UseSpan;
using library::Library;

exposure::ZoneDraws no_zone(std::size_t draws) { return {std::vector<double>(draws, 0.0), std::vector<double>(draws, 0.0)}; }

// A number with a range at some draws' scores, on a logarithmic scale so that it stays above 0.
std::vector<double> at_scores(const Sourced& number, const std::vector<double>& scores) {
  const auto slope = [&](const std::optional<double>& end) {
    return end ? std::log(*end / number.value) / exposure::score_of_band : 0.0;
  };
  const double above = slope(number.high), below = -slope(number.low);
  std::vector<double> values(scores.size());
  for (std::size_t n = 0; n < values.size(); ++n) values[n] = scores[n] * (scores[n] > 0.0 ? above : below);
  exponentials(values.data(), values.size());
  for (double& value : values) value *= number.value;
  return values;
}

const library::AgeingPath* wet_path(const PathDraws& path) {
  return path.path->kind == library::PathKind::hydrolysis ? path.path : nullptr;
}

Kelvin reference_of(const library::Insulation& insulation, const library::AgeingPath& path) {
  return celsius(path.kind == library::PathKind::hydrolysis ? path.wet_temperature->value
                                                            : insulation.life_temperature.value);
}

}  // namespace

DrawnCase::DrawnCase(const Case& job, const Library& library, const exposure::ZoneScores& scores, bool conduction,
                     std::shared_ptr<HeatMemory> memory)
    : job_{job},
      library_{library},
      scores_{scores},
      memory_{memory ? std::move(memory) : std::make_shared<HeatMemory>(library, scores)},
      likely_{job, library, conduction, likely_years_of(memory_)},
      guard_{ageing::guard_table(library.model.ageing.guard_strength.value)} {}

void DrawnCase::forget() {
  curves_.clear();
  lots_.clear();
  zones_.clear();
  means_.clear();
  usage_.clear();
  notch_.clear();
  limits_.clear();
  cracked_.clear();
}

const exposure::RateTable& DrawnCase::table(const std::string& zone, const UseSpan& use, bool driven, double drying) {
  const exposure::PlaceOfUse place = exposure::place_of_use(zone, use, driven, nullptr);
  const TableKey key{place.zone, place.climate, place.schedule, place.sun, drying};
  if (const auto known = memory_->tables.find(key); known != memory_->tables.end()) return known->second;
  const library::Climate& climate = library_.climates.at(use.climate);
  const library::Zone& record = library_.zones.at(zone);
  exposure::PlaceOfDraws of;
  of.days = exposure::gauss_days(climate);
  if (!place.schedule.empty()) of.drives = exposure::weekly_drives(use.duty);
  of.running_mix = use.duty.running_mix;
  if (use.sun) of.sun = {KelvinRise{climate.sun_rise.value * record.sun_share.value}, Hours{climate.sun_hours.value}};
  return memory_->tables
      .emplace(key, exposure::rate_table(record, exposure::trace_constants(library_.model), of, JoulePerMole{drying}))
      .first->second;
}

const exposure::RateCurves& DrawnCase::curves(const std::string& zone_id, const UseSpan& use, bool driven, double drying,
                                              Normals& normals) {
  const exposure::PlaceOfUse place = exposure::place_of_use(zone_id, use, driven, nullptr);
  const TableKey key{place.zone, place.climate, place.schedule, place.sun, drying};
  if (const auto known = curves_.find(key); known != curves_.end()) return known->second;
  const exposure::RateTable& of = table(zone_id, use, driven, drying);
  const exposure::ZoneDraws draws = of.driven ? zone(zone_id, normals) : no_zone(normals.draws());
  return curves_.emplace(key, exposure::rate_curves(of, draws)).first->second;
}

const LotDraws& DrawnCase::lot(const std::string& id, Normals& normals) {
  if (const auto known = lots_.find(id); known != lots_.end()) return known->second;
  return lots_.emplace(id, lot_draws(job_, *casefile::find_by_id(job_.lots, id), library_, normals)).first->second;
}

const exposure::ZoneDraws& DrawnCase::zone(const std::string& id, Normals& normals) {
  if (const auto known = zones_.find(id); known != zones_.end()) return known->second;
  constexpr double decay_ln_sd = 0.25, cut = 4.0;
  const auto at =
      static_cast<std::size_t>(std::find(scores_.zones.begin(), scores_.zones.end(), id) - scores_.zones.begin());
  const double* gains = &scores_.gains[at * (scores_.zones.size() + 1)];
  exposure::ZoneDraws draws;
  draws.score.assign(normals.draws(), scores_.scores[at].mean);
  const auto add = [&](double gain, const std::string& name) {
    if (gain == 0.0) return;
    const std::vector<double>& column = normals.of(name);
    for (std::size_t n = 0; n < column.size(); ++n) draws.score[n] += gain * column[n];
  };
  add(gains[0], quantity::bay);
  for (std::size_t other = 0; other < scores_.zones.size(); ++other)
    add(gains[other + 1], quantity::zone(scores_.zones[other]));
  for (double& score : draws.score) score = std::clamp(score, -exposure::score_limit, exposure::score_limit);
  for (const double normal : normals.of(quantity::soak_decay))
    draws.ln_decay.push_back(decay_ln_sd * std::clamp(normal, -cut, cut));
  return zones_.emplace(id, std::move(draws)).first->second;
}

// Mean acceleration of a path over the year of the zone's air, along the draws of the compound.
const std::vector<double>& DrawnCase::mean(const Place& at, const PathDraws& path, const CompoundDraws& compound,
                                           const UseSpan& use, bool driven, Normals& normals) {
  double drying = 0.0, wet = 1.0;
  if (const library::AgeingPath* hydrolysis = wet_path(path)) {
    const double exponent = hydrolysis->humidity_exponent->value;
    const double air = library_.climates.at(use.climate).relative_humidity.value;
    const double here = at.stretch.damp ? library_.model.ageing.damp_humidity.value : air;
    wet = std::pow(here / hydrolysis->wet_humidity->value, exponent);
    if (!at.stretch.damp) drying = 1.0e3 * exponent * library_.model.ageing.vaporisation_enthalpy.value;
  }
  const exposure::PlaceOfUse place = exposure::place_of_use(at.zone, use, driven, nullptr);
  const TableKey key{place.zone, place.climate, place.schedule, place.sun, drying};
  const auto of = std::tuple(key, compound.name, path.path->id);
  if (const auto known = means_.find(of); known != means_.end()) return known->second;
  const Kelvin reference = reference_of(*compound.insulation, *path.path);
  std::vector<double> means =
      exposure::mean_accelerations(curves(at.zone, use, driven, drying, normals), {compound.draws, path.energy}, reference);
  if (wet != 1.0) {
    for (double& mean : means) mean *= wet;
  }
  return means_.emplace(of, std::move(means)).first->second;
}

const std::vector<double>& DrawnCase::usage_factor(Normals& normals) {
  if (!usage_.empty()) return usage_;
  const double spread = library_.model.usage.ln_sd.value;
  usage_ = normals.of(quantity::usage);
  for (double& usage : usage_) usage *= spread;
  exponentials(usage_.data(), usage_.size());
  return usage_;
}

// How much a used part went through in its donor is a guess: more or less of it in every draw.
void DrawnCase::wear_elsewhere(const Place& at, const CompoundDraws& compound, const UseSpan& use, Normals& normals,
                               std::vector<double>& rate) const {
  const casefile::Loom& loom = *casefile::find_by_id(job_.looms, at.segment.loom);
  if (!loom.elsewhere || loom.elsewhere->ln_sd == 0.0 || use.from >= loom.fitted.day || use.duty.trips.empty()) return;
  const std::vector<double>& score = normals.of(quantity::elsewhere(loom.id));
  for (std::size_t i = 0; i < rate.size(); ++i) rate[i] *= std::exp(loom.elsewhere->ln_sd * score[compound.draws[i]]);
}

// rate = laid up + usage (as the duty says - laid up)
std::vector<double> DrawnCase::rate(const Place& at, const CompoundDraws& compound, const UseSpan& use, Normals& normals) {
  const library::Insulation& insulation = *compound.insulation;
  const ageing::WireSurroundings around = likely_.surroundings(at, use);
  const double factor = ageing::life_factor(insulation, around);
  std::vector<double> driven(compound.draws.size(), 0.0), laid_up = driven;
  for (const PathDraws& path : compound.paths) {
    const std::vector<double>& fast = mean(at, path, compound, use, true, normals);
    const std::vector<double>& slow = mean(at, path, compound, use, false, normals);
    double thin = path.path->reference_wall ? path.path->reference_wall->value / in_millimetres(around.wall) : 1.0;
    if (path.path->kind == library::PathKind::plasticiser_loss) thin *= around.plasticiser_rate;
    const double reference =
        (wet_path(path) ? 1.0 / path.path->wet_hours->value : thin / insulation.life_hours.value) / factor;
    const HeatCorrection correction =
        at.spot ? memory_->corrections.of(at, insulation, *path.path, use, likely_) : HeatCorrection{};
    if (correction.none) {
      for (std::size_t i = 0; i < driven.size(); ++i) driven[i] += reference * path.share[i] * fast[i];
    } else {
      const std::vector<double> warmer = correction.factors(compound.draws, path.energy, zone(at.zone, normals).score);
      for (std::size_t i = 0; i < driven.size(); ++i) driven[i] += reference * path.share[i] * fast[i] * warmer[i];
    }
    for (std::size_t i = 0; i < driven.size(); ++i) laid_up[i] += reference * path.share[i] * slow[i];
  }
  const std::vector<double>& usage = usage_factor(normals);
  std::vector<double> mixed(driven.size());
  for (std::size_t i = 0; i < mixed.size(); ++i) {
    const double weeks = use.usage * usage[compound.draws[i]];
    mixed[i] = laid_up[i] + weeks * (driven[i] - laid_up[i]);
    // Far above the duty a process that driving slows down could come out below nothing.
    if (mixed[i] < 0.0) mixed[i] = driven[i];
    mixed[i] /= compound.lot[i];
  }
  wear_elsewhere(at, compound, use, normals, mixed);
  return mixed;
}

void DrawnCase::add_compound(const Place& at, const CompoundDraws& compound, const std::vector<double>& factor,
                             Normals& normals, PlaceDraws& draws) {
  const auto spread = [&](const std::vector<double>& some, std::vector<double>& all) {
    for (std::size_t i = 0; i < some.size(); ++i) all[compound.draws[i]] = some[i];
  };
  const std::vector<UseSpan> past = likely_.past_use(at.segment);
  for (std::size_t span = 0; span < past.size(); ++span) spread(rate(at, compound, past[span], normals), draws.rates[span]);
  spread(rate(at, compound, likely_.future_use(), normals), draws.future_rate);

  const Limits& shared = limits(at, compound, normals);
  const std::vector<double>& cracked = cracked_ages(at, compound, shared, normals);
  const AgeLaw law{*compound.insulation, library_.model, guard_};
  std::vector<double> left(compound.draws.size(), 0.0);  // ages first
  for (std::size_t span = 0; span < past.size(); ++span) {
    const double length = draws.lengths[span].value();
    for (std::size_t i = 0; i < left.size(); ++i) left[i] += length * draws.rates[span][compound.draws[i]];
  }
  for (std::size_t i = 0; i < left.size(); ++i) left[i] *= factor[compound.draws[i]];
  law.replace_by_elongations(shared.scale, left);
  for (std::size_t i = 0; i < compound.draws.size(); ++i) {
    const std::size_t n = compound.draws[i];
    // Where the bend asks for more than handling does, the milder conditions begin with it.
    draws.limit[0][n] = std::min(shared.stiff[i], cracked[i]);
    draws.limit[1][n] = std::min(shared.flex[i], cracked[i]);
    draws.limit[2][n] = cracked[i];
    draws.limit[3][n] = shared.crumbling[i];
    draws.elongation[n] = left[i];
  }
}

const std::vector<double>& DrawnCase::notch_factor(Normals& normals) {
  if (notch_.empty()) notch_ = at_scores(library_.model.condition.notch_factor, normals.of(quantity::notch));
  return notch_;
}

// Ages at which it cracks as it lies: by the way it lies, which all wires of a segment share.
const std::vector<double>& DrawnCase::cracked_ages(const Place& at, const CompoundDraws& compound, const Limits& shared,
                                                   Normals& normals) {
  const casefile::Segment& segment = at.segment;
  const auto key = std::tuple(compound.name, at.group.outer_diameter.value(), segment.route_radius ? "" : segment.id,
                              segment.route_radius ? segment.route_radius->value() : 0.0);
  if (const auto known = cracked_.find(key); known != cracked_.end()) return known->second;
  const std::vector<double> bend = segment.route_radius ? std::vector<double>{}
                                                        : at_scores(library_.model.condition.route_radius,
                                                                    normals.of(quantity::bend(segment.id)));  // [mm]
  const PerKelvin expansion{compound.insulation->expansion.value};
  const std::vector<double>& notch = notch_factor(normals);
  std::vector<double> ages(compound.draws.size());
  for (std::size_t i = 0; i < ages.size(); ++i) {
    const std::size_t n = compound.draws[i];
    const Metres radius = segment.route_radius ? *segment.route_radius : millimetres(bend[n]);
    const ageing::WireShape shape{at.group.outer_diameter, radius};
    ages[i] = ageing::condition_thresholds(Strain{compound.initial[i]}, expansion, shape, library_.model, notch[n])
                  .cracked.value();
  }
  AgeLaw{*compound.insulation, library_.model, guard_}.replace_by_ages(shared.scale, ages);
  return cracked_.emplace(key, std::move(ages)).first->second;
}

// Ages at which the conditions begin that do not depend on how the wire lies.
const DrawnCase::Limits& DrawnCase::limits(const Place& at, const CompoundDraws& compound, Normals& normals) {
  const auto key = std::pair(compound.name, at.group.outer_diameter.value());
  if (const auto known = limits_.find(key); known != limits_.end()) return known->second;
  const ageing::WireShape straight{at.group.outer_diameter, Metres{1.0e6}};
  const PerKelvin expansion{compound.insulation->expansion.value};
  const AgeLaw law{*compound.insulation, library_.model, guard_};
  const std::vector<double>& notch = notch_factor(normals);
  const std::size_t draws = compound.draws.size();
  Limits limits;
  limits.scale.reserve(draws);
  for (std::vector<double>* ages : {&limits.stiff, &limits.flex, &limits.crumbling}) ages->resize(draws);
  for (std::size_t i = 0; i < draws; ++i) {
    const ageing::ConditionThresholds begin = ageing::condition_thresholds(Strain{compound.initial[i]}, expansion, straight,
                                                                           library_.model, notch[compound.draws[i]]);
    limits.scale.push_back(law.scale(compound.initial[i]));
    limits.stiff[i] = begin.stiff.value();
    limits.flex[i] = begin.flex_cracks.value();
    limits.crumbling[i] = begin.crumbling.value();
  }
  for (std::vector<double>* ages : {&limits.stiff, &limits.flex, &limits.crumbling})
    law.replace_by_ages(limits.scale, *ages);
  return limits_.emplace(key, std::move(limits)).first->second;
}

PlaceDraws DrawnCase::place(const Place& at, const std::vector<double>& factor, Normals& normals) {
  PlaceDraws draws;
  const std::vector<UseSpan> past = likely_.past_use(at.segment);
  const std::vector<double> nothing(normals.draws(), 0.0);
  for (const UseSpan& use : past) draws.lengths.push_back(hours(years_between(use.from, use.to)));
  draws.rates.assign(past.size(), nothing);
  draws.future_rate = draws.elongation = nothing;
  draws.limit.fill(nothing);
  for (const CompoundDraws& compound : lot(at.lot.id, normals).compounds) add_compound(at, compound, factor, normals, draws);
  return draws;
}

SegmentDraws DrawnCase::segment(std::size_t number, Normals& normals) {
  SegmentDraws draws;
  const double spread = library_.model.ageing.stretch_ln_sd.value;
  for (const Place& at : likely_.places(number)) {
    if (draws.stretches.empty() || draws.stretches.back().id != at.stretch.id) {
      StretchDraws stretch{at.stretch.id, {}, normals.of(quantity::stretch(at.segment.id, at.stretch.id))};
      for (double& factor : stretch.factor) factor *= spread;
      exponentials(stretch.factor.data(), stretch.factor.size());
      draws.stretches.push_back(std::move(stretch));
    }
    StretchDraws& stretch = draws.stretches.back();
    stretch.groups.push_back(place(at, stretch.factor, normals));
  }
  return draws;
}

}  // namespace heatside::population
