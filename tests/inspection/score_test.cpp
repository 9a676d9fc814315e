#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>
#include <utility>

#include "heatside/base/error.hpp"
#include "heatside/base/random.hpp"
#include "heatside/inspection/score.hpp"

using namespace heatside::inspection;
using Catch::WithinAbs;
using Catch::Matchers::WithinRel;
using heatside::DomainError;
using heatside::Kelvin;
using heatside::RandomQuantity;
using heatside::ageing::Condition;
using heatside::casefile::Cause;
using heatside::casefile::Finding;
using heatside::casefile::Prediction;
using heatside::library::Seen;

namespace {

constexpr std::size_t conditions = heatside::library::condition_count;
using Scores = std::array<double, rule_count>;

heatside::Date day(const char* text) { return *heatside::parse_date(text); }

Look look(const Chances& chances, Condition seen, std::size_t job = 0) {
  Look made;
  made.job = job;
  made.seen = seen;
  made.chances = chances;
  return made;
}

Chances random_chances(const RandomQuantity& quantity, std::size_t number) {
  Chances chances{};
  for (std::size_t i = 0; i < conditions; ++i)
    chances[i] = -std::log(heatside::uniform_draw(quantity, conditions * number + i));
  const double sum = std::accumulate(chances.begin(), chances.end(), 0.0);
  for (double& chance : chances) chance /= sum;
  return chances;
}

Condition drawn_condition(const Chances& chances, double uniform) {
  std::size_t i = 0;
  for (double up_to = chances[0]; uniform > up_to && i + 1 < conditions; up_to += chances[++i]) {
  }
  return static_cast<Condition>(i);
}

// The chances raised to a power and summed to 1 again: above 1 too sure, below 1 too timid.
Chances sharpened(Chances chances, double power) {
  for (double& chance : chances) chance = std::pow(chance, power);
  const double sum = std::accumulate(chances.begin(), chances.end(), 0.0);
  for (double& chance : chances) chance /= sum;
  return chances;
}

// Half of each chance moved to the next worse condition.
Chances gloomier(const Chances& chances) {
  Chances moved{};
  for (std::size_t i = 0; i < conditions; ++i) {
    moved[i] += 0.5 * chances[i];
    moved[std::min(i + 1, conditions - 1)] += 0.5 * chances[i];
  }
  return moved;
}

Finding finding(const char* segment, Seen seen, const char* on, Cause cause = Cause::heat) {
  Finding made;
  made.segment = segment;
  made.seen = seen;
  made.method = "look-boot";
  made.cause = cause;
  made.on = day(on);
  return made;
}

Prediction prediction(const char* pointer, const char* on, const char* stored, std::vector<std::string> segments,
                      double cracked) {
  Prediction made;
  made.pointer = pointer;
  made.on = day(on);
  made.stored = stored;
  for (std::string& segment : segments)
    made.segments.push_back({std::move(segment), {1.0 - cracked, 0.0, 0.0, cracked, 0.0}});
  return made;
}

const RuleScore& of(const Score& score, Rule rule) { return score.rules[static_cast<std::size_t>(rule)]; }

// Four of ten cracked, two conditions seen; the chances are the forecaster's own.
std::vector<Look> ten_looks(const Chances& where_cracked, const Chances& where_supple) {
  std::vector<Look> looks;
  for (std::size_t i = 0; i < 10; ++i) {
    looks.push_back(i < 4 ? look(where_cracked, Condition::cracked) : look(where_supple, Condition::supple));
  }
  return looks;
}

}  // namespace

