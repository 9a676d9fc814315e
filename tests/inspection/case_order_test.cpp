// The opening order of a whole case. Facts of the trade: common practice, no source.
#include "heatside/inspection/case_order.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "population/cases.hpp"

using Catch::Contains;
using namespace heatside;
using namespace heatside::inspection;
using heatside::population::testing::case_of;
using heatside::population::testing::Json;
using heatside::population::testing::read;
using heatside::population::testing::records;

namespace {

Json scene_of(const std::string& insulation) {
  heatside::population::testing::Scene scene;
  scene.insulation = insulation;
  scene.zones = {"head-cover", "upper-bulkhead", "cabin-bulkhead"};
  return case_of(scene);
}

CaseOrder ordered(const Json& document) {
  const casefile::Case job = read(document);
  const population::DrawnAnswer answer = population::drawn_answer(job, records(), {.draws = 1500});
  return case_order(job, records(), answer, {2});
}

const Candidate& candidate(const CaseOrder& order, const std::string& id) {
  for (const Candidate& one : order.question.candidates) {
    if (one.id == id) return one;
  }
  throw std::runtime_error("no candidate " + id);
}

// Walks to every end of a tree; `bare`: segments seen cracked or crumbling on the way.
template <class Check>
void at_each_end(const population::TreeNode& node, std::vector<std::size_t> bare, const Check& check) {
  if (!node.look) return check(node, bare);
  for (const population::TreeBranch& branch : node.branches) {
    std::vector<std::size_t> further = bare;
    const bool cracked =
        std::any_of(branch.outcomes.begin(), branch.outcomes.end(), [](std::size_t seen) { return seen >= 3; });
    if (cracked) further.push_back(*node.look);
    at_each_end(branch.next, further, check);
  }
}

Json opened_at(const std::string& segment, const std::string& seen, const std::string& on) {
  return {{"segment", segment}, {"seen", seen}, {"method", "look-opening"}, {"cause", "heat"}, {"on", on}};
}

bool in_order(const CaseOrder& order, const std::string& id) {
  return std::any_of(order.order.by_value.begin(), order.order.by_value.end(),
                     [&](const OpeningValue& value) { return order.question.candidates[value.candidate].id == id; });
}

}  // namespace

TEST_CASE("order of a case: a compound that lasts is left, and looking does not change that", "[inspection][order]") {
  const CaseOrder order = ordered(scene_of("etfe"));
  CHECK(order.order.looking != Looking::pays);
  const population::Choice& choice = order.question.choices.front();
  CHECK(choice.actions[order.order.now.best.front()].id == "leave");
}

TEST_CASE("order of a case: a loom that crumbles on the engine is replaced", "[inspection][order][trade]") {
  // Common practice, no source: on a loom with crumbling on-engine segments leaving it never wins.
  Json document = scene_of("short-lived-1990s");
  document["findings"] = Json::array({{{"segment", "head-cover"},
                                       {"seen", "crumbling"},
                                       {"method", "look-opening"},
                                       {"cause", "heat"},
                                       {"on", "2014-01-01"}}});
  const CaseOrder order = ordered(document);
  const population::Choice& choice = order.question.choices.front();
  CHECK(choice.actions[order.order.now.best.front()].id == "replace");
  CHECK(candidate(order, "head-cover").opened);
  CHECK_FALSE(in_order(order, "head-cover"));
  CHECK(std::none_of(order.look_again.begin(), order.look_again.end(),
                     [](const LookAgain& look) { return look.segment == "head-cover"; }));
}

TEST_CASE("order of a case: airbag circuits are never in it", "[inspection][order]") {
  Json document = scene_of("short-lived-1990s");
  document["segments"][1]["airbag"] = true;
  const CaseOrder order = ordered(document);
  CHECK_FALSE(in_order(order, "upper-bulkhead"));
  REQUIRE(order.order.kept_out.size() == 1);
  CHECK(order.question.candidates[order.order.kept_out.front()].id == "upper-bulkhead");
}

TEST_CASE("order of a case: what the case states of minutes, money and consent is used", "[inspection][order]") {
  Json document = scene_of("short-lived-1990s");
  document["currency"] = "EUR";
  document["openings"] = {{"allowed", 1}, {"cost_limit", 40}, {"consent", true}};
  document["segments"][0]["minutes_to_open"] = 55;
  const CaseOrder order = ordered(document);
  CHECK(order.consent);
  CHECK(order.currency == "EUR");
  CHECK(order.question.allowed == std::size_t{1});
  CHECK(candidate(order, "head-cover").minutes.value() == 55.0);
  // The stated 55 minutes cost more than the limit.
  if (order.order.tree.root.look) CHECK(order.question.candidates[*order.order.tree.root.look].id != "head-cover");
  CHECK_FALSE(ordered(scene_of("short-lived-1990s")).consent);
}

TEST_CASE("order of a case: segments of one cover share its minutes", "[inspection][order]") {
  Json document = scene_of("short-lived-1990s");
  for (Json& segment : document["segments"]) {
    segment["cover_group"] = "trough";
    segment["minutes_to_open"] = 30;
  }
  const CaseOrder order = ordered(document);
  REQUIRE(order.question.covers.size() == 1);
  CHECK(order.question.covers.front().minutes.value() > 0.0);
  CHECK(candidate(order, "head-cover").minutes.value() + order.question.covers.front().minutes.value() == Approx(30.0));
}

TEST_CASE("order of a case: the worse it is, the more care its handling asks for", "[inspection][order]") {
  CHECK_THAT(handling_advice(ageing::Condition::crumbling), Contains("what replaces it at hand"));
  CHECK_THAT(handling_advice(ageing::Condition::flex_cracks), Contains("support"));
}

