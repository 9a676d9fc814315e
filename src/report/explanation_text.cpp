#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/explanation_report.hpp"
#include "report/layout.hpp"

namespace heatside::report {

namespace {

using population::ChangeEffect;
using population::Explanation;

std::string percent_text(double share) {
  const double percent = 100.0 * share;
  if (percent != 0.0 && std::abs(percent) < 1.0) return percent > 0.0 ? "under 1 %" : "under -1 %";
  return fmt::format("{:.0f} %", percent);
}

std::string place_text(const Explanation& explanation, const casefile::Case& job) {
  std::string text = fmt::format("It is worst in stretch {} ({})", explanation.stretch, explanation.zone);
  if (explanation.from_start) {
    const casefile::Segment& segment = *casefile::find_by_id(job.segments, explanation.id);
    text += fmt::format(", {:.0f} cm from {} and {:.0f} cm from {}", 100.0 * explanation.from_start->value(), segment.from,
                        100.0 * (segment.length - *explanation.from_start).value(), segment.to);
  }
  return text + fmt::format(
                    ", in the wires of {} ({}{}). What it met since it was fitted did as much as a constant {:.1f} "
                    "degC.",
                    explanation.lot, explanation.insulation, explanation.compound_known ? "" : ", a likely guess",
                    in_celsius(explanation.equivalent_temperature));
}

std::string regime_text(const Explanation& explanation) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < explanation.by_state.size(); ++i) {
    const population::StateShare& state = explanation.by_state[i];
    rows.push_back({std::string{library::running_state_names[i]}, percent_text(state.running), percent_text(state.soak)});
  }
  rows.push_back({"all of them", percent_text(explanation.by_regime[0]), percent_text(explanation.by_regime[1])});
  return "When it aged, by what the engine did: while running, and in the hot soak after it.\n" +
         table({"engine", "running", "soak after"}, rows) +
         fmt::format("Parked cold: {}.\n", percent_text(explanation.by_regime[2]));
}

std::string band_text(const Explanation& explanation) {
  std::vector<std::vector<std::string>> rows;
  for (const population::BandShare& band : explanation.by_temperature) {
    if (band.hours_a_year < 0.5 && band.share < 0.0005) continue;
    const auto bar = static_cast<std::size_t>(std::lround(40.0 * std::max(band.share, 0.0)));
    rows.push_back({fmt::format("{} to {}", band.from_celsius, band.to_celsius), fmt::format("{:.0f}", band.hours_a_year),
                    percent_text(band.share), std::string(bar, '=')});
  }
  return "At which temperature of the insulation it aged (a mean year since fitting).\n" +
         table({"degC", "hours a year", "share of ageing", ""}, rows);
}

std::string words_of(const std::string& cause) {
  if (cause == "zone") return "the zone's air alone";
  if (cause == "own current") return "current in the wires";
  if (cause == "hot body") return "hot parts beside the loom";
  if (cause == "terminal") return "parts it is screwed to";
  return "heat along the copper from or to other zones";
}

std::string cause_text(const Explanation& explanation) {
  std::vector<std::vector<std::string>> rows;
  double sum = 0.0;
  for (const population::CauseShare& cause : explanation.by_cause) {
    sum += cause.share;
    rows.push_back({words_of(cause.cause), percent_text(cause.share)});
  }
  if (std::abs(1.0 - sum) >= 0.005) rows.push_back({"together, more or less than each alone", percent_text(1.0 - sum)});
  return "What made it age: how much less without each cause; below 0 the cause cools.\n" +
         table({"cause", "share of ageing"}, rows);
}

std::string change_text(const Explanation& explanation, const library::ModelConstants& model) {
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> remarks;
  rows.push_back(
      {"as it is", "1", remaining_in_words(explanation.remaining, model), remaining_in_words(explanation.new_wire, model)});
  for (const ChangeEffect& change : explanation.changes) {
    rows.push_back({change.change, fmt::format("{:.2f}", change.pace),
                    change.remaining ? remaining_in_words(*change.remaining, model) : "replaced",
                    remaining_in_words(change.new_wire, model)});
    if (!change.remark.empty()) remarks.push_back(change.change + ": " + change.remark + ".");
  }
  std::string text =
      "What a change from now on would do, on the use to come: how many times as fast it ages, when this\n"
      "wire cracks when handled, and when a new one would.\n" +
      table({"change", "pace", "this wire", "a new wire"}, rows);
  for (const std::string& remark : remarks) text += wrapped(remark, "  ");
  return text;
}

}  // namespace

std::string explanation_text(const Explanation& explanation, const casefile::Case& job, const library::Library& library,
                             const BirthCertificate& certificate) {
  std::string text = wrapped(job.title, "");
  if (job.invented) text += "Invented scenario: an example, not a vehicle.\n";
  text += '\n';
  for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
  text += '\n' + wrapped(fmt::format("Segment {} ({}), cracks when handled: {}.", explanation.id, explanation.name,
                                     remaining_in_words(explanation.remaining, library.model)),
                         "");
  text += wrapped(place_text(explanation, job), "") + '\n';
  text += regime_text(explanation) + '\n' + band_text(explanation) + '\n' + cause_text(explanation) + '\n' +
          change_text(explanation, library.model) + '\n';
  text += wrapped(
      "The likely case: every quantity at its likely value, no interval. Zone temperatures, duty and compound rest on "
      "judgement; `heatside estimate` lists everything that was assumed.",
      "");
  text += fmt::format("\n{}{}{}\n", certificate.engine, certificate.case_sha256.empty() ? "" : ", case sha256 ",
                      certificate.case_sha256.substr(0, 16));
  return text;
}

}  // namespace heatside::report
