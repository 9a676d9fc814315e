#include "heatside/inspection/opening_order.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "heatside/base/error.hpp"

namespace heatside::inspection {

using population::ConditionRow;
using population::LookingProblem;
using population::PricedLook;
using population::TreeNode;

namespace {

constexpr std::size_t conditions = 5;
constexpr std::size_t cracked = 3;  // conditions from here on are cracked or crumbling

void expect_amount(double amount, const std::string& what, const std::string& where) {
  if (amount >= 0.0 && std::isfinite(amount)) return;
  throw DomainError(where + ": " + what + " " + std::to_string(amount) + " is not finite and >= 0");
}

void expect_candidate(const Candidate& candidate) {
  expect_amount(candidate.minutes.value(), "minutes", candidate.id);
  expect_amount(candidate.break_cost, "cost of breaking it", candidate.id);
  expect_amount(candidate.other_harm, "harm", candidate.id);
  for (const double chance : candidate.break_chance) {
    if (!(chance >= 0.0 && chance <= 1.0)) throw DomainError(candidate.id + ": a chance of breaking is not within 0 and 1");
  }
}

void expect_question(const OpeningQuestion& question) {
  expect_amount(question.money_per_minute, "money per minute", "opening order");
  for (const CoverToRemove& cover : question.covers) expect_amount(cover.minutes.value(), "minutes", "cover " + cover.id);
  std::set<std::size_t> segments;
  for (const Candidate& candidate : question.candidates) {
    expect_candidate(candidate);
    if (candidate.segment >= question.knowledge.segments.size()) {
      throw DomainError(candidate.id + " is not among the segments");
    }
    if (!segments.insert(candidate.segment).second) throw DomainError(candidate.id + " is there twice");
    if (candidate.cover && *candidate.cover >= question.covers.size()) throw DomainError(candidate.id + ": no such cover");
  }
}

// Candidates that may be opened, by id, so that the order in which they were given decides nothing.
std::vector<std::size_t> open_candidates(const OpeningQuestion& question) {
  std::vector<std::size_t> open;
  for (std::size_t i = 0; i < question.candidates.size(); ++i) {
    if (!question.candidates[i].airbag && !question.candidates[i].opened) open.push_back(i);
  }
  std::stable_sort(open.begin(), open.end(),
                   [&](std::size_t a, std::size_t b) { return question.candidates[a].id < question.candidates[b].id; });
  return open;
}

ConditionRow harm_of(const Candidate& candidate) {
  ConditionRow harm{};
  for (std::size_t c = 0; c < conditions; ++c) {
    harm[c] = candidate.break_chance[c] * candidate.break_cost + candidate.other_harm;
  }
  return harm;
}

LookingProblem problem_of(const OpeningQuestion& question, const std::vector<std::size_t>& open) {
  LookingProblem problem{question.knowledge, question.choices, {}, {}};
  for (const std::size_t index : open) {
    const Candidate& candidate = question.candidates[index];
    problem.looks.push_back({{candidate.segment, candidate.table},
                             candidate.minutes.value() * question.money_per_minute,
                             harm_of(candidate),
                             candidate.cover,
                             candidate.ruled_out});
  }
  for (const CoverToRemove& cover : question.covers) {
    problem.cover_prices.push_back(cover.off ? 0.0 : cover.minutes.value() * question.money_per_minute);
  }
  return problem;
}

OpeningValue value_of(const OpeningQuestion& question, std::size_t index, population::LookValue look) {
  const Candidate& candidate = question.candidates[index];
  OpeningValue value;
  value.candidate = index;
  value.saving = look.saving;
  value.standard_error = look.standard_error;
  value.changes_a_choice = look.changes_a_choice;
  value.outcomes = std::move(look.outcomes);
  value.minutes = candidate.minutes;
  if (candidate.cover && !question.covers[*candidate.cover].off) {
    value.minutes = value.minutes + question.covers[*candidate.cover].minutes;
  }
  value.price = value.minutes.value() * question.money_per_minute;
  const ConditionRow chances =
      population::mean_chances(question.knowledge.belief, question.knowledge.segments[candidate.segment]);
  const ConditionRow harm = harm_of(candidate);
  for (std::size_t c = 0; c < conditions; ++c) value.harm += chances[c] * harm[c];
  for (std::size_t c = cracked; c < conditions; ++c) value.chance_cracked += chances[c];
  value.net = value.saving - value.price - value.harm;
  return value;
}

std::vector<OpeningValue> values_of(const OpeningQuestion& question, const std::vector<std::size_t>& open,
                                    const LookingProblem& problem) {
  std::vector<population::Look> looks;
  for (const PricedLook& look : problem.looks) looks.push_back(look.look);
  auto found = population::value_of_each_look(question.knowledge, question.choices, looks);
  std::vector<OpeningValue> values;
  for (std::size_t i = 0; i < open.size(); ++i) values.push_back(value_of(question, open[i], std::move(found[i])));
  return values;
}

// From numbers of looks to numbers of candidates.
void rename_looks(TreeNode& node, const std::vector<std::size_t>& open) {
  if (node.look) node.look = open[*node.look];
  for (population::TreeBranch& branch : node.branches) rename_looks(branch.next, open);
}

std::vector<std::size_t> by_chance(const std::vector<OpeningValue>& values) {
  std::vector<const OpeningValue*> sorted;
  for (const OpeningValue& value : values) sorted.push_back(&value);
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const OpeningValue* a, const OpeningValue* b) { return a->chance_cracked > b->chance_cracked; });
  std::vector<std::size_t> order;
  for (const OpeningValue* value : sorted) order.push_back(value->candidate);
  return order;
}

