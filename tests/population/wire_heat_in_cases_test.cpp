// Stated currents and hot bodies in a whole case. Properties; no outside source.
#include <catch2/catch.hpp>

#include "population/cases.hpp"
#include "population/placed_wire.hpp"

using Catch::Contains;
using Catch::WithinRel;
using Catch::Matchers::WithinAbs;
using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

Json scene_in(const std::string& zone) {
  Scene scene;
  scene.insulation = "pvc-105";
  scene.zones = {zone};
  return case_of(scene);
}

double life_of(const Json& document) { return estimate_of(document).segments.front().flex_cracks.p50.value(); }

Json with_current(Json document, double amperes, double share = 1.0) {
  Json& group = document["segments"][0]["groups"][0];
  group["current_A"] = amperes;
  group["loaded"] = 4;
  group["current_share"] = share;
  return document;
}

Json beside_hot_pipe(Json document, double distance_mm, const std::string& shield = "none", bool clean = true) {
  document["segments"][0]["stretches"][0]["hot_bodies"] =
      Json::array({{{"shape", "cylinder"},
                    {"size_mm", 45},
                    {"distance_mm", distance_mm},
                    {"surface_Cel", {{"cruise", 450}, {"city", 380}, {"idle", 280}, {"hill", 650}}},
                    {"shield", shield},
                    {"clean_shield", clean}}});
  return document;
}

}  // namespace

TEST_CASE("likely case: a current shortens life, the more of it the more", "[population][wire]") {
  const Json plain = scene_in("upper-bay");
  CHECK_THAT(life_of(with_current(plain, 0.0)), WithinRel(life_of(plain), 1e-12));
  CHECK_THAT(life_of(with_current(plain, 8.0, 0.0)), WithinRel(life_of(plain), 1e-12));
  CHECK(life_of(with_current(plain, 4.0)) < life_of(plain));
  CHECK(life_of(with_current(plain, 6.0)) < life_of(with_current(plain, 4.0)));
  CHECK(life_of(with_current(plain, 6.0, 0.3)) > life_of(with_current(plain, 6.0)));
}

TEST_CASE("likely case: a loaded neighbour in the bundle ages a signal wire", "[population][wire]") {
  Json document = scene_in("upper-bay");
  document["lots"].push_back(lot_of("xlpo-125", "feed"));
  document["segments"][0]["groups"].push_back({{"lot", "feed"}, {"count", 2}});
  const double quiet = life_of(document);
  document["segments"][0]["groups"][1]["current_A"] = 7.0;
  const SegmentEstimate loaded = estimate_of(document).segments.front();
  CHECK(loaded.insulation == "pvc-105");
  CHECK(loaded.flex_cracks.p50.value() < quiet);
}

TEST_CASE("likely case: a hot body counts by its distance and its shield", "[population][wire]") {
  const Json plain = scene_in("upper-bay");
  const double far = life_of(beside_hot_pipe(plain, 900.0));
  const double near = life_of(beside_hot_pipe(plain, 90.0));
  CHECK(near < far);
  CHECK(far < life_of(plain));
  const double clean = life_of(beside_hot_pipe(plain, 90.0, "panel"));
  const double dirty = life_of(beside_hot_pipe(plain, 90.0, "panel", false));
  CHECK(near < dirty);
  CHECK(dirty < clean);
  CHECK(clean < life_of(plain));
}

TEST_CASE("likely case: beside a stated hot body a radiant zone gives its air only", "[population][wire]") {
  // The same pipe, the same air: whether the case calls the place exhaust side or upper bay is the same then.
  const double exhaust_side = life_of(beside_hot_pipe(scene_in("exhaust-close"), 120.0));
  const double upper_bay = life_of(beside_hot_pipe(scene_in("upper-bay"), 120.0));
  CHECK_THAT(exhaust_side, WithinRel(upper_bay, 1e-12));
}

TEST_CASE("likely case: a current that runs away names its segment", "[population][wire][error]") {
  CHECK_THROWS_WITH(estimate_of(with_current(scene_in("head-cover"), 300.0)), Contains("head-cover") && Contains("300"));
}

