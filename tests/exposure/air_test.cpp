#include "heatside/exposure/air.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <vector>

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::exposure;

namespace {

struct NusseltPoint {
  double rayleigh, nusselt;
};

// d ln Nu / d ln Ra.
double slope(double ln_rayleigh) {
  constexpr double step = 1.0e-4;
  return (std::log(nusselt_still(std::exp(ln_rayleigh + step), 0.7)) -
          std::log(nusselt_still(std::exp(ln_rayleigh - step), 0.7))) /
         (2.0 * step);
}

}  // namespace

TEST_CASE("still air: thin cylinders follow Morgan", "[exposure][air]") {
  // Morgan 1975, Adv. Heat Transfer 11, 199-264: coefficients from memory, values computed apart from this program.
  // At 0.01 and 100, where two printed pieces meet, the one of the other side is up to 0.2 % away.
  const NusseltPoint point = GENERATE(values<NusseltPoint>({{0.01, 0.5168},
                                                            {0.1, 0.7254},
                                                            {1.0, 1.020},
                                                            {3.0, 1.200},
                                                            {10.0, 1.434},
                                                            {30.0, 1.687},
                                                            {100.0, 2.017},
                                                            {300.0, 2.484},
                                                            {1000.0, 3.115}}));
  CAPTURE(point.rayleigh);
  const bool at_seam = point.rayleigh == 0.01 || point.rayleigh == 100.0;
  CHECK_THAT(nusselt_still(point.rayleigh, 0.7), WithinRel(point.nusselt, at_seam ? 2.0e-3 : 3.0e-4));

  // Documentation page of a collection of correlations: Gr 100 and Pr 0.7 give 1.9128. Read there.
  CHECK_THAT(nusselt_still(70.0, 0.7), WithinAbs(1.9128, 5.0e-5));
}

TEST_CASE("still air: thin cylinders agree with two fits independent of Morgan's", "[exposure][air]") {
  // Raithby and Hollands; Fujii and others: from memory, evaluated apart from this program, Pr 0.7.
  struct Others {
    double rayleigh, raithby_hollands, fujii;
  };
  const Others row = GENERATE(values<Others>(
      {{1.0, 1.021, 0.9981}, {10.0, 1.395, 1.402}, {100.0, 2.004, 2.066}, {1000.0, 3.032, 3.164}, {1.0e4, 4.810, 4.986}}));
  CAPTURE(row.rayleigh);
  const double nusselt = nusselt_still(row.rayleigh, 0.7);
  CHECK_THAT(nusselt, WithinRel(row.raithby_hollands, 0.065));
  CHECK_THAT(nusselt, WithinRel(row.fujii, 0.085));
}

TEST_CASE("still air: thick cylinders follow Churchill and Chu", "[exposure][air]") {
  // Churchill and Chu 1975, Int. J. Heat Mass Transfer 18, 1049-1053: from memory, computed apart from this program.
  CHECK_THAT(nusselt_still(1.0e5, 0.7), WithinRel(7.764, 3.0e-4));
  CHECK_THAT(nusselt_still(1.0e6, 0.7), WithinRel(14.51, 5.0e-4));
}

TEST_CASE("still air: between the two fits nothing jumps, neither value nor slope", "[exposure][air]") {
  // A property, no outside source. A blend with corners would change the slope by 0.07 at its ends.
  constexpr double step = 0.01;
  double last = slope(std::log(2.0e3));
  for (double ln = std::log(2.0e3) + step; ln < std::log(5.0e4); ln += step) {
    CAPTURE(std::exp(ln));
    const double here = slope(ln);
    CHECK(here > 0.0);
    CHECK_THAT(here, WithinAbs(last, 5.0e-3));
    last = here;
  }
}

TEST_CASE("still air: more buoyancy never cools less", "[exposure][air]") {
  // A property, no outside source.
  CHECK(nusselt_still(0.0, 0.7) == 0.36);
  double last = nusselt_still(1.0e-9, 0.7);
  for (double ln = std::log(1.0e-9); ln < std::log(1.0e9); ln += 0.02) {
    const double here = nusselt_still(std::exp(ln), 0.7);
    CAPTURE(std::exp(ln));
    CHECK(here >= last);
    last = here;
  }
}

