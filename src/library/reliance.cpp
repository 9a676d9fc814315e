#include "heatside/library/reliance.hpp"

#include <algorithm>
#include <initializer_list>

namespace heatside::library {

namespace {

// Grades stand from best to weakest.
Grade weakest(std::initializer_list<Grade> grades) { return std::max(grades); }

Grade weakest_of_paths(const std::vector<AgeingPath>& paths) {
  Grade grade = Grade::standard;
  for (const AgeingPath& path : paths) {
    grade = std::max(grade, path.activation_energy.from.grade);
    const bool wet = path.kind == PathKind::hydrolysis;
    grade = std::max(grade, wet ? path.wet_hours->from.grade : path.share.from.grade);
    if (wet) grade = std::max(grade, path.humidity_exponent->from.grade);
  }
  return grade;
}

}  // namespace

Grade weakest_grade(const Insulation& record) {
  return weakest({record.life_temperature.from.grade, record.life_hours.from.grade, record.end_elongation.from.grade,
                  record.lot_median.from.grade, record.law_from.grade, weakest_of_paths(record.paths),
                  weakest_of_paths(record.guard_paths), record.initial_elongation.from.grade, record.expansion.from.grade});
}

Grade weakest_grade(const Zone& record) {
  Grade grade = weakest({record.ambient_following.from.grade, record.soak_peak.from.grade, record.tau_warm.from.grade,
                         record.tau_soak_rise.from.grade, record.tau_soak_decay.from.grade});
  for (const Sourced& rise : record.rise) grade = std::max(grade, rise.from.grade);
  return grade;
}

Grade weakest_grade(const Climate& record) {
  return weakest({record.monthly_mean_from.grade, record.daily_range_from.grade, record.deviation_from.grade});
}

Grade weakest_grade(const ModelConstants& record) {
  return weakest({record.trace.engine_excess.from.grade, record.ageing.guard_strength.from.grade,
                  record.ageing.floor_elongation.from.grade, record.condition.notch_factor.from.grade,
                  record.condition.stiff_share.from.grade});
}

}  // namespace heatside::library
