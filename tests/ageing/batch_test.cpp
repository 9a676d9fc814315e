#include "heatside/ageing/batch.hpp"

#include <boost/math/special_functions/expint.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "ageing/compounds.hpp"
#include "heatside/ageing/history.hpp"
#include "heatside/base/random.hpp"

using namespace heatside;
using namespace heatside::ageing;
using namespace heatside::tests;
using Catch::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr std::size_t draws = 200;

library::Insulation compound(bool guarded, double initial = 250.0, double induction_share = 0.6) {
  return guarded ? guarded_compound({initial, 50.0}, induction_share) : gradual_compound({initial, 50.0});
}

// A log-normal quantity of each draw.
std::vector<double> spread(const std::string& name, double median, double ln_sd) {
  std::vector<double> values;
  for (const double z : normal_draws(random_quantity(77, name), draws)) values.push_back(median * std::exp(ln_sd * z));
  return values;
}

std::vector<Strain> elongations_when_new() {
  std::vector<Strain> elongations;
  for (const double value : spread("e0", 2.2, 0.2)) elongations.emplace_back(value);
  return elongations;
}

// Three periods and a future of very different rates, some of them faster for the stabiliser than for the extent.
std::vector<DrawnSpan> three_spans() {
  return {{hours(6.0_a), {spread("x1", 2.0e-6, 1.0), spread("s1", 1.0e-6, 1.0)}},
          {hours(1.5_a), {spread("x2", 4.0e-5, 1.2), spread("s2", 6.0e-5, 1.2)}},
          {hours(20.0_a), {spread("x3", 6.0e-6, 1.5), {}}}};
}

DrawnRates future_rates() { return {spread("xf", 8.0e-6, 1.5), spread("sf", 4.0e-6, 1.5)}; }

Kinetics kinetics_of_draw(const library::Insulation& insulation, Strain initial) {
  library::Insulation drawn = insulation;
  drawn.initial_elongation = number(in_percent(initial));
  return likely_kinetics(drawn, model_constants());
}

ClockRates rates_of_draw(const DrawnRates& rates, std::size_t draw) {
  return {rates.extent[draw], rates.guard.empty() ? rates.extent[draw] : rates.guard[draw]};
}

std::vector<ClockSpan> spans_of_draw(const std::vector<DrawnSpan>& spans, std::size_t draw, double factor = 1.0) {
  std::vector<ClockSpan> drawn;
  for (const DrawnSpan& span : spans) {
    const ClockRates rates = rates_of_draw(span.rates, draw);
    drawn.push_back({span.length, {factor * rates.extent, factor * rates.guard}});
  }
  return drawn;
}

void check_years(const std::vector<Years>& years, const library::Insulation& insulation, const std::vector<DrawnSpan>& past,
                 const DrawnRates& future, Strain threshold) {
  const std::vector<Strain> initial = elongations_when_new();
  for (std::size_t draw = 0; draw < draws; ++draw) {
    const Years scalar = years_until(kinetics_of_draw(insulation, initial[draw]), spans_of_draw(past, draw),
                                     rates_of_draw(future, draw), threshold, Solution::closed_form);
    CAPTURE(draw, in_percent(threshold));
    // Of the time since the start: the scalar root is found to 2^-50 of it.
    CHECK_THAT(years[draw].value(), WithinAbs(scalar.value(), 1.0e-10 * (27.5 + std::abs(scalar.value()))));
  }
}

}  // namespace

TEST_CASE("guard table: agrees with the exponential integral", "[ageing][batch]") {
  // Boost.Math expint; beyond its argument's range the logarithm alone.
  for (const double strength : {0.5, 2.0, 8.0, 12.0}) {
    const GuardTable table = guard_table(strength);
    CAPTURE(strength);
    double worst = 0.0, worst_slope = 0.0;
    for (int i = 0; i < 40'000; ++i) {
      const double y = 0.0013 * i;
      worst = std::max(worst, std::abs(let_through(table, y).value - exponential_integral_of_exp(std::log(strength) - y)));
      worst_slope = std::max(worst_slope, std::abs(let_through(table, y).slope - std::exp(-strength * std::exp(-y))));
    }
    CHECK(worst < 3.0e-14);
    CHECK(worst_slope < 2.0e-14);
    // The integral is 3.8e-5 for 8 and its differences matter there, so relative digits count too.
    CHECK_THAT(let_through(table, 0.01).value, WithinRel(boost::math::expint(1u, strength * std::exp(-0.01)), 1.0e-11));
  }
}

