// Learning against other ways to the same answer: many plain Metropolis chains, the spread between seeds, and other threads.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <thread>

#include "heatside/base/random.hpp"
#include "heatside/exposure/zone_scores.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "population/cases.hpp"
#include "population/drawn_case.hpp"
#include "population/evidence.hpp"
#include "population/finding_chances.hpp"
#include "population/learning.hpp"
#include "population/looked_place.hpp"

using Catch::WithinAbs;
using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

Json look(const std::string& segment, const std::string& seen, const std::string& on = "2014-01-01") {
  return {{"segment", segment}, {"seen", seen}, {"method", "look-touch"}, {"cause", "heat"}, {"on", on}};
}

Json scene_with(const std::vector<std::string>& zones, const std::vector<Json>& findings) {
  Scene scene;
  scene.zones = zones;
  Json document = case_of(scene);
  document["findings"] = findings;
  return document;
}

struct Inquiry {
  explicit Inquiry(const Json& document)
      : job{read(document)},
        scores{exposure::zone_scores(job, records())},
        drawn{job, records(), scores, true},
        lot{lot_quantities(job, job.lots.front(), "short-lived-1990s").batch} {}

  casefile::Case job;
  exposure::ZoneScores scores;
  DrawnCase drawn;
  std::string lot;
};

// What is compared: scores of use, bay, lot and the factor of the first place, and whether the last place has cracked.
constexpr std::size_t quantities = 5;
using Values = std::array<std::vector<double>, quantities>;

Values values_of(Inquiry& inquiry, Normals& normals) {
  const std::string place = quantity::stretch(inquiry.job.segments.front().id, "a");
  Values values{normals.of(quantity::usage), normals.of(quantity::bay), normals.of(inquiry.lot), normals.of(place)};
  for (const ageing::Condition condition :
       conditions_at(inquiry.drawn.segment(inquiry.job.segments.size() - 1, normals), Years{0.0}))
    values.back().push_back(condition >= ageing::Condition::cracked ? 1.0 : 0.0);
  return values;
}

// ln P(findings | everything that is drawn, the factors of the stretches too): nothing is integrated out.
std::vector<double> ln_chance(Inquiry& inquiry, Normals& normals) {
  inquiry.drawn.forget();
  std::vector<double> sum(normals.draws(), 0.0);
  for (const casefile::Finding& finding : inquiry.job.findings) {
    std::size_t number = 0;
    while (inquiry.job.segments[number].id != finding.segment) ++number;
    const SegmentDraws draws = inquiry.drawn.segment(number, normals);
    if (finding.elongation) {
      const std::vector<double> left = elongation_left(draws);  // tests of the day of the inspection
      for (std::size_t n = 0; n < sum.size(); ++n) {
        const double off = (left[n] - finding.elongation->elongation.value()) / finding.elongation->standard_error.value();
        sum[n] -= 0.5 * off * off;
      }
      continue;
    }
    const auto& table = std::get<library::LookTable>(records().methods.at(finding.method).evidence);
    const std::vector<ageing::Condition> then =
        conditions_at(draws, years_between(inquiry.job.inspected.day, finding.on.day));
    for (std::size_t n = 0; n < sum.size(); ++n)
      sum[n] += std::log(table.seen[static_cast<std::size_t>(then[n])].chance[static_cast<std::size_t>(*finding.seen)]);
  }
  return sum;
}

struct MeanAndError {
  double mean = 0.0, error = 0.0;
};