TEST_CASE("score: each rule by hand", "[inspection][score]") {
  // Definitions: Brier 1950, Good 1952, Epstein 1969 in its mean-over-borders form (from memory); own arithmetic of the
  // test.
  const Chances chances{0.1, 0.2, 0.3, 0.25, 0.15};
  const Scores cracked = scores_of(chances, Condition::cracked);
  CHECK_THAT(cracked[0], WithinAbs(0.36, 1e-12));  // (0.4 - 1)^2
  CHECK_THAT(cracked[1], WithinAbs(-std::log(0.4), 1e-12));
  CHECK_THAT(cracked[2], WithinAbs(0.01 + 0.04 + 0.09 + 0.5625 + 0.0225, 1e-12));
  CHECK_THAT(cracked[3], WithinAbs(-std::log(0.25), 1e-12));
  CHECK_THAT(cracked[4], WithinAbs((0.01 + 0.09 + 0.36 + 0.0225) / 4.0, 1e-12));

  const Scores stiff = scores_of(chances, Condition::stiff);
  CHECK_THAT(stiff[0], WithinAbs(0.16, 1e-12));
  CHECK_THAT(stiff[1], WithinAbs(-std::log(0.6), 1e-12));
  CHECK_THAT(stiff[4], WithinAbs((0.01 + 0.49 + 0.16 + 0.0225) / 4.0, 1e-12));
}

TEST_CASE("score: the ranked score is Epstein's turned round", "[inspection][score]") {
  // Epstein 1969 gives, for K classes and class j observed (from memory):
  //   S = 3/2 - 1/(2(K-1)) sum_{i<K} [ (p_1+..+p_i)^2 + (p_{i+1}+..+p_K)^2 ] - 1/(K-1) sum_i |i-j| p_i, best at 1.
  const RandomQuantity quantity = heatside::random_quantity(0, "epstein");
  for (std::size_t number = 0; number < 100; ++number) {
    const Chances chances = random_chances(quantity, number);
    for (std::size_t seen = 0; seen < conditions; ++seen) {
      double score = 1.5, up_to = 0.0;
      for (std::size_t i = 0; i < conditions; ++i) {
        up_to += chances[i];
        if (i + 1 < conditions) score -= (up_to * up_to + (1.0 - up_to) * (1.0 - up_to)) / 8.0;
        score -= std::abs(static_cast<double>(i) - static_cast<double>(seen)) * chances[i] / 4.0;
      }
      CHECK_THAT(scores_of(chances, static_cast<Condition>(seen))[4], WithinAbs(1.0 - score, 1e-12));
    }
  }
}

TEST_CASE("score: one condition off costs the ranked score least", "[inspection][score]") {
  // Own arithmetic: a certain forecast that is d conditions off costs d/4.
  for (std::size_t seen = 0; seen < conditions; ++seen) {
    const Chances supple{1.0, 0.0, 0.0, 0.0, 0.0};
    CHECK_THAT(scores_of(supple, static_cast<Condition>(seen))[4], WithinAbs(static_cast<double>(seen) / 4.0, 1e-12));
  }
}

TEST_CASE("score: certain and right costs nothing, certain and wrong is capped", "[inspection][score]") {
  // The cap of 1e-6 is a rule of this project.
  const Chances sure{0.0, 0.0, 0.0, 1.0, 0.0};
  const Scores right = scores_of(sure, Condition::cracked);
  CHECK(right[0] == 0.0);
  CHECK(right[2] == 0.0);
  CHECK(right[4] == 0.0);
  CHECK_THAT(right[1], WithinAbs(-std::log1p(-1.0e-6), 1e-15));
  CHECK_THAT(right[3], WithinAbs(-std::log1p(-1.0e-6), 1e-15));

  const Scores wrong = scores_of(sure, Condition::supple);
  CHECK(wrong[0] == 1.0);
  CHECK(wrong[2] == 2.0);
  CHECK_THAT(wrong[1], WithinRel(std::log(1.0e6), 1e-9));
  CHECK_THAT(wrong[3], WithinRel(std::log(1.0e6), 1e-9));
  CHECK(score_of({look(sure, Condition::supple), look({0.2, 0.2, 0.2, 0.2, 0.2}, Condition::supple)}).certain == 1);
}

TEST_CASE("score: chances that are none are refused", "[inspection][score]") {
  CHECK_THROWS_AS(scores_of({0.5, 0.5, 0.5, 0.0, 0.0}, Condition::supple), DomainError);
  CHECK_THROWS_AS(scores_of({1.5, -0.5, 0.0, 0.0, 0.0}, Condition::supple), DomainError);
  CHECK_THROWS_AS(scores_of({std::nan(""), 1.0, 0.0, 0.0, 0.0}, Condition::supple), DomainError);
}

