#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

#include "base/strict_json.hpp"
#include "heatside/base/date.hpp"
#include "heatside/library/library.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/check_report.hpp"
#include "heatside/report/estimate_report.hpp"
#include "report/layout.hpp"

using namespace heatside;
using namespace heatside::report;
using Catch::Contains;

namespace {

const library::Library& built_in() {
  static const library::Library library = library::built_in_library();
  return library;
}

std::string words(double years) { return remaining_in_words(Years{years}, built_in().model); }

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in{text};
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

// Rows of RFC 4180: CRLF ends a row outside quotes, "" is a quote inside them.
std::vector<std::vector<std::string>> csv_rows(const std::string& text) {
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> row;
  std::string cell;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted) {
      if (c != '"') {
        cell += c;
      } else if (i + 1 < text.size() && text[i + 1] == '"') {
        cell += text[++i];
      } else {
        quoted = false;
      }
    } else if (c == '"') {
      REQUIRE(cell.empty());
      quoted = true;
    } else if (c == ',' || c == '\r') {
      row.push_back(cell);
      cell.clear();
      if (c == ',') continue;
      REQUIRE(i + 1 < text.size());
      REQUIRE(text[++i] == '\n');
      rows.push_back(row);
      row.clear();
    } else {
      REQUIRE(c != '\n');
      cell += c;
    }
  }
  CHECK_FALSE(quoted);
  CHECK(cell.empty());
  return rows;
}

population::SegmentEstimate segment(const std::string& id, const std::string& name) {
  population::SegmentEstimate result;
  result.id = id;
  result.name = name;
  result.loom = "loom";
  result.lot = "signal";
  result.insulation = "xlpo-125";
  result.compound_known = true;
  result.worst_stretch = "a";
  result.zone = "head-cover";
  result.elongation = {Strain{0.1}, Strain{0.1}, Strain{0.1}};
  result.chance = {0.0, 0.0, 1.0, 0.0, 0.0};
  result.most_likely = ageing::Condition::flex_cracks;
  result.flex_cracks = {Years{-1.0}, Years{-1.0}, Years{-1.0}};
  result.cracked = {Years{3.25}, Years{3.25}, Years{3.25}};
  result.equivalent_temperature = celsius(61.5);
  result.damage_share = {0.25, 0.5, 0.25};
  return result;
}

population::Estimate estimate_of(std::vector<population::SegmentEstimate> segments) {
  population::Estimate estimate;
  estimate.segments = std::move(segments);
  return estimate;
}

casefile::Case plain_case() {
  casefile::Case job;
  job.title = "A case";
  job.built = *parse_date("1994");
  job.inspected = *parse_date("2026-01-01");
  return job;
}

std::string text_of(const population::Estimate& estimate, const casefile::Case& job) {
  return estimate_text(estimate, job, built_in(), {"heatside 1.2.3", std::string(64, 'a'), "x.case.json", 0});
}

}  // namespace

TEST_CASE("remaining life in words: what is near, far and gone by", "[report][words]") {
  // Wording of this project; beyond 40 years other causes come first (judgement).
  REQUIRE(built_in().model.report.plain_words_cap.value == 40.0);
  const auto [years, expected] = GENERATE(table<double, std::string>({
      {12.3, "in about 12 years"},
      {12.6, "in about 13 years"},
      {1.2, "in about 1 year"},
      {0.5, "in about 1 year"},
      {0.49, "within a year"},
      {0.0, "within a year"},
      {-0.3, "reached within the last year"},
      {-0.8, "reached about 1 year ago"},
      {-8.2, "reached about 8 years ago"},
      {-40.0, "reached about 40 years ago"},
      {-40.5, "reached over 40 years ago"},
      {-1.0e9, "reached over 40 years ago"},
      {40.0, "in about 40 years"},
      {40.5, "over 40 years by heat alone; other causes come first"},
      {1.0e12, "over 40 years by heat alone; other causes come first"},
      {std::numeric_limits<double>::infinity(), "over 40 years by heat alone; other causes come first"},
  }));
  CAPTURE(years);
  CHECK(words(years) == expected);
}

