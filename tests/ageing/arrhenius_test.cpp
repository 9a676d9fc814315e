#include "heatside/ageing/arrhenius.hpp"

#include <catch2/catch.hpp>
#include <limits>

#include "heatside/base/constants.hpp"

using namespace heatside;
using namespace heatside::ageing;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("acceleration factor: 100 kJ/mol from 100 degC to 150 degC", "[ageing][arrhenius]") {
  // exp(1e5/8.31446261815324 (1/373.15 - 1/423.15)), own arithmetic of the test with 30 digits.
  CHECK_THAT(acceleration_factor({100.0_degC, 150.0_degC}, 100.0_kJ_per_mol), WithinRel(45.084372360624759, 1e-12));
}

TEST_CASE("acceleration factor: laws that hold for every pair of temperatures", "[ageing][arrhenius][property]") {
  const Kelvin a = celsius(GENERATE(-55.0, 20.0, 90.0, 155.0));
  const Kelvin b = celsius(GENERATE(-40.0, 21.0, 105.0, 260.0));
  const JoulePerMole energy = kilojoule_per_mole(GENERATE(0.0, 60.0, 110.0, 220.0));
  CAPTURE(a.value(), b.value(), energy.value());

  SECTION("no step, no change") { CHECK(acceleration_factor({a, a}, energy) == 1.0); }
  SECTION("there and back is no change") {
    CHECK_THAT(acceleration_factor({a, b}, energy) * acceleration_factor({b, a}, energy), WithinRel(1.0, 1e-12));
  }
  SECTION("two steps are one long step") {
    const Kelvin c = 130.0_degC;
    CHECK_THAT(acceleration_factor({a, c}, energy) * acceleration_factor({c, b}, energy),
               WithinRel(acceleration_factor({a, b}, energy), 1e-12));
  }
  SECTION("hotter is never slower") {
    CHECK((acceleration_factor({a, b}, energy) >= 1.0) == (b >= a || energy.value() == 0.0));
  }
  SECTION("a degree more is faster, by more with more energy") {
    const Kelvin warmer = b + 1.0_K_rise;
    const double gain = acceleration_factor({b, warmer}, energy);
    const double gain_of_more = acceleration_factor({b, warmer}, energy + 10.0_kJ_per_mol);
    CHECK(gain_of_more > gain);
    CHECK((energy.value() == 0.0 || acceleration_factor({a, warmer}, energy) > acceleration_factor({a, b}, energy)));
  }
}

TEST_CASE("acceleration factor: a tiny step keeps its digits", "[ageing][arrhenius]") {
  // d ln k / dT = Ea/(R T^2), so a microkelvin about 100 degC at 100 kJ/mol is a gain of 8.6376e-8; a difference of two
  // reciprocals of 373 K would keep only the first eight digits of it.
  const Kelvin start = 100.0_degC;
  const double step = (start + KelvinRise{1.0e-6}).value() - start.value();
  const double slope = 1.0e5 / (molar_gas_constant * start.value() * (start.value() + step));
  CHECK_THAT(acceleration_factor({start, start + KelvinRise{1.0e-6}}, 100.0_kJ_per_mol) - 1.0,
             WithinRel(slope * step, 1e-7));
}

TEST_CASE("acceleration factor: a bad activation energy names its value and unit", "[ageing][arrhenius][error]") {
  CHECK_THROWS_WITH(acceleration_factor({20.0_degC, 90.0_degC}, JoulePerMole{-5.0}), Contains("-5.000000 J/mol"));
  CHECK_THROWS_AS(acceleration_factor({20.0_degC, 90.0_degC}, JoulePerMole{std::numeric_limits<double>::quiet_NaN()}),
                  DomainError);
  CHECK_THROWS_AS(acceleration_factor({20.0_degC, 90.0_degC}, JoulePerMole{std::numeric_limits<double>::infinity()}),
                  DomainError);
}