TEST_CASE("score: no other forecast is better on average than the truth", "[inspection][score][property]") {
  // Proper scores: Brier 1950, Good 1952; Murphy 1969 for the ranked one (from memory). By simulation, same outcomes for
  // all.
  const RandomQuantity truths = heatside::random_quantity(1, "truth"), outcomes = heatside::random_quantity(1, "outcome");
  constexpr std::size_t looks = 20000;
  std::array<Scores, 5> sums{};
  for (std::size_t i = 0; i < looks; ++i) {
    const Chances truth = random_chances(truths, i);
    const Condition seen = drawn_condition(truth, heatside::uniform_draw(outcomes, i));
    const std::array<Chances, 5> said{
        truth, sharpened(truth, 1.6), sharpened(truth, 0.5), gloomier(truth), {0.2, 0.2, 0.2, 0.2, 0.2}};
    for (std::size_t who = 0; who < said.size(); ++who) {
      const Scores scores = scores_of(said[who], seen);
      for (std::size_t rule = 0; rule < rule_count; ++rule) sums[who][rule] += scores[rule] / looks;
    }
  }
  for (std::size_t who = 1; who < sums.size(); ++who) {
    for (std::size_t rule = 0; rule < rule_count; ++rule) {
      CAPTURE(who, rule);
      CHECK(sums[0][rule] < sums[who][rule]);
    }
  }
}

TEST_CASE("score: the truth is best for every pair of chances", "[inspection][score][property]") {
  // Exact expectation instead of a simulation; own arithmetic of the test.
  const RandomQuantity quantity = heatside::random_quantity(2, "pairs");
  for (std::size_t number = 0; number < 200; ++number) {
    const Chances truth = random_chances(quantity, 2 * number), other = random_chances(quantity, 2 * number + 1);
    Scores honest{}, dishonest{};
    for (std::size_t seen = 0; seen < conditions; ++seen) {
      for (std::size_t rule = 0; rule < rule_count; ++rule) {
        honest[rule] += truth[seen] * scores_of(truth, static_cast<Condition>(seen))[rule];
        dishonest[rule] += truth[seen] * scores_of(other, static_cast<Condition>(seen))[rule];
      }
    }
    for (std::size_t rule = 0; rule < rule_count; ++rule) CHECK(honest[rule] <= dishonest[rule] + 1e-12);
  }
}

TEST_CASE("score: a perfect forecaster has all the skill there is", "[inspection][score]") {
  // Own arithmetic: Brier of the base rate f is f (1 - f), over the five conditions 1 - sum of f_j^2.
  const Score score = score_of(ten_looks({0.0, 0.0, 0.0, 1.0, 0.0}, {1.0, 0.0, 0.0, 0.0, 0.0}));
  CHECK(score.looks == 10);
  CHECK(score.cracked == 4);
  CHECK_THAT(score.said_cracked, WithinAbs(4.0, 1e-12));
  CHECK(of(score, Rule::cracked_brier).mean == 0.0);
  CHECK_THAT(of(score, Rule::cracked_brier).base, WithinAbs(0.24, 1e-12));
  CHECK_THAT(of(score, Rule::cracked_log).base, WithinAbs(-0.4 * std::log(0.4) - 0.6 * std::log(0.6), 1e-12));
  CHECK_THAT(of(score, Rule::conditions_brier).base, WithinAbs(1.0 - 0.36 - 0.16, 1e-12));
  CHECK_THAT(of(score, Rule::conditions_ranked).base, WithinAbs(3.0 * 0.24 / 4.0, 1e-12));
  for (const RuleScore& rule : score.rules) {
    REQUIRE(rule.skill);
    CHECK_THAT(*rule.skill, WithinAbs(1.0, 1e-5));
  }
}

