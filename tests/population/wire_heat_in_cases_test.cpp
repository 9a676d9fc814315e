// Stated currents and hot bodies in a whole case. Properties; no outside source.
#include <catch2/catch.hpp>

#include "population/cases.hpp"

using Catch::Contains;
using Catch::WithinRel;
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