TEST_CASE("acceleration factor: a factor beyond the range of double names both temperatures", "[ageing][arrhenius][error]") {
  CHECK_THROWS_WITH(acceleration_factor({Kelvin{4.0}, Kelvin{300.0}}, 100.0_kJ_per_mol),
                    Contains("4.000000 K") && Contains("300.000000 K"));
  CHECK_THROWS_AS(acceleration_factor({Kelvin{300.0}, Kelvin{4.0}}, 100.0_kJ_per_mol), DomainError);
}

TEST_CASE("temperature for a life: the life line passes through it", "[ageing][arrhenius][property]") {
  const ThermalLifePoint point{celsius(GENERATE(85.0, 125.0, 200.0)), Hours{GENERATE(240.0, 3000.0)}};
  const JoulePerMole energy = kilojoule_per_mole(GENERATE(60.0, 110.0, 180.0));
  const Hours life{GENERATE(100.0, 3000.0, 20000.0, 1.0e6)};
  CAPTURE(point.temperature.value(), point.hours.value(), energy.value(), life.value());

  const Kelvin found = temperature_for_life(point, energy, life);
  CHECK_THAT(point.hours / life, WithinRel(acceleration_factor({point.temperature, found}, energy), 1e-11));
  CHECK((found < point.temperature) == (life > point.hours));
}

TEST_CASE("temperature for a life: at the point's own hours it is the point's own temperature", "[ageing][arrhenius]") {
  CHECK_THAT(temperature_for_life({125.0_degC, 3000.0_h}, 110.0_kJ_per_mol, 3000.0_h).value(), WithinRel(398.15, 1e-15));
}

TEST_CASE("temperature for a life: a line needs hours and energy above 0", "[ageing][arrhenius][error]") {
  const ThermalLifePoint point{125.0_degC, 3000.0_h};
  CHECK_THROWS_AS(temperature_for_life(point, 0.0_kJ_per_mol, 100.0_h), DomainError);
  CHECK_THROWS_AS(temperature_for_life(point, 110.0_kJ_per_mol, 0.0_h), DomainError);
  CHECK_THROWS_AS(temperature_for_life({125.0_degC, 0.0_h}, 110.0_kJ_per_mol, 100.0_h), DomainError);
  // At 20 kJ/mol the rate at infinite temperature is exp(20000/(R 398.15)) = 420 times the point's: 1 h is never reached.
  CHECK_THROWS_WITH(temperature_for_life(point, 20.0_kJ_per_mol, 1.0_h), Contains("1.000000 h"));
}

TEST_CASE("halving interval: that much hotter is twice as fast", "[ageing][arrhenius][property]") {
  const Kelvin temperature = celsius(GENERATE(20.0, 105.0, 250.0));
  const JoulePerMole energy = kilojoule_per_mole(GENERATE(15.0, 60.0, 110.0, 220.0));
  CAPTURE(temperature.value(), energy.value());

  const KelvinRise interval = halving_interval(temperature, energy);
  CHECK_THAT(acceleration_factor({temperature, temperature + interval}, energy), WithinRel(2.0, 1e-12));
  CHECK_THAT(activation_energy_for(temperature, interval).value(), WithinRel(energy.value(), 1e-12));
}

TEST_CASE("halving interval: refuses what never halves a life", "[ageing][arrhenius][error]") {
  // R ln2 T at 100 degC is 2.1505 kJ/mol: below it even infinite heat does not double the rate.
  CHECK_THROWS_WITH(halving_interval(100.0_degC, 2.150_kJ_per_mol), Contains("2150.0"));
  CHECK(halving_interval(100.0_degC, 2.152_kJ_per_mol).value() > 1.0e5);
  CHECK_THROWS_AS(activation_energy_for(100.0_degC, 0.0_K_rise), DomainError);
  CHECK_THROWS_AS(activation_energy_for(100.0_degC, KelvinRise{-10.0}), DomainError);
}