TEST_CASE("score: a constant forecaster at the base rate has no skill", "[inspection][score]") {
  // Own arithmetic of the test.
  const Chances rate{0.6, 0.0, 0.0, 0.4, 0.0};
  for (const RuleScore& rule : score_of(ten_looks(rate, rate)).rules) {
    CHECK_THAT(rule.mean, WithinAbs(rule.base, 1e-12));
    REQUIRE(rule.skill);
    CHECK_THAT(*rule.skill, WithinAbs(0.0, 1e-12));
  }
  // At one half instead: 1 - 0.25/0.24.
  const Chances half{0.5, 0.0, 0.0, 0.5, 0.0};
  CHECK_THAT(*of(score_of(ten_looks(half, half)), Rule::cracked_brier).skill, WithinAbs(-1.0 / 24.0, 1e-12));
}

TEST_CASE("score: no skill where all looks came out alike", "[inspection][score]") {
  const Chances chances{0.1, 0.2, 0.3, 0.25, 0.15};
  const std::vector<Look> cracked(12, look(chances, Condition::cracked));
  for (const RuleScore& rule : score_of(cracked).rules) {
    CHECK_FALSE(rule.skill);
    CHECK_FALSE(rule.skill_interval);
    CHECK(rule.mean_interval);
  }
  std::vector<Look> both = cracked;
  both.push_back(look(chances, Condition::crumbling));
  CHECK_FALSE(of(score_of(both), Rule::cracked_brier).skill);
  CHECK(of(score_of(both), Rule::conditions_ranked).skill);
}

TEST_CASE("score: nothing to score", "[inspection][score]") {
  const Score score = score_of({});
  CHECK(score.looks == 0);
  CHECK_FALSE(score.enough());
  CHECK_FALSE(score.orders);
}

TEST_CASE("score: groups by chance", "[inspection][score]") {
  // Borders at a third and two thirds belong to the group above; own arithmetic of the test.
  const auto at = [](double cracked, Condition seen) { return look({1.0 - cracked, 0.0, 0.0, cracked, 0.0}, seen); };
  const Score score =
      score_of({at(0.0, Condition::supple), at(0.3, Condition::cracked), at(1.0 / 3.0, Condition::supple),
                at(0.5, Condition::crumbling), at(2.0 / 3.0, Condition::cracked), at(1.0, Condition::cracked)});
  CHECK(score.groups[0].looks == 2);
  CHECK(score.groups[0].cracked == 1);
  CHECK_THAT(score.groups[0].said, WithinAbs(0.3, 1e-12));
  CHECK(score.groups[1].looks == 2);
  CHECK(score.groups[1].cracked == 1);
  CHECK(score.groups[2].looks == 2);
  CHECK(score.groups[2].cracked == 2);
  CHECK_THAT(score.said_cracked, WithinAbs(2.8, 1e-12));
}

TEST_CASE("score: intervals from ten looks on, the same every time", "[inspection][score]") {
  const RandomQuantity said = heatside::random_quantity(5, "said"), came = heatside::random_quantity(5, "came");
  std::vector<Look> looks;
  for (std::size_t i = 0; i < 10; ++i) {
    const Chances chances = random_chances(said, i);
    looks.push_back(look(chances, drawn_condition(chances, heatside::uniform_draw(came, i))));
  }
  const Score score = score_of(looks), again = score_of(looks), other = score_of(looks, {.seed = 1});
  for (std::size_t rule = 0; rule < rule_count; ++rule) {
    REQUIRE(score.rules[rule].mean_interval);
    const Interval interval = *score.rules[rule].mean_interval;
    CHECK(interval.low < score.rules[rule].mean);
    CHECK(interval.high > score.rules[rule].mean);
    CHECK(interval.low == again.rules[rule].mean_interval->low);
    CHECK(interval.high == again.rules[rule].mean_interval->high);
    CHECK(interval.low != other.rules[rule].mean_interval->low);
  }
  looks.pop_back();
  CHECK_FALSE(score_of(looks).enough());
  for (const RuleScore& rule : score_of(looks).rules) CHECK_FALSE(rule.mean_interval);
}

