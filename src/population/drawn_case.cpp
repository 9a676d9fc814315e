#include "population/drawn_case.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "heatside/base/constants.hpp"
#include "population/age_law.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using exposure::UseSpan;
using library::Library;

double below(double score) { return 0.5 * std::erfc(-score / std::numbers::sqrt2); }

// A number with a range at a normal score, on a logarithmic scale so that it stays above 0.
double at_score(const Sourced& number, double score) {
  const std::optional<double>& end = score > 0.0 ? number.high : number.low;
  if (!end) return number.value;
  return number.value * std::pow(*end / number.value, std::abs(score) / exposure::score_of_band);
}

exposure::ZoneDraws no_zone(std::size_t draws) { return {std::vector<double>(draws, 0.0), std::vector<double>(draws, 0.0)}; }

// The rows of some draws.
exposure::RateCurves picked(const exposure::RateCurves& curves, const std::vector<std::size_t>& draws) {
  exposure::RateCurves some = curves;
  if (draws.size() == curves.draws) return some;
  const std::size_t width = curves.coefficients.size() / curves.draws;
  some.draws = draws.size();
  some.coefficients.clear();
  some.coefficients.reserve(width * draws.size());
  for (const std::size_t draw : draws) {
    const auto row = curves.coefficients.begin() + static_cast<std::ptrdiff_t>(draw * width);
    some.coefficients.insert(some.coefficients.end(), row, row + static_cast<std::ptrdiff_t>(width));
  }
  return some;
}

// Hours of each span that have passed at a time, and of the future.
struct Passed {
  std::vector<double> spans;
  double future = 0.0;
};

Passed passed_at(const std::vector<Hours>& lengths, Years after) {
  double whole = 0.0;
  for (const Hours length : lengths) whole += length.value();
  double left = whole + hours(after).value();
  Passed passed;
  for (const Hours length : lengths) {
    const double part = std::clamp(left, 0.0, length.value());
    passed.spans.push_back(part);
    left -= part;
  }
  passed.future = std::max(left, 0.0);
  return passed;
}

std::vector<double> ages_at(const PlaceDraws& place, Years after) {
  const Passed passed = passed_at(place.lengths, after);
  std::vector<double> ages(place.future_rate.size());
  for (std::size_t n = 0; n < ages.size(); ++n) ages[n] = passed.future * place.future_rate[n];
  for (std::size_t span = 0; span < passed.spans.size(); ++span) {
    const std::vector<double>& rate = place.rates[span];
    for (std::size_t n = 0; n < ages.size(); ++n) ages[n] += passed.spans[span] * rate[n];
  }
  return ages;
}

double years_until_age(const PlaceDraws& place, std::size_t draw, double age) {
  double hours = 0.0;
  for (std::size_t span = 0; span < place.lengths.size(); ++span) hours -= place.lengths[span].value();
  for (std::size_t span = 0; span < place.lengths.size(); ++span) {
    const double rate = place.rates[span][draw];
    const double gained = rate * place.lengths[span].value();
    if (gained >= age) return (hours + (rate > 0.0 ? age / rate : 0.0)) / hours_per_year;
    age -= gained;
    hours += place.lengths[span].value();
  }
  const double future = place.future_rate[draw];
  return future > 0.0 ? age / future / hours_per_year : std::numeric_limits<double>::infinity();
}

const library::AgeingPath* wet_path(const PathDraws& path) {
  return path.path->kind == library::PathKind::hydrolysis ? path.path : nullptr;
}

Kelvin reference_of(const library::Insulation& insulation, const library::AgeingPath& path) {
  return celsius(path.kind == library::PathKind::hydrolysis ? path.wet_temperature->value
                                                            : insulation.life_temperature.value);
}

}  // namespace

