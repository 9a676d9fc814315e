#include "heatside/library/reliance.hpp"

#include <algorithm>
#include <initializer_list>

namespace heatside::library {

namespace {

// Grades stand from best to weakest.
Grade weakest(std::initializer_list<Grade> grades) { return std::max(grades); }

Grade weakest_of_optional(const std::optional<Sourced>& number) { return number ? number->from.grade : Grade::standard; }

Grade weakest_of_paths(const std::vector<AgeingPath>& paths) {
  Grade grade = Grade::standard;
  for (const AgeingPath& path : paths) {
    const bool wet = path.kind == PathKind::hydrolysis;
    grade = weakest({grade, path.activation_energy.from.grade, wet ? Grade::standard : path.share.from.grade,
                     weakest_of_optional(path.reference_wall), weakest_of_optional(path.wet_temperature),
                     weakest_of_optional(path.wet_humidity), weakest_of_optional(path.wet_hours),
                     weakest_of_optional(path.humidity_exponent)});
  }
  return grade;
}

Grade weakest_of_factors(const LifeFactors& factors) {
  return weakest({factors.bare_copper.from.grade, factors.tinned_copper.from.grade, factors.closed_cover.from.grade,
                  factors.absorbing_cover.from.grade, factors.oil_film.from.grade, factors.hot_coolant.from.grade});
}

}  // namespace

Grade weakest_grade(const Insulation& record) {
  return weakest({record.life_temperature.from.grade, record.life_hours.from.grade, record.end_elongation.from.grade,
                  record.lot_median.from.grade, record.law_from.grade, weakest_of_optional(record.induction_share),
                  weakest_of_paths(record.paths), weakest_of_paths(record.guard_paths), record.initial_elongation.from.grade,
                  record.expansion.from.grade, weakest_of_factors(record.life_factors)});
}

Grade weakest_grade(const Covering& record) {
  return weakest({record.thickness.from.grade, record.air_gap.from.grade, record.thermal_conductivity.from.grade,
                  record.emissivity.from.grade});
}

Grade weakest_grade(const Conductors& record) {
  Grade grade = Grade::standard;
  for (const ConductorSize& size : record.sizes) {
    grade = weakest({grade, size.area.from.grade, size.resistance.from.grade, weakest_of_optional(size.diameter)});
  }
  return grade;
}

Grade weakest_grade(const Era& record) {
  Grade grade = Grade::standard;
  for (const EraDecade& decade : record.decades) grade = weakest({grade, decade.provenance.grade});
  return grade;
}

Grade weakest_grade(const Duty& record) { return record.from.grade; }

Grade weakest_grade(const Zone& record) {
  Grade grade = weakest({record.ambient_following.from.grade, record.soak_peak.from.grade, record.tau_warm.from.grade,
                         record.tau_soak_rise.from.grade, record.tau_soak_decay.from.grade, record.sun_share.from.grade});
  for (const Sourced& rise : record.rise) grade = weakest({grade, rise.from.grade});
  return grade;
}

Grade weakest_grade(const Climate& record) {
  return weakest({record.monthly_mean_from.grade, record.daily_range_from.grade, record.deviation_from.grade,
                  record.relative_humidity.from.grade, record.sun_rise.from.grade, record.sun_hours.from.grade});
}

namespace {

Grade weakest_of_evidence(const LookTable& table) {
  Grade grade = Grade::standard;
  for (const ChanceRow& row : table.seen) grade = weakest({grade, row.from.grade});
  return grade;
}

Grade weakest_of_evidence(const BendTest& test) {
  return weakest({test.diameters.from.grade, test.cracks.from.grade, test.strain_ln_sd.from.grade});
}

Grade weakest_of_evidence(const ElongationTest& test) {
  return weakest({test.error_share.from.grade, test.error_floor.from.grade});
}

Grade weakest_of_evidence(const ResistanceReading& reading) {
  return weakest({reading.high_from.from.grade, reading.high.from.grade});
}

}  // namespace

Grade weakest_grade(const Method& record) {
  return std::visit([](const auto& evidence) { return weakest_of_evidence(evidence); }, record.evidence);
}

Grade weakest_grade(const Clue& record) {
  Grade grade = record.others.from.grade;
  for (const auto& [insulation, chance] : record.chance) grade = weakest({grade, chance.from.grade});
  return grade;
}

Grade weakest_grade(const Consequence& record) {
  return weakest({record.short_share.from.grade, record.stop_open.from.grade, record.stop_short.from.grade,
                  record.when_open.from.grade, record.when_short.from.grade, record.from.grade});
}

Grade weakest_grade(const RemedyKind& record) {
  // What a cover prevents counts where there is one: elsewhere it is no number of the record.
  const Grade prevents = record.act == RemedyAct::cover ? record.prevents.from.grade : record.disturbs.from.grade;
  return weakest({prevents, record.parts.from.grade, record.parts_each.from.grade, record.parts_wire.from.grade,
                  record.minutes.from.grade, record.minutes_each.from.grade, record.minutes_wire.from.grade,
                  record.lead_days.from.grade, record.disturbs.from.grade});
}

Grade weakest_grade(const ModelConstants& record) {
  return weakest({record.trace.engine_warm_time.from.grade, record.trace.engine_excess.from.grade,
                  record.trace.exhaust_decay_time.from.grade, record.usage.mean_speed.from.grade,
                  record.ageing.guard_strength.from.grade, record.ageing.seed_extent.from.grade,
                  record.ageing.floor_elongation.from.grade, record.condition.notch_factor.from.grade,
                  record.condition.stiff_share.from.grade, record.condition.vibration_strain.from.grade});
}

}  // namespace heatside::library
