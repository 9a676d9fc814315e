// The files of an export; its numbers are held against other outputs in tests/app/export_test.py.
#include "heatside/report/export_report.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numeric>
#include <set>

#include "base/strict_json.hpp"
#include "population/cases.hpp"

using namespace heatside;
using namespace heatside::report;
using population::testing::records;

namespace {

std::vector<ExportedFile> exported(const casefile::Case& job) {
  const population::DrawnAnswer answer = population::drawn_answer(job, records(), {.draws = 200, .histogram = true});
  std::vector<std::size_t> all(job.segments.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  ExportContent content{job, records(), answer, {}, {}, {}, 50};
  content.draws = population::years_to_conditions(job, records(), answer.population, all);
  content.likely = population::explain_heat(job, records());
  for (const casefile::Segment& segment : job.segments) {
    for (const population::SegmentEstimate& one : answer.estimate.segments) {
      if (one.id == segment.id)
        content.curves.push_back(population::ageing_curve(job, records(), answer.population, one, Years{10.0}, 5));
    }
  }
  return export_files(content, {"test", "", "Some Car!.case.json", 0}, [](const std::string&) { return "0"; });
}

casefile::Case hostile_case() {
  auto document = population::testing::case_of({.zones = {"head-cover", "cabin-bulkhead"}});
  document["title"] = "A, \"B\" <script>alert(1)</script>";
  document["segments"][0]["name"] = "=cmd(),\"x\" </td>";
  return population::testing::read(document);
}

std::size_t lines_of(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

}  // namespace

TEST_CASE("export: the descriptor comes last and lists every table", "[report][export]") {
  const std::vector<ExportedFile> files = exported(population::testing::read(population::testing::case_of({})));
  REQUIRE(files.back().name == descriptor_name);
  const Json descriptor = read_strict_json(files.back().text, "datapackage.json");
  CHECK(descriptor["name"] == "some-car");
  std::set<std::string> listed, there;
  for (const Json& resource : descriptor["resources"]) {
    listed.insert(resource["path"].get<std::string>());
    CHECK(resource["schema"]["fields"].size() > 0);
  }
  for (const ExportedFile& file : files) {
    if (file.name.ends_with(".csv")) there.insert(file.name);
  }
  CHECK(listed == there);
}

TEST_CASE("export: draws are kept as asked", "[report][export]") {
  const casefile::Case job = population::testing::read(population::testing::case_of({}));
  for (const ExportedFile& file : exported(job)) {
    if (file.name == "draws.csv") CHECK(lines_of(file.text) == 1 + 50 * job.segments.size());
    if (file.name == "findings.csv") CHECK(lines_of(file.text) == 1);
  }
}

TEST_CASE("export: hostile texts stay in their cells", "[report][export]") {
  for (const ExportedFile& file : exported(hostile_case())) {
    if (file.name == "segments.csv") CHECK(file.text.find(",\"=cmd(),\"\"x\"\" </td>\",") != std::string::npos);
    if (file.name == descriptor_name) CHECK(read_strict_json(file.text, "descriptor")["title"] == hostile_case().title);
  }
}

TEST_CASE("export: descriptors of others are told from ours", "[report][export]") {
  const std::vector<ExportedFile> files = exported(population::testing::read(population::testing::case_of({})));
  CHECK(is_export_descriptor(files.back().text));
  for (const char* other :
       {"", "{", "[]", "{}", R"({"heatside": 3})", R"({"heatside": {"format": 1}})", R"({"name": "x", "resources": []})"})
    CHECK_FALSE(is_export_descriptor(other));
}
