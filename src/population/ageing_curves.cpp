#include "heatside/population/ageing_curves.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "heatside/base/constants.hpp"
#include "population/drawn_case.hpp"
#include "population/heat_bands.hpp"
#include "population/worst_place.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using library::Library;

std::size_t segment_number(const Case& job, const std::string& id) {
  const std::size_t number = casefile::number_by_id(job.segments, id);
  if (number == job.segments.size()) throw DomainError("the case has no segment \"" + id + "\"");
  return number;
}

// The wires that the estimate reports.
Place reported_place(LikelyPlaces& places, const Case& job, const SegmentEstimate& of) {
  for (Place& at : places.places(segment_number(job, of.id))) {
    if (at.stretch.id == of.worst_stretch && at.lot.id == of.lot) return at;
  }
  throw DomainError("segment \"" + of.id + "\" has no wires of lot \"" + of.lot + "\" in stretch \"" + of.worst_stretch +
                    "\"");
}

Quantiles<Strain> strain_quantiles(const Belief& belief, const std::vector<double>& values) {
  const std::vector<double> at = quantiles(belief, values, {0.1, 0.5, 0.9});
  return {Strain{at[0]}, Strain{at[1]}, Strain{at[2]}};
}

Quantiles<Years> year_quantiles(const Belief& belief, const std::vector<double>& values) {
  const std::vector<double> at = quantiles(belief, values, {0.1, 0.5, 0.9});
  return {Years{at[0]}, Years{at[1]}, Years{at[2]}};
}

ageing::ConditionThresholds likely_thresholds(const Place& at, const library::ModelConstants& model) {
  const Metres radius = at.segment.route_radius.value_or(millimetres(model.condition.route_radius.value));
  return ageing::condition_thresholds(percent(at.insulation.initial_elongation.value),
                                      PerKelvin{at.insulation.expansion.value}, {at.group.outer_diameter, radius}, model);
}

// Times in equal steps that hit the inspection.
std::vector<Years> times_between(Years age, Years ahead, std::size_t steps) {
  const double step = (age + ahead).value() / static_cast<double>(steps - 1);
  std::vector<Years> times;
  const auto before = static_cast<int>(std::ceil(age.value() / step));
  for (int i = before; i > 0; --i) times.push_back(Years{-age.value() * i / before});
  const auto after = static_cast<int>(std::ceil(ahead.value() / step));
  for (int i = 0; i <= after; ++i) times.push_back(Years{ahead.value() * i / after});
  return times;
}

// The law of the wires of one lot in every draw: elongation by age.
class LotLaw {
 public:
  LotLaw(const LotDraws& lot, const Library& library, const ageing::GuardTable& guard) : lot_{lot} {
    for (const CompoundDraws& compound : lot.compounds) {
      laws_.emplace_back(*compound.insulation, library.model, guard);
      std::vector<AgeLaw::Scale>& scales = scales_.emplace_back();
      for (const double initial : compound.initial) scales.push_back(laws_.back().scale(initial));
    }
  }

  // Lowers `worst` to the elongation of this lot at the draws' ages.
  void lower(const std::vector<double>& ages, std::vector<double>& worst) const {
    for (std::size_t c = 0; c < laws_.size(); ++c) {
      const std::vector<std::size_t>& draws = lot_.compounds[c].draws;
      std::vector<double> left(draws.size());  // ages first
      for (std::size_t i = 0; i < draws.size(); ++i) left[i] = ages[draws[i]];
      laws_[c].replace_by_elongations(scales_[c], left);
      for (std::size_t i = 0; i < draws.size(); ++i) worst[draws[i]] = std::min(worst[draws[i]], left[i]);
    }
  }

 private:
  const LotDraws& lot_;
  std::vector<AgeLaw> laws_;
  std::vector<std::vector<AgeLaw::Scale>> scales_;
};

// Ages of the oldest wires of some groups in each draw: elongation only falls with age, so theirs is the worst.
std::vector<double> oldest_of(const SegmentDraws& draws, const std::vector<std::size_t>& groups, Years after) {
  std::vector<double> oldest(draws.stretches.front().factor.size(), 0.0);
  for (const StretchDraws& stretch : draws.stretches) {
    for (const std::size_t g : groups) {
      const std::vector<double> ages = ages_at(stretch.groups[g], after);
      for (std::size_t n = 0; n < oldest.size(); ++n) oldest[n] = std::max(oldest[n], ages[n] * stretch.factor[n]);
    }
  }
  return oldest;
}

