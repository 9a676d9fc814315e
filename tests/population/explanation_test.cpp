// Where the ageing of a segment came from.
#include "heatside/population/explanation.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/base/constants.hpp"
#include "population/cases.hpp"

using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

Json scene_in(const std::vector<std::string>& zones, const std::string& insulation = "xlpo-125") {
  Scene scene;
  scene.insulation = insulation;
  scene.zones = zones;
  return case_of(scene);
}

Explanation explained(const Json& document, const std::string& id) { return explain_segment(read(document), records(), id); }

double share_of(const Explanation& explanation, const std::string& cause) {
  for (const CauseShare& one : explanation.by_cause) {
    if (one.cause == cause) return one.share;
  }
  return 0.0;
}

}  // namespace

TEST_CASE("explanation: parts sum to the whole", "[population][explain]") {
  const Explanation explanation = explained(scene_in({"head-cover"}), "head-cover");
  CHECK_THAT(exposure::total(explanation.by_regime), WithinRel(1.0, 1e-9));
  double running = 0.0, soak = 0.0, bands = 0.0, hours = 0.0;
  for (const StateShare& state : explanation.by_state) {
    running += state.running;
    soak += state.soak;
  }
  for (const BandShare& band : explanation.by_temperature) {
    bands += band.share;
    hours += band.hours_a_year;
  }
  CHECK_THAT(running, WithinRel(explanation.by_regime[0], 1e-9));
  // A late soak is counted with the mixed state, a pure week may end it a little earlier or later.
  CHECK_THAT(soak, WithinRel(explanation.by_regime[1], 2e-2));
  CHECK_THAT(bands, WithinRel(1.0, 1e-9));
  CHECK_THAT(hours, WithinRel(hours_per_year, 1e-9));
}

TEST_CASE("explanation: it agrees with the estimate", "[population][explain]") {
  const Json document = scene_in({"head-cover", "upper-bulkhead"});
  const Estimate estimate = estimate_of(document);
  for (const char* id : {"head-cover", "upper-bulkhead"}) {
    const Explanation explanation = explained(document, id);
    const SegmentEstimate& one = segment(estimate, id);
    CHECK_THAT(explanation.remaining.value(), WithinAbs(one.flex_cracks.p50.value(), 1e-6));
    CHECK_THAT(explanation.equivalent_temperature.value(), WithinRel(one.equivalent_temperature.value(), 1e-12));
    for (std::size_t i = 0; i < 3; ++i) CHECK_THAT(explanation.by_regime[i], WithinAbs(one.damage_share[i], 1e-12));
  }
}

TEST_CASE("explanation: a hotter band ages faster as Arrhenius says", "[population][explain]") {
  // Dakin 1948, AIEE Trans. 67, 113-122: rate = A exp(-Ea / R T). Pure Ea is bounded by the lowest and highest path.
  const library::Insulation& insulation = records().insulations.at("xlpo-125");
  double low = 1.0e9, high = 0.0;
  for (const library::AgeingPath& path : insulation.paths) {
    low = std::min(low, path.activation_energy.value);
    high = std::max(high, path.activation_energy.value);
  }
  const Explanation explanation = explained(scene_in({"head-cover"}), "head-cover");
  const BandShare* before = nullptr;
  for (const BandShare& band : explanation.by_temperature) {
    if (band.hours_a_year < 50.0) continue;
    if (before != nullptr) {
      const double slope =
          (1.0 / celsius(before->from_celsius + 5.0).value() - 1.0 / celsius(band.from_celsius + 5.0).value()) /
          molar_gas_constant;
      const double ratio = (band.share / band.hours_a_year) / (before->share / before->hours_a_year);
      // The mean of a band lies within 3 K of its middle.
      CHECK(std::log(ratio) > 0.6 * 1.0e3 * low * slope);
      CHECK(std::log(ratio) < 1.6 * 1.0e3 * high * slope);
    }
    before = &band;
  }
}

TEST_CASE("explanation: causes are named where a case has them", "[population][explain]") {
  const Json plain = scene_in({"upper-bay"});
  const Explanation calm = explained(plain, "upper-bay");
  CHECK(calm.by_cause.front().cause == "zone");
  CHECK_THAT(calm.by_cause.front().share, WithinRel(1.0, 1e-9));
  CHECK(share_of(calm, "own current") == 0.0);

  Json loaded = plain;
  loaded["segments"][0]["groups"][0]["current_A"] = 6.0;
  loaded["segments"][0]["groups"][0]["loaded"] = 4;
  const Explanation warm = explained(loaded, "upper-bay");
  CHECK(share_of(warm, "own current") > 0.05);
  CHECK_THAT(share_of(warm, "zone") + share_of(warm, "own current"), WithinRel(1.0, 1e-9));

  Json stud = plain;
  for (Json& node : stud["nodes"]) {
    if (node["id"] == "upper-bay-here")
      node["terminal"] = {{"zone", "upper-bay"},
                          {"surface_Cel", {{"cruise", 110}, {"city", 110}, {"idle", 110}, {"hill", 120}}},
                          {"cools_with", "engine"}};
  }
  CHECK(share_of(explained(stud, "upper-bay"), "terminal") > 0.3);
}

TEST_CASE("explanation: changes move the pace the right way", "[population][explain]") {
  Json hot = scene_in({"upper-bay"}, "pvc-105");
  hot["segments"][0]["stretches"][0]["hot_bodies"] =
      Json::array({{{"shape", "cylinder"},
                    {"size_mm", 45},
                    {"distance_mm", 120},
                    {"surface_Cel", {{"cruise", 450}, {"city", 380}, {"idle", 280}, {"hill", 650}}},
                    {"shield", "none"}}});
  Json loaded = scene_in({"upper-bay"}, "pvc-105");
  loaded["segments"][0]["groups"][0]["current_A"] = 6.0;
  loaded["segments"][0]["groups"][0]["loaded"] = 4;
  const auto change = [](const Explanation& explanation, const std::string& begins) {
    for (const ChangeEffect& one : explanation.changes) {
      if (one.change.rfind(begins, 0) == 0) return one;
    }
    throw std::runtime_error("no change " + begins);
  };
  for (const Json& document : {hot, loaded}) {
    const Explanation explanation = explained(document, "upper-bay");
    for (const char* better : {"10 K cooler", "the next class"}) {
      INFO(better);
      CHECK(change(explanation, better).pace < 1.0);
      CHECK(change(explanation, better).new_wire > explanation.new_wire);
    }
    // The class above 100 degC is that of 125 degC (ISO 6722-1).
    CHECK_THAT(change(explanation, "the next class").change, Contains("125"));
  }
  // Foil keeps radiation off and hinders the wire's own heat from leaving; a bigger conductor makes less of it.
  CHECK(change(explained(hot, "upper-bay"), "a foil sleeve").pace < 1.0);
  CHECK(change(explained(loaded, "upper-bay"), "a foil sleeve").pace > 1.0);
  CHECK(change(explained(loaded, "upper-bay"), "a bigger conductor").pace < 1.0);
}

TEST_CASE("explanation: a segment that the case has not is refused with the nearest one", "[population][explain][error]") {
  CHECK_THROWS_WITH(explained(scene_in({"upper-bay"}), "uper-bay"), Contains("uper-bay") && Contains("upper-bay"));
}
