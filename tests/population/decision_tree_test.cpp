#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <map>

#include "heatside/base/error.hpp"
#include "heatside/population/decision_tree.hpp"
#include "population/soft_segments.hpp"

using namespace heatside::population;
using namespace soft_segments;
using Catch::WithinAbs;
using heatside::DomainError;

namespace {

// Looks at every segment, covers over the first half, harm that grows with the condition.
LookingProblem random_problem(std::uint64_t seed, std::size_t draws, std::size_t segments, std::size_t actions,
                              std::size_t outcomes, double dearness) {
  Numbers numbers{seed};
  LookingProblem problem;
  problem.knowledge = numbers.knowledge(draws, segments);
  problem.choices = {numbers.choice(actions, draws, segments)};
  for (std::size_t k = 0; k < segments; ++k) {
    PricedLook look{{k, numbers.telling_table(outcomes)}, dearness * numbers.between(0.0, 2.0), {}, {}};
    for (std::size_t c = 1; c < 5; ++c) look.harm[c] = look.harm[c - 1] + dearness * numbers.between(0.0, 0.5);
    if (2 * k < segments) look.cover = 0;
    problem.looks.push_back(look);
  }
  problem.cover_prices = {dearness * numbers.between(0.0, 2.0)};
  return problem;
}

// Four segments with one shared factor; keep (400 a cracked segment) or replace (700).
LookingProblem one_factor_problem(std::size_t draws, double price) {
  LookingProblem problem;
  const std::vector<double> z = heatside::normal_draws(heatside::random_quantity(3, "factor"), draws);
  problem.knowledge = {even_belief(draws), one_factor({0.5, 0.0, -0.5, -1.0}, 0.4, z)};
  Action keep{"keep", 0.0, {}, {}};
  for (std::size_t k = 0; k < 4; ++k) {
    keep.segments.push_back({k, {0.0, 0.0, 0.0, 400.0, 400.0}});
    problem.looks.push_back({{k, yes_or_no(0.85, 0.95)}, price, {}, {}});
  }
  problem.choices = {{"loom", {keep, {"replace", 700.0, {}, {}}}}};
  return problem;
}

// Dynamic programming over everything that can have been seen, with the joint distribution of draw and conditions written
// out: a state is, for each segment, 0 (closed) or 1 + outcome. Works on segments that are supple or cracked only.
class DynamicProgramming {
 public:
  explicit DynamicProgramming(const LookingProblem& problem)
      : problem_{problem}, segments_{problem.knowledge.segments.size()} {
    for (std::size_t n = 0; n < problem.knowledge.belief.weights.size(); ++n) {
      for (std::size_t code = 0; code < (std::size_t{1} << segments_); ++code) add_atom(n, code);
    }
  }

  // Expected loss with at most `depth` more looks, times the chance of the state; only `first` may be looked at first.
  double value(const std::vector<std::size_t>& state, std::size_t depth, const std::vector<std::size_t>& first = {}) {
    const auto key = std::make_pair(state, depth);
    if (first.empty()) {
      if (const auto known = known_.find(key); known != known_.end()) return known->second;
    }
    const std::vector<double> chances = chances_of(state);
    double best = stop(chances);
    for (std::size_t k = 0; depth > 0 && k < segments_; ++k) {
      if (state[k] > 0 || (!first.empty() && std::find(first.begin(), first.end(), k) == first.end())) continue;
      best = std::min(best, after_look(state, chances, k, depth));
    }
    if (first.empty()) known_[key] = best;
    return best;
  }

  // One look that is made whatever comes, then at most one other, which is given.
  double pair_value(std::size_t first, std::size_t second) {
    const std::vector<std::size_t> closed(segments_, 0);
    double sum = cost(closed, chances_of(closed), first);
    for (std::size_t y = 0; y < problem_.looks[first].look.table.outcomes.size(); ++y) {
      std::vector<std::size_t> state = closed;
      state[first] = 1 + y;
      sum += value(state, 1, {second});
    }
    return sum;
  }

 private:
  struct Atom {
    double chance;
    std::size_t code;  ///< bit k: segment k is cracked
    std::vector<double> loss;
  };

  std::size_t condition(std::size_t code, std::size_t k) const { return (code >> k) % 2 == 1 ? 3 : 0; }

