#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numeric>

#include "heatside/base/error.hpp"
#include "heatside/population/belief.hpp"
#include "population/soft_segments.hpp"

using namespace heatside::population;
using namespace soft_segments;
using Catch::WithinAbs;
using heatside::DomainError;

namespace {

const std::vector<double> vector_a{0.5, 0.0, -0.5, -1.0};

Informed informed(const Knowledge& knowledge, const std::vector<Seen>& findings) {
  return std::get<Informed>(after_findings(knowledge, findings));
}

double chance_cracked(const Knowledge& knowledge, std::size_t segment) {
  const ConditionRow mean = mean_chances(knowledge.belief, knowledge.segments[segment]);
  return mean[3] + mean[4];
}

void check_chances(const Knowledge& knowledge, const std::vector<double>& expected) {
  for (std::size_t j = 0; j < expected.size(); ++j) {
    CAPTURE(j);
    CHECK_THAT(chance_cracked(knowledge, j), WithinAbs(expected[j], 1.0e-6));
  }
}

// All combinations of draw and conditions, weighed one by one.
struct Enumerated {
  double evidence = 0.0;
  std::vector<double> weights;
  std::vector<ConditionRow> chances;
};

Enumerated enumerate(const Knowledge& known, const std::vector<Seen>& findings) {
  const std::size_t segments = known.segments.size();
  Enumerated result{0.0, std::vector<double>(known.belief.weights.size()), std::vector<ConditionRow>(segments)};
  std::size_t combinations = 1;
  for (std::size_t j = 0; j < segments; ++j) combinations *= 5;
  for (std::size_t n = 0; n < known.belief.weights.size(); ++n) {
    for (std::size_t code = 0; code < combinations; ++code) {
      std::vector<std::size_t> condition;
      std::size_t rest = code;
      double chance = known.belief.weights[n];
      for (std::size_t j = 0; j < segments; ++j, rest /= 5) {
        condition.push_back(rest % 5);
        chance *= known.segments[j].by_condition[condition[j]][n];
      }
      for (const Seen& finding : findings) chance *= finding.row[condition[finding.segment]];
      result.evidence += chance;
      result.weights[n] += chance;
      for (std::size_t j = 0; j < segments; ++j) result.chances[j][condition[j]] += chance;
    }
  }
  for (double& weight : result.weights) weight /= result.evidence;
  for (ConditionRow& row : result.chances) {
    for (double& chance : row) chance /= result.evidence;
  }
  return result;
}

}  // namespace

TEST_CASE("belief: one shared factor, against exact integration", "[population][belief]") {
  // One-factor Gaussian copula, correlation 0.4, sensitivity 0.85, specificity 0.95: reference values computed apart from
  // this program on a 4001-point trapezoid. DERIVED (method: Straub & Faber 2005, Structural Safety 27, 335-355).
  const Knowledge prior = one_factor_grid(vector_a, 0.4);
  const OutcomeTable look = yes_or_no(0.85, 0.95);
  check_chances(prior, {0.691462461, 0.500000000, 0.308537539, 0.158655254});

  SECTION("cracks seen at the first segment") {
    const Informed after = informed(prior, {{0, look.outcomes[1]}});
    CHECK_THAT(std::exp(after.ln_evidence), WithinAbs(0.603169969, 1.0e-6));
    check_chances(after.knowledge, {0.974423665, 0.576084203, 0.371657350, 0.198941167});
  }
  SECTION("no cracks seen at the first segment") {
    const Informed after = informed(prior, {{0, look.outcomes[0]}});
    CHECK_THAT(std::exp(after.ln_evidence), WithinAbs(0.396830031, 1.0e-6));
    check_chances(after.knowledge, {0.261369758, 0.384354251, 0.212597283, 0.097421852});
  }
  SECTION("no cracks seen at the first two") {
    const Informed after = informed(prior, {{0, look.outcomes[0]}, {1, look.outcomes[0]}});
    CHECK_THAT(std::exp(after.ln_evidence), WithinAbs(0.254969882, 1.0e-6));
    check_chances(after.knowledge, {0.196736558, 0.089730192, 0.154986880, 0.062591398});
  }
}

