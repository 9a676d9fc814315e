#include <catch2/catch.hpp>

#include "ageing/compounds.hpp"
#include "heatside/ageing/arrhenius.hpp"
#include "heatside/ageing/kinetics.hpp"
#include "published/source_constants.hpp"

using namespace heatside;
using namespace heatside::tests;
using ageing::acceleration_factor;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("published: handbook factors from 25 to 125 degC at 0.5 and 1.0 eV", "[published][arrhenius]") {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 8.1.5.1: 133 and 17,597 (printed figures from memory).
  // It uses 1 eV = 11605 K and 273.16.
  const ageing::Step step{celsius_with(25.0, 273.16), celsius_with(125.0, 273.16)};
  const auto factor = [&](double electronvolts) {
    return acceleration_factor(step, electronvolts_with(electronvolts, 1.0 / 11605.0));
  };
  CHECK_THAT(factor(0.5), WithinAbs(133.0, 0.5));
  CHECK_THAT(factor(1.0), WithinAbs(17597.0, 1.0));
  // The same with all digits, own arithmetic.
  CHECK_THAT(factor(0.5), WithinRel(132.6535066, 1e-9));
  CHECK_THAT(factor(1.0), WithinRel(17596.95282, 1e-9));
  CHECK_THAT(acceleration_factor(step, electronvolts_with(0.5, 8.617e-5)), WithinRel(132.6516588, 1e-9));
  CHECK_THAT(acceleration_factor(step, electronvolts_with(1.0, 8.617e-5)), WithinRel(17596.46257, 1e-9));
}

TEST_CASE("published: a maker's example from 40 to 125 degC at 0.5 eV", "[published][arrhenius]") {
  // A semiconductor maker's questions and answers after JEITA EIAJ ED-4701: factor 52; 1000 h are 5.9 years, 2000 h 11.8
  // years of 8760 h. It uses k = 8.617e-5 eV/K.
  const double factor = acceleration_factor({40.0_degC, 125.0_degC}, electronvolts_with(0.5, 8.617e-5));
  CHECK_THAT(factor, WithinAbs(52.0, 0.5));
  CHECK_THAT(factor, WithinRel(52.2371698, 1e-9));
  CHECK_THAT(1000.0 * factor / 8760.0, WithinAbs(5.9, 0.1));
  CHECK_THAT(2000.0 * factor / 8760.0, WithinAbs(11.8, 0.15));
}

TEST_CASE("published: operating-life factor from 55 to 125 degC at 0.7 eV", "[published][arrhenius]") {
  // JEDEC high-temperature operating life: 78, as quoted elsewhere; the page itself was not seen.
  const double factor = acceleration_factor({55.0_degC, 125.0_degC}, electronvolt(0.7));
  CHECK_THAT(factor, WithinAbs(78.0, 0.5));
  CHECK_THAT(factor, WithinRel(77.6453821, 1e-9));
}

TEST_CASE("published: mission profile of 12000 h at 87 degC becomes a test at 125 degC", "[published][arrhenius]") {
  // AEC-Q100 appendix 7, operating life: 0.7 eV, k = 8.61733e-5 eV/K, test time 1393 h (from memory).
  const JoulePerMole energy = electronvolts_with(0.7, 8.61733e-5);
  const double factor = acceleration_factor({87.0_degC, 125.0_degC}, energy);
  CHECK_THAT(factor, WithinRel(8.607866680, 1e-9));
  CHECK_THAT(12000.0 / factor, WithinRel(1393.0, 0.002));
  CHECK_THAT(12000.0 / factor, WithinRel(1394.0736, 1e-6));
  // Along the same life line, the temperature of that test time is 125 degC again.
  CHECK_THAT(in_celsius(ageing::temperature_for_life({87.0_degC, 12000.0_h}, energy, Hours{12000.0 / factor})),
             WithinAbs(125.0, 1e-9));
}

TEST_CASE("published: ten kelvin from 100 degC at four activation energies", "[published][arrhenius]") {
  // Mathematics: exp[(Ea/R)(1/373.15 - 1/383.15)].
  const ageing::Step step{100.0_degC, 110.0_degC};
  CHECK_THAT(acceleration_factor(step, 60.0_kJ_per_mol), WithinRel(1.65654911172, 1e-11));
  CHECK_THAT(acceleration_factor(step, 80.0_kJ_per_mol), WithinRel(1.96007378956, 1e-11));
  CHECK_THAT(acceleration_factor(step, 100.0_kJ_per_mol), WithinRel(2.31921241172, 1e-11));
  CHECK_THAT(acceleration_factor(step, 120.0_kJ_per_mol), WithinRel(2.74415495954, 1e-11));
}

TEST_CASE("published: a rate that doubles from 298 to 308 K means 53 kJ/mol", "[published][arrhenius]") {
  // A figure of physical chemistry texts (from memory); R ln2 298 K 308 K/10 K with all digits.
  const JoulePerMole energy = ageing::activation_energy_for(Kelvin{298.0}, 10.0_K_rise);
  CHECK_THAT(in_kilojoule_per_mole(energy), WithinAbs(53.0, 0.5));
  CHECK_THAT(in_kilojoule_per_mole(energy), WithinRel(52.896462198577, 1e-13));
}

TEST_CASE("published: two steps of an oven equal one of 326.7 h at 110 degC", "[published][arrhenius][kinetics]") {
  // Mathematics: 100 kJ/mol, 500 h at 100 degC and 50 h at 120 degC.
  const JoulePerMole energy = 100.0_kJ_per_mol;
  const double cooler = acceleration_factor({110.0_degC, 100.0_degC}, energy);
  const double hotter = acceleration_factor({110.0_degC, 120.0_degC}, energy);
  CHECK_THAT(500.0 * cooler + 50.0 * hotter, WithinRel(326.693287646711, 1e-12));

  // The program's own ageing says the same, whatever the law: a clock of 400 h a life at 110 degC.
  const auto insulation = GENERATE(gradual_compound(), guarded_compound());
  const ageing::Kinetics kinetics = ageing::likely_kinetics(insulation, model_constants());
  const auto clock = [](double acceleration) { return ageing::ClockRates{acceleration / 400.0, acceleration / 400.0}; };
  const ageing::AgeingState after_first = ageing::aged(kinetics, {}, clock(cooler), 500.0_h);
  const ageing::AgeingState in_two = ageing::aged(kinetics, after_first, clock(hotter), 50.0_h);
  const ageing::AgeingState in_one = ageing::aged(kinetics, {}, clock(1.0), 326.693287646711_h);
  CHECK_THAT(ageing::extent_of(kinetics, in_two), WithinRel(ageing::extent_of(kinetics, in_one), 1e-10));
}
