// What the texts about remedies say. Rules of this project and common practice, no outside source.
#include "heatside/report/remedies_report.hpp"

#include <catch2/catch.hpp>

#include "base/strict_json.hpp"
#include "population/cases.hpp"
#include "report/remedies_words.hpp"

using Catch::Contains;
using namespace heatside;
using heatside::population::testing::case_of;
using heatside::population::testing::read;
using heatside::population::testing::records;

namespace {

remedy::Result result_of(const std::string& id, library::RemedyAct act, double expected) {
  remedy::Result result;
  result.offer.remedy.id = id;
  result.offer.act = act;
  result.expected = expected;
  result.low = 0.8 * expected;
  result.high = 1.5 * expected;
  result.fault_chance = 0.4;
  return result;
}

remedy::Question question_of(double leave, double replace) {
  remedy::Question question;
  question.results = {result_of("leave", library::RemedyAct::leave, leave),
                      result_of("new", library::RemedyAct::new_part, replace)};
  question.order = leave <= replace ? std::vector<std::size_t>{0, 1} : std::vector<std::size_t>{1, 0};
  question.best = question.order.front();
  return question;
}

const remedy::Worth worth{"EUR", 1.5, 1800.0, true, true, 60.0, Years{10.0}, 0.0};

std::size_t sentences(const std::string& text) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < text.size(); ++i) count += text[i] == '.' && (i + 1 == text.size() || text[i + 1] == ' ');
  return count;
}

}  // namespace

TEST_CASE("remedies text: the advice is two sentences with an interval and a reason", "[report][remedies]") {
  const casefile::Case job = read(case_of({}));
  for (const auto& question : {question_of(3000.0, 1000.0), question_of(200.0, 1000.0)}) {
    const std::string advice = report::advice_in_words(question, worth, job);
    CAPTURE(advice);
    CHECK(sentences(advice) == 2);
    CHECK_THAT(advice, Contains("between"));
    CHECK_THAT(advice, Contains("bare-wire fault"));
    CHECK_THAT(advice, !Contains("stop on the road"));
  }
}

TEST_CASE("remedies text: what a rule strikes out is never advised, and the rule is the reason", "[report][remedies]") {
  const casefile::Case job = read(case_of({}));
  remedy::Question question = question_of(200.0, 1000.0);
  question.results[0].verdict.struck = {"it leaves to-coil-2 as found, and bare conductor was seen there"};
  question.order = {1, 0};
  question.best = 1;
  const std::string advice = report::advice_in_words(question, worth, job);
  CHECK(advice.rfind("Buy and fit the new part (new)", 0) == 0);
  CHECK_THAT(advice, Contains("no choice at any price"));
  CHECK_THAT(advice, Contains("to-coil-2"));
  question.results[1].verdict.struck = {"\"new\" without a date code"};
  question.best.reset();
  CHECK_THAT(report::advice_in_words(question, worth, job), Contains("None of these may be chosen"));
}

TEST_CASE("remedies text: near to each other is called about as good", "[report][remedies]") {
  const casefile::Case job = read(case_of({}));
  CHECK_THAT(report::advice_in_words(question_of(1050.0, 1000.0), worth, job), Contains("about as good"));
  CHECK_THAT(report::advice_in_words(question_of(1500.0, 1000.0), worth, job), !Contains("about as good"));
}

TEST_CASE("remedies text: no more digits than a choice hangs on", "[report][remedies]") {
  CHECK(report::money_text(worth, 1234.4) == "1230 EUR");
  CHECK(report::money_text(worth, 238.9) == "240 EUR");
  CHECK(report::money_text(worth, 0.2) == "0 EUR");
  CHECK(report::percent_text(0.0) == "under 1 %");
  CHECK(report::percent_text(0.004) == "under 1 %");
  CHECK(report::percent_text(0.996) == "over 99 %");
}

TEST_CASE("remedies text and document: the same choice, within the page", "[report][remedies]") {
  casefile::Case job = read(case_of({}));
  const auto answer = population::drawn_answer(job, records(), {.draws = 300});
  const auto remedies = remedy::remedies(job, records(), answer);
  const report::BirthCertificate certificate{"test", "", "invented.case.json", 0};
  const std::string text = report::remedies_text(remedies, answer.estimate, job, records(), certificate);
  const auto document =
      nlohmann::json::parse(report::remedies_json(remedies, answer.estimate, job, records(), std::nullopt, certificate));
  CHECK_THAT(text, Contains(document["choices"][0]["best"].get<std::string>() + ")"));
  CHECK(document["unit"] == "min");
  CHECK(document["plan"].is_null());
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    CHECK(end - at <= 100);
    at = end + 1;
  }
}
