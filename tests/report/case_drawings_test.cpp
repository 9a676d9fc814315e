#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <limits>
#include <string>

#include "drawing_rules.hpp"
#include "drawn_cases.hpp"
#include "heatside/report/case_drawings.hpp"
#include "heatside/report/loom_map.hpp"

using namespace heatside;
using namespace heatside::report;
using namespace heatside::report::testing;

namespace {

// One case with findings and everything that is drawn of it.
struct Drawn {
  casefile::Case job = read(with_findings());
  population::DrawnAnswer answer = answer_of(job);
  inspection::CaseOrder order = plan_of_three();
  population::SegmentEstimate segment = *casefile::find_by_id(answer.estimate.segments, job.segments[5].id);
  population::AgeingCurve curve = population::ageing_curve(job, records(), answer.population, segment, Years{15.0}, 30);
  population::LifeLine line = population::life_line(job, records(), answer.population, segment, temperatures());
  std::vector<population::HeatBand> bands =
      population::heat_bands(job, records(), answer.population.zone_scores, true, segment);

  static std::vector<Kelvin> temperatures() {
    std::vector<Kelvin> list;
    for (double degrees = 0.0; degrees <= 150.0; degrees += 10.0) list.push_back(celsius(degrees));
    return list;
  }
};

const Drawn& drawn() {
  static const Drawn all;
  return all;
}

const std::vector<CostRange> costs{
    {"leave and watch", 200.0, 900.0, 2600.0},
    {"used part & <its> tag, one of the very many that lie about in the yard", 420.0, 700.0, 1400.0},
    {"new part", 1300.0, 1350.0, 1420.0}};

double logarithm(double value) { return std::log(value); }
double inverse(double kelvin) { return -1.0 / kelvin; }
double itself(double value) { return value; }

// Of the tick with these words: where it stands along its axis. Words of an axis of heights hang 3.5 below their tick.
double height_of(const std::vector<Element>& all, const std::string& words) {
  return named(all, "text", words).at(0).number("y") - 3.5;
}
double along(const std::vector<Element>& all, const std::string& words) {
  const auto found = named(all, "text", words);
  REQUIRE(found.size() == 1);
  return found.front().number("x");
}

std::vector<svg::Point> points_of(const Element& path) {
  std::vector<svg::Point> points;
  std::string data = path.attributes.at("d");
  std::replace_if(
      data.begin(), data.end(), [](char c) { return c == 'M' || c == 'L' || c == 'Z'; }, ' ');
  std::istringstream in{data};
  for (svg::Point point; in >> point.x >> point.y;) points.push_back(point);
  return points;
}

const Element& with_attribute(const std::vector<Element>& all, const std::string& name, const std::string& key,
                              const std::string& value) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const Element& element) {
    const auto at = element.attributes.find(key);
    return element.name == name && at != element.attributes.end() && at->second == value;
  });
  REQUIRE(found != all.end());
  return *found;
}

}  // namespace

TEST_CASE("ageing drawing: lines lie where the axis says that the numbers are", "[report][drawing]") {
  for (const double width : {320.0, 700.0}) {
    const auto all = checked_drawing(ageing_drawing(drawn().curve, drawn().job, drawn().segment, {"a", width}), "a");
    check_words_apart(all);
    const Reading heights{200.0, height_of(all, "200 %"), 2.0, height_of(all, "2 %")};
    const auto middle = points_of(with_attribute(all, "path", "stroke-width", "2.4"));
    REQUIRE(middle.size() == drawn().curve.points.size());
    const double inspected = along(all, "inspected");
    std::size_t at_inspection = 0;
    for (std::size_t i = 0; i < middle.size(); ++i) {
      const population::ElongationAt& point = drawn().curve.points[i];
      CHECK(middle[i].y == Approx(heights.place(in_percent(point.elongation.p50), logarithm)).margin(0.05));
      if (point.after.value() == 0.0) at_inspection = i;
    }
    CHECK(middle[at_inspection].x == Approx(inspected).margin(0.02));
    CHECK(drawn().curve.points[at_inspection].elongation.p50.value() ==
          Approx(drawn().segment.elongation.p50.value()).epsilon(1e-9));
    // Calendar years below: 2014-05-12 is day 132 of its year.
    const Reading years{2000.0, along(all, "2000"), 2020.0, along(all, "2020")};
    CHECK(inspected == Approx(years.place(2014.0 + 131.0 / 365.25, itself)).margin(0.5));
  }
}

