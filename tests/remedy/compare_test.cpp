// Insulations side by side: masses by hand, bounds on joint chances, classes where heat asks for them.
#include "heatside/remedy/compare.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "population/cases.hpp"

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::remedy;
using namespace heatside::population::testing;

namespace {

casefile::Case engine_and_cabin() {
  Scene scene;
  scene.zones = {"engine-valley", "cabin-bulkhead", "upper-bulkhead"};
  scene.climate = "hot-humid";
  return read(case_of(scene));
}

Comparison compared(const casefile::Case& job, const CompareRequest& request, std::size_t draws = 1000) {
  population::DrawOptions options;
  options.draws = draws;
  return compare(job, records(), population::drawn_answer(job, records(), options), request);
}

Comparison of(const std::vector<std::string>& insulations, std::size_t draws = 1000) {
  CompareRequest request;
  request.insulations = insulations;
  return compared(engine_and_cabin(), request, draws);
}

const ZoneOutcome& zone_of(const Candidate& candidate, const std::string& id) {
  for (const ZoneOutcome& zone : candidate.zones) {
    if (zone.zone == id) return zone;
  }
  throw std::runtime_error("no zone " + id);
}

}  // namespace

TEST_CASE("compare: masses are length times ring times density", "[remedy][compare]") {
  const casefile::Case job = engine_and_cabin();
  // By hand: three segments of 0.5 m with four wires of 0.5 mm2. ISO 6722-1 thin wall: 1.6 mm over 0.28 mm; the record's
  // nominal measures of that size are taken. Copper 8.89 g/cm3 (IEC 60028, from memory).
  const casefile::WireGroup& group = job.segments.front().groups.front();
  const double outer = in_millimetres(group.outer_diameter), inner = outer - 2.0 * in_millimetres(group.wall);
  CHECK_THAT(outer, WithinAbs(1.5, 0.15));
  const double length = 3.0 * 4.0 * 0.5;  // [m]
  const double ring = 0.25 * std::numbers::pi * (outer * outer - inner * inner);
  CHECK_THAT(insulation_mass(job, {"top"}, records().insulations.at("xlpo-125")),
             WithinRel(1.0e-3 * length * ring * records().insulations.at("xlpo-125").density.value, 1.0e-9));
  CHECK_THAT(copper_mass(job, {"top"}, records()), WithinRel(length * 0.5e-6 * 8890.0, 1.0e-9));
  CHECK(copper_mass(job, {"other"}, records()) == 0.0);
}

TEST_CASE("compare: the better class ranks first and serves where the lower does not", "[remedy][compare]") {
  const Comparison comparison = of({"pvc-std", "xlpo-150"});
  REQUIRE(comparison.candidates.size() == 2);
  const Candidate &best = comparison.candidates[0], &other = comparison.candidates[1];
  CHECK(best.insulation == "xlpo-150");
  CHECK(best.whole.lasts > other.whole.lasts);
  // Common practice, no source: standard PVC has no place on the engine; in the cabin it serves for decades.
  CHECK_FALSE(zone_of(other, "engine-valley").serves);
  CHECK(zone_of(other, "engine-valley").heat.over());
  CHECK(zone_of(other, "cabin-bulkhead").serves);
  CHECK(other.segments[other.weakest].id == "engine-valley");
  for (const ZoneOutcome& zone : best.zones) CHECK(zone.serves);
}

TEST_CASE("compare: the whole lasts with a chance within Frechet's and Bonferroni's bounds", "[remedy][compare]") {
  // Joint survival of events with chances p_i: at most the least p_i, at least 1 - sum (1 - p_i) (Frechet 1935,
  // Bonferroni 1936; from memory).
  const auto bounded = [](double whole, const std::vector<double>& parts) {
    double least = 1.0, lost = 0.0;
    for (const double part : parts) {
      least = std::min(least, part);
      lost += 1.0 - part;
    }
    CHECK(whole <= least + 1.0e-12);
    CHECK(whole >= 1.0 - lost - 1.0e-12);
  };
  const Comparison comparison = of({"pvc-105", "mppe", "xlpo-125"});
  for (const Candidate& candidate : comparison.candidates) {
    CAPTURE(candidate.insulation);
    std::vector<double> segments, zones;
    for (const SegmentOutcome& segment : candidate.segments) segments.push_back(segment.life.lasts);
    for (const ZoneOutcome& zone : candidate.zones) zones.push_back(zone.life.lasts);
    bounded(candidate.whole.lasts, segments);
    bounded(candidate.whole.lasts, zones);
    CHECK(candidate.looms.size() == 1);
    CHECK(candidate.looms.front().life.lasts == candidate.whole.lasts);
  }
}