  void add_atom(std::size_t n, std::size_t code) {
    Atom atom{problem_.knowledge.belief.weights[n], code, {}};
    for (std::size_t k = 0; k < segments_; ++k) {
      atom.chance *= problem_.knowledge.segments[k].by_condition[condition(code, k)][n];
    }
    // All combinations of actions of all choices.
    std::vector<double> sums{0.0};
    for (const Choice& choice : problem_.choices) {
      std::vector<double> longer;
      for (const double sum : sums) {
        for (const Action& action : choice.actions) longer.push_back(sum + loss(action, n, code));
      }
      sums = longer;
    }
    atom.loss = sums;
    atoms_.push_back(atom);
  }

  double loss(const Action& action, std::size_t n, std::size_t code) const {
    double sum = action.fixed + (action.by_draw.empty() ? 0.0 : action.by_draw[n]);
    for (const SegmentLoss& part : action.segments) sum += part.by_condition[condition(code, part.segment)];
    return sum;
  }

  std::vector<double> chances_of(const std::vector<std::size_t>& state) const {
    std::vector<double> chances;
    for (const Atom& atom : atoms_) {
      double chance = atom.chance;
      for (std::size_t k = 0; k < segments_; ++k) {
        if (state[k] > 0) chance *= problem_.looks[k].look.table.outcomes[state[k] - 1][condition(atom.code, k)];
      }
      chances.push_back(chance);
    }
    return chances;
  }

  double stop(const std::vector<double>& chances) const {
    std::vector<double> sums(atoms_[0].loss.size(), 0.0);
    for (std::size_t i = 0; i < atoms_.size(); ++i) {
      for (std::size_t a = 0; a < sums.size(); ++a) sums[a] += chances[i] * atoms_[i].loss[a];
    }
    return *std::min_element(sums.begin(), sums.end());
  }

  double cost(const std::vector<std::size_t>& state, const std::vector<double>& chances, std::size_t k) const {
    const PricedLook& look = problem_.looks[k];
    double price = look.price;
    bool off = false;
    for (std::size_t j = 0; j < segments_; ++j) off = off || (state[j] > 0 && problem_.looks[j].cover == look.cover);
    if (look.cover && !off) price += problem_.cover_prices[*look.cover];
    double sum = 0.0;
    for (std::size_t i = 0; i < atoms_.size(); ++i) sum += chances[i] * (price + look.harm[condition(atoms_[i].code, k)]);
    return sum;
  }

  double after_look(std::vector<std::size_t> state, const std::vector<double>& chances, std::size_t k, std::size_t depth) {
    double sum = cost(state, chances, k);
    for (std::size_t y = 0; y < problem_.looks[k].look.table.outcomes.size(); ++y) {
      state[k] = 1 + y;
      sum += value(state, depth - 1);
    }
    return sum;
  }

  const LookingProblem& problem_;
  std::size_t segments_;
  std::vector<Atom> atoms_;
  std::map<std::pair<std::vector<std::size_t>, std::size_t>, double> known_;
};

// Makes every segment supple or cracked.
LookingProblem two_conditions(LookingProblem problem) {
  for (ConditionChances& segment : problem.knowledge.segments) {
    std::vector<double> cracked = segment.by_condition[3];
    for (std::size_t n = 0; n < cracked.size(); ++n)
      cracked[n] += segment.by_condition[4][n] + 0.5 * segment.by_condition[2][n];
    segment = supple_or_cracked(cracked);
  }
  return problem;
}

std::size_t looks_on_longest_way(const TreeNode& node) {
  std::size_t most = 0;
  for (const TreeBranch& branch : node.branches) most = std::max(most, looks_on_longest_way(branch.next));
  return node.look ? most + 1 : 0;
}

// What a tree says of itself must add up.
double check_node(const LookingProblem& problem, const TreeNode& node, std::vector<std::size_t> made) {
  CHECK(node.loss <= node.loss_if_chosen + 1.0e-9);
  if (!node.look) {
    CHECK(node.branches.empty());
    return node.chance;
  }
  const std::size_t look = *node.look;
  CHECK(std::find(made.begin(), made.end(), look) == made.end());
  made.push_back(look);
  std::vector<std::size_t> outcomes;
  double chance = 0.0, ends = 0.0;
  for (const TreeBranch& branch : node.branches) {
    CHECK(std::is_sorted(branch.outcomes.begin(), branch.outcomes.end()));
    outcomes.insert(outcomes.end(), branch.outcomes.begin(), branch.outcomes.end());
    CHECK_THAT(branch.next.chance, WithinAbs(branch.chance * node.chance, 1.0e-12));
    chance += branch.chance;
    ends += check_node(problem, branch.next, made);
  }
  CHECK_THAT(chance, WithinAbs(1.0, 1.0e-9));
  std::sort(outcomes.begin(), outcomes.end());
  CHECK(outcomes.size() == problem.looks[look].look.table.outcomes.size());
  CHECK(std::adjacent_find(outcomes.begin(), outcomes.end()) == outcomes.end());
  return ends;
}

}  // namespace

