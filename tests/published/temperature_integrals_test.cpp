#include <boost/math/quadrature/gauss.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "ageing/compounds.hpp"
#include "heatside/ageing/kinetics.hpp"
#include "published/source_constants.hpp"

using namespace heatside;
using namespace heatside::tests;
using ageing::exponential_integral_of_exp;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

double exponential_integral(double z) { return exponential_integral_of_exp(std::log(z)); }

// Integral of exp(-E/RT) from 0 to T is (E/R) p(E/RT).
double temperature_integral(double x) { return std::exp(-x) / x - exponential_integral(x); }

}  // namespace

TEST_CASE("published: exponential integral E1", "[published][integral]") {
  // Abramowitz & Stegun chapter 5 (tables from memory; SciPy and GSL give the same).
  CHECK_THAT(exponential_integral(0.5), WithinRel(0.559773594776161, 1e-13));
  CHECK_THAT(exponential_integral(1.0), WithinRel(0.21938393439552, 1e-13));
  CHECK_THAT(exponential_integral(2.0), WithinRel(0.0489005107080611, 1e-13));
  CHECK_THAT(exponential_integral(5.0), WithinRel(0.00114829559127533, 1e-13));
  CHECK_THAT(exponential_integral(10.0), WithinRel(4.15696892968532e-06, 1e-13));
  CHECK_THAT(exponential_integral(20.0), WithinRel(9.83552529064988e-11, 1e-13));
  CHECK_THAT(10.0 * std::exp(10.0) * exponential_integral(10.0), WithinAbs(0.9156333394, 5e-11));
  CHECK_THAT(20.0 * std::exp(20.0) * exponential_integral(20.0), WithinAbs(0.9543709099, 5e-11));
}

TEST_CASE("published: exponential integral of what is too small for a number", "[published][integral]") {
  // Abramowitz & Stegun 5.1.11: E1(z) = -gamma - ln z + z - ..., here with ln z from -2 to -5000.
  CHECK_THAT(exponential_integral_of_exp(-5000.0), WithinRel(5000.0 - std::numbers::egamma, 1e-15));
  CHECK_THAT(exponential_integral_of_exp(-100.0), WithinRel(100.0 - std::numbers::egamma, 1e-15));
  const double ln_z = GENERATE(-2.0, -10.0, -30.0, -39.999999, -40.000001);
  const double z = std::exp(ln_z);
  const double series = -std::numbers::egamma - ln_z + z - z * z / 4.0 + z * z * z / 18.0 - z * z * z * z / 96.0 +
                        std::pow(z, 5) / 600.0 - std::pow(z, 6) / 4320.0 + std::pow(z, 7) / 35280.0;
  CAPTURE(ln_z);
  CHECK_THAT(exponential_integral_of_exp(ln_z), WithinRel(series, 1e-12));
}

TEST_CASE("published: temperature integral p(x)", "[published][integral]") {
  // p(x) = e^-x/x - E1(x), computed outside the project with many digits. The approximations of Senum and Yang (1977),
  // J. Therm. Anal. 11:445 (formulas from memory), are the test's own arithmetic; the program gives E1.
  struct Row {
    double x, p, second_order_error;
  };
  const Row row = GENERATE(Row{5, 1.99293808541768e-04, -2.354e-3}, Row{10, 3.83024046563161e-07, -3.474e-4},
                           Row{15, 1.20720911197638e-09, -9.768e-5}, Row{20, 4.70242821542907e-12, -3.756e-5},
                           Row{25, 2.06277790645392e-14, -1.742e-5}, Row{30, 9.76556455912457e-17, -9.154e-6},
                           Row{40, 2.53153023712403e-21, -3.239e-6}, Row{50, 7.42356663773765e-26, -1.422e-6},
                           Row{60, 2.35508947681633e-30, -7.193e-7}, Row{100, 3.64782143388038e-48, -1.028e-7});
  const double x = row.x;
  CAPTURE(x);
  CHECK_THAT(temperature_integral(x), WithinRel(row.p, 1e-10));

  const double second_order = std::exp(-x) / x * (x + 4.0) / (x * x + 6.0 * x + 6.0);
  CHECK_THAT(second_order / temperature_integral(x) - 1.0, WithinRel(row.second_order_error, 1.5e-3));
  const double fourth_order =
      std::exp(-x) / x * (((x + 18.0) * x + 86.0) * x + 96.0) / ((((x + 20.0) * x + 120.0) * x + 240.0) * x + 120.0);
  CHECK_THAT(fourth_order, WithinRel(temperature_integral(x), x < 20.0 ? 4e-5 : 1e-7));
}

TEST_CASE("published: Doyle's straight line of the temperature integral", "[published][integral]") {
  // Doyle: log10 p = -2.315 - 0.4567 x for 20 <= x <= 60, worst 0.12 at x = 20 (from memory).
  for (double x = 20.0; x <= 60.0; x += 5.0) {
    CAPTURE(x);
    CHECK_THAT(std::log10(temperature_integral(x)), WithinAbs(-2.315 - 0.4567 * x, 0.125));
  }
}

