#include "base/strict_json.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/explanation_report.hpp"
#include "report/json_parts.hpp"

/// The explanation of a segment for programs.

namespace heatside::report {

namespace {

using population::Explanation;

Json states_json(const Explanation& explanation) {
  Json states = Json::object();
  for (std::size_t i = 0; i < explanation.by_state.size(); ++i) {
    states[std::string{library::running_state_names[i]}] = {{"running", explanation.by_state[i].running},
                                                            {"soak", explanation.by_state[i].soak}};
  }
  return states;
}

Json bands_json(const Explanation& explanation) {
  Json bands = Json::array();
  for (const population::BandShare& band : explanation.by_temperature) {
    bands.push_back({{"from_Cel", band.from_celsius},
                     {"to_Cel", band.to_celsius},
                     {"hours_a_year", band.hours_a_year},
                     {"share", band.share}});
  }
  return bands;
}

Json causes_json(const Explanation& explanation) {
  Json causes = Json::array();
  for (const population::CauseShare& cause : explanation.by_cause)
    causes.push_back({{"cause", cause.cause}, {"share", cause.share}});
  return causes;
}

Json changes_json(const Explanation& explanation) {
  Json changes = Json::array();
  for (const population::ChangeEffect& change : explanation.changes) {
    changes.push_back({{"change", change.change},
                       {"remark", change.remark},
                       {"pace", change.pace},
                       {"remaining_years", change.remaining ? Json(change.remaining->value()) : Json(nullptr)},
                       {"new_wire_years", change.new_wire.value()}});
  }
  return changes;
}

}  // namespace

std::string explanation_json(const Explanation& explanation, const casefile::Case& job, const library::Library&,
                             const BirthCertificate& certificate) {
  Json document = case_head("heatside-explanation", certificate, job);
  document.update({{"draws", 1},
                   {"seed", certificate.seed},
                   {"likely_only", true},
                   {"id", explanation.id},
                   {"name", explanation.name},
                   {"loom", explanation.loom},
                   {"lot", explanation.lot},
                   {"insulation", explanation.insulation},
                   {"compound_known", explanation.compound_known},
                   {"worst_stretch", explanation.stretch},
                   {"zone", explanation.zone},
                   {"worst_at_m", explanation.from_start ? Json(explanation.from_start->value()) : Json(nullptr)},
                   {"equivalent_temperature_Cel", in_celsius(explanation.equivalent_temperature)},
                   {"remaining_years", explanation.remaining.value()},
                   {"new_wire_years", explanation.new_wire.value()},
                   {"damage_share", regimes_json(explanation.by_regime)},
                   {"damage_by_state", states_json(explanation)},
                   {"damage_by_temperature", bands_json(explanation)},
                   {"damage_by_cause", causes_json(explanation)},
                   {"changes", changes_json(explanation)},
                   {"assumptions", assumptions_json(job.assumptions)},
                   {"cautions", cautions()}});
  return document_text(document);
}

}  // namespace heatside::report