TEST_CASE("decision tree: agrees with dynamic programming over everything that can be seen", "[population][tree]") {
  // Dynamic programming on the written-out joint distribution, 3^n states: oracle of the test.
  const std::size_t segments = GENERATE(1u, 3u, 6u, 8u);
  const auto seed = GENERATE(1u, 2u);
  CAPTURE(segments, seed);
  const LookingProblem problem = two_conditions(random_problem(10 * segments + seed, 3, segments, 2 + seed % 2, 2, 4.0));
  DynamicProgramming exact{problem};
  const std::vector<std::size_t> closed(segments, 0);
  const double now = exact.value(closed, 0);

  SECTION("as deep as there are segments") {
    TreeOptions options;
    options.depth = segments;
    options.keep = segments;
    const DecisionTree tree = decision_tree(problem, options);
    const double saving = now - exact.value(closed, segments);
    CHECK_THAT(tree.root.loss_if_chosen, WithinAbs(now, 1.0e-9));
    CHECK_THAT(tree.net_saving, WithinAbs(saving, 1.0e-9));
    CHECK(tree.all_looks_kept);
    CHECK_FALSE(tree.thinned);
    CHECK_THAT(check_node(problem, tree.root, {}), WithinAbs(1.0, 1.0e-9));
  }
  SECTION("three deep, all looks kept, and the six best") {
    const double saving = now - exact.value(closed, 3);
    TreeOptions all;
    all.keep = 8;
    const DecisionTree full = decision_tree(problem, all), six = decision_tree(problem);
    CHECK_THAT(full.net_saving, WithinAbs(saving, 1.0e-9));
    CHECK(six.net_saving <= saving + 1.0e-9);
    CHECK(six.net_saving >= 0.95 * saving - 1.0e-9);
    CHECK(six.all_looks_kept == (segments <= 6));
    CHECK(looks_on_longest_way(full.root) <= 3);
    CHECK_THAT(check_node(problem, six.root, {}), WithinAbs(1.0, 1.0e-9));
  }
  SECTION("two at a time") {
    for (const PairValue& pair : pairs_of_looks(problem)) {
      CAPTURE(pair.first, pair.second);
      const double there = exact.pair_value(pair.first, pair.second), back = exact.pair_value(pair.second, pair.first);
      CHECK_THAT(now - pair.net_saving, WithinAbs(std::min(there, back), 1.0e-9));
      CHECK(there <= back + 1.0e-9);
    }
  }
}

TEST_CASE("decision tree: the problems of the check above ask for looks", "[population][tree]") {
  // Otherwise the agreement would be one of zeros.
  std::size_t looking = 0;
  for (std::uint64_t seed = 1; seed <= 2; ++seed) {
    for (const std::size_t segments : {3u, 6u, 8u}) {
      const LookingProblem problem = two_conditions(random_problem(10 * segments + seed, 3, segments, 2 + seed % 2, 2, 4.0));
      const DecisionTree tree = decision_tree(problem);
      if (tree.root.look && looks_on_longest_way(tree.root) > 1) ++looking;
    }
  }
  CHECK(looking >= 3);
}

TEST_CASE("decision tree: choices side by side, against one choice among all combinations", "[population][tree]") {
  // The oracle writes the combinations of actions out.
  Numbers numbers{5};
  LookingProblem problem = two_conditions(random_problem(31, 4, 5, 2, 2, 3.0));
  problem.choices.push_back(numbers.choice(3, 4, 5));
  DynamicProgramming exact{problem};
  const std::vector<std::size_t> closed(5, 0);
  const DecisionTree tree = decision_tree(problem);
  CHECK_THAT(tree.root.loss_if_chosen, WithinAbs(exact.value(closed, 0), 1.0e-9));
  CHECK_THAT(tree.root.loss, WithinAbs(exact.value(closed, 3), 1.0e-9));
  CHECK(tree.root.actions.size() == 2);
}