TEST_CASE("guard table: the root gives back what was spent", "[ageing][batch]") {
  for (const double strength : {0.5, 8.0, 12.0}) {
    const GuardTable table = guard_table(strength);
    double worst = 0.0;
    for (int i = 0; i < 30'000; ++i) {
      const double y = 0.0019 * i;
      worst = std::max(worst, std::abs(spent_for(table, let_through(table, y).value) - y));
    }
    CAPTURE(strength);
    CHECK(worst < 1.0e-12);
  }
}

TEST_CASE("guard table: strengths it cannot serve are refused", "[ageing][batch][error]") {
  CHECK_THROWS_WITH(guard_table(13.0), Contains("13"));
  CHECK_THROWS_AS(guard_table(0.0), DomainError);
}

TEST_CASE("batch kinetics: 200 random cases over three periods agree with the scalar closed form", "[ageing][batch]") {
  const bool guarded = GENERATE(false, true);
  const library::Insulation insulation = compound(guarded);
  const std::vector<Strain> initial = elongations_when_new();
  const DrawnKinetics kinetics = drawn_kinetics(insulation, model_constants(), initial, {50.0_percent});
  const std::vector<DrawnSpan> past = three_spans();
  const std::vector<Strain> thresholds{100.0_percent, 25.0_percent, 5.0_percent, 1.0_percent};
  const DrawnLife life =
      drawn_life(kinetics, past, future_rates(), {{thresholds[0]}, {thresholds[1]}, {thresholds[2]}, {thresholds[3]}});
  CAPTURE(guarded);
  for (std::size_t draw = 0; draw < draws; ++draw) {
    const Kinetics scalar = kinetics_of_draw(insulation, initial[draw]);
    CHECK_THAT(kinetics.rate[draw], WithinRel(scalar.rate, 1.0e-11));
    CHECK_THAT(life.elongation[draw].value(),
               WithinRel(elongation_after(scalar, spans_of_draw(past, draw), Solution::closed_form).value(), 1.0e-10));
  }
  for (std::size_t i = 0; i < thresholds.size(); ++i)
    check_years(life.until[i], insulation, past, future_rates(), thresholds[i]);
}

TEST_CASE("batch kinetics: agrees with the integrated law", "[ageing][batch]") {
  // Boost.Odeint, an independent way to the same numbers; it agrees with the closed form to 1e-8.
  const library::Insulation insulation = compound(true);
  const std::vector<Strain> initial = elongations_when_new();
  const DrawnKinetics kinetics = drawn_kinetics(insulation, model_constants(), initial, {50.0_percent});
  const std::vector<DrawnSpan> past = three_spans();
  const std::vector<Years> years = drawn_life(kinetics, past, future_rates(), {{25.0_percent}}).until[0];
  for (std::size_t draw = 0; draw < 10; ++draw) {
    const Years integrated = years_until(kinetics_of_draw(insulation, initial[draw]), spans_of_draw(past, draw),
                                         rates_of_draw(future_rates(), draw), 25.0_percent, Solution::integrated);
    CHECK_THAT(years[draw].value(), WithinAbs(integrated.value(), 1.0e-6 * (27.5 + std::abs(integrated.value()))));
  }
}

TEST_CASE("batch kinetics: a stabiliser that nothing spends, and one that goes at once", "[ageing][batch]") {
  const library::Insulation insulation = compound(true);
  const std::vector<Strain> initial = elongations_when_new();
  const DrawnKinetics kinetics = drawn_kinetics(insulation, model_constants(), initial, {50.0_percent});
  for (const double guard_rate : {0.0, 1.0e-12, 1.0e-9, 1.0}) {
    const std::vector<DrawnSpan> past{{hours(10.0_a), {spread("x", 3.0e-6, 1.0), std::vector<double>(draws, guard_rate)}}};
    const DrawnRates future{spread("xf", 3.0e-5, 1.0), std::vector<double>(draws, guard_rate)};
    CAPTURE(guard_rate);
    check_years(drawn_life(kinetics, past, future, {{25.0_percent}}).until[0], insulation, past, future, 25.0_percent);
  }
}

TEST_CASE("batch kinetics: a stabiliser that is hardly spent keeps its digits", "[ageing][batch]") {
  // Own arithmetic of the test. With y = g a_s t << 1 the law is K = c a_x t e^-8 (1 + 8 y / 2), where the difference of
  // two exponential integrals would have lost its digits.
  const DrawnKinetics kinetics = drawn_kinetics(compound(true), model_constants(), {250.0_percent}, {50.0_percent});
  const double clock = 1.0e-6, guard = 1.0e-18;
  const double goal = progress_at(kinetics.law, extent_at(likely_kinetics(compound(true), model_constants()), 25.0_percent));
  const double without = goal / (kinetics.rate[0] * clock * std::exp(-8.0));
  const double spent = kinetics.law.guard_rate * guard * without;
  REQUIRE(spent < 1.0e-7);
  const Years found = drawn_life(kinetics, {}, {{clock}, {guard}}, {{25.0_percent}}).until[0][0];
  CHECK_THAT(hours(found).value(), WithinRel(without * (1.0 - 4.0 * spent), 1.0e-12));
}

