#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>
#include <string>

#include "drawing_rules.hpp"
#include "drawn_cases.hpp"
#include "heatside/report/loom_map.hpp"
#include "report/condition_ink.hpp"
#include "report/drawing_words.hpp"
#include "report/map_layout.hpp"

using namespace heatside;
using namespace heatside::report;
using namespace heatside::report::testing;

namespace {

using Numbers = std::map<std::string, std::size_t>;

// CIELAB lightness of an sRGB colour: IEC 61966-2-1 and CIE 15, both from memory.
std::array<double, 3> linear(const std::string& colour) {
  std::array<double, 3> rgb{};
  for (std::size_t i = 0; i < 3; ++i) {
    const double v = std::stoi(colour.substr(1 + 2 * i, 2), nullptr, 16) / 255.0;
    rgb[i] = v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
  }
  return rgb;
}

double lightness(const std::array<double, 3>& rgb) {
  const double y = 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2];
  return y > 216.0 / 24389.0 ? 116.0 * std::cbrt(y) - 16.0 : y * 24389.0 / 27.0;
}

// What dichromats see, in linear RGB: Vienot, Brettel & Mollon 1999, Color Res. Appl. 24, 243-252 (from memory).
std::array<double, 3> seen_without_red(const std::array<double, 3>& c) {
  return {0.11238 * c[0] + 0.88762 * c[1], 0.11238 * c[0] + 0.88762 * c[1], 0.00401 * c[0] - 0.00401 * c[1] + c[2]};
}
std::array<double, 3> seen_without_green(const std::array<double, 3>& c) {
  return {0.29275 * c[0] + 0.70725 * c[1], 0.29275 * c[0] + 0.70725 * c[1], -0.02234 * c[0] + 0.02234 * c[1] + c[2]};
}

std::string map_of(const Json& document, double width = 320.0, const Numbers& numbers = {}) {
  const casefile::Case job = read(document);
  return loom_map(job, records(), answer_of(job).estimate, numbers, {"m", width});
}

}  // namespace

TEST_CASE("condition colours: each is clearly darker than the milder one, for every kind of colour vision",
          "[report][drawing]") {
  double normal = 101.0, red = 101.0, green = 101.0;
  for (const ConditionInk& ink : condition_inks) {
    const auto colour = linear(ink.colour);
    CHECK(lightness(colour) < normal - 6.0);
    CHECK(lightness(seen_without_red(colour)) < red - 6.0);
    CHECK(lightness(seen_without_green(colour)) < green - 6.0);
    normal = lightness(colour);
    red = lightness(seen_without_red(colour));
    green = lightness(seen_without_green(colour));
    // Neither red, amber nor green: red and green are near each other, or blue leads.
    CHECK((std::abs(colour[0] - colour[1]) < 0.25 || colour[2] > std::max(colour[0], colour[1])));
  }
  std::set<std::string> dashes;
  for (const ConditionInk& ink : condition_inks) CHECK(dashes.insert(ink.dash).second);
}

TEST_CASE("loom map: every segment has a row with the words and chances of the estimate", "[report][drawing]") {
  const casefile::Case job = read(hillside());
  const population::DrawnAnswer answer = answer_of(job);
  for (const double width : {320.0, 720.0, 1200.0}) {
    const auto all = checked_drawing(loom_map(job, records(), answer.estimate, {}, {"bay", width}), "bay");
    check_words_apart(all);
    for (const population::SegmentEstimate& segment : answer.estimate.segments) {
      CAPTURE(segment.id, width);
      const auto ids = named(all, "text", segment.id);
      REQUIRE(ids.size() == 1);
      // Its row: what belongs to the same group.
      const auto in_row = [&](const Element& element) { return element.parent == ids.front().parent; };
      std::vector<Element> row;
      std::copy_if(all.begin(), all.end(), std::back_inserter(row), in_row);
      CHECK(named(row, "text", std::string{ageing::name_of(segment.most_likely)}).size() == 1);
      CHECK(named(row, "text", chance_words(segment.chance_cracked()) + " cracked").size() == 1);
      CHECK(std::any_of(row.begin(), row.end(), [&](const Element& element) {
        return element.attributes.contains("stroke") && element.name == "path" &&
               element.attributes.at("stroke") == ink_of(segment.most_likely).colour;
      }));
      // The bar: parts as long as the chances.
      const auto rects = named(row, "rect");
      const double whole = rects.back().number("width");
      for (std::size_t i = 0; i < segment.chance.size(); ++i) {
        double drawn = 0.0;
        for (const Element& rect : rects) {
          if (rect.attributes.at("fill") == condition_inks[i].colour) drawn += rect.number("width");
        }
        CHECK(drawn == Approx(whole * segment.chance[i]).margin(0.011));
      }
    }
  }
}