TEST_CASE("decision tree: one look deep is the best single look", "[population][tree]") {
  // Raiffa & Schlaifer 1961 (from memory): saving less cost of each look.
  const LookingProblem problem = random_problem(GENERATE(3u, 4u, 5u), 30, 6, 3, 4, 5.0);
  TreeOptions options;
  options.depth = 1;
  double best = 0.0;
  for (const PricedLook& look : problem.looks) {
    const ConditionRow chances = mean_chances(problem.knowledge.belief, problem.knowledge.segments[look.look.segment]);
    double cost = look.price + (look.cover ? problem.cover_prices[*look.cover] : 0.0);
    for (std::size_t c = 0; c < 5; ++c) cost += chances[c] * look.harm[c];
    best = std::max(best, value_of_look(problem.knowledge, problem.choices, look.look).saving - cost);
  }
  CHECK_THAT(decision_tree(problem, options).net_saving, WithinAbs(best, 1.0e-9));
  options.depth = 0;
  const DecisionTree none = decision_tree(problem, options);
  CHECK(none.net_saving == 0.0);
  CHECK_FALSE(none.root.look.has_value());
}

TEST_CASE("decision tree: laws that hold for every tree", "[population][tree][property]") {
  const auto seed = GENERATE(range(50u, 56u));
  const LookingProblem problem = random_problem(seed, 24, 7, 2, 3, 3.0);
  const DecisionTree tree = decision_tree(problem);

  SECTION("it adds up, and is worth no more than knowing everything") {
    CHECK_THAT(check_node(problem, tree.root, {}), WithinAbs(1.0, 1.0e-9));
    CHECK(tree.net_saving >= 0.0);
    CHECK(tree.net_saving <= perfect_information(problem.knowledge, problem.choices).saving + 1.0e-9);
    CHECK_THAT(tree.root.loss_if_chosen - tree.root.loss, WithinAbs(tree.net_saving, 1.0e-9));
    CHECK_THAT(tree.root.loss_if_chosen, WithinAbs(expected_losses(problem.knowledge, problem.choices).least, 1.0e-9));
  }
  SECTION("a deeper tree is not worse, a dearer look not better") {
    TreeOptions shallow;
    shallow.depth = 2;
    shallow.keep = 7;
    TreeOptions deep = shallow;
    deep.depth = 3;
    const double two = decision_tree(problem, shallow).net_saving, three = decision_tree(problem, deep).net_saving;
    CHECK(three >= two - 1.0e-9);
    LookingProblem dearer = problem;
    for (PricedLook& look : dearer.looks) look.price += 1.0;
    CHECK(decision_tree(dearer, deep).net_saving <= three + 1.0e-9);
  }
  SECTION("a further segment that costs nothing and shares no draw changes nothing") {
    LookingProblem more = problem;
    more.knowledge.segments.push_back(supple_or_cracked(std::vector<double>(24, 0.3)));
    more.looks.push_back({{7, problem.looks[0].look.table}, 1.0, {}, {}});
    TreeOptions all;
    all.keep = 8;
    const DecisionTree before = decision_tree(problem, all), after = decision_tree(more, all);
    CHECK_THAT(after.net_saving, WithinAbs(before.net_saving, 1.0e-10));
    CHECK(after.root.look == before.root.look);
  }
  SECTION("turning round the looks changes nothing") {
    LookingProblem turned = problem;
    std::reverse(turned.looks.begin(), turned.looks.end());
    const DecisionTree other = decision_tree(turned);
    CHECK_THAT(other.net_saving, WithinAbs(tree.net_saving, 1.0e-10));
    REQUIRE(other.root.look.has_value() == tree.root.look.has_value());
    if (tree.root.look) CHECK(*other.root.look == 6 - *tree.root.look);
  }
}

TEST_CASE("decision tree: a limit on what is spent is kept on every way", "[population][tree]") {
  LookingProblem problem = one_factor_problem(200, 0.01);
  problem.cover_prices = {0.025};
  problem.looks[0].cover = problem.looks[1].cover = 0;
  const auto longest = [&](double limit) {
    TreeOptions options;
    options.spend_most = limit;
    return looks_on_longest_way(decision_tree(problem, options).root);
  };
  CHECK(longest(1.0) == 3);
  CHECK(longest(0.005) == 0);
  CHECK(longest(0.0101) == 1);
  CHECK(longest(0.0201) == 2);
  CHECK(pairs_of_looks(problem, 0.0101).empty());
  CHECK(pairs_of_looks(problem, 0.0201).size() == 1);  // of the two looks without a cover
  CHECK(pairs_of_looks(problem, 0.0451).size() == 6);
}

