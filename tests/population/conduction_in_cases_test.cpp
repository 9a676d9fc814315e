// Heat along the copper in a whole case.
#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/exposure/conduction.hpp"
#include "population/cases.hpp"
#include "population/loom_copper.hpp"
#include "population/placed_wire.hpp"

using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

Json scene_in(const std::vector<std::string>& zones) {
  Scene scene;
  scene.insulation = "pvc-105";
  scene.zones = zones;
  return case_of(scene);
}

// An upper bay segment whose far end meets the head cover segment's near end.
Json joined() {
  Json document = scene_in({"head-cover", "upper-bay"});
  document["segments"][1]["to"] = "head-cover-here";
  return document;
}

const Json metal_at_100{{"cruise", 100}, {"city", 100}, {"idle", 100}, {"hill", 100}};

Json with_stud(Json document, const std::string& node) {
  for (Json& one : document["nodes"]) {
    if (one["id"] == node)
      one["terminal"] = {{"zone", "head-cover"}, {"surface_Cel", metal_at_100}, {"cools_with", "engine"}};
  }
  return document;
}

double life_of(const Json& document, const std::string& id, bool conduction = true) {
  return segment(estimate_of(document, {.conduction = conduction}), id).flex_cracks.p50.value();
}

}  // namespace

TEST_CASE("conduction: looms whose copper meets in no other zone are left as they are", "[population][conduction]") {
  const Json apart = scene_in({"head-cover", "upper-bay"});
  for (const char* id : {"head-cover", "upper-bay"}) {
    CHECK(life_of(apart, id) == life_of(apart, id, false));
    CHECK_FALSE(segment(estimate_of(apart), id).worst_from_start);
  }
}

TEST_CASE("conduction: next to a hot zone a cool segment is worst at its warm end", "[population][conduction]") {
  const Estimate estimate = estimate_of(joined());
  const SegmentEstimate& cool = segment(estimate, "upper-bay");
  CHECK(cool.flex_cracks.p50.value() < life_of(joined(), "upper-bay", false));
  REQUIRE(cool.worst_from_start);
  CHECK(cool.worst_from_start->value() > 0.49);
  CHECK(cool.worst_from_start->value() < 0.5);
  // The hot one gives heat away at that end and is worst at the other, if only a little.
  const SegmentEstimate& hot = segment(estimate, "head-cover");
  CHECK(hot.flex_cracks.p50.value() >= life_of(joined(), "head-cover", false));
  if (hot.worst_from_start) CHECK(hot.worst_from_start->value() > 0.49);
}

TEST_CASE("conduction: the temperature near a stud follows the fin with an insulated tip", "[population][conduction]") {
  // Incropera, Fundamentals of Heat and Mass Transfer, 7th ed., table 3.4 case B: cosh m(L - x) / cosh m L (from memory).
  const Json document = with_stud(scene_in({"upper-bay"}), "upper-bay-here");
  const casefile::Case job = read(document);
  const LoomCopper copper = loom_copper(job, records());
  const casefile::Segment& bay = job.segments.front();
  const exposure::PlacedWire wire =
      placed_wire(bay, bay.stretches.front(), bay.groups.front(), records().insulations.at("pvc-105"), records());
  const SquareMetres area = square_millimetres(4.0 * library::find_conductor_size(records(), "0.5 mm2")->area.value);
  const Metres decay = exposure::decay_length(area, exposure::heat_loss(wire.wire, wire.bundle, wire.cover));
  CHECK(decay.value() > 0.02);
  CHECK(decay.value() < 0.3);
  REQUIRE(copper.cells.size() > 40);
  for (const std::size_t i : {std::size_t{0}, std::size_t{5}, std::size_t{20}}) {
    const exposure::FinCell& cell = copper.cells[i];
    double stud = 0.0;
    for (const exposure::Influence& influence : cell.influences) {
      if (influence.source == 1) stud = influence.weight;
    }
    const double expected = std::cosh((bay.length - cell.from_start) / decay) / std::cosh(bay.length / decay);
    CHECK_THAT(stud, WithinAbs(expected, 3.0e-3));
  }
}

TEST_CASE("conduction: a hot stud shortens life and a cool one of the same zone does not", "[population][conduction]") {
  const Json plain = scene_in({"upper-bay"});
  const Json hot = with_stud(plain, "upper-bay-here");
  CHECK(life_of(hot, "upper-bay") < life_of(plain, "upper-bay"));
  CHECK(segment(estimate_of(hot), "upper-bay").worst_from_start->value() < 0.01);
  Json cool = plain;
  cool["nodes"][0]["terminal"] = {{"zone", "battery-tray"}};
  CHECK(life_of(cool, "upper-bay") == life_of(plain, "upper-bay"));
}

TEST_CASE("conduction: the order of the segments in the file changes nothing", "[population][conduction]") {
  Json turned = joined();
  std::swap(turned["segments"][0], turned["segments"][1]);
  for (const char* id : {"head-cover", "upper-bay"}) CHECK_THAT(life_of(turned, id), WithinRel(life_of(joined(), id), 1e-9));
}

TEST_CASE("conduction: a terminal that cools with something needs a temperature", "[casefile][conduction]") {
  Json document = scene_in({"upper-bay"});
  document["nodes"][0]["terminal"] = {{"zone", "upper-bay"}, {"cools_with", "exhaust"}};
  CHECK_THROWS_WITH(read(document), Contains("cools_with") && Contains("surface_Cel"));
  document["nodes"][0]["terminal"] = {{"zone", "upper-bay"}, {"surface_Cel", {{"cruise", 1000}}}};
  CHECK_THROWS_WITH(read(document), Contains("900") && Contains("city"));
}
