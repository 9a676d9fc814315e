// The work of a remedy as a list. Steps: common practice, no source.
#include "heatside/remedy/plan.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "heatside/base/error.hpp"
#include "population/cases.hpp"

using Catch::Contains;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::remedy;
using heatside::population::testing::case_of;
using heatside::population::testing::read;
using heatside::population::testing::records;

namespace {

struct Asked {
  casefile::Case job;
  Answer answer;
};

Asked asked(const std::vector<casefile::Circuit>& circuits) {
  Asked asked{read(case_of({})), {}};
  asked.job.circuits = circuits;
  casefile::Remedy remedy;
  remedy.id = "engine-branches";
  remedy.kind = "branches";
  remedy.segments = {"head-cover", "upper-bulkhead"};
  remedy.candidates = {{"xlpo-125", 1.0}};
  remedy.compound_known = true;
  asked.job.remedies = {remedy};
  const auto draws = population::drawn_answer(asked.job, records(), {.draws = 200});
  asked.answer = remedies(asked.job, records(), draws, {.knowing = false});
  return asked;
}

casefile::Circuit circuit(const std::string& id, const std::string& function, const std::string& segment) {
  casefile::Circuit one;
  one.id = id;
  one.function = function;
  one.segments = {segment};
  return one;
}

bool says(const std::vector<std::string>& steps, const std::string& words) {
  return std::any_of(steps.begin(), steps.end(),
                     [&](const std::string& step) { return step.find(words) != std::string::npos; });
}

}  // namespace

TEST_CASE("plan: without circuits it is a route checklist and says so", "[remedy][plan][trade]") {
  const Asked of = asked({});
  const Plan plan = plan_of(of.job, records(), of.answer, "engine-branches");
  CHECK_FALSE(plan.is_wiring_plan);
  CHECK(plan.circuits.empty());
  REQUIRE(plan.route.size() == 2);
  CHECK(plan.route.front().wires == 4);
  CHECK(plan.nodes.size() == 4);
  CHECK(says(plan.before, "before the new one is at hand"));
  for (const char* step : {"Continuity", "Voltage drop", "Fuses", "Routing", "First power-up"})
    CHECK(says(plan.after, step));
  // Power comes back after continuity, fuses and routing, and before what needs power.
  const auto place = [&](const std::string& words) {
    return std::find_if(plan.after.begin(), plan.after.end(),
                        [&](const std::string& step) { return step.find(words) != std::string::npos; });
  };
  CHECK(place("Continuity") < place("First power-up"));
  CHECK(place("Fuses") < place("First power-up"));
  CHECK(place("First power-up") < place("Voltage drop"));
}

TEST_CASE("plan: circuits make a wiring plan, with the copper of each and what is missing", "[remedy][plan]") {
  casefile::Circuit injector = circuit("inj-1", "injector", "head-cover");
  injector.plug = "X4";
  injector.cavity = "2";
  injector.colour = "blue-white";
  injector.size = "0.5 mm2";
  injector.fuse_amperes = 15.0;
  casefile::Circuit feed = circuit("main-feed", "feed of the box", "upper-bulkhead");
  feed.unfused = true;
  const Asked of = asked({injector, feed, circuit("lamp", "lamps", "cabin-bulkhead")});
  const Plan plan = plan_of(of.job, records(), of.answer, "engine-branches");
  CHECK(plan.is_wiring_plan);
  REQUIRE(plan.circuits.size() == 2);                 // the lamp runs elsewhere
  CHECK(plan.circuits[0].circuit.id == "main-feed");  // no price speaks for it: first
  CHECK(plan.circuits[0].untraded);
  CHECK(plan.circuits[1].missing.empty());
  CHECK(std::count(plan.circuits[0].missing.begin(), plan.circuits[0].missing.end(), "plug") == 1);
  CHECK(std::count(plan.circuits[0].missing.begin(), plan.circuits[0].missing.end(), "fuse") == 0);
  // Resistance of the conductor table, ISO 6722-1 by way of the record, times 0.5 m.
  REQUIRE(plan.circuits[1].milliohms);
  CHECK_THAT(*plan.circuits[1].milliohms,
             WithinRel(0.5 * library::find_conductor_size(records(), "0.5 mm2")->resistance.value, 1e-12));
  CHECK(says(plan.after, "main-feed has no fuse"));
}

TEST_CASE("plan: a remedy that is not there is named with the nearest one", "[remedy][plan][error]") {
  const Asked of = asked({});
  CHECK_THROWS_WITH(plan_of(of.job, records(), of.answer, "engine-branch"), Contains("perhaps \"engine-branches\""));
  CHECK_THROWS_WITH(plan_of(of.job, records(), of.answer, of.answer.questions.front().results.front().offer.remedy.id),
                    Contains("takes nothing in hand"));
}

TEST_CASE("plan: the next look is when a tenth of the draws crack when handled", "[remedy][plan]") {
  const casefile::Case job = read(case_of({}));
  Weakest weakest;
  weakest.flex_cracks = {Years{2.0}, Years{5.0}, Years{9.0}};
  REQUIRE(look_again_on(job, weakest));
  // 2 a of 365.25 days, to the day.
  CHECK(look_again_on(job, weakest)->day - job.inspected.day == std::chrono::days{731});
  weakest.flex_cracks.p10 = Years{-0.1};
  CHECK_FALSE(look_again_on(job, weakest));
}