TEST_CASE("decision tree: opening one place below a cover makes the others cheap", "[population][tree]") {
  // Sure looks at two segments of one factor under a dear cover. By hand: the second costs only its own price.
  LookingProblem problem;
  problem.knowledge = {even_belief(1), {supple_or_cracked({0.5}), supple_or_cracked({0.5})}};
  Action keep{"keep", 0.0, {}, {{0, {0.0, 0.0, 0.0, 60.0, 60.0}}, {1, {0.0, 0.0, 0.0, 60.0, 60.0}}}};
  problem.choices = {{"loom", {keep, {"replace", 110.0, {}, {}}}}};
  const OutcomeTable sure = yes_or_no(1.0, 1.0);
  problem.looks = {{{0, sure}, 0.2, {}, 0}, {{1, sure}, 0.2, {}, 0}};
  problem.cover_prices = {1.0};
  const std::vector<PairValue> pairs = pairs_of_looks(problem);
  REQUIRE(pairs.size() == 1);
  // Worth 10/4; the cover and the first look for certain, the second after a crack, which has chance 1/2.
  CHECK_THAT(pairs[0].net_saving, WithinAbs(2.5 - 1.2 - 0.1, 1.0e-12));
  CHECK(decision_tree(problem).net_saving == Approx(1.2));
  problem.looks[1].cover = 1;
  problem.cover_prices = {1.0, 1.0};
  CHECK_THAT(pairs_of_looks(problem)[0].net_saving, WithinAbs(2.5 - 1.2 - 0.6, 1.0e-12));
}

TEST_CASE("decision tree: with fewer draws it says so and stays close", "[population][tree]") {
  const std::size_t draws = 4000;
  const LookingProblem problem = one_factor_problem(draws, 10.0);
  const DecisionTree full = decision_tree(problem);
  TreeOptions quick;
  quick.most_work = 1.0e5;
  const DecisionTree thin = decision_tree(problem, quick);
  CHECK_FALSE(full.thinned);
  CHECK(full.draws == draws);
  CHECK(thin.thinned);
  CHECK(thin.draws < draws);
  CHECK(thin.draws >= 500);
  CHECK_THAT(thin.net_saving, WithinAbs(full.net_saving, 0.15 * full.net_saving));
  CHECK(full.net_saving > 90.0);
}

TEST_CASE("decision tree: fewer draws are taken by their weight", "[population][tree]") {
  // Draws of a factor shifted by 0.8 and weighed back, against plain draws: importance sampling, Kong, Liu & Wong 1994.
  const std::size_t draws = 4000;
  LookingProblem plain = one_factor_problem(draws, 10.0), weighed = plain;
  std::vector<double> z = heatside::normal_draws(heatside::random_quantity(4, "factor"), draws);
  double sum = 0.0;
  for (std::size_t n = 0; n < draws; ++n) {
    z[n] += 0.8;
    sum += weighed.knowledge.belief.weights[n] = std::exp(0.5 * 0.8 * 0.8 - 0.8 * z[n]);
  }
  for (double& weight : weighed.knowledge.belief.weights) weight /= sum;
  weighed.knowledge.segments = one_factor({0.5, 0.0, -0.5, -1.0}, 0.4, z);
  TreeOptions quick;
  quick.most_work = 1.0e6;
  const DecisionTree thin = decision_tree(weighed, quick);
  REQUIRE(thin.thinned);
  // The exact loss is 663.46 (see the value of information); without the weights it would be the 700 of replacing.
  CHECK_THAT(thin.root.loss_if_chosen, WithinAbs(663.46, 25.0));
  CHECK(thin.root.actions == std::vector<std::size_t>{0});
  CHECK_THAT(thin.net_saving, WithinAbs(decision_tree(plain).net_saving, 25.0));
}

