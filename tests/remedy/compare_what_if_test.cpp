// What a change does, and in which direction.
#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/remedy/compare.hpp"
#include "population/cases.hpp"

using Catch::WithinAbs;
using namespace heatside;
using namespace heatside::remedy;
using namespace heatside::population::testing;

namespace {

Json beside_a_pipe() {
  Scene scene;
  scene.insulation = "xlpo-125";
  scene.in_service = "2009-01-01";
  scene.zones = {"head-cover", "exhaust-close"};
  Json document = case_of(scene);
  document["segments"][1]["stretches"][0]["hot_bodies"] = {
      {{"shape", "cylinder"},
       {"size_mm", 50},
       {"distance_mm", 60},
       {"surface_Cel", {{"cruise", 350}, {"city", 300}, {"idle", 250}, {"hill", 450}}},
       {"shield", "none"}}};
  return document;
}

Comparison changed_by(const WhatIf& what_if, const std::vector<std::string>& insulations = {}) {
  const casefile::Case job = read(beside_a_pipe());
  population::DrawOptions options;
  options.draws = 600;
  CompareRequest request;
  request.what_if = what_if;
  request.insulations = insulations;
  REQUIRE(problems_of(request, job, records()).empty());
  return compare(job, records(), population::drawn_answer(job, records(), options), request);
}

const SegmentOutcome& at(const Comparison& comparison, const std::string& id) {
  for (const SegmentOutcome& segment : comparison.candidates.front().segments) {
    if (segment.id == id) return segment;
  }
  throw std::runtime_error("no segment " + id);
}

KelvinRise warmer(const SegmentOutcome& segment) { return segment.heat.hottest.p50 - *segment.change->hottest_before; }

}  // namespace

TEST_CASE("what if: warmer air shortens life and a colder one lengthens it", "[remedy][what-if]") {
  WhatIf what_if;
  what_if.ambient = KelvinRise{10.0};
  const Comparison warm = changed_by(what_if);
  what_if.ambient = KelvinRise{-10.0};
  const Comparison cold = changed_by(what_if);
  const SegmentOutcome &here = at(warm, "head-cover"), &there = at(cold, "head-cover");
  CHECK(here.change->gain.p90.value() <= 0.0);
  CHECK(here.change->gain.p10.value() < -0.1);
  CHECK(there.change->gain.p10.value() >= 0.0);
  CHECK(there.change->gain.p90.value() > 0.1);
  CHECK(here.life.lasts <= here.change->before.lasts);
  CHECK(there.life.lasts >= there.change->before.lasts);
  // A warm zone follows the ambient by s: 10 K outside are 10 s K there (s of the zone's record).
  const double follows = records().zones.at("head-cover").ambient_following.value;
  CHECK_THAT(warmer(here).value(), WithinAbs(10.0 * follows, 0.5));
  CHECK_THAT(warmer(there).value(), WithinAbs(-10.0 * follows, 0.5));
  // Both compare with the same wires on the same draws.
  CHECK(here.change->before.lasts == there.change->before.lasts);
}

TEST_CASE("what if: a cooler route lengthens life at the place alone", "[remedy][what-if]") {
  WhatIf what_if;
  what_if.reroutes = {{{"exhaust-close", ""}, "upper-bay"}};
  const Comparison comparison = changed_by(what_if);
  const SegmentOutcome& moved = at(comparison, "exhaust-close");
  CHECK(moved.change->gain.p10.value() >= 0.0);
  CHECK(moved.life.flex_cracks.p10 > moved.change->before.flex_cracks.p10);
  CHECK(moved.life.lasts >= moved.change->before.lasts);
  CHECK(warmer(moved).value() < -10.0);
  CHECK(moved.zone == "upper-bay");
  CHECK(at(comparison, "head-cover").change->gain.p50.value() == 0.0);
  CHECK(warmer(at(comparison, "head-cover")).value() == 0.0);
}

TEST_CASE("what if: a foil sleeve beside a hot pipe keeps radiation off", "[remedy][what-if]") {
  // Common practice, no source: foil sleeves are fitted for that. Bright metal radiates and absorbs little.
  WhatIf what_if;
  what_if.sleeves = {{{"exhaust-close", "a"}, "shield-alu"}};
  const Comparison comparison = changed_by(what_if);
  const SegmentOutcome& sleeved = at(comparison, "exhaust-close");
  CHECK(warmer(sleeved).value() < -5.0);
  CHECK(sleeved.change->gain.p10.value() >= 0.0);
  CHECK(sleeved.life.flex_cracks.p10 > sleeved.change->before.flex_cracks.p10);
}

TEST_CASE("what if: a taxi's hours shorten life", "[remedy][what-if]") {
  WhatIf what_if;
  what_if.duty = "taxi";
  const Comparison comparison = changed_by(what_if, {"xlpo-125"});
  const SegmentOutcome& segment = at(comparison, "head-cover");
  CHECK(segment.change->gain.p90.value() <= 0.0);
  CHECK(segment.life.flex_cracks.p50 < segment.change->before.flex_cracks.p50);
  CHECK(comparison.changes == std::vector<std::string>{"duty becomes taxi"});
}

TEST_CASE("what if: a covering that cannot show its effect says so", "[remedy][what-if]") {
  const casefile::Case job = read(beside_a_pipe());
  WhatIf what_if;
  what_if.sleeves = {{{"head-cover", ""}, "shield-alu"}};
  const auto assumed = assumptions_of(what_if, job, records());
  REQUIRE(assumed.size() == 1);
  CHECK(assumed.front().text.find("no hot part is stated") != std::string::npos);
  what_if.sleeves = {{{"exhaust-close", ""}, "shield-alu"}};
  CHECK(assumptions_of(what_if, job, records()).empty());
}

TEST_CASE("what if: the same place changed twice is refused", "[remedy][what-if][error]") {
  const casefile::Case job = read(beside_a_pipe());
  WhatIf what_if;
  what_if.sleeves = {{{"head-cover", "a"}, "tube-pp"}, {{"head-cover", ""}, "tube-pvc"}};
  CHECK(problems_of(what_if, job, records()).size() == 1);
  what_if.sleeves.pop_back();
  what_if.reroutes = {{{"head-cover", "a"}, "upper-bay"}};
  CHECK(problems_of(what_if, job, records()).empty());
}