TEST_CASE("score: nine in ten intervals hold the true mean, nearly", "[inspection][score][property]") {
  // Percentile bootstrap, Efron 1979 (from memory). With 40 looks it covers a little less than it says; three standard
  // errors of 300 studies are 5 %.
  const Chances said{0.3, 0.1, 0.1, 0.3, 0.2}, truth{0.5, 0.1, 0.1, 0.2, 0.1};
  const double expected = 0.3 * 0.25 + 0.7 * 0.25;  // chance of cracked or worse: said 0.5, true 0.3
  double expected_ranked = 0.0;
  for (std::size_t i = 0; i < conditions; ++i) expected_ranked += truth[i] * scores_of(said, static_cast<Condition>(i))[4];
  CHECK_THAT(expected, WithinAbs(0.25, 1e-12));
  std::size_t covered = 0;
  constexpr std::size_t studies = 300, looks = 40;
  const RandomQuantity quantity = heatside::random_quantity(3, "studies");
  for (std::size_t study = 0; study < studies; ++study) {
    std::vector<Look> made;
    for (std::size_t i = 0; i < looks; ++i) {
      made.push_back(look(said, drawn_condition(truth, heatside::uniform_draw(quantity, study * looks + i))));
    }
    const Interval interval = *of(score_of(made, {.seed = study, .resamples = 400}), Rule::conditions_ranked).mean_interval;
    if (interval.low <= expected_ranked && expected_ranked <= interval.high) ++covered;
  }
  CHECK(covered >= 246);  // 82 %
  CHECK(covered <= 285);  // 95 %
}

TEST_CASE("score: with ten cases whole cases are drawn, and the interval is wider", "[inspection][score]") {
  // Five looks a case that all come out alike carry the information of one; own arithmetic of the test.
  const Chances chances{0.7, 0.1, 0.1, 0.05, 0.05};
  std::vector<Look> many, one;
  for (std::size_t job = 0; job < 12; ++job) {
    for (std::size_t i = 0; i < 5; ++i) {
      many.push_back(look(chances, job % 3 == 0 ? Condition::cracked : Condition::supple, job));
      one.push_back(many.back());
      one.back().job = 0;
    }
  }
  const Score clustered = score_of(many), single = score_of(one);
  CHECK(clustered.resamples_jobs);
  CHECK(clustered.jobs == 12);
  CHECK_FALSE(single.resamples_jobs);
  const auto width = [](const Score& score) {
    const Interval interval = *of(score, Rule::conditions_ranked).mean_interval;
    return interval.high - interval.low;
  };
  CHECK(of(clustered, Rule::conditions_ranked).mean == Approx(of(single, Rule::conditions_ranked).mean));
  CHECK(width(clustered) > 1.7 * width(single));  // sqrt(5) apart
}

TEST_CASE("score: an order with ties is the mean over all its orders", "[inspection][score]") {
  // All permutations of the places that keep the ranks falling; own arithmetic of the test.
  const RandomQuantity quantity = heatside::random_quantity(4, "orders");
  for (std::size_t number = 0; number < 60; ++number) {
    const std::size_t count = 1 + number % 6;
    std::vector<RankedPlace> places;
    for (std::size_t i = 0; i < count; ++i) {
      const double rank = std::floor(3.0 * heatside::uniform_draw(quantity, 100 * number + i));
      places.push_back({rank, i == 0 || heatside::uniform_draw(quantity, 100 * number + 50 + i) < 0.4});
    }
    std::vector<std::size_t> order(count);
    std::iota(order.begin(), order.end(), std::size_t{0});
    double orders = 0.0, first = 0.0;
    std::array<double, counted_looks> hits{};
    do {
      if (!std::is_sorted(order.begin(), order.end(),
                          [&](std::size_t a, std::size_t b) { return places[a].rank_by > places[b].rank_by; })) {
        continue;
      }
      orders += 1.0;
      const auto hit = [&](std::size_t index) { return places[index].hit; };
      first += 1.0 + static_cast<double>(std::find_if(order.begin(), order.end(), hit) - order.begin());
      for (std::size_t k = 0; k < counted_looks; ++k) {
        const auto end = order.begin() + static_cast<std::ptrdiff_t>(std::min(k + 1, count));
        hits[k] += static_cast<double>(std::count_if(order.begin(), end, hit));
      }
    } while (std::next_permutation(order.begin(), order.end()));
    const OrderScore score = order_score(places);
    CAPTURE(number, count);
    CHECK_THAT(score.looks_to_first, WithinAbs(first / orders, 1e-12));
    for (std::size_t k = 0; k < counted_looks; ++k) CHECK_THAT(score.hits[k], WithinAbs(hits[k] / orders, 1e-12));
  }
  CHECK_THROWS_AS(order_score({{1.0, false}}), DomainError);
}

