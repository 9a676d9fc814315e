// A place where something was found: its own chances and years against exact integration over the factor of its stretch, and
// what other causes than heat say.
#include "population/looked_place.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/exposure/zone_scores.hpp"
#include "heatside/population/alternative.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "population/cases.hpp"
#include "population/finding_chances.hpp"
#include "population/learning.hpp"

using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

Json scene_in(const std::vector<std::string>& zones, const std::string& insulation = "short-lived-1990s") {
  Scene scene;
  scene.insulation = insulation;
  scene.zones = zones;
  return case_of(scene);
}

Json look(const std::string& segment, const std::string& seen, const std::string& cause = "heat",
          const std::string& on = "2014-01-01") {
  return {{"segment", segment}, {"seen", seen}, {"method", "look-touch"}, {"cause", cause}, {"on", on}};
}

Json pull(const std::string& segment, double percent, double error, const std::string& on = "2014-01-01") {
  return {{"segment", segment},
          {"method", "elongation-tail"},
          {"elongation", {{"percent", percent}, {"standard_error", error}}},
          {"cause", "heat"},
          {"on", on}};
}

Json with(Json document, const std::vector<Json>& findings) {
  document["findings"] = findings;
  return document;
}

DrawnAnswer answer_of(const Json& document, std::size_t draws = 2000) {
  return drawn_answer(read(document), records(), {.draws = draws, .at = {Years{0.0}, Years{8.0}}});
}

// The first segment of a case integrated over the score of its only stretch, draw by draw, with 801 nodes from -8 to 8:
// the midpoint rule, so exact but for the steps of the conditions.
struct Integrated {
  double ln_evidence = 0.0;
  double score = 0.0;                       // mean
  ConditionRow now{};                       // chances
  double old_at_50 = 0.0, old_at_90 = 0.0;  // share of the posterior whose years to flex-cracks lie below two stated numbers
};

Integrated integrated(const Json& document, const Normals& prior, double years_50, double years_90) {
  const casefile::Case job = read(document);
  const exposure::ZoneScores scores = exposure::zone_scores(job, records());
  DrawnCase drawn{job, records(), scores, true};
  Normals normals = prior;
  SegmentDraws draws = drawn.segment(0, normals);
  const double spread = records().model.ageing.stretch_ln_sd.value;
  Integrated sum;
  double all = 0.0;
  constexpr int nodes = 801;
  for (int node = 0; node < nodes; ++node) {
    const double score = -8.0 + 16.0 * node / (nodes - 1);
    const double density = std::exp(-0.5 * score * score) / std::sqrt(2.0 * 3.14159265358979323846) * 16.0 / (nodes - 1);
    std::vector<double> weight(prior.draws(), density / static_cast<double>(prior.draws()));
    draws.stretches.front().factor.assign(prior.draws(), std::exp(spread * score));
    for (const casefile::Finding& finding : job.findings) {
      const Years time = years_between(job.inspected.day, finding.on.day);
      const std::vector<ageing::Condition> then = conditions_at(draws, time);
      std::vector<double> left;
      if (finding.elongation) {
        const TailTest test{job, records(), finding, part_of(draws, job.segments.front(), finding), drawn, normals};
        left = test.elongation(draws);
      }
      for (std::size_t n = 0; n < weight.size(); ++n) {
        if (finding.elongation) {
          const double off = (left[n] - finding.elongation->elongation.value()) / finding.elongation->standard_error.value();
          weight[n] *= std::exp(-0.5 * off * off);
        } else {
          const auto& table = std::get<library::LookTable>(records().methods.at(finding.method).evidence);
          weight[n] *= table.seen[static_cast<std::size_t>(then[n])].chance[static_cast<std::size_t>(*finding.seen)];
        }
      }
    }
    const std::vector<ageing::Condition> now = conditions_at(draws, Years{0.0});
    const std::vector<double> years = years_until(draws, 1);
    for (std::size_t n = 0; n < weight.size(); ++n) {
      all += weight[n];
      sum.score += weight[n] * score;
      sum.now[static_cast<std::size_t>(now[n])] += weight[n];
      sum.old_at_50 += years[n] <= years_50 ? weight[n] : 0.0;
      sum.old_at_90 += years[n] <= years_90 ? weight[n] : 0.0;
    }
  }
  sum.ln_evidence = std::log(all);
  sum.score /= all;
  for (double& chance : sum.now) chance /= all;
  sum.old_at_50 /= all;
  sum.old_at_90 /= all;
  return sum;
}

}  // namespace