TEST_CASE("ageing drawing: findings are marked, dark where heat was the cause", "[report][drawing]") {
  const auto all = checked_drawing(ageing_drawing(drawn().curve, drawn().job, drawn().segment, {"a", 360.0}), "a");
  const auto titles = named(all, "title");
  const auto says = [&](const std::string& words) {
    return std::count_if(titles.begin(), titles.end(), [&](const Element& one) { return one.text == words; });
  };
  CHECK(says("2014-05-03: seen flex-cracks (cause: heat)") == 1);
  CHECK(says("2010-05-03: elongation at break 8 %, standard error 3 % (cause: heat)") == 1);
  casefile::Case bare = drawn().job;
  bare.findings.clear();
  const std::string without = ageing_drawing(drawn().curve, bare, drawn().segment, {"a", 360.0});
  CHECK(without.find("Bracket") == std::string::npos);
  CHECK(elements_of(without).size() < all.size());
}

TEST_CASE("life drawing: service and oven lie where the axes say", "[report][drawing]") {
  const auto all = checked_drawing(life_drawing(drawn().line, drawn().job, drawn().segment, {"l", 360.0}), "l");
  check_words_apart(all);
  const Reading heights{10.0, height_of(all, "10 years"), 100.0, height_of(all, "100 years")};
  const Reading warmth{273.15, along(all, "0"), 373.15, along(all, "100")};
  const Element& ring = with_attribute(all, "circle", "r", "6");
  const double age = years_between(drawn().job.looms[0].made.day, drawn().job.inspected.day).value();
  const double life = age + drawn().segment.flex_cracks.p50.value();
  CHECK(ring.number("cy") == Approx(heights.place(life, logarithm)).margin(0.05));
  CHECK(ring.number("cx") == Approx(warmth.place(drawn().segment.equivalent_temperature.value(), inverse)).margin(0.05));
  const auto middle = points_of(with_attribute(all, "path", "stroke-width", "2.4"));
  REQUIRE(middle.size() == drawn().line.points.size());
  for (std::size_t i = 0; i < middle.size(); ++i) {
    const population::LifeAt& one = drawn().line.points[i];
    CHECK(middle[i].x == Approx(warmth.place(one.temperature.value(), inverse)).margin(0.05));
    CHECK(middle[i].y == Approx(heights.place(one.life.p50.value(), logarithm)).margin(0.05));
  }
}

TEST_CASE("heat drawing: bars are as long as the shares, regimes differ by pattern", "[report][drawing]") {
  const auto all = checked_drawing(heat_drawing(drawn().bands, drawn().segment, {"h", 360.0}), "h");
  check_words_apart(all);
  CHECK(named(all, "pattern").size() == 3);
  std::array<double, 3> lengths{}, shares{};
  const std::array<std::string, 3> looks{"url(#h-running)", "url(#h-soak)", "url(#h-parked)"};
  for (const Element& rect : named(all, "rect")) {
    for (std::size_t i = 0; i < 3; ++i) {
      // Those of the key are all of one size.
      if (rect.attributes.contains("fill") && rect.attributes.at("fill") == looks[i] && rect.number("height") != 12.0)
        lengths[i] += rect.number("width");
    }
  }
  for (const population::HeatBand& band : drawn().bands) {
    for (std::size_t i = 0; i < 3; ++i) shares[i] += std::max(band.share[i], 0.0);
  }
  const double scale = lengths[1] / shares[1];
  for (std::size_t i = 0; i < 3; ++i) CHECK(lengths[i] == Approx(scale * shares[i]).margin(0.01 * scale));
}

TEST_CASE("order drawing: the tree of the plan, thick where it is likely", "[report][drawing]") {
  std::size_t looks = 0, stops = 0;
  const auto count = [&](const auto& self, const population::TreeNode& node) -> void {
    ++(node.look ? looks : stops);
    for (const population::TreeBranch& branch : node.branches) self(self, branch.next);
  };
  const inspection::CaseOrder& order = drawn().order;
  REQUIRE(order.order.looking == inspection::Looking::pays);
  count(count, order.order.tree.root);
  const auto all = checked_drawing(order_drawing(order, {"t", 360.0}), "t");
  check_words_apart(all);
  std::size_t opened = 0, stopped = 0;
  for (const Element& text : named(all, "text")) {
    opened += text.text.starts_with("open ") ? 1u : 0u;
    stopped += text.text.starts_with("Stop looking") ? 1u : 0u;
  }
  CHECK(opened == 3);
  CHECK(opened == looks);
  CHECK(stopped == stops);
  CHECK(named(all, "path").size() == looks + stops - 1);
  std::size_t drawn_as_likely = 0;
  for (const population::TreeBranch& branch : order.order.tree.root.branches) {
    for (const Element& path : named(all, "path"))
      drawn_as_likely += std::abs(path.number("stroke-width") - (1.0 + 5.0 * branch.chance)) < 0.006 ? 1u : 0u;
  }
  CHECK(drawn_as_likely >= order.order.tree.root.branches.size());

  inspection::CaseOrder idle = order;
  idle.order.looking = inspection::Looking::changes_nothing;
  const std::string still = order_drawing(idle, {"t", 360.0});
  CHECK(still.find("More looking would not change this choice. Not opened, nothing claimed.") != std::string::npos);
  CHECK(still.find("open ") == std::string::npos);
}