TEST_CASE("published: a linear ramp of temperature", "[published][integral][exposure]") {
  // Mean rate over the ramp, relative to its hot end: closed form and quadrature of 30 digits outside the project agree.
  struct Ramp {
    double energy_kj, from, to, mean;
  };
  const Ramp ramp = GENERATE(Ramp{100, 20, 120, 0.120841247025263}, Ramp{80, -40, 125, 0.0924719691191737},
                             Ramp{120, 25, 150, 0.0938897806646228}, Ramp{100, 85, 125, 0.300978296428092});
  CAPTURE(ramp.energy_kj, ramp.from, ramp.to);
  const JoulePerMole energy = kilojoule_per_mole(ramp.energy_kj);
  const Kelvin cold = celsius(ramp.from);
  const Kelvin hot = celsius(ramp.to);

  using Rule = boost::math::quadrature::gauss<double, 30>;
  exposure::TemperatureMeasure year;
  for (std::size_t i = 0; i < Rule::abscissa().size(); ++i) {
    for (const double side : {-1.0, 1.0}) {
      const Kelvin node = cold + (hot - cold) * (0.5 + 0.5 * side * Rule::abscissa()[i]);
      add_stay(year, exposure::Regime::running, {node, node, 0.5 * Rule::weights()[i]});
    }
  }
  CHECK_THAT(exposure::total(exposure::mean_acceleration(year, energy, hot)), WithinRel(ramp.mean, 1e-10));

  const double slope = energy.value() / molar_gas_constant;
  const double x_cold = slope / cold.value();
  const double x_hot = slope / hot.value();
  const double closed =
      slope * (temperature_integral(x_hot) - temperature_integral(x_cold)) / (hot - cold).value() * std::exp(x_hot);
  CHECK_THAT(closed, WithinRel(ramp.mean, 1e-10));
}

namespace {

// A laid-up zone follows the ambient: twelve equal months about 90 degC, every day alike.
exposure::TemperatureMeasure sinusoidal_year(double amplitude) {
  library::Climate climate;
  climate.monthly_mean.fill(90.0);
  climate.daily_range.fill(2.0 * amplitude);
  climate.deviation_sd.fill(0.0);
  exposure::ZoneHeat heat;
  heat.ambient_following = 0.7;
  heat.soak_peak = 60.0_K_rise;
  heat.tau_warm = 20.0_min;
  heat.tau_soak_rise = 12.0_min;
  heat.tau_soak_decay = 90.0_min;
  const exposure::TraceConstants constants = exposure::trace_constants(model_constants());
  const exposure::ZoneTrace trace = exposure::periodic_week(heat, {40.0_K_rise, 0.0_K_rise}, constants, {});
  return exposure::year_at(trace, exposure::days_of_year(climate), {0.5, 0.3, 0.1, 0.1}, {}, {10, 2.0, 1.0e-4});
}

}  // namespace

TEST_CASE("published: a sinusoid of temperature under Arrhenius' law", "[published][exposure]") {
  // 100 kJ/mol, 90 degC, amplitude 20 K: mathematics, computed outside the project.
  const JoulePerMole energy = 100.0_kJ_per_mol;
  const double mean = exposure::total(exposure::mean_acceleration(sinusoidal_year(20.0), energy, 90.0_degC));
  CHECK_THAT(mean, WithinRel(1.90281688395882, 1e-10));
  CHECK_THAT(in_celsius(exposure::equivalent_temperature(mean, energy, 90.0_degC)), WithinAbs(97.1938738891, 1e-9));
}

TEST_CASE("published: a sinusoid of temperature under the ten-degree rule", "[published][exposure]") {
  // Mean of 2^(dT/10) is the Bessel function I0(A ln2/10); I0(1) = 1.26606587775201, Abramowitz & Stegun table 9.8.
  // The rule is the test's own arithmetic, the year's nodes are the program's.
  struct Row {
    double amplitude, mean;
  };
  const Row row = GENERATE(Row{5, 1.03025449180962}, Row{10, 1.12376855103033}, Row{20, 1.54133680484919},
                           Row{30, 2.41073767657751}, Row{10.0 / std::numbers::ln2, 1.26606587775201});
  CAPTURE(row.amplitude);
  double mean = 0.0;
  for (const exposure::Nodes& nodes : sinusoidal_year(row.amplitude).by_regime) {
    for (std::size_t i = 0; i < nodes.kelvin.size(); ++i) {
      mean += nodes.share[i] * std::exp2(in_celsius(Kelvin{nodes.kelvin[i]}) / 10.0 - 9.0);
    }
  }
  CHECK_THAT(mean, WithinRel(row.mean, 1e-10));
}