TEST_CASE("belief: findings agree with an enumeration of all conditions", "[population][belief]") {
  // Bayes's theorem written out over every combination; own arithmetic of the test.
  const std::size_t segments = GENERATE(1u, 3u, 5u);
  Numbers numbers{11 + segments};
  const Knowledge prior = numbers.knowledge(4, segments);
  std::vector<Seen> findings;
  for (std::size_t j = 0; j < segments; j += 2) findings.push_back({j, numbers.table(3).outcomes[0]});
  findings.push_back({0, numbers.table(2).outcomes[1]});  // a second look at the same place
  const Informed after = informed(prior, findings);
  const Enumerated exact = enumerate(prior, findings);

  CHECK_THAT(after.ln_evidence, WithinAbs(std::log(exact.evidence), 1.0e-12));
  for (std::size_t n = 0; n < exact.weights.size(); ++n) {
    CHECK_THAT(after.knowledge.belief.weights[n], WithinAbs(exact.weights[n], 1.0e-13));
  }
  for (std::size_t j = 0; j < segments; ++j) {
    const ConditionRow mean = mean_chances(after.knowledge.belief, after.knowledge.segments[j]);
    for (std::size_t c = 0; c < 5; ++c) CHECK_THAT(mean[c], WithinAbs(exact.chances[j][c], 1.0e-13));
  }
}

TEST_CASE("belief: what was believed is the average of what will be believed", "[population][belief][property]") {
  // Law of total probability.
  Numbers numbers{GENERATE(1u, 2u, 3u)};
  const Knowledge prior = numbers.knowledge(20, 6);
  const OutcomeTable table = numbers.table(5);
  std::vector<double> average(6, 0.0);
  for (const ConditionRow& row : table.outcomes) {
    const Informed after = informed(prior, {{2, row}});
    for (std::size_t j = 0; j < 6; ++j) average[j] += std::exp(after.ln_evidence) * chance_cracked(after.knowledge, j);
  }
  for (std::size_t j = 0; j < 6; ++j) CHECK_THAT(average[j], WithinAbs(chance_cracked(prior, j), 1.0e-13));
}

TEST_CASE("belief: what says nothing changes nothing", "[population][belief][property]") {
  // An observation that was not made has no likelihood; one that all states give alike has the ratio 1.
  const Knowledge prior = Numbers{5}.knowledge(30, 3);
  SECTION("not seen") {
    const Informed after = informed(prior, {});
    CHECK(after.knowledge.belief.weights == prior.belief.weights);
    CHECK(after.ln_evidence == 0.0);
  }
  SECTION("a row that is the same for all conditions") {
    const Informed after = informed(prior, {{1, {0.3, 0.3, 0.3, 0.3, 0.3}}});
    for (std::size_t n = 0; n < 30; ++n) {
      CHECK_THAT(after.knowledge.belief.weights[n], WithinAbs(prior.belief.weights[n], 1.0e-14));
      CHECK_THAT(after.knowledge.segments[1].by_condition[3][n], WithinAbs(prior.segments[1].by_condition[3][n], 1.0e-14));
    }
  }
}

TEST_CASE("belief: the order of findings and of segments decides nothing", "[population][belief][property]") {
  // Multiplication is commutative.
  Numbers numbers{8};
  const Knowledge prior = numbers.knowledge(25, 4);
  const ConditionRow a = numbers.table(3).outcomes[0], b = numbers.table(3).outcomes[1], c = numbers.table(2).outcomes[0];
  const Informed one = informed(prior, {{0, a}, {2, b}, {0, c}});
  const Informed other = informed(prior, {{0, c}, {0, a}, {2, b}});
  Knowledge turned = prior;
  std::reverse(turned.segments.begin(), turned.segments.end());
  const Informed third = informed(turned, {{3, a}, {1, b}, {3, c}});
  for (std::size_t j = 0; j < 4; ++j) {
    CHECK_THAT(chance_cracked(one.knowledge, j), WithinAbs(chance_cracked(other.knowledge, j), 1.0e-13));
    CHECK_THAT(chance_cracked(one.knowledge, j), WithinAbs(chance_cracked(third.knowledge, 3 - j), 1.0e-13));
  }
  CHECK_THAT(one.ln_evidence, WithinAbs(other.ln_evidence, 1.0e-12));
}

