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
  CHECK_THAT(handling_advice(ageing::Condition::crumbling), Contains("only to replace it"));
  CHECK_THAT(handling_advice(ageing::Condition::flex_cracks), Contains("support"));
}
