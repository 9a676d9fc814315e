#include "heatside/report/record_report.hpp"

#include <catch2/catch.hpp>

#include "casefile/sample_case.hpp"
#include "heatside/report/cautions.hpp"

using namespace heatside;
using namespace heatside::report;
using Catch::Contains;

/// What a reader must be told, design of this project; no outside source.

namespace {

casefile::Case job_with(const char* findings, const Json& openings = Json::object()) {
  return casefile::read(casefile::changed([&](Json& c) {
    c["findings"] = read_strict_json(findings, "findings");
    c["openings"] = openings;
  }));
}

RecordAnswer answer_for(const casefile::Case& job) {
  RecordAnswer answer;
  answer.engine = "heatside test";
  answer.case_name = "van.case.json";
  answer.case_sha256 = "00";
  answer.deed = Deed::recorded;
  answer.pointer = job.findings.back().pointer;
  answer.finding = job.findings.back();
  return answer;
}

std::string text_of(const RecordAnswer& answer, const casefile::Case& job) {
  const std::string text = record_text(answer, job, casefile::records());
  std::string flowing;
  for (const char c : text) flowing += c == '\n' ? ' ' : c;
  return flowing;
}

const char* touched =
    R"([{"segment": "S1", "seen": "cracked", "method": "look-touch", "cause": "heat", "on": "2026-09-14"}])";
const char* peeled = R"([{"segment": "S1", "seen": "cracked", "method": "look-boot", "cause": "heat", "on": "2026-09-14"}])";

}  // namespace

TEST_CASE("record report: cautions come first with whatever opens or unplugs", "[report][record]") {
  const char* measured = R"([{"segment": "S1", "method": "resistance-reading", "on": "2026-09-14",
      "resistance": {"MOhm": 500, "both_ends_unplugged": true, "control_units_attached": false}}])";
  for (const char* findings : {touched, measured}) {
    const casefile::Case job = job_with(findings);
    const std::string text = record_text(answer_for(job), job, casefile::records());
    CHECK(text.rfind("! WARNING", 0) == 0);
    CHECK(text.find("Recorded: S1") > text.find("Nothing is claimed about what was not opened"));
  }
  const casefile::Case job = job_with(peeled);
  CHECK(record_text(answer_for(job), job, casefile::records()).rfind("Recorded: S1 (box to rail): seen as cracked", 0) == 0);
}

TEST_CASE("record report: the JSON always bears the cautions", "[report][record]") {
  const casefile::Case job = job_with(peeled);
  const Json document = read_strict_json(record_json(answer_for(job), job, casefile::records()), "answer");
  CHECK(document["format"] == "heatside-recorded");
  CHECK(document["cautions"].size() == cautions().size());
  CHECK(document["did"] == "recorded");
  CHECK(document["what"] == "finding");
  CHECK(document["at"] == "/findings/0");
  CHECK(document["finding"]["seen"] == "cracked");
  CHECK(document["opens"] == false);
}

TEST_CASE("record report: an opening without consent, or beyond what was allowed, is said", "[report][record]") {
  const casefile::Case job = job_with(touched);
  RecordAnswer answer = answer_for(job);
  answer.opened = {"S1"};
  CHECK_THAT(text_of(answer, job), Contains("consent is not recorded") && Contains("may not run afterwards"));
  const casefile::Case agreed = job_with(touched, {{"consent", true}, {"allowed", 1}});
  CHECK_THAT(text_of(answer, agreed), !Contains("consent is not recorded") && Contains("1 of the 1 segments"));
  answer.opened = {"S1", "S2"};
  CHECK_THAT(text_of(answer, agreed), Contains("more than was agreed"));
}

TEST_CASE("record report: results of tests are told with their units", "[report][record]") {
  const casefile::Case bent = job_with(R"([{"segment": "S1", "method": "bend-tail", "cause": "heat", "on": "2026-09-14",
      "bend": {"diameter_mm": 10, "temperature_Cel": 22, "cracked": true}}])");
  CHECK_THAT(text_of(answer_for(bent), bent), Contains("bent round 10 mm at 22 degC cracked"));
  const casefile::Case pulled = job_with(R"([{"segment": "S1", "method": "elongation-tail", "cause": "heat",
      "elongation": {"percent": 40, "standard_error": 6}, "on": "2026-09-14"}])");
  CHECK_THAT(text_of(answer_for(pulled), pulled), Contains("elongation at break 40 % (standard error 6 %)"));
}

TEST_CASE("record report: where the day and the chances come from is said", "[report][record]") {
  const casefile::Case job = job_with(peeled);
  RecordAnswer answer = answer_for(job);
  answer.day_from_clock = true;
  answer.predicted = true;
  answer.assumptions = {{"/findings/0/cause", "the cause is not known", Grade::judgement}};
  const std::string text = text_of(answer, job);
  CHECK_THAT(text, Contains("clock") && Contains("--on"));
  CHECK_THAT(text, Contains("all 2 segments"));
  CHECK_THAT(text, Contains("Assumed: the cause is not known [judgement, /findings/0/cause]"));
}

TEST_CASE("record report: what is taken back is named", "[report][record]") {
  const casefile::Case job = job_with(peeled);
  RecordAnswer answer = answer_for(job);
  answer.deed = Deed::taken_back;
  CHECK_THAT(text_of(answer, job), Contains("Taken back: S1") && !Contains("WARNING"));
  answer.finding.reset();
  CHECK_THAT(text_of(answer, job), Contains("Taken back: the owner's consent"));
  answer.deed = Deed::nothing;
  CHECK_THAT(text_of(answer, job), Contains("Nothing was changed"));
}

TEST_CASE("record report: the text fits the page", "[report][record]") {
  const casefile::Case job = job_with(touched);
  RecordAnswer answer = answer_for(job);
  answer.predicted = true;
  const std::string text = record_text(answer, job, casefile::records());
  std::size_t from = 0;
  for (std::size_t end = text.find('\n'); end != std::string::npos; from = end + 1, end = text.find('\n', from)) {
    CHECK(end - from <= 100);
  }
}
