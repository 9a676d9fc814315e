#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/order_report.hpp"
#include "report/layout.hpp"

namespace heatside::report {

namespace {

using inspection::CaseOrder;
using inspection::OpeningValue;
using population::TreeNode;

std::string money_text(const CaseOrder& order, double amount) {
  return fmt::format("{:.0f} {}", amount, order.currency.empty() ? "min" : order.currency);
}

const std::string& segment_of(const CaseOrder& order, std::size_t candidate) {
  return order.question.candidates[candidate].id;
}

// "top: replace, main: leave"
std::string actions_text(const CaseOrder& order, const std::vector<std::size_t>& actions) {
  std::vector<std::string> words;
  for (std::size_t i = 0; i < actions.size(); ++i) {
    const population::Choice& choice = order.question.choices[i];
    words.push_back(choice.id + ": " + choice.actions[actions[i]].id);
  }
  return join(words);
}

std::string outcomes_text(const std::vector<std::size_t>& outcomes) {
  std::vector<std::string> words;
  for (const std::size_t outcome : outcomes) words.emplace_back(library::seen_names[outcome]);
  return join(words, " or ");
}

void add_node(const CaseOrder& order, const TreeNode& node, std::size_t depth, std::string& text) {
  const std::string indent(2 * depth, ' ');
  if (!node.look) {
    text += wrapped(fmt::format("stop looking; then {}", actions_text(order, node.actions)), indent);
    return;
  }
  text += wrapped(fmt::format("open {}", segment_of(order, *node.look)), indent);
  for (const population::TreeBranch& branch : node.branches) {
    text += wrapped(fmt::format("if it is {} ({:.0f} in 100):", outcomes_text(branch.outcomes), 100.0 * branch.chance),
                    indent + "  ");
    add_node(order, branch.next, depth + 2, text);
  }
}

std::string step_zero_text(const CaseOrder& order) {
  std::string text = "Before anything is opened, learn what can be learnt without it:\n";
  for (const inspection::StepZero& step : order.step_zero) text += wrapped(step.what + (step.done ? " (done)" : ""), "  - ");
  return text;
}

std::string consent_text(const CaseOrder& order) {
  if (order.consent) return "The owner has agreed to openings: the vehicle may not run afterwards.\n";
  return wrapped(
      "Ask the owner first: the vehicle may not run after an opening. Have a replacement at hand before a loom is removed. "
      "Record the answer with `heatside record FILE --consent`.",
      "! ");
}

std::string unopened(const CaseOrder& order) {
  std::vector<std::string> ids;
  for (const inspection::Candidate& candidate : order.question.candidates) {
    if (!candidate.opened) ids.push_back(candidate.id);
  }
  return join(ids);
}

std::string advice_text(const CaseOrder& order, const population::Estimate& estimate) {
  const inspection::OpeningOrder& result = order.order;
  if (result.looking != inspection::Looking::pays || !result.tree.root.look) {
    const char* reason = result.looking == inspection::Looking::changes_nothing
                             ? "More looking would not change this choice"
                             : "More looking costs more than it is expected to save";
    return wrapped(fmt::format("{}: {}. Not opened, nothing claimed: {}.", reason, actions_text(order, result.now.best),
                               unopened(order)),
                   "");
  }
  const std::string& first = segment_of(order, *result.tree.root.look);
  const auto* segment = casefile::find_by_id(estimate.segments, first);
  std::string text = wrapped(
      fmt::format(
          "Open {} first. Chosen now, without looking, the best would be {}; looking up to three times is expected to "
          "save {} after its costs.",
          first, actions_text(order, result.now.best), money_text(order, result.tree.net_saving)),
      "");
  text += wrapped(fmt::format("Handling {}: {}.", first, inspection::handling_advice(segment->most_likely)), "! ");
  text += "\nThe next openings:\n";
  add_node(order, result.tree.root, 1, text);
  if (!result.tree.all_looks_kept || result.tree.thinned)
    text += wrapped(fmt::format("At each step only the best openings were followed{}.",
                                result.tree.thinned ? fmt::format(", with {} of the draws", result.tree.draws) : ""),
                    "");
  return text;
}

std::string value_table(const CaseOrder& order) {
  std::vector<std::vector<std::string>> rows;
  for (const OpeningValue& value : order.order.by_value) {
    rows.push_back({fitted(segment_of(order, value.candidate), 22), fmt::format("{:.0f} %", 100.0 * value.chance_cracked),
                    fmt::format("{:.0f} +- {:.0f}", value.saving, value.standard_error),
                    fmt::format("{:.0f}", value.minutes.value()), fmt::format("{:.0f}", value.price + value.harm),
                    fmt::format("{:+.0f}", value.net), value.changes_a_choice ? "yes" : "no"});
  }
  return wrapped(fmt::format("What opening one segment next is expected to save, in {}, and what it costs: its minutes and "
                             "what opening may break. One step ahead.",
                             order.currency.empty() ? "minutes of work" : order.currency),
                 "") +
         table({"segment", "cracked", "saves", "minutes", "costs", "net", "may change the choice"}, rows);
}

std::string chance_text(const CaseOrder& order) {
  std::string text = "By chance alone, most likely cracked first (says nothing about what an opening is worth):\n";
  std::size_t number = 0;
  for (const std::size_t candidate : order.order.by_chance)
    text += fmt::format("  {}. {}\n", ++number, segment_of(order, candidate));
  return text;
}

std::string again_text(const CaseOrder& order, const casefile::Case& job) {
  std::string text = "Where it stays closed, look again by the time a tenth of the draws crack when handled:\n";
  std::vector<std::string> now, later;
  for (const inspection::LookAgain& look : order.look_again) {
    if (look.after.value() <= 0.0) {
      now.push_back(look.segment);
      continue;
    }
    const double years = std::min(look.after.value(), 40.0);
    const auto day = job.inspected.day + std::chrono::days{std::lround(years * days_per_year)};
    later.push_back(fmt::format("{} by {}", look.segment, format_date(exact_date(day)).substr(0, 7)));
  }
  if (!now.empty()) text += wrapped("that time is over for " + join(now), "  - ");
  if (!later.empty()) text += wrapped(join(later), "  - ");
  return text;
}

}  // namespace

std::string order_text(const CaseOrder& order, const population::Estimate& estimate, const casefile::Case& job,
                       bool by_chance, const BirthCertificate& certificate) {
  std::string text = wrapped(job.title, "");
  if (job.invented) text += "Invented scenario: an example, not a vehicle.\n";
  text += '\n';
  for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
  text += '\n' + step_zero_text(order) + '\n' + consent_text(order) + '\n' + advice_text(order, estimate) + '\n';
  text += value_table(order) + '\n';
  if (by_chance) text += chance_text(order) + '\n';
  if (!order.order.kept_out.empty()) {
    std::vector<std::string> ids;
    for (const std::size_t candidate : order.order.kept_out) ids.push_back(segment_of(order, candidate));
    text += wrapped("Airbag or belt-tensioner circuits, never in this order: " + join(ids) + ".", "! ");
  }
  text += again_text(order, job) + '\n';
  text += "Assumed of costs, each replaceable:\n";
  for (const casefile::Assumption& assumption : order.assumptions)
    text += wrapped(fmt::format("{} [{}]", assumption.text, name_of(assumption.grade)), "  - ");
  text += wrapped(fmt::format("All that `heatside estimate` assumes holds here too ({} assumptions). {} draws, seed {}.",
                              estimate.assumptions.size(), estimate.draws, estimate.seed),
                  "");
  text += fmt::format("\n{}{}{}\n", certificate.engine, certificate.case_sha256.empty() ? "" : ", case sha256 ",
                      certificate.case_sha256.substr(0, 16));
  return text;
}

}  // namespace heatside::report
