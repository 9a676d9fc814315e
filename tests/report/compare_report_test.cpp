// A comparison as people and programs read it.
#include "heatside/report/compare_report.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <sstream>

#include "heatside/report/cautions.hpp"
#include "population/cases.hpp"

using namespace heatside;
using namespace heatside::population::testing;
using Json = nlohmann::json;

namespace {

struct Answers {
  std::string text;
  Json json;
};

Answers answers_of(const remedy::CompareRequest& request) {
  Scene scene;
  scene.zones = {"engine-valley", "cabin-bulkhead"};
  scene.insulation = "pvc-105";
  const casefile::Case job = read(case_of(scene));
  population::DrawOptions options;
  options.draws = 500;
  const population::DrawnAnswer answer = population::drawn_answer(job, records(), options);
  const remedy::Comparison comparison = remedy::compare(job, records(), answer, request);
  const report::BirthCertificate certificate{"heatside test", "0123456789abcdef", "invented.case.json", 0};
  return {report::compare_text(comparison, answer.estimate, job, records(), certificate),
          Json::parse(report::compare_json(comparison, answer.estimate, job, records(), certificate))};
}

remedy::CompareRequest of(const std::vector<std::string>& insulations) {
  remedy::CompareRequest request;
  request.insulations = insulations;
  return request;
}

std::string line_with(const std::string& text, const std::string& start) {
  std::istringstream lines{text};
  for (std::string line; std::getline(lines, line);) {
    if (line.rfind(start, 0) == 0) return line;
  }
  return "";
}

std::string percent_text(double chance) {
  if (chance > 0.99 && chance < 1.0) return "over 99 %";
  if (chance > 0.0 && chance < 0.01) return "under 1 %";
  return std::to_string(std::lround(100.0 * chance)) + " %";
}

}  // namespace

TEST_CASE("compare report: the text has the numbers of the JSON", "[report][compare]") {
  const Answers answers = answers_of(of({"pvc-std", "xlpo-125", "xlpo-150"}));
  REQUIRE(answers.json["candidates"].size() == 3);
  std::size_t rank = 0;
  for (const Json& candidate : answers.json["candidates"]) {
    CHECK(candidate["rank"] == ++rank);
    const std::string line = line_with(answers.text, candidate["insulation"].get<std::string>() + " ");
    CAPTURE(line, candidate["chance_of_lasting"].get<double>());
    CHECK(line.find(percent_text(candidate["chance_of_lasting"])) != std::string::npos);
    CHECK(line.find(candidate["weakest_segment"].get<std::string>()) != std::string::npos);
    double least = 1.0e9;
    for (const Json& zone : candidate["zones"]) least = std::min(least, zone["margin_K"]["p50"].get<double>());
    CHECK(line.find(std::to_string(std::lround(least)) + " (") != std::string::npos);
  }
  for (const Json& zone : answers.json["zones"]) {
    const std::string line = line_with(answers.text, zone["zone"].get<std::string>() + "  ");
    CHECK(line.find(std::to_string(std::lround(zone["hottest_Cel"]["p50"].get<double>())) + " (") != std::string::npos);
    CHECK(line.find(zone["class"].get<std::string>() + " (") != std::string::npos);
  }
}

TEST_CASE("compare report: cautions come first, lines fit the page, no forbidden word", "[report][compare]") {
  remedy::CompareRequest request = of({"pvc-std", "xlpo-150"});
  request.what_if.ambient = KelvinRise{5.0};
  const Answers answers = answers_of(request);
  const std::size_t caution = answers.text.find("! WARNING"), table = answers.text.find("insulation ");
  REQUIRE(caution != std::string::npos);
  CHECK(caution < answers.text.find("New wires of loom"));
  CHECK(table != std::string::npos);
  CHECK(answers.json["cautions"].size() == report::cautions().size());
  std::istringstream lines{answers.text};
  for (std::string line; std::getline(lines, line);) {
    CAPTURE(line);
    CHECK(line.size() <= 100);
  }
  for (const char* word : {" safe", " pass", "OK to drive", " green", " amber"})
    CHECK(answers.text.find(word) == std::string::npos);
}

TEST_CASE("compare report: published fields", "[report][compare]") {
  const Answers answers = answers_of(of({"pvc-std", "xlpo-150"}));
  for (const char* key : {"format", "version", "engine", "case", "case_sha256", "draws", "seed", "assumptions", "cautions",
                          "candidates", "zones", "mixed_build", "wanted_years", "wanted_chance", "rests_on", "copper_kg"}) {
    CAPTURE(key);
    CHECK(answers.json.contains(key));
  }
  CHECK(answers.json["format"] == "heatside-comparison");
  const Json& segment = answers.json["candidates"][0]["segments"][0];
  for (const char* key :
       {"id", "flex_cracks_years", "cracked_years", "chance_of_lasting", "hottest_Cel", "margin_K", "serves"})
    CHECK(segment.contains(key));
  CHECK(answers.json["candidates"][0]["change"].is_null());
}

TEST_CASE("compare report: why a compound fails is told in words", "[report][compare]") {
  const Answers answers = answers_of(of({"pvc-std"}));
  CHECK(answers.text.find("too hot at engine-valley after key-off") != std::string::npos);
  CHECK(answers.text.find("over class A") != std::string::npos);
}

TEST_CASE("compare report: wires that are in now, before and after", "[report][compare]") {
  remedy::CompareRequest request;
  request.what_if.duty = "taxi";
  const Answers answers = answers_of(request);
  CHECK(answers.text.find("The change: duty becomes taxi") != std::string::npos);
  CHECK(answers.json["candidates"][0]["insulation"].is_null());
  CHECK(answers.json["candidates"][0]["change"]["before"].contains("chance_of_lasting"));
  CHECK(answers.json["mixed_build"].is_null());
}
