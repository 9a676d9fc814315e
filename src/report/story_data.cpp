#include "base/strict_json.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/story_report.hpp"
#include "report/json_parts.hpp"

/// The story of a case for programs.

namespace heatside::report {

namespace {

using population::LoomEnd;

Json change_json(const population::ChangeEffect& change) {
  return {{"pace", change.pace}, {"new_wire_years", change.new_wire.value()}};
}

Json end_json(const LoomEnd& end) {
  const population::Explanation& explained = end.explained;
  return {{"segment", explained.id},
          {"zone", explained.zone},
          {"insulation", explained.insulation},
          {"compound_known", explained.compound_known},
          {"equivalent_temperature_Cel", in_celsius(explained.equivalent_temperature)},
          {"damage_share", regimes_json(explained.by_regime)},
          {"remaining_years", explained.remaining.value()},
          {"new_wire_years", explained.new_wire.value()},
          {"ten_hotter", change_json(end.ten_hotter)},
          {"ten_cooler", change_json(end.ten_cooler)},
          {"halving_K", end.halving.value()},
          {"activation_energy_kJ_per_mol", 1.0e-3 * end.energy.value()}};
}

Json oven_json(const population::OvenSight& oven) {
  return {{"bends", oven.bends},
          {"coolest_oven_Cel", in_celsius(oven.coolest)},
          {"hottest_oven_Cel", in_celsius(oven.hottest)},
          {"line_kJ_per_mol", 1.0e-3 * oven.line_energy.value()},
          {"new_wire_years_by_law", oven.by_law.value()},
          {"new_wire_years_by_line", oven.by_line.value()}};
}

Json hill_json(const population::HillTrip& trip) {
  return {{"minutes", trip.length.value()},
          {"ambient_Cel", in_celsius(trip.ambient)},
          {"city_hottest_Cel", in_celsius(trip.city_hottest)},
          {"hill_hottest_Cel", in_celsius(trip.hill_hottest)},
          {"city_as_hours_of_use", trip.city.value()},
          {"hill_as_hours_of_use", trip.hill.value()}};
}

}  // namespace

std::string story_json(const population::CaseStory& story, const casefile::Case& job, const BirthCertificate& certificate) {
  Json document = case_head("heatside-story", certificate, job);
  document.update({{"draws", 1},
                   {"seed", certificate.seed},
                   {"likely_only", true},
                   {"heat_side", end_json(story.heat)},
                   {"cool_end", story.cool ? end_json(*story.cool) : Json(nullptr)},
                   {"pace_of_heat_side", story.cool ? Json(story.pace) : Json(nullptr)},
                   {"straight_line", story.oven ? oven_json(*story.oven) : Json(nullptr)},
                   {"hill_trip", hill_json(story.hill)},
                   {"assumptions", assumptions_json(job.assumptions)},
                   {"cautions", cautions()}});
  return document_text(document);
}

}  // namespace heatside::report