TEST_CASE("score: the predicted order against hottest first", "[inspection][score]") {
  // Own arithmetic: four places, the two cracked ones predicted first and second, but third and fourth by heat.
  const auto place = [](double cracked, double kelvin, Condition seen, std::size_t prediction) {
    Look made = look({1.0 - cracked, 0.0, 0.0, cracked, 0.0}, seen);
    made.heat = Kelvin{kelvin};
    made.prediction = prediction;
    return made;
  };
  const std::vector<Look> round{place(0.9, 330.0, Condition::cracked, 0), place(0.8, 340.0, Condition::crumbling, 0),
                                place(0.2, 350.0, Condition::supple, 0), place(0.1, 360.0, Condition::flex_cracks, 0)};
  std::vector<Look> looks = round;
  looks.push_back(place(0.5, 300.0, Condition::cracked, 1));  // alone under its prediction: any order is as good
  const Score score = score_of(looks);
  REQUIRE(score.orders);
  CHECK(score.orders->rounds == 1);
  CHECK(score.orders->looks == 4);
  CHECK(score.orders->hits == 2);
  CHECK(score.orders->by_prediction.looks_to_first == 1.0);
  CHECK(score.orders->hottest_first.looks_to_first == 3.0);
  CHECK_THAT(score.orders->at_random.looks_to_first, WithinAbs(5.0 / 3.0, 1e-12));
  CHECK(score.orders->by_prediction.hits == std::array<double, 3>{1.0, 2.0, 2.0});
  CHECK(score.orders->hottest_first.hits == std::array<double, 3>{0.0, 0.0, 1.0});
  CHECK(score.orders->saved == 2.0);
  CHECK_FALSE(score.orders->saved_interval);

  std::vector<Look> many;
  for (std::size_t prediction = 0; prediction < 10; ++prediction) {
    for (Look one : round) {
      one.prediction = prediction;
      many.push_back(one);
    }
  }
  REQUIRE(score_of(many).orders->saved_interval);
  CHECK(score_of(many).orders->saved_interval->low == 2.0);

  looks = round;
  looks[2].heat.reset();
  CHECK_FALSE(score_of(looks).orders);
}

TEST_CASE("score: a look is held against the latest prediction not after it", "[inspection][score]") {
  // A rule of this project.
  JobToScore job;
  job.job.predictions = {prediction("/predictions/0", "2026-03-01", "2026-03-01T08:00:00Z", {"a", "b"}, 0.1),
                         prediction("/predictions/1", "2026-03-05", "2026-03-05T08:00:00Z", {"a", "b"}, 0.2),
                         prediction("/predictions/2", "2026-03-05", "2026-03-05T09:00:00Z", {"a"}, 0.3),
                         prediction("/predictions/3", "2026-03-09", "2026-03-09T08:00:00Z", {"a", "b", "c"}, 0.4)};
  job.job.findings = {finding("a", Seen::cracked, "2026-02-28"), finding("a", Seen::cracked, "2026-03-01"),
                      finding("a", Seen::cracked, "2026-03-06"), finding("b", Seen::supple, "2026-03-05"),
                      finding("c", Seen::supple, "2026-03-05"),  finding("c", Seen::supple, "2026-03-10")};
  job.heat = {{"a", Kelvin{350.0}}};
  const Looks looks = looks_of({job});
  CHECK(looks.left_out.no_prediction == 2);
  REQUIRE(looks.looks.size() == 4);
  CHECK(looks.looks[0].prediction == 0);
  CHECK(looks.looks[1].prediction == 2);
  CHECK(looks.looks[1].chances[3] == 0.3);
  CHECK(looks.looks[2].prediction == 1);
  CHECK(looks.looks[2].seen == Condition::supple);
  CHECK(looks.looks[3].prediction == 3);
  CHECK(looks.looks[0].heat == Kelvin{350.0});
  CHECK_FALSE(looks.looks[2].heat);
  // The first look at a was known to the prediction for the next one.
  CHECK(looks.looks[1].seen_before);
  CHECK_FALSE(looks.looks[2].seen_before);

  job.changed = {"/predictions/2/sha256"};
  CHECK(looks_of({job}).looks[1].prediction == 1);
  job.changed = {"/predictions/0/sha256"};
  CHECK(looks_of({job}).left_out.no_prediction == 3);
}

