#include <catch2/catch.hpp>

#include "ageing/compounds.hpp"
#include "published/source_constants.hpp"

using namespace heatside;
using namespace heatside::tests;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// A temperature and the relative humidity of the air there.
struct DampAir {
  Kelvin temperature;
  double humidity_percent;
};

// How many times faster a process runs in `to` than in `from`: the program's year in trapped damp, all of it at one
// temperature.
double factor(const DampAir& from, const DampAir& to, JoulePerMole energy, double exponent) {
  exposure::Humidity humidity;
  humidity.trapped_percent = to.humidity_percent;
  humidity.reference_percent = from.humidity_percent;
  humidity.exponent = exponent;
  return exposure::total(
      exposure::mean_wet_acceleration(year_at_constant(to.temperature), energy, from.temperature, humidity));
}

}  // namespace

TEST_CASE("published: mission profile of 131400 h in damp becomes a test at 85 degC and 85 %", "[published][humidity]") {
  // AEC-Q100 appendix 7, temperature, humidity and bias: 32 degC and 74 %, 0.8 eV, exponent 3, k = 8.61733e-5 eV/K; test
  // time 960 h (from memory).
  const double found = factor({32.0_degC, 74.0}, {85.0_degC, 85.0}, electronvolts_with(0.8, 8.61733e-5), 3.0);
  CHECK_THAT(found, WithinRel(136.7090599, 1e-8));
  CHECK_THAT(131400.0 / found, WithinRel(960.0, 0.002));
  CHECK_THAT(131400.0 / found, WithinRel(961.1653, 1e-6));
}

TEST_CASE("published: power law of humidity with Arrhenius' law of temperature", "[published][humidity]") {
  // The form of Peck (1986); values are mathematics.
  CHECK_THAT(factor({85.0_degC, 85.0}, {130.0_degC, 85.0}, electronvolt(0.79), 2.66), WithinRel(17.412067846858, 1e-11));
  CHECK_THAT(factor({30.0_degC, 50.0}, {85.0_degC, 85.0}, electronvolt(0.9), 3.0), WithinRel(975.103763300802, 1e-11));
}