TEST_CASE("order of a case: handling goes by the worst that is likely, not by the likeliest", "[inspection][order]") {
  // By hand: from the worst on, the first whose chance with all worse ones reaches 0.1.
  const Handling coil = handling_of("coil", {0.45, 0.2, 0.06, 0.22, 0.07});
  CHECK(coil.as == ageing::Condition::cracked);
  CHECK(coil.chance == Approx(0.29));
  CHECK(handling_of("cool", {0.93, 0.04, 0.01, 0.01, 0.01}).as == ageing::Condition::supple);
  CHECK(handling_of("hot", {0.0, 0.0, 0.0, 0.9, 0.1}).as == ageing::Condition::crumbling);
}

TEST_CASE("order of a case: a loom is never left after bare conductor was seen on the way", "[inspection][order][trade]") {
  // "leave" is never advised where bare conductor was seen; common practice, no source. Faults are made cheap, so that
  // money alone would leave the loom.
  Json document = scene_of("short-lived-1990s");
  document["inspected"] = "2008-01-01";
  document["service"][0]["to"] = "2008-01-01";
  document["currency"] = "EUR";
  const int stop = GENERATE(300, 900, 1800);
  document["costs"] = {{"stop", stop}};
  const CaseOrder order = ordered(document);
  std::size_t ends = 0;
  at_each_end(order.order.tree.root, {}, [&](const population::TreeNode& end, const std::vector<std::size_t>& bare) {
    if (bare.empty()) return;
    ++ends;
    CHECK(order.actions.front()[end.actions.front()].id != "leave");
  });
  CAPTURE(stop);
  if (order.order.looking == Looking::pays) CHECK(ends > 0);
}

TEST_CASE("order of a case: openings that were made count against what the owner allows", "[inspection][order]") {
  Json document = scene_of("short-lived-1990s");
  document["openings"] = {{"allowed", 1}, {"consent", true}};
  document["findings"] = Json::array({opened_at("upper-bulkhead", "stiff", "2014-01-01")});
  const CaseOrder order = ordered(document);
  CHECK(order.opened == 1);
  CHECK(order.question.allowed == std::size_t{0});
  CHECK(order.order.looking == Looking::not_allowed);
  CHECK_FALSE(order.order.tree.root.look.has_value());
}

TEST_CASE("order of a case: minutes of openings so far are taken from the limit, a cover once", "[inspection][order]") {
  // Without a currency a minute costs 1: both segments 30 minutes from outside, the cover's share of 30 is counted once.
  Json document = scene_of("short-lived-1990s");
  for (Json& segment : document["segments"]) {
    segment["cover_group"] = "trough";
    segment["minutes_to_open"] = 30;
  }
  document["currency"] = "EUR";
  document["costs"] = {{"per_minute", 1.0}};
  document["openings"] = {{"cost_limit", 100}};
  document["findings"] =
      Json::array({opened_at("head-cover", "stiff", "2014-01-01"), opened_at("upper-bulkhead", "stiff", "2014-01-01")});
  const CaseOrder order = ordered(document);
  const double cover = order.question.covers.front().minutes.value();
  CHECK(order.spent == Approx(cover + 2.0 * (30.0 - cover)));
  CHECK(*order.question.cost_limit == Approx(100.0 - order.spent));
}

TEST_CASE("order of a case: only the last openings leave a cover off", "[inspection][order]") {
  Json document = scene_of("short-lived-1990s");
  document["segments"][0]["cover_group"] = "trough";
  document["segments"][1]["cover_group"] = "trough";
  document["segments"][2]["cover_group"] = "panel";
  document["findings"] = Json::array({opened_at("head-cover", "stiff", "2009-01-01")});
  CHECK(ordered(document).question.covers[0].off);
  document["findings"].push_back(opened_at("cabin-bulkhead", "supple", "2014-01-01"));
  const CaseOrder order = ordered(document);
  CHECK_FALSE(order.question.covers[0].off);
  CHECK(order.question.covers[1].off);
  CHECK(std::any_of(order.assumptions.begin(), order.assumptions.end(), [](const casefile::Assumption& one) {
    return one.text.find("still off since the last opening, 2014-01-01: panel") != std::string::npos;
  }));
}

TEST_CASE("order of a case: airbag circuits and what was found bare have no day to look again", "[inspection][order]") {
  Json document = scene_of("xlpo-125");
  document["segments"][1]["airbag"] = true;
  document["findings"] = Json::array({{{"segment", "cabin-bulkhead"},
                                       {"seen", "cracked"},
                                       {"method", "look-boot"},
                                       {"cause", "gnawed"},
                                       {"on", "2014-01-01"}}});
  const CaseOrder order = ordered(document);
  REQUIRE(order.look_again.size() == 1);
  CHECK(order.look_again.front().segment == "head-cover");
  REQUIRE(order.found_bare.size() == 1);
  CHECK(order.found_bare.front().segment == "cabin-bulkhead");
}

TEST_CASE("order of a case: clues and symptoms are steps that need no opening", "[inspection][order]") {
  Json document = scene_of("short-lived-1990s");
  const auto done = [](const CaseOrder& order, const std::string& what) {
    return std::any_of(order.step_zero.begin(), order.step_zero.end(),
                       [&](const StepZero& step) { return step.done && step.what.find(what) != std::string::npos; });
  };
  document["lots"][0]["insulation"] = "unknown";
  CHECK_FALSE(done(ordered(document), "print and feel"));
  CHECK_FALSE(done(ordered(document), "stored faults"));
  document["findings"] = Json::array({{{"lot", "signal"}, {"clues", {"feel-rubbery"}}, {"on", "2014-01-01"}}});
  document["symptoms"] = {{"none", true}};
  CHECK(done(ordered(document), "print and feel"));
  CHECK(done(ordered(document), "stored faults"));
}