TEST_CASE("compare: the mixed build takes the lowest class that serves, and is run", "[remedy][compare]") {
  const Comparison comparison = of({"pvc-std", "xlpo-125", "xlpo-150"});
  REQUIRE(comparison.mixed);
  const MixedBuild& mixed = *comparison.mixed;
  std::map<std::string, std::string> built;
  for (const MixedPart& part : mixed.parts) {
    for (const std::string& segment : part.segments) built[segment] = part.insulation;
  }
  REQUIRE(built.size() == 3);
  for (const auto& [segment, insulation] : built) {
    CAPTURE(segment, insulation);
    for (const Candidate& candidate : comparison.candidates) {
      const auto own = std::find_if(candidate.segments.begin(), candidate.segments.end(),
                                    [&](const SegmentOutcome& one) { return one.id == segment; });
      if (candidate.insulation == insulation) {
        CHECK(own->serves);
        CHECK(mixed.whole.lasts <= own->life.lasts + 1.0e-12);
      } else if (own->serves) {
        CHECK(rated(records().insulations.at(insulation)).temperature <= candidate.limit);
      }
    }
  }
  CHECK(built["cabin-bulkhead"] == "pvc-std");
  CHECK(built["engine-valley"] != "pvc-std");
  CHECK(mixed.unserved.empty());
  double parts = 0.0;
  for (const auto& [segment, insulation] : built)
    parts += insulation_mass(engine_and_cabin(), {"top"}, records().insulations.at(insulation)) / 3.0;
  CHECK_THAT(mixed.insulation_kg, WithinRel(parts, 1.0e-9));
}

TEST_CASE("compare: a build of one compound is that compound", "[remedy][compare]") {
  // Both ways of building it must meet on the very same draws.
  CompareRequest request;
  request.insulations = {"xlpo-125", "nr-sbr-braid"};
  request.chance = 0.01;
  Scene scene;
  scene.zones = {"engine-valley", "upper-bulkhead"};
  const Comparison comparison = compared(read(case_of(scene)), request);
  REQUIRE(comparison.mixed);
  REQUIRE(comparison.mixed->parts.size() == 1);
  const Candidate& xlpo = comparison.candidates.front();
  REQUIRE(comparison.mixed->parts.front().insulation == xlpo.insulation);
  CHECK(comparison.mixed->whole.lasts == xlpo.whole.lasts);
  CHECK(comparison.mixed->whole.flex_cracks.p50 == xlpo.whole.flex_cracks.p50);
  CHECK(comparison.mixed->insulation_kg == Approx(xlpo.insulation_kg));
}

TEST_CASE("compare: what a zone asks for", "[remedy][compare]") {
  const Comparison comparison = of({"pvc-std", "xlpo-125", "xlpo-150"});
  CHECK(comparison.zones.front().zone == "engine-valley");
  for (const ZoneNeed& need : comparison.zones) {
    CAPTURE(need.zone);
    REQUIRE(need.by_middle);
    REQUIRE(need.by_p90);
    CHECK(need.by_middle->celsius <= need.by_p90->celsius);
    CHECK(in_celsius(need.hottest.p50) <= need.by_middle->celsius);
    CHECK(need.hottest.p10 < need.hottest.p90);
  }
  // Common practice, no source: engine compartments ask for class C or better near the engine, A does in the cabin.
  CHECK(comparison.zones.front().by_middle->celsius >= 125);
  CHECK(comparison.zones.back().by_middle->letter == 'A');
}

TEST_CASE("compare: wrong words are named all at once with the nearest", "[remedy][compare][error]") {
  CompareRequest request;
  request.insulations = {"xlpo-12", "xlpo-125", "xlpo-125"};
  request.looms = {"tap"};
  request.made = parse_date("1999");
  request.what_if.duty = "taxy";
  request.what_if.ambient = KelvinRise{31.0};
  request.what_if.sleeves = {{{"head", ""}, "shield-al"}};
  request.what_if.reroutes = {{{"cabin-bulkhead", "b"}, "upper-bai"}};
  const std::vector<std::string> problems = problems_of(request, engine_and_cabin(), records());
  std::string all;
  for (const std::string& problem : problems) all += problem + '\n';
  CAPTURE(all);
  CHECK(problems.size() == 10);
  for (const char* word : {"nearest is \"xlpo-125\"", "xlpo-125 is named twice", "nearest is \"top\"", "1999", "2014-01-01",
                           "nearest is \"taxi\"", "31 K", "\"head\"", "nearest is \"shield-alu\"",
                           "stretch of cabin-bulkhead", "nearest is \"upper-bay\""})
    CHECK(all.find(word) != std::string::npos);
}
