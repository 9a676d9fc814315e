#include <catch2/catch.hpp>
#include <cmath>

#include "ageing/compounds.hpp"
#include "heatside/ageing/arrhenius.hpp"
#include "heatside/ageing/kinetics.hpp"
#include "published/source_constants.hpp"

/// The loading guides of transformers hold the best known tables of ageing rates of insulation. Their thermally upgraded
/// paper follows exp(15000/383 - 15000/T), T = degrees + 273: the offset of 273 is the guides' own and done here by the
/// test.

using namespace heatside;
using namespace heatside::tests;
using ageing::acceleration_factor;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double guides_offset = 273.0;
const Kelvin reference = celsius_with(110.0, guides_offset);

double upgraded_paper(double degrees) {
  return acceleration_factor({reference, celsius_with(degrees, guides_offset)}, energy_of_slope(Kelvin{15000.0}));
}

/// A printed figure and half a unit of its last digit.
struct Printed {
  double degrees, value, half_digit;
};

}  // namespace

TEST_CASE("published: relative ageing rates of thermally upgraded paper", "[published][transformer]") {
  // IEC 60076-7, table of relative ageing rates (from memory).
  const auto row =
      GENERATE(Printed{80, 0.036, 0.0005}, Printed{86, 0.073, 0.0005}, Printed{92, 0.145, 0.0005},
               Printed{98, 0.282, 0.0005}, Printed{104, 0.536, 0.0005}, Printed{110, 1.0, 0.05}, Printed{116, 1.83, 0.005},
               Printed{122, 3.29, 0.005}, Printed{128, 5.8, 0.05}, Printed{134, 10.1, 0.05}, Printed{140, 17.2, 0.05});
  CAPTURE(row.degrees);
  CHECK_THAT(upgraded_paper(row.degrees), WithinAbs(row.value, row.half_digit));
}

TEST_CASE("published: relative ageing rates of plain paper double every six kelvin", "[published][transformer]") {
  // IEC 60076-7, same table (from memory). The program has no six-kelvin rule: the table is own arithmetic of the test.
  const auto row =
      GENERATE(Printed{80, 0.125, 0.0005}, Printed{86, 0.25, 0.005}, Printed{92, 0.5, 0.05}, Printed{98, 1.0, 0.05},
               Printed{104, 2.0, 0.05}, Printed{110, 4.0, 0.05}, Printed{116, 8.0, 0.05}, Printed{122, 16.0, 0.05},
               Printed{128, 32.0, 0.05}, Printed{134, 64.0, 0.05}, Printed{140, 128.0, 0.05});
  const double by_rule = std::exp2((row.degrees - 98.0) / 6.0);
  CAPTURE(row.degrees);
  CHECK_THAT(by_rule, WithinAbs(row.value, row.half_digit));

  // The program's life line with a halving interval of 6 K at 98 degC meets the rule at 98 and 104 degC. Against temperature
  // ln rate bends downwards, so it lies below the rule's straight line everywhere outside those two.
  const double by_line =
      acceleration_factor({98.0_degC, celsius(row.degrees)}, ageing::activation_energy_for(98.0_degC, 6.0_K_rise));
  if (row.degrees == 98.0 || row.degrees == 104.0) {
    CHECK_THAT(by_line, WithinRel(by_rule, 1e-12));
  } else {
    CHECK(by_line < by_rule);
  }
}

TEST_CASE("published: ageing acceleration factor of a loading guide", "[published][transformer]") {
  // IEEE C57.91, table of the ageing acceleration factor (from memory).
  const auto row =
      GENERATE(Printed{80, 0.0358, 5e-5}, Printed{90, 0.1156, 5e-5}, Printed{100, 0.350, 5e-4}, Printed{110, 1.0, 1e-12},
               Printed{120, 2.71, 0.005}, Printed{130, 6.98, 0.005}, Printed{140, 17.2, 0.05}, Printed{150, 40.6, 0.05},
               Printed{160, 92.1, 0.05}, Printed{170, 201.2, 0.05}, Printed{180, 424.9, 0.05}, Printed{190, 868.8, 0.05},
               Printed{200, 1723.3, 0.05});
  CAPTURE(row.degrees);
  CHECK_THAT(upgraded_paper(row.degrees), WithinAbs(row.value, row.half_digit));
}

TEST_CASE("published: ageing acceleration factor with more digits, own arithmetic", "[published][transformer]") {
  CHECK_THAT(upgraded_paper(98.0), WithinAbs(0.281738, 5e-7));
  CHECK_THAT(upgraded_paper(105.0), WithinAbs(0.595682, 5e-7));
  CHECK_THAT(upgraded_paper(0.0), WithinAbs(1.40148e-07, 5e-13));
  CHECK_THAT(upgraded_paper(50.0), WithinAbs(6.92545e-04, 5e-10));
  // With the ice point where it is, the last row of the table would read 1714.26.
  CHECK_THAT(acceleration_factor({110.0_degC, 200.0_degC}, energy_of_slope(Kelvin{15000.0})), WithinAbs(1714.26, 0.005));
}

TEST_CASE("published: constant of the life curve is the law turned over to endless heat", "[published][transformer]") {
  // IEEE C57.91: per-unit life = 9.8e-18 exp(15000/T) (from memory); exp(-15000/383) with more digits.
  const double to_endless_heat = acceleration_factor({reference, Kelvin{1.0e300}}, energy_of_slope(Kelvin{15000.0}));
  CHECK_THAT(1.0 / to_endless_heat, WithinRel(9.8e-18, 0.005));
  CHECK_THAT(1.0 / to_endless_heat, WithinRel(9.7966531523e-18, 1e-10));
}

TEST_CASE("published: a day at the reference takes 0.0133 % of the life", "[published][transformer][kinetics]") {
  // IEEE C57.91: 24 h of a normal insulation life of 180000 h (from memory).
  const ageing::Kinetics kinetics = ageing::likely_kinetics(gradual_compound(), model_constants());
  const ageing::ClockRates clock{1.0 / 180000.0, 1.0 / 180000.0};
  const double whole_life = ageing::progress_at(kinetics, ageing::extent_at(kinetics, 50.0_percent));
  const double day = ageing::aged(kinetics, {}, clock, 24.0_h).progress;
  CHECK_THAT(100.0 * day / whole_life, WithinAbs(0.0133, 5e-5));
  CHECK_THAT(100.0 * day / whole_life, WithinRel(0.013333333333333, 1e-12));
}

TEST_CASE("published: equivalent ageing over a day of four temperatures", "[published][transformer]") {
  // The rule of IEEE C57.91 on a day of our own: 8 h at 100, 8 h at 110, 6 h at 120, 2 h at 130 degC.
  const auto stay = [](double degrees, double hours_a_day) {
    return Stay{celsius_with(degrees, guides_offset), 20.0_degC, hours_a_day / 24.0};
  };
  exposure::TemperatureMeasure year;
  add_stay(year, exposure::Regime::running, stay(110.0, 8.0));
  add_stay(year, exposure::Regime::soak, stay(120.0, 6.0));
  add_stay(year, exposure::Regime::soak, stay(130.0, 2.0));
  add_stay(year, exposure::Regime::parked, stay(100.0, 8.0));
  const exposure::PerRegime mean = exposure::mean_acceleration(year, energy_of_slope(Kelvin{15000.0}), reference);
  CHECK_THAT(exposure::total(mean), WithinRel(1.7092268937587036, 1e-12));
  CHECK_THAT(mean[0], WithinRel(1.0 / 3.0, 1e-14));
}