TEST_CASE("loom map: fields are what comes off, and what they share bears a letter", "[report][drawing]") {
  const auto all = checked_drawing(map_of(hillside()), "m");
  for (const char* cover : {"In the open: nothing comes off", "Under: head-cover trim", "Under: intake trunk",
                            "Under: footwell trim", "Under: scuttle panel"})
    CHECK(named(all, "text", cover).size() == 1);
  // The rear corner is reached in the open, under the trim and under the trunk; shelf and grommet in two fields each.
  CHECK(named(all, "text", "A").size() == 3);
  CHECK(named(all, "text", "B").size() == 2);
  CHECK(named(all, "text", "C").size() == 2);
  CHECK(named(all, "text", "D").empty());
}

TEST_CASE("loom map: only the opening plan bears numbers", "[report][drawing]") {
  const casefile::Case job = read(hillside());
  const population::DrawnAnswer answer = answer_of(job);
  const inspection::CaseOrder order = plan_of_three();
  const Numbers numbers = opening_numbers(order);
  CHECK(numbers == Numbers{{"shelf-engine", 1}, {"shelf-relays", 2}, {"grommet-shelf", 3}});

  const auto badges = [&](const Numbers& some) {
    std::size_t count = 0;
    for (const Element& text : named(elements_of(loom_map(job, records(), answer.estimate, some, {"m", 320.0})), "text"))
      count += text.attributes.contains("fill") && text.attributes.at("fill") == svg::paper ? 1u : 0u;
    return count;
  };
  CHECK(badges(numbers) == numbers.size());
  CHECK(badges({}) == 0);

  inspection::CaseOrder idle = order;
  idle.order.looking = inspection::Looking::changes_nothing;
  CHECK(opening_numbers(idle).empty());
}

TEST_CASE("loom map: one segment and two hundred", "[report][drawing]") {
  Json one = branching(1);
  check_words_apart(checked_drawing(map_of(one), "m"));
  const Json many = branching(200);
  for (const double width : {320.0, 1000.0}) {
    const auto all = checked_drawing(map_of(many, width), "m");
    check_words_apart(all);
    for (const Json& segment : many["segments"]) CHECK(named(all, "text", segment["id"].get<std::string>()).size() == 1);
  }
}

TEST_CASE("map layout: every segment once, rows apart, few lanes", "[report][drawing]") {
  for (const std::size_t count : {1u, 20u, 200u}) {
    const casefile::Case job = read(branching(count));
    std::set<std::size_t> drawn;
    for (const MapField& field : map_fields(job)) {
      double last = -1.0;
      for (const MapLine& line : field.lines) {
        CHECK(drawn.insert(line.segment).second);
        CHECK(job.segments[line.segment].cover_group == field.cover);
        CHECK(line.row_y >= last + map_height::segment);
        CHECK(line.row_y + map_height::segment <= field.height);
        CHECK(line.from_y < line.to_y);
        last = line.row_y;
      }
      CHECK(static_cast<double>(field.lanes) <= 1.0 + std::log2(1.0 + static_cast<double>(field.lines.size())));
    }
    CHECK(drawn.size() == job.segments.size());
  }
}

TEST_CASE("map layout: a loom of very many segments in a row, and one that bites its tail", "[report][drawing]") {
  casefile::Case job;
  constexpr std::size_t count = 20000;
  for (std::size_t i = 0; i < count; ++i) {
    job.nodes.push_back({"n" + std::to_string(i), "", std::nullopt});
    casefile::Segment segment;
    segment.id = "s" + std::to_string(i);
    segment.from = "n" + std::to_string(i);
    segment.to = "n" + std::to_string((i + 1) % count);
    job.segments.push_back(segment);
  }
  const auto fields = map_fields(job);
  REQUIRE(fields.size() == 1);
  CHECK(fields.front().lines.size() == count);
  CHECK(std::count_if(fields.front().nodes.begin(), fields.front().nodes.end(),
                      [](const MapNode& node) { return node.again; }) == 1);
}

