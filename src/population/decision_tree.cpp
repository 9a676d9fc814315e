#include "heatside/population/decision_tree.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "heatside/base/error.hpp"
#include "population/look_search.hpp"

namespace heatside::population {

namespace {

constexpr std::size_t deepest = 8;
constexpr std::size_t fewest_draws = 500;

void expect_problem(const LookingProblem& problem) {
  for (const PricedLook& look : problem.looks) {
    if (look.look.segment >= problem.knowledge.segments.size()) throw DomainError("a look at a segment that is not there");
    if (look.cover && *look.cover >= problem.cover_prices.size()) throw DomainError("a cover that is not there");
    if (!(look.price >= 0.0)) throw DomainError("the price of a look is below 0");
    expect_table(look.look.table);
  }
  for (const double price : problem.cover_prices) {
    if (!(price >= 0.0)) throw DomainError("the price of a cover is below 0");
  }
}

// Draws for evenly weighted ones: systematic resampling, started in the middle of the first part.
std::vector<std::size_t> resampled(const Belief& belief, std::size_t count) {
  std::vector<std::size_t> chosen;
  double passed = 0.0;
  for (std::size_t n = 0; n < belief.weights.size(); ++n) {
    passed += belief.weights[n] * static_cast<double>(count);
    while (chosen.size() < count && static_cast<double>(chosen.size()) + 0.5 <= passed) chosen.push_back(n);
  }
  while (chosen.size() < count) chosen.push_back(chosen.empty() ? 0 : chosen.back());
  return chosen;
}

std::vector<double> picked(const std::vector<double>& values, const std::vector<std::size_t>& draws) {
  std::vector<double> few;
  few.reserve(draws.size());
  for (const std::size_t n : draws) few.push_back(values[n]);
  return few;
}

LookingProblem thinned(LookingProblem problem, std::size_t count) {
  const std::vector<std::size_t> draws = resampled(problem.knowledge.belief, count);
  problem.knowledge.belief = even_belief(count);
  for (ConditionChances& segment : problem.knowledge.segments) {
    for (std::vector<double>& chance : segment.by_condition) chance = picked(chance, draws);
  }
  for (Choice& choice : problem.choices) {
    for (Action& action : choice.actions) {
      if (!action.by_draw.empty()) action.by_draw = picked(action.by_draw, draws);
    }
  }
  return problem;
}

// Products of the moments at the last level, which is nearly all there is to do.
double work_of(const LookingProblem& problem, const TreeOptions& options) {
  double columns = 1.0;
  for (const Choice& choice : problem.choices) columns += static_cast<double>(choice.actions.size()) - 1.0;
  std::size_t outcomes = 1;
  for (const PricedLook& look : problem.looks) outcomes = std::max(outcomes, look.look.table.outcomes.size());
  double places = 1.0;
  for (std::size_t level = 1; level < options.depth && level <= problem.looks.size(); ++level) {
    places *= static_cast<double>(std::min(options.keep, problem.looks.size()) * outcomes) / static_cast<double>(level);
  }
  return places * static_cast<double>(problem.looks.size() * 5) * columns *
         static_cast<double>(problem.knowledge.belief.weights.size());
}

bool ruled_out(const LookingProblem& problem, const std::vector<Step>& way, std::size_t choice, std::size_t action) {
  return std::any_of(way.begin(), way.end(), [&](const Step& step) {
    const std::vector<RuledOut>& rules = problem.looks[step.first].ruled_out;
    return std::any_of(rules.begin(), rules.end(), [&](const RuledOut& rule) {
      return rule.outcome == step.second && rule.choice == choice && rule.action == action;
    });
  });
}

// The best actions that nothing seen on the way rules out.
Best best_allowed(const LookingProblem& problem, const Columns& columns, const std::vector<double>& sums,
                  const std::vector<Step>& way) {
  Best best = best_of(columns, sums);
  for (std::size_t i = 0; i < best.actions.size(); ++i) {
    if (!ruled_out(problem, way, i, best.actions[i])) continue;
    const ColumnRange& range = columns.choices[i];
    const auto loss = [&](std::size_t action) { return action == 0 ? 0.0 : sums[range.first + action - 1]; };
    std::optional<std::size_t> other;
    for (std::size_t action = 0; action < problem.choices[i].actions.size(); ++action) {
      if (ruled_out(problem, way, i, action) || (other && loss(action) >= loss(*other))) continue;
      other = action;
    }
    if (!other) continue;
    best.gain += loss(*other) - loss(best.actions[i]);
    best.actions[i] = *other;
  }
  return best;
}

bool same_steps(const TreeNode& a, const TreeNode& b) {
  if (a.look != b.look || a.branches.size() != b.branches.size()) return false;
  if (!a.look) return a.actions == b.actions;
  for (std::size_t i = 0; i < a.branches.size(); ++i) {
    if (a.branches[i].outcomes != b.branches[i].outcomes) return false;
    if (!same_steps(a.branches[i].next, b.branches[i].next)) return false;
  }
  return true;
}

// Makes one node of two with the same steps.
void absorb(TreeNode& into, const TreeNode& other) {
  const double chance = into.chance + other.chance;
  const auto mean = [&](double a, double b) { return (a * into.chance + b * other.chance) / chance; };
  into.loss_if_chosen = mean(into.loss_if_chosen, other.loss_if_chosen);
  into.loss = mean(into.loss, other.loss);
  into.chance = chance;
  for (std::size_t i = 0; i < into.branches.size(); ++i) {
    absorb(into.branches[i].next, other.branches[i].next);
    into.branches[i].chance = into.branches[i].next.chance / chance;
  }
}

// Walks the advice of a finished search.
class Drawing {
 public:
  explicit Drawing(const LookSearch& search, const LookingProblem& problem) : search_{search}, problem_{problem} {}

