// Faults by bare wire over the years, against closed forms.
#include "heatside/remedy/faults.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "heatside/base/error.hpp"
#include "heatside/base/random.hpp"
#include "heatside/library/library.hpp"

using namespace heatside;
using namespace heatside::remedy;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

constexpr double never = std::numeric_limits<double>::infinity();

library::ModelConstants::Opening opening_of(double stiff, double flex, double cracked, double crumbling, double years) {
  library::ModelConstants::Opening opening;
  opening.fault_stiff.value = stiff;
  opening.fault_flex_cracks.value = flex;
  opening.fault_cracked.value = cracked;
  opening.fault_crumbling.value = crumbling;
  opening.fault_years.value = years;
  return opening;
}

// The hazard of a Weibull life in short steps, each with the mean hazard of its time.
std::vector<RateStep> weibull_steps(double shape, double scale, double horizon) {
  constexpr int count = 4000;
  std::vector<RateStep> steps;
  const auto sum = [&](double t) { return std::pow(t / scale, shape); };
  const double step = horizon / count;
  for (int i = 0; i < count; ++i) steps.push_back({i * step, (sum((i + 1) * step) - sum(i * step)) / step});
  return steps;
}

double simpson(const std::vector<double>& values, double step) {
  double sum = values.front() + values.back();
  for (std::size_t i = 1; i + 1 < values.size(); ++i) sum += values[i] * (i % 2 == 1 ? 4.0 : 2.0);
  return sum * step / 3.0;
}

}  // namespace

TEST_CASE("faults: a chance over years is a constant hazard", "[remedy][faults]") {
  // By hand: 1 - exp(-h 10) = 0.3 gives h = 0.035667494393873...
  const FaultRates rates = fault_rates(opening_of(0.0, 0.1, 0.3, 0.7, 10.0));
  CHECK(rates[0] == 0.0);
  CHECK(rates[1] == 0.0);
  CHECK_THAT(rates[3], WithinRel(0.035667494393873, 1e-12));
  const RateStep stays{-3.0, rates[3]};
  const FaultRisk risk = fault_risk({&stays, 1}, Years{10.0}, 0.0);
  CHECK_THAT(risk.chance, WithinRel(0.3, 1e-12));
  CHECK_THAT(risk.discounted, WithinRel(0.3, 1e-12));
  CHECK_THROWS_AS(fault_rates(opening_of(0.0, 0.1, 1.0, 0.7, 10.0)), DomainError);
  CHECK_THROWS_AS(fault_rates(opening_of(0.0, 0.1, 0.3, 0.7, 0.0)), DomainError);
}

TEST_CASE("faults: a chance moves within its own range and stays a chance", "[remedy][faults]") {
  const library::ModelConstants::Opening opening = library::built_in_library().model.opening;
  const double years = opening.fault_years.value;
  const auto chance = [&](double score, std::size_t condition) {
    return 1.0 - std::exp(-fault_rates(opening, score)[condition] * years);
  };
  CHECK_THAT(chance(1.6448536269514722, 3), WithinRel(*opening.fault_cracked.high, 1e-9));
  CHECK_THAT(chance(-1.6448536269514722, 3), WithinRel(*opening.fault_cracked.low, 1e-9));
  for (const double score : {-5.0, -1.0, 1.0, 5.0}) {
    for (std::size_t c = 0; c < 5; ++c) {
      CHECK(chance(score, c) >= 0.0);
      CHECK(chance(score, c) < 1.0);
    }
  }
}

TEST_CASE("faults: two conditions one after the other, by hand", "[remedy][faults]") {
  // Nothing for 2 years, 0.1/a for 3 years, then 0.4/a until year 10. L = 0.3 + 2.0.
  const std::array<RateStep, 2> steps{RateStep{2.0, 0.1}, RateStep{5.0, 0.4}};
  const FaultRisk risk = fault_risk(steps, Years{10.0}, 0.0);
  CHECK_THAT(risk.chance, WithinRel(1.0 - std::exp(-2.3), 1e-12));
  CHECK_THAT(risk.years_without,
             WithinRel(2.0 + (1.0 - std::exp(-0.3)) / 0.1 + std::exp(-0.3) * (1.0 - std::exp(-2.0)) / 0.4, 1e-12));
  // Where the hazard has added up to 0.7: 5 a + (0.7 - 0.3)/0.4.
  CHECK_THAT(fault_time(steps, 0.7), WithinRel(6.0, 1e-12));
  CHECK_THAT(fault_time(steps, 0.2), WithinRel(4.0, 1e-12));
  CHECK(fault_time(std::array<RateStep, 1>{RateStep{0.0, 0.0}}, 0.1) == never);
}

TEST_CASE("faults: what was reached before the inspection counts from then on", "[remedy][faults]") {
  const FaultRates rates{0.0, 0.01, 0.02, 0.05, 0.2};
  const auto steps = steps_of({-9.0, -4.0, -1.0, never}, rates);
  CHECK_THAT(fault_risk(steps, Years{10.0}, 0.0).chance, WithinRel(1.0 - std::exp(-0.5), 1e-12));
  CHECK_THAT(fault_time(steps, 0.5), WithinRel(10.0, 1e-12));
  const auto never_at_all = steps_of({never, never, never, never}, rates);
  CHECK(fault_risk(never_at_all, Years{50.0}, 0.03).chance == 0.0);
  CHECK(fault_risk(never_at_all, Years{50.0}, 0.03).years_without == 50.0);
  CHECK(fault_time(never_at_all, 1.0) == never);
}