TEST_CASE("layout: columns are code points, not bytes", "[report][layout]") {
  // UTF-8 (RFC 3629): every code point has one byte that is no continuation byte.
  CHECK(columns("") == 0);
  CHECK(columns("abc") == 3);
  CHECK(columns("\xC3\xA9t\xC3\xA9") == 3);
  CHECK(columns("\xE2\x82\xAC 5") == 3);
  CHECK(columns("\xF0\x9D\x84\x9E") == 1);
}

TEST_CASE("layout: text is wrapped between words and loses none", "[report][layout]") {
  CHECK(wrapped("one two three", "", 7) == "one two\nthree\n");
  CHECK(wrapped("one two three", "- ", 9) == "- one two\n  three\n");
  CHECK(wrapped("one  two\nthree", "", 40) == "one two three\n");
  CHECK(wrapped("", "- ", 40) == "- \n");
  CHECK(wrapped("unbreakable", "- ", 5) == "- unbreakable\n");
  CHECK(wrapped("a unbreakable b", "", 5) == "a\nunbreakable\nb\n");
}

TEST_CASE("layout: lines of accented words are as long as those of plain ones", "[report][layout]") {
  std::string plain, accented;
  for (int i = 0; i < 200; ++i) {
    const auto length = static_cast<std::size_t>(1 + i * 7 % 11);
    for (std::size_t letter = 0; letter < length; ++letter) {
      plain += 'e';
      accented += "\xC3\xA9";
    }
    plain += ' ';
    accented += ' ';
  }
  const auto plain_lines = lines_of(wrapped(plain, "* "));
  const auto accented_lines = lines_of(wrapped(accented, "\xE2\x80\xA2 "));
  REQUIRE(plain_lines.size() == accented_lines.size());
  REQUIRE(plain_lines.size() > 5);
  for (std::size_t i = 0; i < plain_lines.size(); ++i) {
    CHECK(columns(plain_lines[i]) <= page_width);
    CHECK(columns(accented_lines[i]) == plain_lines[i].size());
  }
}

TEST_CASE("layout: cells are filled or cut to their width and never inside a code point", "[report][layout]") {
  CHECK(fitted("ab", 4) == "ab  ");
  CHECK(fitted("abcd", 4) == "abcd");
  CHECK(fitted("\xC3\xA9t\xC3\xA9", 5) == "\xC3\xA9t\xC3\xA9  ");
  const std::string cut = fitted("\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9\xC3\xA9", 4);
  CHECK(columns(cut) == 4);
  CHECK_NOTHROW(read_strict_json("\"" + cut + "\"", "x"));
  CHECK(cut.substr(0, 6) == "\xC3\xA9\xC3\xA9\xC3\xA9");
}

TEST_CASE("layout: columns of a table stand under their headings", "[report][layout]") {
  const auto lines =
      lines_of(table({"a", "second", "c"}, {{"\xC3\xA9\xC3\xA9\xC3\xA9", "x", "1"}, {"y", "a longer one", ""}}));
  REQUIRE(lines.size() == 3);
  CHECK(lines[0] == "a    second        c");
  CHECK(lines[1] == "\xC3\xA9\xC3\xA9\xC3\xA9  x             1");
  CHECK(lines[2] == "y    a longer one");
}

TEST_CASE("estimate as CSV: names with commas, quotes and line ends survive", "[report][csv]") {
  // RFC 4180 section 2, rules 5 to 7.
  const std::string name = GENERATE("left, right", "the \"upper\" loom", "two\nlines", "two\r\nlines", ",", "\"", "plain",
                                    "\xC3\xBC"
                                    "ber, \"dem\"\nMotor",
                                    "");
  CAPTURE(name);
  const auto rows = csv_rows(estimate_csv(estimate_of({segment("a", name), segment("b", "second")})));
  REQUIRE(rows.size() == 3);
  for (const auto& row : rows) CHECK(row.size() == rows[0].size());
  CHECK(rows[0][0] == "segment");
  CHECK(rows[0].back() == "name");
  CHECK(rows[1].back() == name);
  CHECK(rows[2].back() == "second");
}

