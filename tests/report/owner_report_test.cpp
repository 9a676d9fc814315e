#include "heatside/report/owner_report.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <string>

#include "heatside/casefile/read.hpp"
#include "heatside/report/cautions.hpp"

using namespace heatside;
using namespace heatside::report;
using Catch::Contains;

namespace {

casefile::Case demo_case(const library::Library& library) {
  std::ifstream in{HEATSIDE_SOURCE_DIR "/examples/hillside-estate.case.json", std::ios::binary};
  const std::string text{std::istreambuf_iterator<char>{in}, {}};
  return casefile::read_case(text, "demo", library, [](const std::string&) { return std::nullopt; });
}

population::DrawOptions few_draws() {
  population::DrawOptions options;
  options.draws = 500;
  return options;
}

struct Made {
  library::Library library = library::built_in_library();
  casefile::Case job = demo_case(library);
  population::DrawnAnswer answer = population::drawn_answer(job, library, few_draws());
  remedy::Answer remedies = remedy::remedies(job, library, answer, {true, false});
  inspection::CaseOrder order = inspection::case_order(job, library, answer, {1});
};

const Made& demo() {
  static const Made made;
  return made;
}

const Document& page() {
  static const Document document = [] {
    const Made& made = demo();
    const ReportPictures pictures;
    const BirthCertificate certificate{"heatside 9", std::string(64, 'a'), "demo.case.json", 7};
    return owner_report({made.job, made.library, made.answer.estimate, made.order, made.remedies, pictures, certificate});
  }();
  return document;
}

const Table& segments() {
  for (const Block& block : page().blocks) {
    if (const auto* table = std::get_if<Table>(&block); table != nullptr && table->heads.front() == "segment") return *table;
  }
  throw std::runtime_error{"no table of segments"};
}

}  // namespace

TEST_CASE("Chances are told in words and per cent", "[report]") {
  // whole numbers out of ten or a hundred are understood best: Gigerenzer 2002, Reckoning with Risk (from memory)
  CHECK(plain_chance(0.62) == "about 6 in 10 (62 %)");
  CHECK(plain_chance(0.04) == "about 4 in 100 (4 %)");
  CHECK(plain_chance(0.96) == "more than 9 in 10 (96 %)");
  CHECK(plain_chance(0.001) == "less than 1 in 100");
  CHECK(plain_chance(0.999) == "nearly certain (over 99 %)");
}

TEST_CASE("The table of the report has the numbers of the estimate", "[report]") {
  const population::Estimate& estimate = demo().answer.estimate;
  REQUIRE(segments().rows.size() == estimate.segments.size());
  for (std::size_t i = 0; i < estimate.segments.size(); ++i) {
    const population::SegmentEstimate& one = estimate.segments[i];
    const std::vector<std::string>& row = segments().rows[i];
    CHECK(row[0] == one.id);
    CHECK(std::stod(row[3]) == Approx(100.0 * one.chance_cracked()).margin(0.51));
    CHECK(std::stod(row[4]) == Approx(100.0 * one.elongation.p10.value()).margin(0.51));
  }
}

TEST_CASE("Every caution, every assumption and the making of the report are in it", "[report]") {
  const std::string text = markdown_text(page());
  const auto in_blocks = [](const std::string& words) {
    for (const Block& block : page().blocks) {
      if (const auto* list = std::get_if<Warnings>(&block)) {
        for (const std::string& item : list->items) {
          if (item == words) return true;
        }
      }
      if (const auto* list = std::get_if<Bullets>(&block)) {
        for (const std::string& item : list->items) {
          if (item.find(words) != std::string::npos) return true;
        }
      }
    }
    return false;
  };
  for (const std::string& caution : cautions()) CHECK(in_blocks(caution));
  for (const casefile::Assumption& one : demo().answer.estimate.assumptions) CHECK(in_blocks(one.text));
  for (const casefile::Assumption& one : demo().order.assumptions) CHECK(in_blocks(one.text));
  for (const casefile::Assumption& one : demo().remedies.assumptions) CHECK(in_blocks(one.text));
  CHECK_THAT(text, Contains(std::string(64, 'a')) && Contains("heatside 9") && Contains("seed 0"));
  CHECK_THAT(text, Contains("Invented scenario"));
}

TEST_CASE("The report promises nothing", "[report]") {
  const std::string text = html_text(page(), "");
  CHECK_THAT(text, !Contains(" is safe") && !Contains("OK to drive") && !Contains(" passed"));
  CHECK_THAT(text, Contains("Not opened, nothing claimed"));
}