TEST_CASE("still air: steam pipe of a textbook", "[exposure][air]") {
  // Incropera, Fundamentals of Heat and Mass Transfer, example 9.4 (from memory): pipe of 0.1 m at 165 degC in air of
  // 23 degC; Ra 5.073e6, Pr 0.697; printed Nu 23.3, h 7.29 W/(m2 K), 325 W/m. The formula itself gives 23.10 and 322.5 W/m.
  CHECK_THAT(nusselt_still(5.073e6, 0.697), WithinRel(23.10, 1.0e-3));
  const double h = convection(Metres{0.1}, 165.0_degC, 23.0_degC, MetresPerSecond{0.0});
  CHECK_THAT(h, WithinRel(7.29, 0.015));
  CHECK_THAT(h * std::numbers::pi * 0.1 * (165.0 - 23.0), WithinRel(325.0, 0.015));
}

TEST_CASE("still air: hot-water pipe of a textbook", "[exposure][air]") {
  // Cengel, Heat and Mass Transfer, example 9-1 (from memory): pipe of 80 mm and 6 m at 70 degC in air of 20 degC;
  // Ra 1.869e6, Pr 0.7241, Nu 17.40, h 5.87 W/(m2 K), 443 W.
  CHECK_THAT(nusselt_still(1.869e6, 0.7241), WithinRel(17.40, 1.0e-3));
  const double h = convection(Metres{0.08}, 70.0_degC, 20.0_degC, MetresPerSecond{0.0});
  CHECK_THAT(h, WithinRel(5.87, 0.015));
  CHECK_THAT(h * std::numbers::pi * 0.08 * 6.0 * 50.0, WithinRel(443.0, 0.015));
}

TEST_CASE("moving air: cylinders across a stream, from textbooks", "[exposure][air]") {
  // Cengel, solution of problem 7-100, read on a page that quotes it: Re 3.254e4, Pr 0.7336, Nu 107.0.
  CHECK_THAT(nusselt_stream(3.254e4, 0.7336), WithinRel(107.0, 1.0e-3));
  // Cengel, example 7-5 (from memory): Re 4.219e4, Pr 0.7202, Nu 124; pipe of 0.1 m at 110 degC, air of 10 degC and
  // 8 m/s, h 34.8 W/(m2 K).
  CHECK_THAT(nusselt_stream(4.219e4, 0.7202), WithinRel(124.0, 5.0e-3));
  CHECK_THAT(convection(Metres{0.1}, 110.0_degC, 10.0_degC, MetresPerSecond{8.0}), WithinRel(34.8, 0.02));
  // Incropera, example 7.4 (from memory): Re 6071, Pr 0.70, Nu 40.6; rod of 12.7 mm at 128.4 degC, air of 26.2 degC and
  // 10 m/s, h 96 W/(m2 K); 102 were measured.
  CHECK_THAT(nusselt_stream(6071.0, 0.70), WithinRel(40.6, 5.0e-3));
  CHECK_THAT(convection(Metres{0.0127}, 128.4_degC, 26.2_degC, MetresPerSecond{10.0}), WithinRel(96.0, 0.02));
  CHECK_THAT(convection(Metres{0.0127}, 128.4_degC, 26.2_degC, MetresPerSecond{10.0}), WithinRel(102.0, 0.08));
}