TEST_CASE("belief: very unlikely findings do not underflow", "[population][belief]") {
  // 50 findings of chance 1e-300 and 2e-300: the ratio of weights is 2^50, the evidence far below the smallest double. Own
  // arithmetic of the test.
  const std::vector<std::vector<double>> findings(50, {1.0e-300, 2.0e-300});
  const auto learnt = std::get<Learnt>(learn(even_belief(2), findings));
  CHECK_THAT(learnt.belief.weights[0], Catch::Matchers::WithinRel(std::pow(2.0, -50), 1.0e-10));
  CHECK_THAT(learnt.belief.weights[0] + learnt.belief.weights[1], WithinAbs(1.0, 1.0e-15));
  CHECK_THAT(learnt.ln_evidence, Catch::Matchers::WithinRel(50.0 * std::log(2.0e-300) + std::log(0.5), 1.0e-12));

  // A draw whose chance of the finding is below the smallest normal double: what is left to it is still certain.
  ConditionChances chances = supple_or_cracked({1.0e-310, 0.5});
  chances = after_seeing(chances, {0.0, 0.0, 0.0, 1.0e-5, 0.0});
  CHECK(chances.by_condition[3] == std::vector<double>{1.0, 1.0});
  CHECK(chances.by_condition[0] == std::vector<double>{0.0, 0.0});
}

TEST_CASE("belief: findings that no draw can give are a contradiction, named", "[population][belief][error]") {
  const Knowledge known{even_belief(2), {supple_or_cracked({0.0, 1.0}), supple_or_cracked({0.0, 0.0})}};
  const ConditionRow cracked{0.0, 0.0, 0.0, 1.0, 1.0}, supple{1.0, 0.0, 0.0, 0.0, 0.0};
  // The second finding leaves no draw; the third would be possible.
  const auto result = after_findings(known, {{0, cracked}, {1, cracked}, {1, supple}});
  REQUIRE(std::holds_alternative<Contradiction>(result));
  CHECK(std::get<Contradiction>(result).finding == 1);
  // Each alone is possible for some draw, both are not.
  const auto both = after_findings(known, {{0, cracked}, {0, supple}});
  REQUIRE(std::holds_alternative<Contradiction>(both));
  CHECK(std::get<Contradiction>(both).finding == 1);
  CHECK(std::holds_alternative<Contradiction>(learn(even_belief(3), {{0.0, 0.0, 0.0}})));
  // Draws without weight cannot rescue it.
  CHECK(std::holds_alternative<Contradiction>(learn({{1.0, 0.0}}, {{0.0, 1.0}})));
}

TEST_CASE("belief: a cause that may not be heat says less", "[population][belief]") {
  const Knowledge prior = one_factor_grid({0.0, 0.0}, 0.5);
  const ConditionRow seen{0.05, 0.05, 0.05, 0.85, 0.85};
  const double usual = expected(prior.belief, likelihood(seen, prior.segments[0]));
  const auto other_after = [&](const ConditionRow& row) { return chance_cracked(informed(prior, {{0, row}}).knowledge, 1); };

  SECTION("no share of heat moves nothing, all of it is the finding itself") {
    CHECK_THAT(other_after(perhaps_not_heat(seen, 0.0, usual)), WithinAbs(0.5, 1.0e-12));
    CHECK_THAT(other_after(perhaps_not_heat(seen, 1.0, usual)), WithinAbs(other_after(seen), 1.0e-12));
  }
  SECTION("where the finding is as usual without heat, the answer is the mean of both answers") {
    // Law of total probability with P(heat | seen) = P(heat).
    const double share = GENERATE(0.2, 0.5, 0.9);
    CHECK_THAT(other_after(perhaps_not_heat(seen, share, usual)),
               WithinAbs(share * other_after(seen) + (1.0 - share) * 0.5, 1.0e-12));
  }
}

TEST_CASE("belief: effective number of draws", "[population][belief]") {
  // Kong, Liu & Wong 1994, J. Am. Stat. Assoc. 89, 278-288: 1 / sum of squares; values by hand.
  CHECK_THAT(effective_sample(even_belief(250)), WithinAbs(250.0, 1.0e-9));
  CHECK(effective_sample({{0.0, 1.0, 0.0}}) == 1.0);
  CHECK_THAT(effective_sample({{0.5, 0.25, 0.25}}), WithinAbs(8.0 / 3.0, 1.0e-12));
}

