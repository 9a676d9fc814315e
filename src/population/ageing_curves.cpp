#include "heatside/population/ageing_curves.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "heatside/base/constants.hpp"
#include "population/drawn_case.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using library::Library;

std::size_t segment_number(const Case& job, const std::string& id) {
  const auto found = std::find_if(job.segments.begin(), job.segments.end(),
                                  [&](const casefile::Segment& segment) { return segment.id == id; });
  if (found == job.segments.end()) throw DomainError("the case has no segment \"" + id + "\"");
  return static_cast<std::size_t>(found - job.segments.begin());
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

// The law of one wire group in every draw: elongation by age.
class GroupLaw {
 public:
  GroupLaw(const LotDraws& lot, const Library& library, const ageing::GuardTable& guard) : lot_{lot} {
    for (const CompoundDraws& compound : lot.compounds) {
      laws_.emplace_back(*compound.insulation, library.model, guard);
      std::vector<AgeLaw::Scale>& scales = scales_.emplace_back();
      for (const double initial : compound.initial) scales.push_back(laws_.back().scale(initial));
    }
  }

  // Lowers `worst` to the elongation of this group at the draws' ages.
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

// Ages of a group in thermal-life times, with the stretch's drawn factor, so long after the inspection.
std::vector<double> ages_at(const PlaceDraws& place, const std::vector<double>& factor, Years after) {
  std::vector<double> ages(factor.size(), 0.0);
  double left = hours(after).value();
  for (const Hours length : place.lengths) left += length.value();
  const auto add = [&](double hours, const std::vector<double>& rate) {
    for (std::size_t n = 0; n < ages.size(); ++n) ages[n] += hours * rate[n];
  };
  for (std::size_t span = 0; span < place.lengths.size(); ++span) {
    const double part = std::clamp(left, 0.0, place.lengths[span].value());
    if (part > 0.0) add(part, place.rates[span]);
    left -= part;
  }
  if (left > 0.0) add(left, place.future_rate);
  for (std::size_t n = 0; n < ages.size(); ++n) ages[n] *= factor[n];
  return ages;
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
  std::vector<GroupLaw> laws;
  for (const casefile::WireGroup& group : segment.groups)
    laws.emplace_back(from.drawn.lot(group.lot, from.normals), library, guard);

  AgeingCurve curve{of.id, {}, likely_thresholds(at, library.model)};
  const casefile::Loom& loom = *casefile::find_by_id(job.looms, segment.loom);
  for (const Years after : times_between(years_between(loom.made.day, job.inspected.day), ahead, steps)) {
    std::vector<double> worst(from.normals.draws(), HUGE_VAL);
    for (const StretchDraws& stretch : draws.stretches) {
      for (std::size_t g = 0; g < stretch.groups.size(); ++g)
        laws[g].lower(ages_at(stretch.groups[g], stretch.factor, after), worst);
    }
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

std::vector<AgedSpan> since_fitting(LikelyPlaces& places, const Case& job, const Place& at) {
  const auto fitted = casefile::find_by_id(job.looms, at.segment.loom)->fitted.day;
  std::vector<AgedSpan> spans = places.past(at);
  std::erase_if(spans, [&](const AgedSpan& span) { return span.use.from < fitted; });
  if (spans.empty()) {
    spans.push_back(places.future(at));
    spans.back().length = Hours{1.0};
  }
  return spans;
}

std::vector<HeatBand> bands_of(LikelyPlaces& places, const Case& job, const Place& at) {
  const std::vector<AgedSpan> spans = since_fitting(places, job, at);
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

}  // namespace

AgeingCurve ageing_curve(const Case& job, const Library& library, const Population& population, const SegmentEstimate& of,
                         Years ahead, std::size_t steps) {
  expect_years(ahead, steps);
  Drawn from{job, library, population};
  const SegmentDraws draws = from.drawn.segment(segment_number(job, of.id), from.normals);
  return ageing_of(from, of, draws, reported_place(from.likely, job, of), ahead, steps);
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
  return bands_of(places, job, reported_place(places, job, of));
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
                      bands_of(from.likely, job, at)});
  }
  return curves;
}

}  // namespace heatside::population