TEST_CASE("moving air: a draught never cools less than still air, and fast air drowns buoyancy", "[exposure][air]") {
  // A property, no outside source.
  const double diameter = GENERATE(1.0, 3.0, 10.0, 40.0);
  const double rise = GENERATE(0.5, 10.0, 100.0);
  const Kelvin air = 80.0_degC;
  const Kelvin surface = air + KelvinRise{rise};
  CAPTURE(diameter, rise);
  double last = convection(millimetres(diameter), surface, air, MetresPerSecond{0.0});
  for (const double speed : {0.001, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0, 10.0, 30.0}) {
    const double here = convection(millimetres(diameter), surface, air, MetresPerSecond{speed});
    CHECK(here >= last);
    last = here;
  }
  const Air film = air_at(air + KelvinRise{0.5 * rise});
  const double alone = nusselt_stream(30.0 * 1.0e-3 * diameter / film.kinematic_viscosity, film.prandtl) *
                       film.conductivity / (1.0e-3 * diameter);
  CHECK_THAT(last, WithinRel(alone, 1.0e-3));
}

TEST_CASE("air: properties agree with a handbook table", "[exposure][air]") {
  // Incropera, table A.4 (from memory): conductivity in W/(m K), kinematic viscosity in m2/s.
  struct Row {
    double kelvin, conductivity, viscosity, prandtl;
  };
  const Row row = GENERATE(values<Row>({{250, 0.0223, 1.144e-5, 0.720},
                                        {300, 0.0263, 1.589e-5, 0.707},
                                        {350, 0.0300, 2.092e-5, 0.700},
                                        {400, 0.0338, 2.641e-5, 0.690},
                                        {450, 0.0373, 3.239e-5, 0.686},
                                        {500, 0.0407, 3.879e-5, 0.684},
                                        {550, 0.0439, 4.557e-5, 0.683},
                                        {600, 0.0469, 5.269e-5, 0.685},
                                        {650, 0.0497, 6.021e-5, 0.690},
                                        {700, 0.0524, 6.810e-5, 0.695}}));
  CAPTURE(row.kelvin);
  const Air air = air_at(Kelvin{row.kelvin});
  CHECK_THAT(air.conductivity, WithinRel(row.conductivity, 0.004));
  CHECK_THAT(air.kinematic_viscosity, WithinRel(row.viscosity, 0.012));
  CHECK_THAT(air.prandtl, WithinRel(row.prandtl, 0.03));
  CHECK_THAT(air.expansion, WithinRel(1.0 / row.kelvin, 1.0e-12));
}

TEST_CASE("air: properties agree with a second handbook within what handbooks differ", "[exposure][air]") {
  // Cengel, table A-15, read on two pages that quote it. The two books differ by up to 4 % in conductivity and
  // 3 % in viscosity above 500 K.
  struct Row {
    double celsius, conductivity, viscosity;
  };
  const Row row = GENERATE(values<Row>({{-20, 0.02211, 1.169e-5},
                                        {0, 0.02364, 1.338e-5},
                                        {20, 0.02514, 1.516e-5},
                                        {60, 0.02808, 1.896e-5},
                                        {100, 0.03095, 2.306e-5},
                                        {160, 0.03511, 2.975e-5},
                                        {200, 0.03779, 3.455e-5},
                                        {300, 0.04418, 4.765e-5},
                                        {400, 0.05015, 6.219e-5}}));
  CAPTURE(row.celsius);
  const Air air = air_at(celsius(row.celsius));
  CHECK_THAT(air.conductivity, WithinRel(row.conductivity, 0.04));
  CHECK_THAT(air.kinematic_viscosity, WithinRel(row.viscosity, 0.03));
}

TEST_CASE("air: thins out with altitude as the standard atmosphere does", "[exposure][air]") {
  // ISO 2533 / ICAO standard atmosphere (from memory): 89 875 Pa at 1 km, 54 020 at 5 km, 22 632 at 11 km; 101 325 at the
  // sea.
  struct Level {
    double metres, pascal;
  };
  const Level level = GENERATE(values<Level>({{1000, 89875}, {5000, 54020}, {11000, 22632}}));
  CAPTURE(level.metres);
  const Air low = air_at(350.0_degC), high = air_at(350.0_degC, Metres{level.metres});
  CHECK_THAT(low.kinematic_viscosity / high.kinematic_viscosity, WithinRel(level.pascal / 101325.0, 1.0e-3));
  CHECK(high.conductivity == low.conductivity);
}
