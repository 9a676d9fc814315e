// The two ends of a loom held against each other.
#include "heatside/population/case_story.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/base/constants.hpp"
#include "heatside/population/oven_line.hpp"
#include "population/cases.hpp"

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

Json two_ends(const std::string& insulation) {
  Scene scene;
  scene.insulation = insulation;
  scene.zones = {"head-cover", "cabin-bulkhead"};
  return case_of(scene);
}

CaseStory told(const Json& document) { return case_story(read(document), records()); }

}  // namespace

TEST_CASE("story: the ends are those of the estimate", "[population][classroom]") {
  const Json document = two_ends("short-lived-1990s");
  const CaseStory story = told(document);
  const Estimate estimate = estimate_of(document);
  REQUIRE(story.cool);
  CHECK(story.heat.explained.id == "head-cover");
  CHECK(story.cool->explained.id == "cabin-bulkhead");
  CHECK_THAT(story.heat.explained.remaining.value(),
             WithinAbs(segment(estimate, "head-cover").flex_cracks.p50.value(), 1e-6));
}

TEST_CASE("story: the pace is that of the equivalent temperatures", "[population][classroom]") {
  // With one path, equal surroundings and Arrhenius (Dakin 1948): ratio = exp(E/R (1/T_cool - 1/T_hot)).
  const CaseStory story = told(two_ends("xlpo-125"));
  REQUIRE(story.cool);
  const double energy = 1.0e3 * records().insulations.at("xlpo-125").paths.front().activation_energy.value;
  const double by_hand = std::exp(energy / molar_gas_constant *
                                  (1.0 / story.cool->explained.equivalent_temperature.value() -
                                   1.0 / story.heat.explained.equivalent_temperature.value()));
  CHECK_THAT(story.pace, WithinRel(by_hand, 1e-6));
  // Halving interval of IEC 60216: R ln2 T^2 / (E - R ln2 T).
  const double r_ln2 = molar_gas_constant * std::log(2.0);
  const double kelvin = story.heat.explained.equivalent_temperature.value();
  CHECK_THAT(story.heat.halving.value(), WithinRel(r_ln2 * kelvin * kelvin / (energy - r_ln2 * kelvin), 1e-9));
}

TEST_CASE("story: ten kelvin do what Arrhenius bounds", "[population][classroom]") {
  // All of a hot zone's ageing is between 0 and 120 degC: factors of 10 K there, one path (Dakin 1948). Parked ageing does
  // not change, which only takes away from the factor.
  const CaseStory story = told(two_ends("xlpo-125"));
  const double energy = 1.0e3 * records().insulations.at("xlpo-125").paths.front().activation_energy.value;
  const auto ten_from = [&](double degrees) {
    return std::exp(energy / molar_gas_constant * (1.0 / celsius(degrees).value() - 1.0 / celsius(degrees + 10.0).value()));
  };
  CHECK(story.heat.ten_hotter.pace > ten_from(120.0) * 0.95);
  CHECK(story.heat.ten_hotter.pace < ten_from(60.0));
  CHECK(story.heat.ten_cooler.pace < 1.0);
  CHECK(story.heat.ten_hotter.new_wire < story.heat.explained.new_wire);
  CHECK(story.heat.ten_cooler.new_wire > story.heat.explained.new_wire);
}

TEST_CASE("story: the straight line misleads only where the law bends", "[population][classroom]") {
  const CaseStory straight = told(two_ends("xlpo-125"));
  REQUIRE(straight.oven);
  CHECK_THAT(straight.oven->by_line / straight.oven->by_law, WithinRel(1.0, 1e-6));
  const CaseStory bent = told(two_ends("short-lived-1990s"));
  REQUIRE(bent.oven);
  CHECK(bent.oven->bends);
  CHECK(bent.oven->by_line / bent.oven->by_law > 2.0);
}

TEST_CASE("story: a hill is hotter and dearer than the city", "[population][classroom]") {
  // Common practice, no source: under load uphill the engine bay is at its hottest.
  const CaseStory story = told(two_ends("short-lived-1990s"));
  CHECK(story.hill.hill_hottest > story.hill.city_hottest);
  CHECK(story.hill.hill > story.hill.city);
  // Six and a half hours hotter than the mean year age more than six and a half hours of it.
  CHECK(story.hill.city.value() > 6.5);
}

TEST_CASE("story: one segment has no cool end", "[population][classroom]") {
  Scene scene;
  scene.zones = {"upper-bay"};
  const CaseStory story = told(case_of(scene));
  CHECK_FALSE(story.cool);
  CHECK_FALSE(story.oven);
}