// All that the curves of a case are taken from.
struct Drawn {
  Drawn(const Case& of, const Library& records, const Population& from)
      : job{of},
        library{records},
        population{from},
        normals{from.normals},
        memory{memory_of(from, records)},
        drawn{of, records, from.zone_scores, from.conduction, memory},
        likely{of, records, from.conduction, likely_years_of(memory)} {}

  const Case& job;
  const Library& library;
  const Population& population;
  Normals normals;
  std::shared_ptr<HeatMemory> memory;
  DrawnCase drawn;
  LikelyPlaces likely;
};

void expect_years(Years ahead, std::size_t steps) {
  if (!(ahead.value() > 0.0) || steps < 2) throw DomainError("an ageing curve needs years to come and at least 2 points");
}

AgeingCurve ageing_of(Drawn& from, const SegmentEstimate& of, const SegmentDraws& draws, const Place& at, Years ahead,
                      std::size_t steps) {
  const Case& job = from.job;
  const Library& library = from.library;
  const casefile::Segment& segment = at.segment;
  const ageing::GuardTable guard = ageing::guard_table(library.model.ageing.guard_strength.value);
  std::map<std::string, std::vector<std::size_t>> groups;  // by lot
  for (std::size_t g = 0; g < segment.groups.size(); ++g) groups[segment.groups[g].lot].push_back(g);
  std::map<std::string, LotLaw> laws;
  for (const auto& [lot, numbers] : groups) laws.emplace(lot, LotLaw{from.drawn.lot(lot, from.normals), library, guard});

  AgeingCurve curve{of.id, {}, likely_thresholds(at, library.model)};
  const casefile::Loom& loom = *casefile::find_by_id(job.looms, segment.loom);
  for (const Years after : times_between(years_between(loom.made.day, job.inspected.day), ahead, steps)) {
    std::vector<double> worst(from.normals.draws(), HUGE_VAL);
    for (const auto& [lot, numbers] : groups) laws.at(lot).lower(oldest_of(draws, numbers, after), worst);
    curve.points.push_back({after, strain_quantiles(from.population.belief, worst)});
  }
  return curve;
}

// A wire at constant temperature: clock rates [1/h] of a compound's dry paths in its draws.
class ConstantHeat {
 public:
  ConstantHeat(const Place& at, const ageing::WireSurroundings& around, const library::Insulation& insulation)
      : reference_{celsius(insulation.life_temperature.value)},
        hours_{insulation.life_hours.value * ageing::life_factor(insulation, around)},
        wall_{in_millimetres(at.group.wall)},
        plasticiser_{around.plasticiser_rate} {}

  [[nodiscard]] double rate(const library::AgeingPath& path, double share, double energy, Kelvin temperature) const {
    double weight = share / hours_;
    if (path.reference_wall) weight *= path.reference_wall->value / wall_;
    if (path.kind == library::PathKind::plasticiser_loss) weight *= plasticiser_;
    return weight * std::exp(energy / molar_gas_constant * (1.0 / reference_.value() - 1.0 / temperature.value()));
  }

 private:
  Kelvin reference_;
  double hours_, wall_, plasticiser_;
};

bool is_dry(const library::AgeingPath& path) { return path.kind != library::PathKind::hydrolysis; }

// Activation energy that the likely compound shows at its thermal-life point [J/mol].
double oven_energy(const ConstantHeat& heat, const library::Insulation& insulation) {
  const Kelvin oven = celsius(insulation.life_temperature.value);
  double rate = 0.0, moment = 0.0;
  for (const library::AgeingPath& path : insulation.paths) {
    if (!is_dry(path)) continue;
    const double energy = 1.0e3 * path.activation_energy.value;
    const double part = heat.rate(path, path.share.value, energy, oven);
    rate += part;
    moment += part * energy;
  }
  return moment / rate;
}

