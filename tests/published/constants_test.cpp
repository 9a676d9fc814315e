#include "heatside/base/constants.hpp"

#include <catch2/catch.hpp>

using namespace heatside;
using Catch::Matchers::WithinRel;

TEST_CASE("published: constants of the SI of 2019", "[published][constants]") {
  // CODATA 2018 and 2022: k, e and N_A are exact by definition, the others follow from them.
  CHECK(boltzmann_constant == 1.380649e-23);
  CHECK(elementary_charge == 1.602176634e-19);
  CHECK(avogadro_constant == 6.02214076e23);
  CHECK_THAT(molar_gas_constant, WithinRel(8.31446261815324, 1e-12));
  CHECK_THAT(molar_gas_constant, WithinRel(boltzmann_constant * avogadro_constant, 1e-12));
  CHECK_THAT(boltzmann_electronvolt, WithinRel(8.617333262145179e-05, 1e-12));
  CHECK_THAT(boltzmann_electronvolt, WithinRel(boltzmann_constant / elementary_charge, 1e-12));
  CHECK_THAT(1.0 / boltzmann_electronvolt, WithinRel(11604.518121550082, 1e-12));
}

TEST_CASE("published: one electronvolt a particle is 96.485 kJ/mol", "[published][constants]") {
  CHECK_THAT(in_kilojoule_per_mole(electronvolt(1.0)), WithinRel(96.48533212331, 1e-12));
  // Both ways to the slope of a life line agree.
  CHECK_THAT(electronvolt(1.0).value() / molar_gas_constant, WithinRel(11604.518121550082, 1e-12));
}

TEST_CASE("published: ice point and year", "[published][constants]") {
  // Degree Celsius: SI brochure. Year of 365.25 d: the Julian year of astronomy.
  CHECK((0.0_degC).value() == 273.15);
  CHECK(hours(1.0_a).value() == 365.25 * 24.0);
}