TEST_CASE("batch kinetics: without a past all is future, and clocks that stand still last for ever", "[ageing][batch]") {
  const bool guarded = GENERATE(false, true);
  const library::Insulation insulation = compound(guarded);
  const DrawnKinetics kinetics = drawn_kinetics(insulation, model_constants(), elongations_when_new(), {50.0_percent});
  check_years(drawn_life(kinetics, {}, future_rates(), {{25.0_percent}}).until[0], insulation, {}, future_rates(),
              25.0_percent);
  const DrawnRates still{std::vector<double>(draws, 0.0), {}};
  CHECK(drawn_life(kinetics, {}, still, {{25.0_percent}}).until[0][3].value() == std::numeric_limits<double>::infinity());
  CHECK(drawn_life(kinetics, {}, {}, {}).elongation == elongations_when_new());
  // A threshold that a new wire has reached counts from the start.
  CHECK(drawn_life(kinetics, three_spans(), still, {{Strain{9.0}}}).until[0][0].value() == -27.5);
}

TEST_CASE("batch kinetics: each draw has its own threshold", "[ageing][batch]") {
  const DrawnKinetics kinetics = drawn_kinetics(compound(true), model_constants(), elongations_when_new(), {50.0_percent});
  const std::vector<DrawnSpan> past = three_spans();
  std::vector<Strain> mixed(draws, 25.0_percent);
  mixed[1] = 3.0_percent;
  const std::vector<std::vector<Years>> until =
      drawn_life(kinetics, past, future_rates(), {mixed, {25.0_percent}, {3.0_percent}}).until;
  CHECK(until[0][0] == until[1][0]);
  CHECK(until[0][1] == until[2][1]);
  CHECK(until[1][1] != until[2][1]);
}

TEST_CASE("clock factor: with it the scalar law just reaches the threshold", "[ageing][batch]") {
  const bool guarded = GENERATE(false, true);
  const library::Insulation insulation = compound(guarded);
  const std::vector<Strain> initial = elongations_when_new();
  const DrawnKinetics kinetics = drawn_kinetics(insulation, model_constants(), initial, {50.0_percent});
  const std::vector<DrawnSpan> past = three_spans();
  for (const Strain threshold : {100.0_percent, 25.0_percent, 2.0_percent}) {
    const std::vector<double> factors = clock_factors_until(kinetics, past, {threshold});
    for (std::size_t draw = 0; draw < draws; ++draw) {
      const Strain left = elongation_after(kinetics_of_draw(insulation, initial[draw]),
                                           spans_of_draw(past, draw, factors[draw]), Solution::closed_form);
      CAPTURE(guarded, draw, factors[draw]);
      CHECK_THAT(left.value(), WithinRel(threshold.value(), 1.0e-8));
    }
  }
  // With one clock for extent and stabiliser the factor is a single root.
  const std::vector<DrawnSpan> one_clock{{hours(6.0_a), {spread("x1", 2.0e-6, 1.0), {}}},
                                         {hours(9.0_a), {spread("x2", 3.0e-6, 1.0), {}}}};
  const std::vector<double> single = clock_factors_until(kinetics, one_clock, {25.0_percent});
  for (std::size_t draw = 0; draw < draws; ++draw) {
    const Strain left = elongation_after(kinetics_of_draw(insulation, initial[draw]),
                                         spans_of_draw(one_clock, draw, single[draw]), Solution::closed_form);
    CHECK_THAT(left.value(), WithinRel(0.25, 1.0e-9));
  }
  CHECK(clock_factors_until(kinetics, past, {Strain{9.0}})[0] == 0.0);
  CHECK(std::isinf(clock_factors_until(kinetics, {}, {25.0_percent})[0]));
}

TEST_CASE("batch kinetics: what does not fit together is refused", "[ageing][batch][error]") {
  const std::vector<Strain> initial{250.0_percent, 40.0_percent};
  CHECK_THROWS_WITH(drawn_kinetics(compound(true), model_constants(), initial, {50.0_percent}), Contains("40.0"));
  CHECK_THROWS_AS(drawn_kinetics(compound(true), model_constants(), initial, std::vector<Strain>(3, 30.0_percent)),
                  DomainError);
  const DrawnKinetics kinetics = drawn_kinetics(compound(true), model_constants(), initial, {50.0_percent, 20.0_percent});
  CHECK_THROWS_WITH(drawn_life(kinetics, {{10.0_h, {{1.0e-5}, {}}}}, {}, {}), Contains("1 clock rates for 2 draws"));
}