TEST_CASE("decision tree: the first look is chosen for what comes after it", "[population][tree]") {
  // By hand: two looks that pay only together, 2.5 less 0.5 for the first and half of 0.5 for the second; and four that pay
  // at once, 0.25 each (leaving or mending costs 0.5, knowing costs 0.25) less 0.2.
  LookingProblem problem;
  const OutcomeTable sure = yes_or_no(1.0, 1.0);
  Action keep{"keep", 0.0, {}, {}};
  for (std::size_t k = 0; k < 6; ++k) {
    problem.knowledge.segments.push_back(supple_or_cracked({0.5}));
    if (k < 2) {
      keep.segments.push_back({k, {0.0, 0.0, 0.0, 60.0, 60.0}});
      problem.looks.push_back({{k, sure}, 0.5, {}, {}});
    } else {
      const Action leave{"leave", 0.0, {}, {{k, {0.0, 0.0, 0.0, 1.0, 1.0}}}};
      problem.choices.push_back({"patch", {leave, {"mend", 0.5, {}, {}}}});
      problem.looks.push_back({{k, sure}, 0.2, {}, {}});
    }
  }
  problem.knowledge.belief = even_belief(1);
  problem.choices.push_back({"loom", {keep, {"replace", 110.0, {}, {}}}});
  TreeOptions narrow;
  narrow.keep = 1;
  const DecisionTree tree = decision_tree(problem, narrow);
  REQUIRE(tree.root.look.has_value());
  CHECK(*tree.root.look < 2);
  // 1.75; after a crack one small look follows the pair, without one two do: 0.05 and 0.1 half the time.
  CHECK_THAT(tree.net_saving, WithinAbs(1.75 + 0.5 * 0.05 + 0.5 * 0.1, 1.0e-12));
  CHECK_FALSE(tree.all_looks_kept);
}

TEST_CASE("decision tree: outcomes that ask for the same are one branch", "[population][tree]") {
  // Five outcomes of a sure look, two actions: below and from `cracked` on.
  LookingProblem problem;
  ConditionChances even;
  for (std::vector<double>& list : even.by_condition) list = {0.2};
  problem.knowledge = {even_belief(1), {even}};
  problem.choices = {{"loom", {{"keep", 0.0, {}, {{0, {0.0, 0.0, 0.0, 100.0, 200.0}}}}, {"replace", 50.0, {}, {}}}}};
  OutcomeTable sure;
  for (std::size_t c = 0; c < 5; ++c) {
    sure.outcomes.push_back({});
    sure.outcomes.back()[c] = 1.0;
  }
  problem.looks = {{{0, sure}, 1.0, {}, {}}};
  const DecisionTree tree = decision_tree(problem);
  REQUIRE(tree.root.look == 0u);
  REQUIRE(tree.root.branches.size() == 2);
  CHECK(tree.root.branches[0].outcomes == std::vector<std::size_t>{0, 1, 2});
  CHECK(tree.root.branches[1].outcomes == std::vector<std::size_t>{3, 4});
  CHECK_THAT(tree.root.branches[0].chance, WithinAbs(0.6, 1.0e-12));
  CHECK(tree.root.branches[1].next.actions == std::vector<std::size_t>{1});
  // By hand: 50 now; after the look 0.4 * 50, and the look's price.
  CHECK_THAT(tree.root.loss_if_chosen, WithinAbs(50.0, 1.0e-12));
  CHECK_THAT(tree.root.loss, WithinAbs(21.0, 1.0e-12));
}

TEST_CASE("decision tree: bad problems are refused", "[population][tree][error]") {
  const LookingProblem good = random_problem(1, 3, 2, 2, 2, 1.0);
  const auto refused = [&](auto&& spoil) {
    LookingProblem bad = good;
    spoil(bad);
    CHECK_THROWS_AS(decision_tree(bad), DomainError);
    CHECK_THROWS_AS(pairs_of_looks(bad), DomainError);
  };
  refused([](LookingProblem& p) { p.looks[0].look.segment = 2; });
  refused([](LookingProblem& p) { p.looks[0].cover = 1; });
  refused([](LookingProblem& p) { p.looks[0].price = -1.0; });
  refused([](LookingProblem& p) { p.cover_prices[0] = std::numeric_limits<double>::quiet_NaN(); });
  refused([](LookingProblem& p) { p.looks[1].look.table.outcomes.pop_back(); });
  refused([](LookingProblem& p) { p.choices[0].actions.clear(); });
  TreeOptions options;
  options.depth = 9;
  CHECK_THROWS_AS(decision_tree(good, options), DomainError);
  options = {};
  options.keep = 0;
  CHECK_THROWS_AS(decision_tree(good, options), DomainError);
}
