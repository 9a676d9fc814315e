// Life at constant temperature, and what ovens alone would say.
#include "heatside/population/oven_line.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/ageing/arrhenius.hpp"
#include "heatside/base/constants.hpp"
#include "population/cases.hpp"

using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::population;
using heatside::population::testing::records;

TEST_CASE("oven line: one path is a straight line through the thermal-life point", "[population][classroom]") {
  // Dakin 1948, AIEE Trans. 67, 113-122: life = A exp(E / R T).
  const library::Insulation& insulation = records().insulations.at("xlpo-125");
  REQUIRE(insulation.paths.size() == 1);
  const double energy = 1.0e3 * insulation.paths.front().activation_energy.value;
  const Kelvin reference = celsius(insulation.life_temperature.value);
  for (const double degrees : {20.0, 80.0, 150.0}) {
    const double ln_ratio = energy / molar_gas_constant * (1.0 / celsius(degrees).value() - 1.0 / reference.value());
    const double by_hand = insulation.lot_median.value * insulation.life_hours.value * std::exp(ln_ratio);
    CHECK_THAT(life_at(insulation, celsius(degrees)).value(), WithinRel(by_hand, 1e-12));
  }
  const OvenLine line = oven_line(records(), "xlpo-125");
  CHECK_FALSE(line.bends);
  CHECK_THAT(line.line_energy.value(), WithinRel(energy, 1e-9));
  for (const OvenLinePoint& point : line.points) CHECK_THAT(point.by_line / point.by_law, WithinRel(1.0, 1e-8));
}

TEST_CASE("oven line: polypropylene bends where its two paths are equal", "[population][classroom]") {
  // Celina, Gillen, Assink 2005, Polym. Degrad. Stab. 90, 395-404, abstract: polypropylene shows 107 to 156 kJ/mol above
  // and 35 to 50 kJ/mol below about 83 degC. Where two paths are equal, they show the mean of their energies.
  const library::Insulation& insulation = records().insulations.at("pp-fr");
  CHECK_THAT(energy_at(insulation, 83.0_degC).value(), WithinRel(0.5e3 * (42.5 + 131.5), 0.01));
  CHECK(energy_at(insulation, 40.0_degC).value() < 50.0e3);
  CHECK(energy_at(insulation, 130.0_degC).value() > 107.0e3);
}

TEST_CASE("oven line: it overstates life below the ovens, the more the colder", "[population][classroom]") {
  // Two parallel paths make ln life concave in 1/T, so a line through hot points lies above it in the cold: a property of
  // sums of exponentials, no outside source.
  for (const char* id : {"pp-fr", "short-lived-1990s"}) {
    const OvenLine line = oven_line(records(), id);
    CHECK(line.bends);
    CHECK(line.index_by_line > line.index_by_law);
    double before = HUGE_VAL;
    for (const OvenLinePoint& point : line.points) {
      if (in_celsius(point.temperature) > 80.0) break;
      CHECK(point.by_line / point.by_law > 1.0);
      CHECK(point.by_line / point.by_law < before);
      before = point.by_line / point.by_law;
    }
  }
}

TEST_CASE("oven line: ovens follow the rules of the standard", "[population][classroom]") {
  // IEC 60216-1 (from memory): about 5000 h or more at the coolest temperature, four of them, 10 to 25 K apart.
  for (const auto& [id, insulation] : records().insulations) {
    CAPTURE(id);
    const std::vector<Kelvin> ovens = oven_temperatures(insulation);
    REQUIRE(ovens.size() == 4);
    CHECK_THAT(std::log(life_at(insulation, ovens.front()).value() / 5000.0), WithinAbs(0.0, 0.4));
    for (std::size_t i = 1; i < ovens.size(); ++i) CHECK_THAT((ovens[i] - ovens[i - 1]).value(), WithinAbs(15.0, 1e-9));
  }
}

TEST_CASE("oven line: a compound that is not there is refused with the nearest", "[population][classroom]") {
  CHECK_THROWS_WITH(oven_line(records(), "xlpo-124"), Contains("xlpo-125"));
}