TEST_CASE("looked place: one belief agrees with exact integration over its factor", "[population][learning][place]") {
  const std::vector<Json> findings =
      GENERATE(std::vector<Json>{look("upper-bulkhead", "flex-cracks")},
               std::vector<Json>{look("upper-bulkhead", "supple", "heat", "2004-01-01"), look("upper-bulkhead", "cracked")},
               std::vector<Json>{pull("upper-bulkhead", 60.0, 15.0, "2008-01-01"), look("upper-bulkhead", "stiff")});
  const Json document = with(scene_in({"upper-bulkhead", "cabin-bulkhead"}, "pvc-105"), findings);
  const std::size_t draws = 4000;
  const DrawnAnswer answer = answer_of(document, draws);
  REQUIRE(answer.estimate.learned->stages == 0);
  const SegmentEstimate& one = segment(answer.estimate, "upper-bulkhead");
  const Integrated exact = integrated(document, Normals{0, draws}, one.flex_cracks.p50.value(), one.flex_cracks.p90.value());
  // The draws are the same on both sides: what differs is which of 32 candidates stands for a draw. Three standard errors
  // of a share of the draws that count; the mean over candidates is better by far.
  const double error = 3.0 * 0.5 / std::sqrt(answer.estimate.learned->effective_sample);
  CHECK_THAT(answer.estimate.learned->ln_evidence, WithinAbs(exact.ln_evidence, 0.01));
  for (std::size_t c = 0; c < 5; ++c) CHECK_THAT(one.chance[c], WithinAbs(exact.now[c], 0.01));
  CHECK_THAT(exact.old_at_50, WithinAbs(0.5, error));
  CHECK_THAT(exact.old_at_90, WithinAbs(0.9, error));
  double score = 0.0;
  const std::vector<double>& column = answer.population.normals.columns().at(quantity::stretch("upper-bulkhead", "a"));
  for (std::size_t n = 0; n < draws; ++n) score += answer.population.belief.weights[n] * column[n];
  CHECK_THAT(score, WithinAbs(exact.score, 2.0 * error));
  CHECK(std::abs(exact.score) > 0.05);  // the findings do say something of the place
}

TEST_CASE("looked place: a tail is compared with its elongation on the day of the test", "[population][learning][place]") {
  // The same loom inspected on that day has that elongation: no word of later service may enter. The reader's own service
  // ends at the inspection, so both cases are read from the same text but for two dates.
  Scene scene;
  scene.zones = {"upper-bulkhead"};
  scene.insulation = GENERATE("pvc-105", "short-lived-1990s");
  const casefile::Case job = read(with(case_of(scene), {pull("upper-bulkhead", 60.0, 15.0, "2006-01-01")}));
  scene.inspected = "2006-01-01";
  const casefile::Case then = read(case_of(scene));
  const exposure::ZoneScores scores = exposure::zone_scores(job, records());
  DrawnCase drawn{job, records(), scores, true}, drawn_then{then, records(), scores, true};
  Normals normals{3, 500}, same{3, 500};
  const SegmentDraws draws = drawn.segment(0, normals);
  const FoundPart part = part_of(draws, job.segments.front(), job.findings.front());
  const TailTest test{job, records(), job.findings.front(), part, drawn, normals};
  const std::vector<double> at_test = test.elongation(part.draws), now = elongation_left(draws);
  const std::vector<double> expected = elongation_left(drawn_then.segment(0, same));
  for (std::size_t n = 0; n < expected.size(); ++n) {
    CHECK_THAT(at_test[n], WithinRel(expected[n], 1e-9));
    CHECK(at_test[n] >= now[n]);
  }
}

TEST_CASE("looked place: an answer about the case wired as it is repeats the estimate", "[population][learning][place]") {
  const Json document =
      with(scene_in({"head-cover", "upper-bulkhead"}), {look("upper-bulkhead", "cracked"), pull("head-cover", 20.0, 10.0)});
  const DrawnAnswer answer = answer_of(document);
  const casefile::Case job = read(document);
  for (std::size_t i = 0; i < job.segments.size(); ++i) {
    const SegmentEstimate& one = segment(answer.estimate, job.segments[i].id);
    const ConditionYears years = years_to_conditions(job, records(), answer.population, {i}).front();
    CHECK(quantiles(answer.population.belief, years.until[1], {0.5}).front() == one.flex_cracks.p50.value());
    double cracked = 0.0;
    for (std::size_t n = 0; n < years.until[2].size(); ++n)
      cracked += years.until[2][n] <= 0.0 ? answer.population.belief.weights[n] : 0.0;
    // A share of the draws beside the mean of chances within them: three standard errors.
    CHECK_THAT(cracked, WithinAbs(one.chance_cracked(), 3.0 * 0.5 / std::sqrt(answer.estimate.learned->effective_sample)));
  }
}

TEST_CASE("looked place: chances never heal, and are those of the day", "[population][learning][place]") {
  const std::string cause = GENERATE("heat", "unsure", "chafe");
  const DrawnAnswer answer = answer_of(
      with(scene_in({"upper-bulkhead", "cabin-bulkhead"}), {look("upper-bulkhead", "cracked", cause, "2012-01-01")}));
  const SegmentEstimate& one = segment(answer.estimate, "upper-bulkhead");
  double up_to_now = 0.0, up_to_later = 0.0;
  for (std::size_t c = 0; c < 5; ++c) {
    CHECK_THAT(one.chance_at[0].chance[c], WithinAbs(one.chance[c], 1e-12));
    up_to_now += one.chance[c];
    up_to_later += one.chance_at[1].chance[c];
    CHECK(up_to_later <= up_to_now + 1e-12);
  }
  CHECK_THAT(up_to_now, WithinAbs(1.0, 1e-9));
  CHECK_THAT(up_to_later, WithinAbs(1.0, 1e-9));
}