ConditionChances chances_at(const SegmentDraws& segment, Years after, double stretch_ln_sd) {
  const std::size_t draws = segment.stretches.front().groups.front().future_rate.size();
  std::array<std::vector<double>, 4> none;  // chance that no stretch has come to the condition
  for (std::vector<double>& chance : none) chance.assign(draws, 1.0);
  for (const StretchDraws& stretch : segment.stretches) {
    std::array<std::vector<double>, 4> margin;  // age over limit of the worst group
    for (std::vector<double>& ratio : margin) ratio.assign(draws, 0.0);
    for (const PlaceDraws& place : stretch.groups) {
      const std::vector<double> ages = ages_at(place, after);
      for (std::size_t limit = 0; limit < margin.size(); ++limit) {
        for (std::size_t n = 0; n < draws; ++n) {
          const double at = place.limit[limit][n];
          const double ratio = at > 0.0 ? ages[n] / at : std::numeric_limits<double>::infinity();
          margin[limit][n] = std::max(margin[limit][n], ratio);
        }
      }
    }
    for (std::size_t limit = 0; limit < margin.size(); ++limit) {
      for (std::size_t n = 0; n < draws; ++n) none[limit][n] *= below(-std::log(margin[limit][n]) / stretch_ln_sd);
    }
  }
  ConditionChances chances;
  for (std::vector<double>& chance : chances.by_condition) chance.resize(draws);
  for (std::size_t n = 0; n < draws; ++n) {
    chances.by_condition[0][n] = none[0][n];
    for (std::size_t c = 1; c < 4; ++c) chances.by_condition[c][n] = std::max(0.0, none[c][n] - none[c - 1][n]);
    chances.by_condition[4][n] = 1.0 - none[3][n];
  }
  return chances;
}

std::vector<double> elongation_left(const SegmentDraws& segment) {
  std::vector<double> worst(segment.stretches.front().factor.size(), std::numeric_limits<double>::infinity());
  for (const StretchDraws& stretch : segment.stretches) {
    for (const PlaceDraws& place : stretch.groups) {
      for (std::size_t n = 0; n < worst.size(); ++n) worst[n] = std::min(worst[n], place.elongation[n]);
    }
  }
  return worst;
}

std::vector<double> years_until(const SegmentDraws& segment, std::size_t limit) {
  std::vector<double> first(segment.stretches.front().factor.size(), std::numeric_limits<double>::infinity());
  for (const StretchDraws& stretch : segment.stretches) {
    for (const PlaceDraws& place : stretch.groups) {
      for (std::size_t n = 0; n < first.size(); ++n)
        first[n] = std::min(first[n], years_until_age(place, n, place.limit[limit][n] / stretch.factor[n]));
    }
  }
  return first;
}

std::vector<ageing::Condition> conditions_at(const SegmentDraws& segment, Years after) {
  std::vector<ageing::Condition> worst(segment.stretches.front().factor.size(), ageing::Condition::supple);
  for (const StretchDraws& stretch : segment.stretches) {
    for (const PlaceDraws& place : stretch.groups) {
      const std::vector<double> ages = ages_at(place, after);
      for (std::size_t n = 0; n < worst.size(); ++n) {
        for (std::size_t limit = 0; limit < place.limit.size(); ++limit) {
          const auto condition = static_cast<ageing::Condition>(limit + 1);
          if (stretch.factor[n] * ages[n] >= place.limit[limit][n]) worst[n] = std::max(worst[n], condition);
        }
      }
    }
  }
  return worst;
}

// Between the scores linear, beyond them as between the last two.
double DrawnCase::Correction::factor(double of_energy, double score) const {
  const std::size_t upper = score > nodes[1].score ? 2 : 1;
  const Node& low = nodes[upper - 1];
  const Node& high = nodes[upper];
  const double part = (score - low.score) / (high.score - low.score);
  const double x = (of_energy - energy) / step;
  const double at_low = low.at + x * (low.slope + x * low.bend);
  const double at_high = high.at + x * (high.slope + x * high.bend);
  return std::exp(at_low + part * (at_high - at_low));
}

namespace {

constexpr double far_score = 2.0;

std::map<std::string, double> all_zones_at(const Library& library, double score) {
  std::map<std::string, double> scores;
  for (const auto& [id, zone] : library.zones) scores[id] = score;
  return scores;
}

}  // namespace

DrawnCase::DrawnCase(const Case& job, const Library& library, const exposure::ZoneScores& scores, bool conduction)
    : job_{job},
      library_{library},
      scores_{scores},
      likely_{job, library, conduction, mean_scores(scores)},
      low_{job, library, false, all_zones_at(library, -far_score)},
      high_{job, library, false, all_zones_at(library, far_score)},
      guard_{ageing::guard_table(library.model.ageing.guard_strength.value)} {}