  TreeNode node(const SearchState& place, std::size_t depth) const {
    TreeNode node;
    const std::vector<double> sums = sums_of(place.standing);
    const Best best = best_allowed(problem_, search_.columns(), sums, place.way);
    node.actions = best.actions;
    node.chance = sum_of(place.standing.weight);
    node.loss_if_chosen = (sums[0] + best.gain) / node.chance;
    node.loss = node.loss_if_chosen;
    node.look = search_.advice(place, depth);
    if (node.look) add_branches(node, place, depth);
    if (is_idle(node)) stop_at(node);
    return node;
  }

 private:
  // Whatever is seen there, the same follows: only where what was seen before rules out what the look was meant to decide.
  static bool is_idle(const TreeNode& node) {
    return node.branches.size() == 1 && !node.branches[0].next.look && node.branches[0].next.actions == node.actions;
  }

  static void stop_at(TreeNode& node) {
    node.look.reset();
    node.branches.clear();
    node.loss = node.loss_if_chosen;
  }

  void add_branches(TreeNode& node, const SearchState& place, std::size_t depth) const {
    double loss = search_.cost(place, *node.look);
    for (std::size_t y = 0; y < problem_.looks[*node.look].look.table.outcomes.size(); ++y) {
      const auto after = search_.outcome(place, *node.look, y);
      if (!after) continue;
      TreeNode next = this->node(*after, depth - 1);
      loss += next.loss * next.chance;
      add_outcome(node, y, std::move(next));
    }
    node.loss = loss / node.chance;
    for (TreeBranch& branch : node.branches) branch.chance = branch.next.chance / node.chance;
  }

  static void add_outcome(TreeNode& node, std::size_t outcome, TreeNode next) {
    for (TreeBranch& branch : node.branches) {
      if (!same_steps(branch.next, next)) continue;
      branch.outcomes.push_back(outcome);
      absorb(branch.next, next);
      return;
    }
    node.branches.push_back({{outcome}, 0.0, std::move(next)});
  }

  const LookSearch& search_;
  const LookingProblem& problem_;
};

DecisionTree tree_of(const LookingProblem& problem, const TreeOptions& options) {
  LookSearch search{problem, options};
  const SearchState root = search.root();
  search.value(root, options.depth);
  DecisionTree tree;
  tree.root = Drawing{search, problem}.node(root, options.depth);
  tree.net_saving = std::max(0.0, tree.root.loss_if_chosen - tree.root.loss);
  tree.draws = problem.knowledge.belief.weights.size();
  tree.all_looks_kept = search.all_looks_kept();
  return tree;
}

}  // namespace

DecisionTree decision_tree(const LookingProblem& problem, const TreeOptions& options) {
  if (options.depth > deepest) throw DomainError("a decision tree of " + std::to_string(options.depth) + " looks deep");
  if (options.keep == 0) throw DomainError("a decision tree that keeps no look");
  expect_problem(problem);
  const std::size_t draws = problem.knowledge.belief.weights.size();
  const double work = work_of(problem, options);
  if (work <= options.most_work || draws <= fewest_draws) return tree_of(problem, options);
  const double share = options.most_work / work;
  const auto few = std::max(fewest_draws, static_cast<std::size_t>(share * static_cast<double>(draws)));
  DecisionTree tree = tree_of(thinned(problem, few), options);
  tree.thinned = true;
  return tree;
}

std::vector<PairValue> pairs_of_looks(const LookingProblem& problem, std::optional<double> spend_most) {
  expect_problem(problem);
  TreeOptions options;
  options.spend_most = spend_most;
  const LookSearch search{problem, options};
  const auto values = search.pair_values();
  const double now = best_of(search.columns(), sums_of(search.root().standing)).gain;
  std::vector<PairValue> pairs;
  for (std::size_t i = 0; i < values.size(); ++i) {
    for (std::size_t j = i + 1; j < values.size(); ++j) {
      const auto& there = values[i][j];
      const auto& back = values[j][i];
      if (!there || !back) continue;
      pairs.push_back(*there <= *back ? PairValue{i, j, now - *there} : PairValue{j, i, now - *back});
    }
  }
  std::stable_sort(pairs.begin(), pairs.end(),
                   [](const PairValue& a, const PairValue& b) { return a.net_saving > b.net_saving; });
  return pairs;
}

}  // namespace heatside::population
