#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/ageing/integrate.hpp"
#include "heatside/ageing/kinetics.hpp"
#include "heatside/base/constants.hpp"

/// Textbook rate laws with closed solutions. Forms from any kinetics text, values are mathematics; SciPy's solvers give
/// the same. Orders other than one and the seedless laws are not the program's: they try its integrator.

using namespace heatside;
using namespace heatside::ageing;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// 1e12 1/h and 110 kJ/mol at 120 degC.
double rate_constant() { return 1.0e12 * std::exp(-110.0e3 / (molar_gas_constant * (120.0_degC).value())); }

// The gradual law with its constant in the clock.
Kinetics first_order() {
  Kinetics kinetics;
  kinetics.law = library::KineticsLaw::gradual;
  kinetics.rate = 1.0;
  return kinetics;
}

// The guarded law as the design states it; what is left of the stabiliser is the state's.
Kinetics autocatalytic() {
  Kinetics kinetics;
  kinetics.law = library::KineticsLaw::guarded;
  kinetics.rate = 0.05;
  kinetics.guard_rate = 3.0;
  kinetics.guard_strength = 8.0;
  kinetics.seed = 0.02;
  return kinetics;
}

}  // namespace

TEST_CASE("published: times of reactions of order 0 to 3, integrated", "[published][kinetics][integrate]") {
  struct Row {
    double order, half_left, tenth_left;
  };
  const Row row = GENERATE(Row{0.0, 205.820760394, 370.477368709}, Row{0.5, 241.134020042, 562.938084539},
                           Row{1.0, 285.328159536, 947.839629425}, Row{1.5, 341.015001493, 1780.1665288},
                           Row{2.0, 411.641520788, 3704.77368709}, Row{3.0, 617.462281182, 20376.255279});
  CAPTURE(row.order);
  const double k = rate_constant();
  CHECK_THAT(k, WithinRel(0.00242929818664782, 1e-13));
  const RateLaw law = [k, n = row.order](const LawState& y) {
    return LawState{k * std::pow(std::max(0.0, 1.0 - y.extent), n), 0.0};
  };
  CHECK_THAT(integrate_until(law, {}, 0.5).value(), WithinRel(row.half_left, 1e-8));
  CHECK_THAT(integrate_until(law, {}, 0.9).value(), WithinRel(row.tenth_left, 1e-8));
  CHECK_THAT(integrate_law(law, {}, Hours{row.half_left}).extent, WithinAbs(0.5, 1e-9));
  CHECK_THAT(integrate_law(law, {}, Hours{row.tenth_left}).extent, WithinAbs(0.9, 1e-9));
}

TEST_CASE("published: first order is the gradual law", "[published][kinetics]") {
  const ClockRates clock{rate_constant(), 0.0};
  CHECK_THAT(time_until(first_order(), {}, clock, 0.5).value(), WithinRel(285.328159536, 1e-11));
  CHECK_THAT(time_until(first_order(), {}, clock, 0.9).value(), WithinRel(947.839629425, 1e-11));
  CHECK_THAT(extent_of(first_order(), aged(first_order(), {}, clock, 285.328159536_h)), WithinAbs(0.5, 1e-11));
  CHECK_THAT(integrate_until(rate_law(first_order(), clock), {}, 0.9).value(), WithinRel(947.839629425, 1e-8));
}

TEST_CASE("published: first order with autocatalysis is the guarded law without stabiliser", "[published][kinetics]") {
  // x' = (k1 + k2 x)(1 - x), k1 = 0.001, k2 = 0.05 1/h: x(100 h) = 0.761706637215715.
  const AgeingState unguarded{0.0, -1000.0};
  const ClockRates clock{1.0, GENERATE(0.0, 0.01)};
  CHECK_THAT(extent_of(autocatalytic(), aged(autocatalytic(), unguarded, clock, 100.0_h)),
             WithinRel(0.761706637215715, 1e-10));
  CHECK_THAT(time_until(autocatalytic(), unguarded, clock, 0.761706637215715).value(), WithinRel(100.0, 1e-10));
  CHECK_THAT(integrate_law(rate_law(autocatalytic(), clock), {0.0, 0.0}, 100.0_h).extent,
             WithinAbs(0.761706637215715, 1e-9));
}

TEST_CASE("published: Prout and Tompkins' reaction, integrated", "[published][kinetics][integrate]") {
  // a' = 0.05 a (1 - a) from 0.01: half after ln 99/0.05.
  const RateLaw law = [](const LawState& y) { return LawState{0.05 * y.extent * (1.0 - y.extent), 0.0}; };
  CHECK_THAT(integrate_until(law, {0.01, 0.0}, 0.5).value(), WithinRel(91.9023970026918, 1e-9));
  CHECK_THAT(integrate_until(law, {0.01, 0.0}, 0.9).value(), WithinRel(135.846888549416, 1e-9));
  CHECK_THAT(integrate_law(law, {0.01, 0.0}, 100.0_h).extent, WithinAbs(0.599859601813035, 1e-9));
}

TEST_CASE("published: Sestak and Berggren's reaction, integrated", "[published][kinetics][integrate]") {
  // a' = sqrt(a) (1 - a): t = ln[(1 + sqrt a)/(1 - sqrt a)], 1.76274717403909 at one half. It cannot leave 0 by itself,
  // so it starts at 0.0001, which takes ln(1.01/0.99).
  const RateLaw law = [](const LawState& y) { return LawState{std::sqrt(std::max(0.0, y.extent)) * (1.0 - y.extent), 0.0}; };
  const double before = std::log(1.01 / 0.99);
  CHECK_THAT(integrate_until(law, {1.0e-4, 0.0}, 0.5).value() + before, WithinRel(1.76274717403909, 1e-9));
}

TEST_CASE("published: Avrami's reaction, integrated", "[published][kinetics][integrate]") {
  // a = 1 - exp(-(k t)^2), k = 0.01: a(50) = 0.221199216928595. The second state serves as the clock.
  const RateLaw law = [](const LawState& y) { return LawState{2.0e-4 * y.guard * (1.0 - y.extent), 1.0}; };
  CHECK_THAT(integrate_law(law, {0.0, 0.0}, 50.0_h).extent, WithinAbs(0.221199216928595, 1e-9));
}