LifeLine life_of(Drawn& from, const SegmentEstimate& of, const SegmentDraws& draws, const Place& at,
                 const std::vector<Kelvin>& temperatures) {
  const ageing::WireSurroundings around = from.likely.surroundings(at, from.likely.future_use());
  const auto stretch = std::find_if(draws.stretches.begin(), draws.stretches.end(),
                                    [&](const StretchDraws& some) { return some.id == of.worst_stretch; });
  const PlaceDraws& place = stretch->groups[static_cast<std::size_t>(&at.group - at.segment.groups.data())];
  const LotDraws& lot = from.drawn.lot(at.lot.id, from.normals);

  const auto life_at = [&](Kelvin temperature) {
    std::vector<double> lives(from.normals.draws(), 0.0);
    for (const CompoundDraws& compound : lot.compounds) {
      const ConstantHeat heat{at, around, *compound.insulation};
      for (std::size_t i = 0; i < compound.draws.size(); ++i) {
        double rate = 0.0;
        for (const PathDraws& path : compound.paths) {
          if (is_dry(*path.path)) rate += heat.rate(*path.path, path.share[i], path.energy[i], temperature);
        }
        lives[compound.draws[i]] = place.limit[1][compound.draws[i]] * compound.lot[i] / rate / hours_per_year;
      }
    }
    return year_quantiles(from.population.belief, lives);
  };

  LifeLine line{of.insulation,
                of.compound_known,
                {},
                celsius(at.insulation.life_temperature.value),
                Hours{at.insulation.life_hours.value},
                1.0e-2 * at.insulation.end_elongation.value};
  const double energy = oven_energy({at, around, at.insulation}, at.insulation);
  const double at_oven = life_at(line.oven).p50.value();
  for (const Kelvin temperature : temperatures) {
    const double lever = 1.0 / temperature.value() - 1.0 / line.oven.value();
    line.points.push_back(
        {temperature, life_at(temperature), Years{at_oven * std::exp(energy / molar_gas_constant * lever)}});
  }
  return line;
}

}  // namespace

AgeingCurve ageing_curve(const Case& job, const Library& library, const Population& population, const SegmentEstimate& of,
                         Years ahead, std::size_t steps) {
  return ageing_curves(job, library, population, {of}, ahead, steps).front();
}

std::vector<AgeingCurve> ageing_curves(const Case& job, const Library& library, const Population& population,
                                       const std::vector<SegmentEstimate>& segments, Years ahead, std::size_t steps) {
  expect_years(ahead, steps);
  Drawn from{job, library, population};
  std::vector<AgeingCurve> curves;
  for (const SegmentEstimate& of : segments) {
    const SegmentDraws draws = from.drawn.segment(segment_number(job, of.id), from.normals);
    curves.push_back(ageing_of(from, of, draws, reported_place(from.likely, job, of), ahead, steps));
  }
  return curves;
}

LifeLine life_line(const Case& job, const Library& library, const Population& population, const SegmentEstimate& of,
                   const std::vector<Kelvin>& temperatures) {
  Drawn from{job, library, population};
  const Place at = reported_place(from.likely, job, of);
  return life_of(from, of, from.drawn.segment(segment_number(job, of.id), from.normals), at, temperatures);
}

std::vector<HeatBand> heat_bands(const Case& job, const Library& library, const exposure::ZoneScores& zone_scores,
                                 bool conduction, const SegmentEstimate& of) {
  LikelyPlaces places{job, library, conduction, mean_scores(zone_scores)};
  const Place at = reported_place(places, job, of);
  return bands_over(places, at, in_service(job, places, at));
}

std::vector<SegmentCurves> segment_curves(const Case& job, const Library& library, const Population& population,
                                          const std::vector<SegmentEstimate>& segments, Years ahead,
                                          const std::vector<Kelvin>& temperatures, std::size_t steps) {
  expect_years(ahead, steps);
  Drawn from{job, library, population};
  std::vector<SegmentCurves> curves;
  for (const SegmentEstimate& of : segments) {
    const Place at = reported_place(from.likely, job, of);
    const SegmentDraws draws = from.drawn.segment(segment_number(job, of.id), from.normals);
    curves.push_back({ageing_of(from, of, draws, at, ahead, steps), life_of(from, of, draws, at, temperatures),
                      bands_over(from.likely, at, in_service(job, from.likely, at))});
  }
  return curves;
}

}  // namespace heatside::population