population::TreeOptions limits_of(const OpeningQuestion& question) {
  population::TreeOptions options = question.tree;
  if (question.allowed) options.depth = std::min(options.depth, *question.allowed);
  if (question.cost_limit) options.spend_most = question.cost_limit;
  return options;
}

Looking looking_of(const OpeningQuestion& question, const OpeningOrder& order) {
  if (order.tree.root.look) return Looking::pays;
  if (order.by_value.empty()) return Looking::nothing_left;
  // An amount that is nothing but the rounding of the losses it comes from.
  const double rounding = 1.0e-9 * std::abs(order.now.least);
  if (order.perfect.saving <= rounding) return Looking::changes_nothing;
  const bool affordable = std::any_of(order.by_value.begin(), order.by_value.end(), [&](const OpeningValue& value) {
    return !question.cost_limit || value.price <= *question.cost_limit;
  });
  const bool may_open = affordable && question.allowed.value_or(1) > 0;
  return may_open ? Looking::costs_more : Looking::not_allowed;
}

}  // namespace

OpeningOrder opening_order(const OpeningQuestion& question) {
  expect_question(question);
  const std::vector<std::size_t> open = open_candidates(question);
  const LookingProblem problem = problem_of(question, open);
  const population::TreeOptions options = limits_of(question);
  OpeningOrder order;
  order.now = population::expected_losses(question.knowledge, question.choices);
  order.perfect = population::perfect_information(question.knowledge, question.choices);
  order.by_value = values_of(question, open, problem);
  // A bound that is exact but for rounding must not lie below a look that tells everything.
  for (const OpeningValue& value : order.by_value) order.perfect.saving = std::max(order.perfect.saving, value.saving);
  order.by_chance = by_chance(order.by_value);
  std::stable_sort(order.by_value.begin(), order.by_value.end(),
                   [](const OpeningValue& a, const OpeningValue& b) { return a.net > b.net; });
  if (options.depth >= 2) {
    for (const population::PairValue& pair : population::pairs_of_looks(problem, options.spend_most)) {
      order.pairs.push_back({open[pair.first], open[pair.second], pair.net_saving});
    }
  }
  order.tree = population::decision_tree(problem, options);
  rename_looks(order.tree.root, open);
  for (std::size_t i = 0; i < question.candidates.size(); ++i) {
    if (question.candidates[i].airbag) order.kept_out.push_back(i);
  }
  order.looking = looking_of(question, order);
  return order;
}

}  // namespace heatside::inspection