TEST_CASE("likely case: signal wires warm with the hot copper of their neighbours", "[population][wire]") {
  // I2 R20 (1 + 0.00393 (T - 20 degC)), IEC 60028, of 2 wires of 2.5 mm2 in the middle of the bundle. 147.27 degC: the same
  // balance solved with SciPy and the heat transfer of tests/exposure/trip_scipy_test.py; 142.1 with copper kept at 85 degC.
  Json document = scene_in("upper-bay");
  document["lots"].push_back(lot_of("xlpo-125", "feed"));
  document["lots"][1]["size"] = "2.5 mm2";
  Json& groups = document["segments"][0]["groups"];
  groups[0]["count"] = 6;
  groups.push_back({{"lot", "feed"}, {"count", 2}, {"current_A", 25}});
  const casefile::Case job = read(document);
  const casefile::Segment& segment = job.segments[0];
  const exposure::PlacedWire signal =
      placed_wire(segment, segment.stretches[0], segment.groups[0], records().insulations.at("pvc-105"), records());
  const double milliohm = library::find_conductor_size(records(), "2.5 mm2")->resistance.value;
  CHECK_THAT(signal.bundle.other_heat.value(), WithinRel(2.0 * 25.0 * 25.0 * 1.0e-3 * milliohm, 1e-12));
  exposure::WireSetting setting;
  setting.air = celsius(113.0);
  const exposure::WireTemperatures at =
      exposure::wire_temperatures(signal.wire, signal.bundle, signal.cover, signal.current, setting);
  CHECK_THAT(in_celsius(at.hottest_insulation()), WithinAbs(147.27, 0.1));
}

TEST_CASE("likely case: hot bodies that cannot be where they are said to be name their stretch",
          "[population][wire][error]") {
  const auto beside = [](const Json& body, std::size_t times) {
    Json document = scene_in("upper-bay");
    for (std::size_t i = 0; i < times; ++i) document["segments"][0]["stretches"][0]["hot_bodies"].push_back(body);
    return document;
  };
  const Json surface{{"cruise", 300}, {"city", 300}, {"idle", 300}, {"hill", 300}};
  const auto body = [&](const char* shape, double size_mm, double distance_mm) {
    return Json{
        {"shape", shape}, {"size_mm", size_mm}, {"distance_mm", distance_mm}, {"surface_Cel", surface}, {"shield", "none"}};
  };
  // Three strips of 200 mm at 50 mm: 3 atan(2)/pi = 1.057 of the view, own arithmetic; two of them are 0.705.
  CHECK_THROWS_WITH(estimate_of(beside(body("plate", 200.0, 50.0), 3)),
                    Contains("stretch \"a\"") && Contains("3 hot bodies") && Contains("1.057"));
  CHECK_NOTHROW(estimate_of(beside(body("plate", 200.0, 50.0), 2)));
  // Four wires of 1.56 mm are a bundle of 1.15 * 1.56 * 2 = 3.588 mm: 1.794 mm beside the 22.5 mm of the pipe.
  CHECK_THROWS_WITH(estimate_of(beside(body("cylinder", 45.0, 24.0), 1)),
                    Contains("stretch \"a\"") && Contains("24 mm") && Contains("24.29 mm"));
  CHECK_NOTHROW(estimate_of(beside(body("cylinder", 45.0, 24.5), 1)));
}

TEST_CASE("likely case: insulation that heat destroys within hours is answered", "[population][wire]") {
  // Hundreds of thousands of lives pass in the years of service; both solutions say the same.
  Scene scene;
  scene.zones = {"upper-bay"};
  scene.insulation = GENERATE("pvc-105", "xlpo-125");
  Json document = case_of(scene);
  document["segments"][0]["groups"][0]["count"] = 3;
  if (GENERATE(false, true)) {
    document["segments"][0]["groups"][0]["current_A"] = 22;
  } else {
    const Json surface{{"cruise", 900}, {"city", 900}, {"idle", 900}, {"hill", 900}};
    document["segments"][0]["stretches"][0]["hot_bodies"] = Json::array(
        {{{"shape", "plate"}, {"size_mm", 200}, {"distance_mm", 5}, {"surface_Cel", surface}, {"shield", "none"}}});
  }
  const SegmentEstimate integrated = estimate_of(document).segments.front();
  const SegmentEstimate closed = estimate_of(document, {.solution = ageing::Solution::closed_form}).segments.front();
  CHECK(integrated.flex_cracks.p50.value() < -15.0);
  CHECK_THAT(integrated.flex_cracks.p50.value(), WithinRel(closed.flex_cracks.p50.value(), 1e-8));
}