TEST_CASE("loom map: what a user writes stays text", "[report][drawing]") {
  Json document = with_findings();
  const std::string title = "</title><script>alert(\"x\")</script> & ' \xE2\x80\xAE turned";
  document["title"] = title;
  document["segments"][6]["name"] = std::string(3000, 'W');
  document["segments"][7]["name"] = "<b onload='x'>\u05E9\u05DC\u05D5\u05DD</b>";
  document["segments"][2]["cover_group"] = "\"><svg onload=alert(1)> & cover";
  const std::string svg = map_of(document);
  const auto all = checked_drawing(svg, "m");
  check_words_apart(all);
  CHECK(svg.find("<script") == std::string::npos);
  CHECK(svg.find("<b ") == std::string::npos);
  CHECK(svg.find("\xE2\x80\xAE") == std::string::npos);
  CHECK(all[1].text == "What comes off to reach it: </title><script>alert(\"x\")</script> & '  turned");
  // Shortened where it is drawn, whole where one points at it.
  const auto titles = named(all, "title");
  CHECK(std::any_of(titles.begin(), titles.end(),
                    [](const Element& element) { return element.text == std::string(3000, 'W'); }));
  for (const Element& text : named(all, "text")) CHECK(text.text.size() < 400);
  // Words that run to the left are kept apart by first-strong isolates (Unicode Standard Annex 9).
  CHECK(svg.find("\u2068&lt;b onload=&#39;x&#39;&gt;\u05E9\u05DC\u05D5\u05DD&lt;/b&gt;\u2069") != std::string::npos);
  // What was seen stands beside the place.
  CHECK(svg.find("seen flex-cracks 2014-05") != std::string::npos);
}

TEST_CASE("loom map: airbag circuits and hot parts are said, and the likely case has no chances", "[report][drawing]") {
  Json document = hillside();
  document["segments"][14]["airbag"] = true;
  const casefile::Case job = read(document);
  const std::string svg = loom_map(job, records(), population::likely_estimate(job, records()), {}, {"m", 320.0});
  const auto all = checked_drawing(svg, "m");
  check_words_apart(all);
  CHECK(svg.find("AIRBAG CIRCUIT, never opened") != std::string::npos);
  CHECK(named(all, "text", "likely case, no chances").size() == job.segments.size());
  CHECK(svg.find(" cracked</text>") == std::string::npos);
}

TEST_CASE("loom map: a prefix, a width or an estimate that does not fit", "[report][drawing][error]") {
  const casefile::Case job = read(hillside());
  const population::Estimate estimate = population::likely_estimate(job, records());
  CHECK_THROWS_AS(loom_map(job, records(), estimate, {}, {"m", 200.0}), DomainError);
  CHECK_THROWS_AS(loom_map(job, records(), estimate, {}, {"m", std::nan("")}), DomainError);
  CHECK_THROWS_AS(loom_map(job, records(), estimate, {}, {"", 320.0}), DomainError);
  CHECK_THROWS_AS(loom_map(job, records(), estimate, {}, {"1\"><", 320.0}), DomainError);
  population::Estimate other = estimate;
  other.segments.pop_back();
  CHECK_THROWS_AS(loom_map(job, records(), other, {}, {"m", 320.0}), DomainError);
}

TEST_CASE("text of a drawing: bytes that are no text", "[report][drawing]") {
  // Well-formed byte sequences: Unicode Standard, table 3-7.
  CHECK(svg::escaped("a\xFFz") == "a\uFFFDz");
  CHECK(svg::escaped("\xC0\xAF") == "\uFFFD\uFFFD");
  CHECK(svg::escaped("\xED\xA0\x80") == "\uFFFD");
  CHECK(svg::escaped("\xE2\x82") == "\uFFFD\uFFFD");
  CHECK(svg::escaped("\xF0\x9F\x94\xA5") == "\xF0\x9F\x94\xA5");
  CHECK(svg::escaped(std::string("a\0b\x1B\x7F", 5)) == "ab");
  CHECK(svg::escaped("\xEF\xBF\xBF") == "");
  CHECK(svg::number(-0.001) == "0");
  CHECK(svg::number(12.5) == "12.5");
  CHECK(svg::number(1e6) == "1000000");
  CHECK(svg::shortened("short", 100.0, 10.0) == "short");
  CHECK(svg::width_of(svg::shortened(std::string(10000, 'x'), 100.0, 10.0), 10.0) <= 100.0);
  CHECK(svg::lines_of("", 100.0, 10.0).empty());
  CHECK(svg::lines_of("one two three four five six seven", 60.0, 10.0, 2).size() == 2);
}
