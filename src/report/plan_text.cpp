#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/remedies_report.hpp"
#include "report/layout.hpp"
#include "report/remedies_words.hpp"

namespace heatside::report {

namespace {

using remedy::Plan;
using remedy::PlanCircuit;
using remedy::PlanSegment;

std::string or_dash(const std::string& text) { return text.empty() ? "-" : text; }

std::string fuse_of(const PlanCircuit& plan) {
  if (plan.circuit.fuse_amperes) return plain_number(*plan.circuit.fuse_amperes) + " A";
  return plan.unfused ? "none" : "-";
}

std::string screen_of(const casefile::Circuit& circuit) {
  std::vector<std::string> words;
  if (circuit.screened) words.emplace_back("screen");
  if (circuit.twisted) words.emplace_back("twist");
  return or_dash(join(words, "+"));
}

std::string wiring_table(const Plan& plan) {
  std::vector<std::vector<std::string>> rows;
  for (const PlanCircuit& one : plan.circuits) {
    const casefile::Circuit& circuit = one.circuit;
    rows.push_back({"[ ] " + circuit.id + (one.untraded ? " !" : ""), or_dash(circuit.plug), or_dash(circuit.cavity),
                    or_dash(circuit.function), or_dash(circuit.colour), or_dash(circuit.size), fuse_of(one),
                    or_dash(circuit.splice), screen_of(circuit),
                    one.milliohms ? fmt::format("{:.0f}", *one.milliohms) : "-"});
  }
  return table({"    circuit", "plug", "cavity", "function", "colour", "size", "fuse", "splice", "screen", "mOhm"}, rows);
}

std::string wiring_text(const Plan& plan) {
  if (!plan.is_wiring_plan)
    return "ROUTE CHECKLIST (not a wiring plan: the case lists no circuits here)\n" +
           wrapped(
               "Without a list of plug, cavity, function, colour, size and fuse nobody can tell a wrong pin from a right "
               "one: "
               "draw it up from the plugs before anything is cut, or take the maker's wiring diagram.",
               "! ");
  std::string text = "WIRING PLAN\n" + wiring_table(plan);
  text += wrapped(
      "!: no price speaks for it: done first, checked by a second person. mOhm: copper of the wire at 20 Cel, end to end "
      "without its contacts; what is measured lies above it by the contacts alone. -: not stated.",
      "");
  for (const PlanCircuit& one : plan.circuits) {
    if (!one.missing.empty())
      text += wrapped(fmt::format("{} lacks {}: read it off before the old wire goes.", one.circuit.id, join(one.missing)),
                      "  - ");
    if (!one.circuit.note.empty()) text += wrapped(one.circuit.id + ": " + one.circuit.note, "  - ");
  }
  return text;
}

std::string segment_text(const PlanSegment& segment) {
  std::string text = wrapped(
      fmt::format("{}: from {} to {}, {:.2f} m, {} ({}){}", segment.id, segment.from, segment.to, segment.length.value(),
                  counted(static_cast<double>(segment.wires), "wire", "wires"), join(segment.sizes),
                  segment.route_radius
                      ? fmt::format(", bends no tighter than {:.0f} mm inside", in_millimetres(*segment.route_radius))
                      : ""),
      "  [ ] ");
  text += wrapped(join(segment.places, "; "), "      ");
  if (!segment.cover_group.empty()) text += wrapped("under the cover: " + segment.cover_group, "      ");
  for (const std::string& heat : segment.heat) text += wrapped(heat + ": shield back in place", "      ! ");
  if (segment.leak) text += wrapped("oil or coolant reached it: mend the leak first", "      ! ");
  return text;
}

}  // namespace

std::string plan_text(const Plan& plan, const remedy::Answer& answer, const casefile::Case& job,
                      const BirthCertificate& certificate) {
  const casefile::Remedy& remedy = plan.result.offer.remedy;
  std::string text = wrapped(job.title, "");
  if (job.invented) text += "Invented scenario: an example, not a vehicle.\n";
  text += wrapped(fmt::format("{} ({}). About {:.0f} min of work; parts {}, work {}.", request_in_words(plan.result.offer),
                              remedy.id, plan.result.minutes, money_text(answer.worth, plan.result.parts),
                              money_text(answer.worth, plan.result.work)),
                  "");
  text += '\n';
  for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
  for (const std::string& reason : plan.result.verdict.struck)
    text += wrapped("Struck out, whatever it costs: " + reason + ".", "x ");
  for (const std::string& condition : plan.result.verdict.conditions) text += wrapped("First: " + condition + ".", "! ");
  text += "\nBEFORE\n";
  for (const std::string& step : plan.before) text += wrapped(step, "  [ ] ");
  text += "\nPHOTOGRAPH AND LABEL\n";
  for (const remedy::PlanNode& node : plan.nodes)
    text += wrapped(fmt::format("{}: {} (ends of {})", node.id, node.name, join(node.segments)), "  [ ] ");
  text += '\n' + wiring_text(plan) + (plan.is_wiring_plan ? "\nROUTE\n" : "");
  for (const PlanSegment& segment : plan.route) text += segment_text(segment);
  text += "\nAT THE END\n";
  for (const std::string& step : plan.after) text += wrapped(step, "  [ ] ");
  text += wrapped(fmt::format("Next look: {}. Write it on a tag at the loom.",
                              plan.look_again ? format_date(*plan.look_again).substr(0, 7)
                                              : "at every service, because what stays in cracks when handled already"),
                  "  [ ] ");
  text += wrapped(
      "Watch for misfires and stored faults that come and go when warm, blown fuses, a smell of burning, flakes below the "
      "loom.",
      "  [ ] ");
  text += "\nDone by: ______________________   on: ____________   looked over by: ______________________\n";
  text += fmt::format("\n{}{}{}\n", certificate.engine, certificate.case_sha256.empty() ? "" : ", case sha256 ",
                      certificate.case_sha256.substr(0, 16));
  return text;
}

}  // namespace heatside::report