// Each draw is a chain of its own; their means are independent, so that their spread is the error. A step keeps what was
// believed before (a normal walk with shrinking) and is taken by the ratio of the chances of the findings: Metropolis et al.
// 1953, J. Chem. Phys. 21, 1087-1092; Neal 1998 in Bayesian Statistics 6, 475-501 (both from memory).
std::array<MeanAndError, quantities> by_metropolis(Inquiry& inquiry, std::size_t chains, int burn_in, int steps) {
  constexpr double step = 0.45;
  Normals now{17, chains};
  std::vector<double> at = ln_chance(inquiry, now);
  Values sums = values_of(inquiry, now);
  for (std::vector<double>& sum : sums) sum.assign(chains, 0.0);
  for (int i = 0; i < burn_in + steps; ++i) {
    const std::string name = "walk/" + std::to_string(i) + "/";
    const auto columns = now.columns();
    Normals next = now;
    for (const auto& [quantity, column] : columns) {
      std::vector<double> moved = normal_draws(random_quantity(17, name + quantity), chains);
      for (std::size_t n = 0; n < chains; ++n) moved[n] = std::sqrt(1.0 - step * step) * column[n] + step * moved[n];
      next.replace(quantity, std::move(moved));
    }
    const std::vector<double> there = ln_chance(inquiry, next);
    const std::vector<double> chance = uniform_draws(random_quantity(17, name), chains);
    for (const auto& [quantity, column] : columns) {
      std::vector<double> kept = column;
      const std::vector<double>& other = next.of(quantity);
      for (std::size_t n = 0; n < chains; ++n) {
        if (std::log(chance[n]) < there[n] - at[n]) kept[n] = other[n];
      }
      now.replace(quantity, std::move(kept));
    }
    for (std::size_t n = 0; n < chains; ++n) {
      if (std::log(chance[n]) < there[n] - at[n]) at[n] = there[n];
    }
    if (i < burn_in) continue;
    inquiry.drawn.forget();
    const Values values = values_of(inquiry, now);
    for (std::size_t q = 0; q < quantities; ++q) {
      for (std::size_t n = 0; n < chains; ++n) sums[q][n] += values[q][n] / steps;
    }
  }
  std::array<MeanAndError, quantities> answer;
  for (std::size_t q = 0; q < quantities; ++q) {
    double squares = 0.0;
    for (const double one : sums[q]) answer[q].mean += one / static_cast<double>(chains);
    for (const double one : sums[q]) squares += (one - answer[q].mean) * (one - answer[q].mean);
    answer[q].error = std::sqrt(squares) / static_cast<double>(chains);
  }
  return answer;
}

MeanAndError weighed(const Belief& belief, const std::vector<double>& values) {
  MeanAndError answer{expected(belief, values), 0.0};
  for (std::size_t n = 0; n < values.size(); ++n) answer.error += std::pow(belief.weights[n] * (values[n] - answer.mean), 2);
  answer.error = std::sqrt(answer.error);
  return answer;
}

}  // namespace

TEST_CASE("learning: weights agree with many Metropolis chains", "[population][learning][metropolis]") {
  Inquiry inquiry{scene_with({"upper-bulkhead", "head-cover", "cabin-bulkhead"},
                             {look("upper-bulkhead", "stiff", "2006-01-01"),
                              look("upper-bulkhead", "cracked"),
                              {{"segment", "head-cover"},
                               {"method", "elongation-tail"},
                               {"elongation", {{"percent", 3}, {"standard_error", 2}}},
                               {"cause", "heat"},
                               {"on", "2014-01-01"}}})};
  const std::array<MeanAndError, quantities> chains = by_metropolis(inquiry, 400, 100, 300);
  inquiry.drawn.forget();
  LearntDraws learnt = learn_from(Evidence{inquiry.job, records()}, inquiry.drawn, Normals{5, 20000}, false);
  settle(looked_place(inquiry.job, records(), 0, inquiry.drawn, learnt.normals, learnt.usual, true).heat, learnt.normals);
  const Values values = values_of(inquiry, learnt.normals);
  double largest_shift = 0.0;
  for (std::size_t q = 0; q < quantities; ++q) {
    CAPTURE(q);
    const MeanAndError weights = weighed(learnt.belief, values[q]);
    const double error = std::hypot(weights.error, chains[q].error);
    CAPTURE(weights.mean, weights.error, chains[q].mean, chains[q].error);
    // Four standard errors of both; those of a normal score of spread 1 are small enough to see a tenth.
    CHECK(error < 0.03);
    CHECK_THAT(weights.mean, WithinAbs(chains[q].mean, 4.0 * error));
    if (q < 4) largest_shift = std::max(largest_shift, std::abs(chains[q].mean) / error);
  }
  CHECK(largest_shift > 4.0);  // scores have mean 0 before the findings
}