TEST_CASE("cost drawing: ranges lie where the axis says", "[report][drawing]") {
  const auto all = checked_drawing(cost_drawing(costs, "EUR", {"c", 360.0}), "c");
  check_words_apart(all);
  const Reading money{500.0, along(all, "500"), 2000.0, along(all, "2000")};
  std::vector<Element> bars;
  for (const Element& rect : named(all, "rect")) {
    if (rect.attributes.contains("stroke")) bars.push_back(rect);
  }
  REQUIRE(bars.size() == costs.size());
  for (std::size_t i = 0; i < costs.size(); ++i) {
    CHECK(bars[i].number("x") == Approx(money.place(costs[i].p5, itself)).margin(0.02));
    CHECK(bars[i].number("x") + bars[i].number("width") == Approx(money.place(costs[i].p95, itself)).margin(0.03));
  }
  CHECK(named(all, "text", "900 (200 to 2600)").size() == 1);
  CHECK(named(elements_of(cost_drawing(costs, "", {"c", 360.0})), "text", "minutes of work").size() == 1);
  // A remedy that earns something lies left of nothing.
  checked_drawing(cost_drawing({{"sell it", -500.0, -100.0, 40.0}}, "EUR", {"c", 360.0}), "c");
  checked_drawing(cost_drawing({{"nothing", 0.0, 0.0, 0.0}}, "EUR", {"c", 360.0}), "c");
}

TEST_CASE("drawings: numbers, widths and prefixes that cannot be drawn", "[report][drawing][error]") {
  const double infinite = std::numeric_limits<double>::infinity();
  CHECK_THROWS_AS(cost_drawing({}, "EUR", {"c", 360.0}), DomainError);
  CHECK_THROWS_AS(cost_drawing({{"a", 2.0, 1.0, 1.0}}, "EUR", {"c", 360.0}), DomainError);
  CHECK_THROWS_AS(cost_drawing({{"a", 0.0, 1.0, infinite}}, "EUR", {"c", 360.0}), DomainError);
  CHECK_THROWS_AS(cost_drawing(costs, "EUR", {"c", 5000.0}), DomainError);
  CHECK_THROWS_AS(order_drawing(drawn().order, {"a b", 360.0}), DomainError);
  CHECK_THROWS_AS(heat_drawing({}, drawn().segment, {"h", 360.0}), DomainError);
  CHECK_THROWS_AS(ageing_drawing({}, drawn().job, drawn().segment, {"a", 360.0}), DomainError);
  CHECK_THROWS_AS(life_drawing({}, drawn().job, drawn().segment, {"l", 360.0}), DomainError);
}

TEST_CASE("drawings: an XML parser reads all of them in one page", "[report][drawing]") {
  // Expat, through Python's xml package: well-formed, and no id twice among drawings with prefixes of their own.
  const Drawn& all = drawn();
  const std::string page =
      "<page>" + loom_map(all.job, records(), all.answer.estimate, opening_numbers(all.order), {"bay", 320.0}) +
      ageing_drawing(all.curve, all.job, all.segment, {"age", 360.0}) +
      life_drawing(all.line, all.job, all.segment, {"life", 360.0}) + heat_drawing(all.bands, all.segment, {"heat", 360.0}) +
      order_drawing(all.order, {"plan", 360.0}) + cost_drawing(costs, "EUR", {"cost", 360.0}) + "</page>";
  const auto file = std::filesystem::temp_directory_path() / "heatside-drawings-of-a-test.xml";
  std::ofstream{file} << page;
  const std::string command =
      "python3 -c \"import sys, xml.etree.ElementTree as t\n"
      "ids = [e.get('id') for e in t.parse(sys.argv[1]).iter() if e.get('id')]\n"
      "sys.exit(0 if len(ids) > 12 and len(ids) == len(set(ids)) else 1)\" " +
      file.string();
  CHECK(std::system(command.c_str()) == 0);
  std::filesystem::remove(file);
}