TEST_CASE("looked place: what another cause did counts at that place alone", "[population][learning][place]") {
  const Json document = scene_in({"upper-bulkhead", "cabin-bulkhead"}, "pvc-105");
  const DrawnAnswer before = answer_of(document),
                    after = answer_of(with(document, {look("cabin-bulkhead", "cracked", "chafe")}));
  const SegmentEstimate& was = segment(before.estimate, "cabin-bulkhead");
  const SegmentEstimate& is = segment(after.estimate, "cabin-bulkhead");
  CHECK(was.chance_cracked() < 0.1);
  // Bayes's theorem by hand: the other cause does each condition as often; heat had done next to nothing here, so that the
  // chances are the column of the table, made to sum to one, but for that little.
  const auto& table = std::get<library::LookTable>(records().methods.at("look-touch").evidence);
  double sum = 0.0;
  for (std::size_t c = 0; c < 5; ++c) sum += table.seen[c].chance[3];
  for (std::size_t c = 0; c < 5; ++c)
    CHECK_THAT(is.chance[c], WithinAbs(table.seen[c].chance[3] / sum, 2.0 * (1.0 - was.chance[0])));
  CHECK(is.chance_cracked() > 0.8);
  CHECK(is.most_likely == ageing::Condition::cracked);
  CHECK(is.elongation.p50 == was.elongation.p50);
  CHECK_THAT(is.flex_cracks.p50.value(), WithinAbs(was.flex_cracks.p50.value(), 0.0));
  CHECK(after.population.belief.weights == before.population.belief.weights);
  CHECK(segment(after.estimate, "upper-bulkhead").chance == segment(before.estimate, "upper-bulkhead").chance);
  const ConditionRow known = mean_chances(after.knowledge.belief, after.knowledge.segments[1]);
  CHECK_THAT(known[3], WithinAbs(is.chance[3], 1e-12));
  REQUIRE(after.estimate.learned);
  REQUIRE(after.estimate.learned->warnings.size() == 1);
  CHECK_THAT(after.estimate.learned->warnings.front(),
             Contains("cracked at cabin-bulkhead on 2014-01-01 was put down to chafe, not to heat"));
  CHECK(is.before);
}

TEST_CASE("looked place: an unsure cause counts in full at the place", "[population][learning][place]") {
  const Json document = scene_in({"upper-bulkhead", "cabin-bulkhead"}, "pvc-105");
  const DrawnAnswer none = answer_of(document), heat = answer_of(with(document, {look("cabin-bulkhead", "cracked")})),
                    unsure = answer_of(with(document, {look("cabin-bulkhead", "cracked", "unsure")}));
  const auto cracked = [](const DrawnAnswer& answer, const char* id) {
    return segment(answer.estimate, id).chance_cracked();
  };
  // The place is as likely cracked as with any cause, or likelier; the other place is moved by the share of heat.
  CHECK(cracked(unsure, "cabin-bulkhead") > 0.8);
  CHECK(cracked(unsure, "upper-bulkhead") > cracked(none, "upper-bulkhead"));
  CHECK(cracked(unsure, "upper-bulkhead") < cracked(heat, "upper-bulkhead"));
  const double share = records().model.finding.unsure_heat_share.value;
  CHECK_THAT(cracked(unsure, "upper-bulkhead"),
             WithinAbs(share * cracked(heat, "upper-bulkhead") + (1.0 - share) * cracked(none, "upper-bulkhead"), 1e-9));
  CHECK_THAT(unsure.estimate.learned->warnings.back(),
             Contains("cracked at cabin-bulkhead on 2014-01-01: the cause is unsure"));
}

TEST_CASE("looked place: words of a finding of clues alone name the lot or the place", "[population][learning][error]") {
  // A print and a feel of the one candidate, crumbling that only the other could have come to: the one does not go with
  // the other.
  Json document = scene_in({"engine-valley", "head-cover"});
  document["lots"][0]["insulation"] = {{"candidates", {{"etfe", 0.5}, {"pvc-105", 0.5}}}};
  Json clue = {{"lot", "signal"}, {"clues", {"print-code-7y", "feel-slippery"}}, {"on", "2014-01-01"}};
  for (const bool at_place : {false, true}) {
    if (at_place) clue["segment"] = "head-cover";
    const Estimate estimate =
        answer_of(with(document, {clue, look("engine-valley", "crumbling"), look("head-cover", "crumbling")})).estimate;
    REQUIRE(estimate.learned);
    REQUIRE_FALSE(estimate.learned->warnings.empty());
    const std::string& words = estimate.learned->warnings.front();
    CHECK_THAT(words, Contains(at_place ? "the clues to the compound at head-cover on 2014-01-01: hardly any draw"
                                        : "the clues to lot signal of 2014-01-01: hardly any draw"));
    CHECK_THAT(words, !Contains(" at  on"));
  }
}