TEST_CASE("learning: the effective sample after moves does not flatter", "[population][learning][tempering]") {
  // How much means differ from seed to seed says how many independent draws they are worth: variance of a score over the
  // variance of its mean. Of 40 seeds that is known to 23 % (one standard error); three of them are allowed.
  Inquiry inquiry{scene_with(
      {"head-cover", "upper-bulkhead", "cabin-bulkhead"},
      {look("head-cover", "crumbling"), look("upper-bulkhead", "crumbling"), look("cabin-bulkhead", "crumbling")})};
  constexpr std::size_t seeds = 40, draws = 400;
  const std::vector<std::string> names{quantity::usage, quantity::bay, inquiry.lot};
  std::vector<std::vector<double>> means(names.size());
  std::vector<double> variance(names.size(), 0.0);
  double reported = 0.0;
  for (std::uint64_t seed = 0; seed < seeds; ++seed) {
    inquiry.drawn.forget();
    LearntDraws learnt = learn_from(Evidence{inquiry.job, records()}, inquiry.drawn, Normals{seed, draws}, true);
    REQUIRE(learnt.stages > 0);
    reported += learnt.effective_sample / seeds;
    for (std::size_t q = 0; q < names.size(); ++q) {
      const std::vector<double>& column = learnt.normals.of(names[q]);
      means[q].push_back(expected(learnt.belief, column));
      for (const double one : column) variance[q] += std::pow(one - means[q].back(), 2) / (seeds * draws);
    }
  }
  CAPTURE(reported);
  CHECK(reported > 0.1 * draws);
  double least = draws;
  for (std::size_t q = 0; q < names.size(); ++q) {
    double mean = 0.0, squares = 0.0;
    for (const double one : means[q]) mean += one / seeds;
    for (const double one : means[q]) squares += (one - mean) * (one - mean) / (seeds - 1);
    const double worth = variance[q] / squares;
    CAPTURE(names[q], worth);
    CHECK(reported < 1.7 * worth);
    least = std::min(least, worth);
  }
  CAPTURE(least);
  CHECK(reported > 0.2 * least);
}

TEST_CASE("learning: one, two and three threads give the same bytes", "[population][learning][threads]") {
  const casefile::Case job = read(scene_with(
      {"head-cover", "upper-bulkhead", "cabin-bulkhead"},
      {look("head-cover", "crumbling"), look("upper-bulkhead", "crumbling"), look("cabin-bulkhead", "crumbling")}));
  const DrawOptions options{.draws = 300, .at = {Years{5.0}}};
  const DrawnAnswer alone = drawn_answer(job, records(), options);
  REQUIRE(alone.estimate.learned->stages > 0);
  const auto check_same = [&](const DrawnAnswer& answer) {
    CHECK(answer.population.normals.columns() == alone.population.normals.columns());
    CHECK(answer.population.belief.weights == alone.population.belief.weights);
    REQUIRE(answer.estimate.segments.size() == alone.estimate.segments.size());
    for (std::size_t i = 0; i < alone.estimate.segments.size(); ++i) {
      const SegmentEstimate &one = answer.estimate.segments[i], &other = alone.estimate.segments[i];
      CHECK(one.id == other.id);
      CHECK(one.chance == other.chance);
      CHECK(one.chance_at.front().chance == other.chance_at.front().chance);
      CHECK((one.flex_cracks.p10 == other.flex_cracks.p10 && one.elongation.p90 == other.elongation.p90));
    }
  };
  for (const std::size_t threads : {1u, 2u, 3u}) {
    CAPTURE(threads);
    std::vector<DrawnAnswer> answers(threads, DrawnAnswer{{}, {}, {Normals{1, 1}, {}, {}, true}});
    std::vector<std::thread> running;
    for (DrawnAnswer& answer : answers)
      running.emplace_back([&answer, &job, &options] { answer = drawn_answer(job, records(), options); });
    for (std::thread& thread : running) thread.join();
    for (const DrawnAnswer& answer : answers) check_same(answer);
  }
}