TEST_CASE("belief: weighted quantiles", "[population][belief][quantiles]") {
  SECTION("by hand") {
    // Sorted: 1 (0.2), 2 (0.1), 5 (0.4), 9 (0.3); sums 0.2, 0.3, 0.7, 1.0.
    const Belief belief{{0.4, 0.2, 0.3, 0.1}};
    const std::vector<double> values{5.0, 1.0, 9.0, 2.0};
    CHECK(quantiles(belief, values, {0.0, 0.1, 0.2, 0.25, 0.3, 0.5, 0.7, 0.71, 1.0}) ==
          std::vector<double>{1.0, 1.0, 1.0, 2.0, 2.0, 5.0, 5.0, 9.0, 9.0});
  }
  SECTION("equal weights: the value at the place, definition 1 of Hyndman & Fan 1996, Am. Stat. 50, 361-365") {
    std::vector<double> values(1000);
    std::iota(values.begin(), values.end(), 1.0);
    std::reverse(values.begin() + 300, values.end());
    CHECK(quantiles(even_belief(1000), values, {0.1, 0.5, 0.9}) == std::vector<double>{100.0, 500.0, 900.0});
  }
  SECTION("against a sort, with ties and draws without weight") {
    Numbers numbers{GENERATE(21u, 22u, 23u, 24u)};
    const std::size_t draws = 997;
    Belief belief{std::vector<double>(draws)};
    std::vector<double> values;
    double sum = 0.0;
    for (double& weight : belief.weights) {
      weight = numbers.next() < 0.2 ? 0.0 : numbers.next();
      sum += weight;
      values.push_back(std::floor(200.0 * numbers.next()));
    }
    for (double& weight : belief.weights) weight /= sum;
    const std::vector<double> shares{0.05, 0.1, 0.333, 0.5, 0.9, 0.95};
    const std::vector<double> found = quantiles(belief, values, shares);
    for (std::size_t i = 0; i < shares.size(); ++i) {
      double below = 0.0, upto = 0.0;
      for (std::size_t n = 0; n < draws; ++n) {
        if (values[n] < found[i]) below += belief.weights[n];
        if (values[n] <= found[i]) upto += belief.weights[n];
      }
      CHECK(below < shares[i] + 1.0e-11);
      CHECK(upto > shares[i] - 1.0e-11);
    }
  }
  SECTION("values without end are values") {
    const double never = std::numeric_limits<double>::infinity();
    CHECK(quantiles(even_belief(4), {never, 1.0, never, -never}, {0.25, 0.5, 0.75}) ==
          std::vector<double>{-never, 1.0, never});
  }
}

TEST_CASE("belief: bad numbers are refused", "[population][belief][error]") {
  const ConditionChances chances = supple_or_cracked({0.5, 0.5});
  CHECK_THROWS_AS(even_belief(0), DomainError);
  CHECK_THROWS_AS(likelihood({1.1, 0.0, 0.0, 0.0, 0.0}, chances), DomainError);
  CHECK_THROWS_AS(likelihood({std::nan(""), 0.0, 0.0, 0.0, 0.0}, chances), DomainError);
  CHECK_THROWS_AS(learn(even_belief(2), {{-0.1, 0.5}}), DomainError);
  CHECK_THROWS_AS(learn(even_belief(2), {{0.1, 0.5, 0.5}}), DomainError);
  CHECK_THROWS_AS(learn(even_belief(1), {{std::numeric_limits<double>::infinity()}}), DomainError);
  CHECK_THROWS_AS(after_findings({even_belief(2), {chances}}, {{1, ConditionRow{}}}), DomainError);
  CHECK_THROWS_AS(quantiles(even_belief(1), {1.0}, {0.9, 0.1}), DomainError);
  CHECK_THROWS_AS(quantiles(even_belief(1), {1.0}, {1.5}), DomainError);
  CHECK_THROWS_AS(quantiles(even_belief(1), {std::nan("")}, {0.5}), DomainError);
  CHECK_THROWS_AS(quantiles(even_belief(2), {1.0}, {0.5}), DomainError);
  CHECK_THROWS_AS(perhaps_not_heat(ConditionRow{}, 1.5, 0.1), DomainError);
  CHECK_THROWS_AS(effective_sample({{0.0}}), DomainError);
}