TEST_CASE("faults: money lost later is worth less", "[remedy][faults]") {
  // Constant hazard h and continuous discount d: h/(h+d) (1 - exp(-(h+d) H)), integral by parts.
  const RateStep stays{0.0, 0.08};
  const double d = std::log(1.05), both = 0.08 + d;
  CHECK_THAT(fault_risk({&stays, 1}, Years{12.0}, 0.05).discounted,
             WithinRel(0.08 / both * (1.0 - std::exp(-both * 12.0)), 1e-12));
  CHECK_THAT(discount_factor(2.0, 0.05), WithinRel(1.0 / (1.05 * 1.05), 1e-12));
}

TEST_CASE("faults: sampled times agree with the chance and the discounted loss", "[remedy][faults]") {
  const std::array<RateStep, 3> steps{RateStep{-1.0, 0.02}, RateStep{3.0, 0.1}, RateStep{6.0, 0.3}};
  const FaultRisk risk = fault_risk(steps, Years{10.0}, 0.04);
  constexpr std::size_t draws = 200000;
  const std::vector<double> luck = uniform_draws(random_quantity(3, "faults"), draws);
  double faults = 0.0, discounted = 0.0;
  for (const double u : luck) {
    const double at = fault_time(steps, -std::log(u));
    if (at >= 10.0) continue;
    faults += 1.0;
    discounted += discount_factor(at, 0.04);
  }
  // Four standard errors of a share of one half.
  CHECK_THAT(faults / draws, WithinAbs(risk.chance, 4.0 * 0.5 / std::sqrt(double{draws})));
  CHECK_THAT(discounted / draws, WithinAbs(risk.discounted, 4.0 * 0.5 / std::sqrt(double{draws})));
}

TEST_CASE("faults: a Weibull life", "[remedy][faults][published]") {
  // F(t) = 1 - exp(-(t/a)^b); for b = 2 the mean life up to T is a sqrt(pi)/2 erf(T/a).
  // Barlow & Proschan 1965, Mathematical Theory of Reliability, ch. 2 (from memory).
  const double scale = GENERATE(4.0, 9.0, 25.0), horizon = 10.0;
  const FaultRisk risk = fault_risk(weibull_steps(2.0, scale, horizon), Years{horizon}, 0.0);
  CHECK_THAT(risk.chance, WithinRel(1.0 - std::exp(-std::pow(horizon / scale, 2.0)), 1e-10));
  CHECK_THAT(risk.years_without, WithinRel(0.5 * scale * std::sqrt(std::acos(-1.0)) * std::erf(horizon / scale), 1e-6));
}

TEST_CASE("faults: the best age of replacement of a Weibull life", "[remedy][faults][published]") {
  // Age replacement: cost a year of replacing at age T, or at the fault that comes first,
  //     C(T) = (c_f F(T) + c_p R(T)) / int_0^T R,
  // is least where r(T) int_0^T R - F(T) = c_p / (c_f - c_p), and there C = (c_f - c_p) r(T).
  // Barlow & Proschan 1965, Mathematical Theory of Reliability, ch. 4 (from memory).
  constexpr double shape = 2.0, scale = 10.0, planned = 1.0, fault = 5.0;
  const auto cost_a_year = [&](double age) {
    const FaultRisk risk = fault_risk(weibull_steps(shape, scale, age), Years{age}, 0.0);
    return (fault * risk.chance + planned * (1.0 - risk.chance)) / risk.years_without;
  };
  double best = 0.0, least = never;
  for (double age = 1.0; age < 20.0; age += 0.01) {
    const double cost = cost_a_year(age);
    if (cost < least) {
      least = cost;
      best = age;
    }
  }
  const double rate = shape / scale * std::pow(best / scale, shape - 1.0);
  const double mean = 0.5 * scale * std::sqrt(std::acos(-1.0)) * std::erf(best / scale);
  CHECK_THAT(rate * mean - (1.0 - std::exp(-best * best / (scale * scale))), WithinAbs(planned / (fault - planned), 2e-3));
  CHECK_THAT(least, WithinRel((fault - planned) * rate, 2e-3));
}

TEST_CASE("faults: discounted loss of a Weibull life by quadrature", "[remedy][faults]") {
  // int_0^H exp(-d t) f(t) dt by Simpson's rule on 20 000 steps.
  constexpr double scale = 8.0, horizon = 10.0, discount = 0.06;
  constexpr int steps = 20000;
  std::vector<double> values;
  for (int i = 0; i <= steps; ++i) {
    const double t = horizon * i / steps;
    values.push_back(std::exp(-std::log1p(discount) * t) * 2.0 * t / (scale * scale) * std::exp(-t * t / (scale * scale)));
  }
  CHECK_THAT(fault_risk(weibull_steps(2.0, scale, horizon), Years{horizon}, discount).discounted,
             WithinRel(simpson(values, horizon / steps), 1e-6));
}
