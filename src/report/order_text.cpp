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

// "to-coil-1 (branch to coil 1, below head-trim)"
std::string place_of(const CaseOrder& order, const casefile::Case& job, std::size_t candidate) {
  const inspection::Candidate& one = order.question.candidates[candidate];
  const std::string& name = job.segments[one.segment].name;
  std::string words = name == one.id ? "" : name;
  if (one.cover) words += (words.empty() ? "" : ", ") + ("below " + order.question.covers[*one.cover].id);
  return words.empty() ? one.id : one.id + " (" + words + ")";
}

// "top: new-part; main: leave"
std::string actions_text(const CaseOrder& order, const std::vector<std::size_t>& actions) {
  std::vector<std::string> words;
  for (std::size_t i = 0; i < actions.size(); ++i)
    words.push_back(order.question.choices[i].id + ": " + order.actions[i][actions[i]].id);
  return join(words, "; ");
}

std::string outcomes_text(const std::vector<std::size_t>& outcomes) {
  std::vector<std::string> words;
  for (const std::size_t outcome : outcomes) words.emplace_back(library::seen_names[outcome]);
  return join(words, " or ");
}

const inspection::Handling& handling_at(const CaseOrder& order, std::size_t candidate) {
  return order.handling[order.question.candidates[candidate].segment];
}

void add_node(const CaseOrder& order, const casefile::Case& job, const TreeNode& node, std::size_t depth,
              std::string& text) {
  const std::string indent(2 * depth, ' ');
  if (!node.look) {
    text += wrapped(fmt::format("stop looking; then {}", actions_text(order, node.actions)), indent);
    return;
  }
  text += wrapped(fmt::format("open {}; handle it as {}", place_of(order, job, *node.look),
                              ageing::name_of(handling_at(order, *node.look).as)),
                  indent);
  for (const population::TreeBranch& branch : node.branches) {
    text += wrapped(fmt::format("if it is {} ({:.0f} in 100):", outcomes_text(branch.outcomes), 100.0 * branch.chance),
                    indent + "  ");
    add_node(order, job, branch.next, depth + 2, text);
  }
}

std::size_t most_looks(const TreeNode& node) {
  std::size_t most = 0;
  for (const population::TreeBranch& branch : node.branches) most = std::max(most, most_looks(branch.next));
  return node.look ? most + 1 : 0;
}