TEST_CASE("score: only looks at what may be heat", "[inspection][score]") {
  JobToScore job;
  job.job.predictions = {
      prediction("/predictions/0", "2026-03-01", "2026-03-02T08:00:00Z", {"a", "b", "c", "d", "e", "f"}, 0.1)};
  job.job.findings = {finding("a", Seen::not_seen, "2026-03-01"), finding("b", Seen::altered, "2026-03-01"),
                      finding("c", Seen::cracked, "2026-03-01", Cause::chafe),
                      finding("d", Seen::cracked, "2026-03-01", Cause::unsure), finding("e", Seen::stiff, "2026-03-01")};
  Finding test = finding("f", Seen::supple, "2026-03-01");
  test.seen.reset();
  job.job.findings.push_back(test);
  const Looks looks = looks_of({job});
  CHECK(looks.left_out.no_condition == 3);
  CHECK(looks.left_out.other_cause == 1);
  REQUIRE(looks.looks.size() == 2);
  CHECK(looks.looks[0].segment == "d");
  CHECK(looks.looks[1].segment == "e");
  // The day after in Greenwich may still be the day of the look.
  CHECK_FALSE(looks.looks[0].late);
  job.job.predictions[0].stored = "2026-03-03T00:00:00Z";
  CHECK(looks_of({job}).looks[0].late);
}

TEST_CASE("score: findings at one segment under one prediction are one look, the worse", "[inspection][score]") {
  JobToScore job;
  job.job.predictions = {prediction("/predictions/0", "2026-03-01", "2026-03-01T08:00:00Z", {"a"}, 0.1)};
  job.job.findings = {finding("a", Seen::stiff, "2026-03-01"), finding("a", Seen::cracked, "2026-03-01"),
                      finding("a", Seen::supple, "2026-03-01")};
  job.job.findings[1].stretch = "hot-end";
  const Looks looks = looks_of({job, job});
  CHECK(looks.left_out.merged == 4);
  REQUIRE(looks.looks.size() == 2);
  CHECK(looks.looks[0].seen == Condition::cracked);
  CHECK(looks.looks[0].part);
  CHECK_FALSE(looks.looks[0].late);
  CHECK_FALSE(looks.looks[0].seen_before);
  CHECK(looks.looks[1].job == 1);
}

TEST_CASE("score: a finding of a later day that was recorded first is known to the prediction", "[inspection][score]") {
  JobToScore job;
  job.job.predictions = {prediction("/predictions/0", "2026-03-05", "2026-03-05T08:00:00Z", {"a", "b"}, 0.1),
                         prediction("/predictions/1", "2026-03-01", "2026-03-06T08:00:00Z", {"a", "b"}, 0.2)};
  job.job.findings = {finding("a", Seen::cracked, "2026-03-05"), finding("a", Seen::cracked, "2026-03-01"),
                      finding("b", Seen::cracked, "2026-03-01")};
  const Looks looks = looks_of({job});
  REQUIRE(looks.looks.size() == 3);
  CHECK(looks.looks[1].prediction == 1);
  CHECK(looks.looks[1].seen_before);
  CHECK_FALSE(looks.looks[2].seen_before);
}