void DrawnCase::forget() {
  curves_.clear();
  lots_.clear();
  zones_.clear();
  means_.clear();
  usage_.clear();
  limits_.clear();
}

const exposure::RateTable& DrawnCase::table(const std::string& zone, const UseSpan& use, bool driven, double drying) {
  const exposure::PlaceOfUse place = exposure::place_of_use(zone, use, driven, nullptr);
  const TableKey key{place.zone, place.climate, place.schedule, place.sun, drying};
  if (const auto known = tables_.find(key); known != tables_.end()) return known->second;
  const library::Climate& climate = library_.climates.at(use.climate);
  const library::Zone& record = library_.zones.at(zone);
  exposure::PlaceOfDraws of;
  of.days = exposure::gauss_days(climate);
  if (!place.schedule.empty()) of.drives = exposure::weekly_drives(use.duty);
  of.running_mix = use.duty.running_mix;
  if (use.sun) of.sun = {KelvinRise{climate.sun_rise.value * record.sun_share.value}, Hours{climate.sun_hours.value}};
  return tables_
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

// What own heat, hot parts and conduction make of a path's rate, against that of the zone's air. Where they rule the place,
// the zone's own score means little: so it is worked out with all zones low, likely and high.
DrawnCase::Correction DrawnCase::correction(const Place& at, const library::Insulation& insulation,
                                            const library::AgeingPath& path, const UseSpan& use) {
  const exposure::PlaceOfUse place = exposure::place_of_use(at.zone, use, true, at.differing());
  if (place.spot.empty()) return {};
  const auto key =
      std::tuple(place.spot, place.climate + place.schedule + (place.sun ? "+" : "-"), insulation.head.id, path.id);
  if (const auto known = corrections_.find(key); known != corrections_.end()) return known->second;
  const double humidity = library_.climates.at(use.climate).relative_humidity.value;
  Place plain = at;
  plain.spot.reset();
  Correction correction;
  correction.none = false;
  correction.energy = 1.0e3 * path.activation_energy.value;
  correction.step = 1.0e3 * path.activation_energy.sd.value_or(10.0);
  const auto node_of = [&](LikelyPlaces& places, double score) {
    const exposure::TemperatureMeasure& spot = places.year(at, use, true);
    const exposure::TemperatureMeasure& air = places.year(plain, use, true);
    const auto ln_ratio = [&](double energy) {
      library::AgeingPath moved = path;
      moved.activation_energy.value = 1.0e-3 * energy;
      const auto mean = [&](const exposure::TemperatureMeasure& year) {
        return exposure::total(ageing::likely_path_mean(insulation, moved, year, humidity, at.stretch.damp, library_.model));
      };
      return std::log(mean(spot) / mean(air));
    };
    const double low = ln_ratio(correction.energy - correction.step), middle = ln_ratio(correction.energy),
                 high = ln_ratio(correction.energy + correction.step);
    return Correction::Node{score, middle, 0.5 * (high - low), 0.5 * (high + low) - middle};
  };
  const double mean_score = exposure::score_of(scores_, at.zone).mean;
  correction.nodes = {node_of(low_, std::min(-far_score, mean_score - 0.5)), node_of(likely_, mean_score),
                      node_of(high_, std::max(far_score, mean_score + 0.5))};
  return corrections_.emplace(key, correction).first->second;
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
  std::vector<JoulePerMole> energies;
  energies.reserve(path.energy.size());
  for (const double energy : path.energy) energies.emplace_back(energy);
  const Kelvin reference = reference_of(*compound.insulation, *path.path);
  const exposure::RateCurves& all = curves(at.zone, use, driven, drying, normals);
  std::vector<double> means = compound.draws.size() == all.draws
                                  ? exposure::mean_accelerations(all, energies, reference)
                                  : exposure::mean_accelerations(picked(all, compound.draws), energies, reference);
  for (double& mean : means) mean *= wet;
  return means_.emplace(of, std::move(means)).first->second;
}

const std::vector<double>& DrawnCase::usage_factor(Normals& normals) {
  if (!usage_.empty()) return usage_;
  const double spread = library_.model.usage.ln_sd.value;
  for (const double normal : normals.of(quantity::usage)) usage_.push_back(std::exp(spread * normal));
  return usage_;
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
    const Correction correction = at.spot ? this->correction(at, insulation, *path.path, use) : Correction{};
    const bool corrected = !correction.none;
    const std::vector<double>* score = corrected ? &zone(at.zone, normals).score : nullptr;
    double thin = path.path->reference_wall ? path.path->reference_wall->value / in_millimetres(around.wall) : 1.0;
    if (path.path->kind == library::PathKind::plasticiser_loss) thin *= around.plasticiser_rate;
    const double reference =
        (wet_path(path) ? 1.0 / path.path->wet_hours->value : thin / insulation.life_hours.value) / factor;
    for (std::size_t i = 0; i < driven.size(); ++i) {
      const double weight = reference * path.share[i];
      driven[i] += weight * fast[i] * (corrected ? correction.factor(path.energy[i], (*score)[compound.draws[i]]) : 1.0);
      laid_up[i] += weight * slow[i];
    }
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
  const AgeLaw law{*compound.insulation, library_.model, guard_};
  const std::vector<double>* bend = at.segment.route_radius ? nullptr : &normals.of(quantity::bend(at.segment.id));
  const PerKelvin expansion{compound.insulation->expansion.value};
  for (std::size_t i = 0; i < compound.draws.size(); ++i) {
    const std::size_t n = compound.draws[i];
    const Metres radius = at.segment.route_radius ? *at.segment.route_radius
                                                  : millimetres(at_score(library_.model.condition.route_radius, (*bend)[n]));
    const ageing::ConditionThresholds at_limit = ageing::condition_thresholds(
        Strain{compound.initial[i]}, expansion, {at.group.outer_diameter, radius}, library_.model, shared.notch[i]);
    const AgeLaw::Scale& scale = shared.scale[i];
    const double cracked = law.age_at(scale, at_limit.cracked.value());
    // Where the bend asks for more than handling does, the milder conditions begin with it.
    draws.limit[0][n] = std::min(shared.stiff[i], cracked);
    draws.limit[1][n] = std::min(shared.flex[i], cracked);
    draws.limit[2][n] = cracked;
    draws.limit[3][n] = shared.crumbling[i];
    double age = 0.0;
    for (std::size_t span = 0; span < past.size(); ++span) age += draws.lengths[span].value() * draws.rates[span][n];
    draws.elongation[n] = law.elongation_at(scale, factor[n] * age);
  }
}

// Ages at which the conditions begin that do not depend on how the wire lies.
const DrawnCase::Limits& DrawnCase::limits(const Place& at, const CompoundDraws& compound, Normals& normals) {
  const auto key = std::pair(compound.name, at.group.outer_diameter.value());
  if (const auto known = limits_.find(key); known != limits_.end()) return known->second;
  constexpr Metres straight{1.0e6};
  const AgeLaw law{*compound.insulation, library_.model, guard_};
  const std::vector<double>& notch = normals.of(quantity::notch);
  Limits limits;
  for (std::size_t i = 0; i < compound.draws.size(); ++i) {
    limits.notch.push_back(at_score(library_.model.condition.notch_factor, notch[compound.draws[i]]));
    const ageing::ConditionThresholds begin =
        ageing::condition_thresholds(Strain{compound.initial[i]}, PerKelvin{compound.insulation->expansion.value},
                                     {at.group.outer_diameter, straight}, library_.model, limits.notch.back());
    limits.scale.push_back(law.scale(compound.initial[i]));
    limits.stiff.push_back(law.age_at(limits.scale.back(), begin.stiff.value()));
    limits.flex.push_back(law.age_at(limits.scale.back(), begin.flex_cracks.value()));
    limits.crumbling.push_back(law.age_at(limits.scale.back(), begin.crumbling.value()));
  }
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
      for (double& factor : stretch.factor) factor = std::exp(spread * factor);
      draws.stretches.push_back(std::move(stretch));
    }
    StretchDraws& stretch = draws.stretches.back();
    stretch.groups.push_back(place(at, stretch.factor, normals));
  }
  return draws;
}

}  // namespace heatside::population
