#include <catch2/catch.hpp>
#include <vector>

#include "ageing/compounds.hpp"
#include "published/source_constants.hpp"

/// Mean kinetic temperature, USP <1160>: 83.144 kJ/mol with R = 8.3144e-3 kJ/(mol K), so Ea/R is 10000 K exactly.
/// The formula and its constants are the source's; the values are mathematics, computed outside the project.

using namespace heatside;
using namespace heatside::tests;
using Catch::Matchers::WithinAbs;

namespace {

struct Spell {
  double degrees, parts;
};

// Mean kinetic temperature in degrees, through the program's mean rate and its inverse.
double mean_kinetic(const std::vector<Spell>& spells, JoulePerMole energy = energy_of_slope(Kelvin{10000.0})) {
  double parts = 0.0;
  for (const Spell& spell : spells) parts += spell.parts;
  exposure::TemperatureMeasure year;
  for (const Spell& spell : spells) {
    add_stay(year, exposure::Regime::parked, {celsius(spell.degrees), celsius(spell.degrees), spell.parts / parts});
  }
  const Kelvin reference = 20.0_degC;
  const double mean = exposure::total(exposure::mean_acceleration(year, energy, reference));
  return in_celsius(exposure::equivalent_temperature(mean, energy, reference));
}

std::vector<Spell> equally(const std::vector<double>& degrees) {
  std::vector<Spell> spells;
  for (const double each : degrees) spells.push_back({each, 1.0});
  return spells;
}

}  // namespace

TEST_CASE("published: mean kinetic temperature of equal spells", "[published][mean-kinetic]") {
  CHECK_THAT(mean_kinetic(equally({20, 30})), WithinAbs(26.25988691600344, 1e-9));
  CHECK_THAT(mean_kinetic(equally({15, 20, 25, 30, 35})), WithinAbs(27.468032143976245, 1e-9));
  CHECK_THAT(mean_kinetic(equally({2, 8})), WithinAbs(5.536424508866389, 1e-9));
  CHECK_THAT(mean_kinetic(equally({18, 19, 21, 23, 26, 29, 31, 30, 27, 24, 21, 19})), WithinAbs(25.010145841290694, 1e-9));
  CHECK_THAT(mean_kinetic(equally({25, 25, 25})), WithinAbs(25.0, 1e-9));
}

TEST_CASE("published: mean kinetic temperature of unequal spells", "[published][mean-kinetic]") {
  CHECK_THAT(mean_kinetic({{5, 23}, {25, 1}}), WithinAbs(7.7564219615454135, 1e-9));
  CHECK_THAT(mean_kinetic({{20, 2}, {2, 4}, {25, 1}}), WithinAbs(15.677581326833433, 1e-9));
  CHECK_THAT(mean_kinetic({{-40, 6}, {23, 20}, {60, 65}, {100, 8}, {105, 1}}), WithinAbs(72.68882462745961, 1e-9));
}

TEST_CASE("published: mean kinetic temperature shifts by 18 microkelvin with today's gas constant",
          "[published][mean-kinetic]") {
  CHECK_THAT(mean_kinetic(equally({15, 20, 25, 30, 35}), kilojoule_per_mole(83.144)), WithinAbs(27.46801462914368, 1e-9));
}

TEST_CASE("published: mean kinetic temperature does not depend on the reference", "[published][mean-kinetic]") {
  const JoulePerMole energy = energy_of_slope(Kelvin{10000.0});
  const exposure::TemperatureMeasure year = year_of({{20.0_degC, 20.0_degC, 0.5}, {30.0_degC, 30.0_degC, 0.5}});
  const Kelvin reference = celsius(GENERATE(-40.0, 26.0, 125.0, 300.0));
  const double mean = exposure::total(exposure::mean_acceleration(year, energy, reference));
  CHECK_THAT(in_celsius(exposure::equivalent_temperature(mean, energy, reference)), WithinAbs(26.25988691600344, 1e-9));
}