TEST_CASE("estimate as CSV: quotes stand only where they must", "[report][csv]") {
  const std::string text = estimate_csv(estimate_of({segment("a", "say \"x\", y"), segment("b", "plain")}));
  CHECK_THAT(text, Contains("\r\na,loom,"));
  CHECK_THAT(text, Contains(",\"say \"\"x\"\", y\"\r\n"));
  CHECK_THAT(text, Contains(",plain\r\n"));
}

TEST_CASE("estimate as CSV: numbers read back to the same doubles", "[report][csv]") {
  auto one = segment("a", "");
  one.elongation.p50 = Strain{1.0 / 3.0};
  one.flex_cracks.p50 = Years{-0.1};
  one.cracked.p50 = Years{1.0e22 / 3.0};
  one.damage_share = {1.0 / 3.0, 0.1, 1.0 - 0.1 - 1.0 / 3.0};
  const auto rows = csv_rows(estimate_csv(estimate_of({one})));
  REQUIRE(rows.size() == 2);
  const auto cell = [&](const std::string& heading) {
    const auto at = std::find(rows[0].begin(), rows[0].end(), heading) - rows[0].begin();
    return std::stod(rows[1].at(static_cast<std::size_t>(at)));
  };
  CHECK(cell("elongation_percent") == in_percent(one.elongation.p50));
  CHECK(cell("flex_cracks_years") == -0.1);
  CHECK(cell("cracked_years") == 1.0e22 / 3.0);
  CHECK(cell("equivalent_temperature_Cel") == in_celsius(one.equivalent_temperature));
  CHECK(cell("damage_running") == 1.0 / 3.0);
  CHECK(cell("damage_parked") == 1.0 - 0.1 - 1.0 / 3.0);
}

TEST_CASE("estimate as JSON: years are cut at 200 and say so", "[report][json]") {
  // Cap of the project, materials/model.json.
  REQUIRE(built_in().model.report.years_cap.value == 200.0);
  auto one = segment("a", "");
  one.flex_cracks = {Years{150.0}, Years{199.0}, Years{5000.0}};
  one.cracked = {Years{-300.0}, Years{-200.0}, Years{-1.0}};
  auto two = segment("b", "");
  two.flex_cracks = two.cracked = {Years{200.0}, Years{200.0}, Years{200.0}};
  const std::string text =
      estimate_json(estimate_of({one, two}), plain_case(), built_in(), {"heatside 1.2.3", "", "x", 7}, false);
  const Json document = read_strict_json(text, "x");
  const Json& years = document["segments"][0]["remaining_years"];
  CHECK(years["flex_cracks"]["p50"] == 199.0);
  CHECK(years["flex_cracks"]["p90"] == 200.0);
  CHECK(years["flex_cracks"]["capped"] == true);
  CHECK(years["cracked"]["p10"] == -200.0);
  CHECK(years["cracked"]["capped"] == true);
  CHECK(document["segments"][1]["remaining_years"]["cracked"]["capped"] == false);
  CHECK(document["seed"] == 7);
  CHECK(document["cautions"].size() == cautions().size());
}

TEST_CASE("estimate as JSON: a life without end has a number all the same", "[report][json]") {
  // JSON has no infinity (RFC 8259 section 6).
  auto one = segment("a", "");
  const Years never{std::numeric_limits<double>::infinity()};
  one.flex_cracks = one.cracked = {never, never, never};
  const Json document = read_strict_json(
      estimate_json(estimate_of({one}), plain_case(), built_in(), {"heatside 1.2.3", "", "x", 0}, false), "x");
  CHECK(document["segments"][0]["remaining_years"]["cracked"]["p50"] == 200.0);
  CHECK(document["segments"][0]["remaining_years"]["cracked"]["capped"] == true);
}

TEST_CASE("estimate as text: no line is wider than the page", "[report][text]") {
  auto wide = segment("upper-segment-of-the-left-bank", "with a name that is far too long for its column");
  wide.zone = "underbody-exhaust";
  wide.insulation = "short-lived-1990s";
  wide.compound_known = false;
  wide.flex_cracks.p50 = wide.cracked.p50 = Years{-45.0};
  auto accented =
      segment("b",
              "\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC"
              "\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC\xC3\xBC");
  auto fresh = segment("c", "");
  fresh.flex_cracks.p50 = fresh.cracked.p50 = Years{500.0};
  casefile::Case job = plain_case();
  job.title =
      "A title of many words that goes on and on, over the edge of the page, and does not end before the second line";
  population::Estimate estimate = estimate_of({wide, accented, fresh});
  estimate.assumptions.push_back(
      {"/segments/0/stretches/0/zone", std::string{"a sentence of many words "} + std::string(150, 'x'), Grade::judgement});
  estimate.assumptions.back().text =
      "a sentence of many words that must be wrapped because it is longer than the page is wide, is it not";
  for (const std::string& line : lines_of(text_of(estimate, job))) {
    CAPTURE(line);
    CHECK(columns(line) <= page_width);
  }
}