std::string times(std::size_t count) {
  return count == 1   ? "once"
         : count == 2 ? "up to twice"
                      : fmt::format("up to {} times", count == 3 ? "three" : plain_number(static_cast<double>(count)));
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

std::string stop_reason(const CaseOrder& order, const casefile::Case& job) {
  const auto& values = order.order.by_value;
  switch (order.order.looking) {
    case inspection::Looking::changes_nothing:
      return "More looking would not change this choice";
    case inspection::Looking::not_allowed:
      if (order.question.allowed == std::size_t{0})
        return order.opened > 0 ? "The owner allows no further opening" : "The owner allows no opening";
      return "No opening costs as little as the owner allows";
    case inspection::Looking::nothing_left:
      return job.segments.size() == order.order.kept_out.size() ? "All segments carry airbag circuits and are not opened"
             : order.order.kept_out.empty()                     ? "Everything is open"
                                                                : "All that is left carries airbag circuits";
    default:
      return std::any_of(values.begin(), values.end(), [](const OpeningValue& value) { return value.changes_a_choice; })
                 ? "More looking costs more than it is expected to save"
                 : "No single opening would change this choice, and several together are expected to cost more than they "
                   "save";
  }
}

std::string stop_text(const CaseOrder& order, const casefile::Case& job) {
  const std::string closed = unopened(order);
  return wrapped(fmt::format("{}: {}.{}", stop_reason(order, job), actions_text(order, order.order.now.best),
                             closed.empty() ? "" : " Not opened, nothing claimed: " + closed + "."),
                 "");
}

std::string saving_text(const CaseOrder& order) {
  const population::DecisionTree& tree = order.order.tree;
  const std::string looks = "looking " + times(most_looks(tree.root));
  if (tree.net_saving < 0.5) return looks + " saves no money, but what it may find bare cannot be left as it is";
  return looks + " is expected to save " + money_text(order, tree.net_saving) + " after its costs";
}

std::string tree_text(const CaseOrder& order, const casefile::Case& job) {
  const population::DecisionTree& tree = order.order.tree;
  std::string text = "\nThe next openings:\n";
  add_node(order, job, tree.root, 1, text);
  if (!tree.all_looks_kept || tree.thinned)
    text += wrapped(fmt::format("At each step only the best openings were followed{}.",
                                tree.thinned ? fmt::format(", with {} of the draws", tree.draws) : ""),
                    "");
  return text +
         wrapped("Where bare conductor is seen, what would leave it as it is may no longer be chosen, whatever it costs.",
                 "");
}

std::string advice_text(const CaseOrder& order, const casefile::Case& job) {
  const inspection::OpeningOrder& result = order.order;
  if (result.looking != inspection::Looking::pays || !result.tree.root.look) return stop_text(order, job);
  const std::size_t first = *result.tree.root.look;
  const inspection::Handling& handling = handling_at(order, first);
  std::string text =
      wrapped(fmt::format("Open {} first. Chosen now, without looking, the best would be {}; {}.",
                          place_of(order, job, first), actions_text(order, result.now.best), saving_text(order)),
              "");
  text += wrapped(
      fmt::format("Handling {}: {:.0f} in 100 that it is {}{}; treat it so until it is seen: {}.", segment_of(order, first),
                  100.0 * handling.chance, ageing::name_of(handling.as),
                  handling.as == ageing::Condition::crumbling ? "" : " or worse", inspection::handling_advice(handling.as)),
      "! ");
  return text + tree_text(order, job);
}

// "new-part-top of loom top: New part"
std::string choices_text(const CaseOrder& order) {
  std::string text = "What is chosen between (`heatside remedies` has the whole of it):\n";
  for (std::size_t i = 0; i < order.actions.size(); ++i) {
    std::vector<std::string> words;
    for (const inspection::ActionWords& action : order.actions[i]) {
      const std::string what = action.segments.empty() ? ""
                               : action.whole_loom     ? ", all of it"
                                                       : ", " + join(action.segments);
      words.push_back(fmt::format("{} ({}{})", action.id, action.name.empty() ? action.id : action.name, what));
    }
    text += wrapped(fmt::format("{}: {}", order.question.choices[i].id, join(words, "; ")), "  - ");
  }
  return text;
}

std::string handling_text(const CaseOrder& order) {
  std::string text = wrapped(
      "How to handle each segment until it is seen, by the worst that is 10 in 100 likely or more (chance of that or "
      "worse):",
      "");
  for (std::size_t c = ageing::condition_names.size(); c-- > 0;) {
    std::vector<std::string> words;
    for (const inspection::Handling& one : order.handling) {
      if (one.as != static_cast<ageing::Condition>(c)) continue;
      words.push_back(c == 0 ? one.segment : fmt::format("{} ({:.0f})", one.segment, 100.0 * one.chance));
    }
    if (words.empty()) continue;
    const auto condition = static_cast<ageing::Condition>(c);
    text += wrapped(
        fmt::format("as {}: {}: {}", ageing::name_of(condition), join(words), inspection::handling_advice(condition)),
        "  - ");
  }
  return text;
}

std::string value_table(const CaseOrder& order) {
  if (order.order.by_value.empty()) return "";
  std::vector<std::vector<std::string>> rows;
  for (const OpeningValue& value : order.order.by_value) {
    const auto& cover = order.question.candidates[value.candidate].cover;
    rows.push_back({fitted(segment_of(order, value.candidate), 22), fmt::format("{:.0f} %", 100.0 * value.chance_cracked),
                    fmt::format("{:.0f} +- {:.0f}", value.saving, value.standard_error),
                    fmt::format("{:.0f}", value.minutes.value()), fmt::format("{:.0f}", value.price + value.harm),
                    fmt::format("{:+.0f}", value.net), value.changes_a_choice ? "yes" : "no",
                    cover ? order.question.covers[*cover].id : ""});
  }
  return wrapped(fmt::format("What opening one segment next is expected to save, in {}, and what it costs: its minutes and "
                             "what opening may break. One step ahead.",
                             order.currency.empty() ? "minutes of work" : order.currency),
                 "") +
         table({"segment", "cracked", "saves", "minutes", "costs", "net", "may change", "below"}, rows);
}

// Why the first of the tree need not be the first of the table.
std::string ahead_text(const CaseOrder& order) {
  const inspection::OpeningOrder& result = order.order;
  if (result.looking != inspection::Looking::pays || !result.tree.root.look || result.by_value.empty()) return "";
  const std::size_t looks = most_looks(result.tree.root);
  if (result.by_value.front().net <= 0.0) {
    const bool pair = !result.pairs.empty() && result.pairs.front().net > 0.0;
    return wrapped(
        pair ? fmt::format("No single opening pays by itself; {} and then, where the first leaves it open, {} together save "
                           "{} after their costs.",
                           segment_of(order, result.pairs.front().first), segment_of(order, result.pairs.front().second),
                           money_text(order, result.pairs.front().net))
             : "No single opening and no pair pays by itself; the way through the tree does.",
        "");
  }
  if (result.by_value.front().candidate == *result.tree.root.look || looks < 2) return "";
  return wrapped(fmt::format("The table looks one step ahead, the tree {}: they need not begin with the same.", looks), "");
}

std::string chance_text(const CaseOrder& order) {
  std::string text = "By chance alone, most likely cracked first (says nothing about what an opening is worth):\n";
  std::size_t number = 0;
  for (const std::size_t candidate : order.order.by_chance)
    text += fmt::format("  {}. {}\n", ++number, segment_of(order, candidate));
  return text;
}

std::string found_text(const CaseOrder& order) {
  if (order.found_bare.empty()) return "";
  std::vector<std::string> words;
  for (const inspection::FoundBare& found : order.found_bare)
    words.push_back(fmt::format("{} ({})", found.segment, found.seen));
  return wrapped("Bare conductor was seen at " + join(words) + ": it is mended before power comes back.", "! ");
}

std::string again_text(const CaseOrder& order, const casefile::Case& job, double cap) {
  if (order.look_again.empty()) return "";
  std::string text = "Where it stays closed, look again by the time a tenth of the draws crack when handled:\n";
  std::vector<std::string> now, dated, later;
  for (const inspection::LookAgain& look : order.look_again) {
    const double years = look.after.value();
    if (years <= 0.0) {
      now.push_back(look.segment);
    } else if (years > cap) {
      later.push_back(look.segment);
    } else {
      const auto day = job.inspected.day + std::chrono::days{std::lround(years * days_per_year)};
      dated.push_back(fmt::format("{} by {}", look.segment, format_date(exact_date(day)).substr(0, 7)));
    }
  }
  if (!now.empty()) text += wrapped("that time is over for " + join(now), "  - ");
  if (!dated.empty()) text += wrapped(join(dated), "  - ");
  if (!later.empty())
    text += wrapped(fmt::format("over {:.0f} years by heat alone, so that other causes come first: {}", cap, join(later)),
                    "  - ");
  return text + '\n';
}

std::string allowed_text(const CaseOrder& order, const casefile::Case& job) {
  std::string text;
  if (job.openings.allowed)
    text += wrapped(fmt::format("The owner allows {} opening{}; {} made, {} left.", *job.openings.allowed,
                                *job.openings.allowed == 1 ? "" : "s", order.opened, *order.question.allowed),
                    "");
  if (job.openings.cost_limit)
    text += wrapped(fmt::format("The owner allows {} for the minutes of all openings; {} spent, {} left.",
                                money_text(order, *job.openings.cost_limit), money_text(order, order.spent),
                                money_text(order, *order.question.cost_limit)),
                    "");
  return text;
}

std::string kept_out_text(const CaseOrder& order) {
  if (order.order.kept_out.empty()) return "";
  std::vector<std::string> ids;
  for (const std::size_t candidate : order.order.kept_out) ids.push_back(segment_of(order, candidate));
  return wrapped(
      "Airbag or belt-tensioner circuits, never in this order and looked at by trained people only: " + join(ids) + ".",
      "! ");
}

}  // namespace

std::string order_text(const CaseOrder& order, const population::Estimate& estimate, const casefile::Case& job,
                       bool by_chance, const BirthCertificate& certificate) {
  std::string text = wrapped(job.title, "");
  if (job.invented) text += "Invented scenario: an example, not a vehicle.\n";
  text += '\n';
  for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
  text += '\n' + step_zero_text(order) + '\n' + consent_text(order) + allowed_text(order, job) + found_text(order) + '\n';
  text += advice_text(order, job) + '\n' + choices_text(order) + '\n';
  if (!order.order.by_value.empty()) text += value_table(order) + ahead_text(order) + '\n';
  if (by_chance) text += chance_text(order) + '\n';
  constexpr double other_causes_first = 40.0;  // [a], as in every text
  text += handling_text(order) + '\n' + kept_out_text(order) + again_text(order, job, other_causes_first);
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