TEST_CASE("estimate as text: cautions stand before the list, which bears no ranks", "[report][text]") {
  const std::string text = text_of(estimate_of({segment("first", "hot end"), segment("other", "cool end")}), plain_case());
  const auto list = text.find("hot end");
  REQUIRE(list != std::string::npos);
  CHECK(text.rfind("! ") < list);
  CHECK_THAT(text, Contains("airbag"));
  CHECK(text.find("first hot end") < text.find("other cool end"));
  for (const std::string& line : lines_of(text.substr(list))) CHECK_FALSE((line.starts_with("1") || line.starts_with("#")));
  CHECK_THAT(text, Contains("heatside 1.2.3, case sha256 aaaaaaaaaaaaaaaa"));
}

TEST_CASE("estimate as text: an invented case says so", "[report][text]") {
  casefile::Case job = plain_case();
  CHECK_THAT(text_of(estimate_of({segment("a", "")}), job), !Contains("Invented"));
  job.invented = true;
  CHECK_THAT(text_of(estimate_of({segment("a", "")}), job), Contains("Invented scenario"));
}

TEST_CASE("estimate as text: a guarded compound that is supple comes with a warning", "[report][text]") {
  // Compounds with a stabiliser fail late and at once (design of the kinetics): feel says little before the knee.
  auto supple = segment("a", "");
  supple.guarded = true;
  supple.most_likely = ageing::Condition::supple;
  supple.flex_cracks.p10 = Years{5.1};
  CHECK_THAT(text_of(estimate_of({supple}), plain_case()), Contains("supple says little for xlpo-125") && Contains("2031"));
  supple.guarded = false;
  CHECK_THAT(text_of(estimate_of({supple}), plain_case()), !Contains("supple says little"));
}

TEST_CASE("cautions: the worst harm comes first and airbags are named", "[report][cautions]") {
  // Rule of this project: burns, fire, shock and airbags before everything else.
  REQUIRE(cautions().size() >= 8);
  CHECK_THAT(cautions().front(), Contains("fire") && Contains("airbag") && Contains("Local codes"));
  const auto any = [](const std::string& word) {
    return std::any_of(cautions().begin(), cautions().end(),
                       [&](const std::string& text) { return text.find(word) != std::string::npos; });
  };
  for (const char* word : {"battery", "hot parts", "fuel vapour", "ignition", "rang", "fibres", "brittle", "larger fuse",
                           "power", "not opened"}) {
    CAPTURE(word);
    CHECK(any(word));
  }
}

TEST_CASE("check: every problem and every assumption is listed", "[report][check]") {
  CheckedFile bad;
  bad.file = "bad.json";
  bad.problems = {{"bad.json", "/a", "wrong"}, {"bad.json", "/b", "worse"}};
  CheckedFile good;
  good.file = "good.json";
  good.kind = "case";
  good.assumptions = {{"/looms", "first loom", Grade::judgement}};
  good.unused = {"findings"};
  CHECK(problems_text({good}).empty());
  CHECK(problems_text({bad, good}) == "bad.json: /a: wrong\nbad.json: /b: worse\nNothing was changed.\n");
  CHECK(check_text({bad, good}) ==
        "bad.json: 2 errors\ngood.json: case without errors, 1 assumption\n  - first loom [judgement, /looms]\n"
        "  not computed with: findings\n");
  const Json document = read_strict_json(check_json({bad, good}, "heatside 1.2.3"), "x");
  CHECK(document["files"][0]["problems"][1]["at"] == "/b");
  CHECK(document["files"][1]["assumptions"][0]["grade"] == "judgement");
}
