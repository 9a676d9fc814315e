#include "heatside/ageing/history.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "ageing/compounds.hpp"

using namespace heatside;
using namespace heatside::ageing;
using namespace heatside::tests;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Kinetics kinetics_of(bool guarded) {
  return likely_kinetics(guarded ? guarded_compound() : gradual_compound(), model_constants());
}

// The share of a life that passes in an hour when a life takes so many years.
ClockRates life_in(Years life) {
  const double rate = 1.0 / hours(life).value();
  return {rate, rate};
}

// Ten years in which a tenth of a life passes, three in which six tenths do.
std::vector<ClockSpan> slow_then_fast() { return {{hours(10.0_a), life_in(100.0_a)}, {hours(3.0_a), life_in(5.0_a)}}; }

}  // namespace

TEST_CASE("years until: what is left of a life on the future clock", "[ageing][history]") {
  const bool guarded = GENERATE(false, true);
  const Solution solution = GENERATE(Solution::closed_form, Solution::integrated);
  const Kinetics kinetics = kinetics_of(guarded);
  CAPTURE(guarded, solution);

  // 0.1 + 0.6 of the life are gone; the other 0.3 take 6 years where a life takes 20.
  CHECK_THAT(years_until(kinetics, slow_then_fast(), life_in(20.0_a), 50.0_percent, solution).value(), WithinRel(6.0, 1e-7));
  CHECK_THAT(years_until(kinetics, {}, life_in(20.0_a), 50.0_percent, solution).value(), WithinRel(20.0, 1e-7));
}

TEST_CASE("years until: negative where the threshold was reached that long ago", "[ageing][history]") {
  const bool guarded = GENERATE(false, true);
  const Solution solution = GENERATE(Solution::closed_form, Solution::integrated);
  const Kinetics kinetics = kinetics_of(guarded);
  CAPTURE(guarded, solution);

  std::vector<ClockSpan> past = slow_then_fast();
  past.push_back({hours(2.0_a), life_in(4.0_a)});  // 0.3 after 1.2 of these years: 0.8 a ago
  CHECK_THAT(years_until(kinetics, past, life_in(20.0_a), 50.0_percent, solution).value(), WithinRel(-0.8, 1e-6));
  past.push_back({hours(7.0_a), life_in(1000.0_a)});  // and 7 years more
  CHECK_THAT(years_until(kinetics, past, life_in(20.0_a), 50.0_percent, solution).value(), WithinRel(-7.8, 1e-6));
}

TEST_CASE("years until: the future does not change the past", "[ageing][history]") {
  const Kinetics kinetics = kinetics_of(true);
  const std::vector<ClockSpan> past{{hours(10.0_a), life_in(5.0_a)}};
  const Years mild = years_until(kinetics, past, life_in(1000.0_a), 50.0_percent, Solution::closed_form);
  const Years harsh = years_until(kinetics, past, life_in(1.0_a), 50.0_percent, Solution::closed_form);
  CHECK_THAT(mild.value(), WithinRel(-5.0, 1e-9));
  CHECK(mild == harsh);
}

TEST_CASE("years until: cutting a span in two changes nothing", "[ageing][history][property]") {
  const bool guarded = GENERATE(false, true);
  const Solution solution = GENERATE(Solution::closed_form, Solution::integrated);
  const Strain threshold = percent(GENERATE(20.0, 50.0, 100.0, 200.0));
  const double cut = GENERATE(0.01, 0.5, 0.93);
  const ClockRates clock{1.0e-5, 2.0e-5};
  const Hours length = hours(GENERATE(4.0_a, 30.0_a));
  CAPTURE(guarded, solution, threshold.value(), cut, length.value());

  const Kinetics kinetics = kinetics_of(guarded);
  const std::vector<ClockSpan> whole{{hours(1.0_a), life_in(40.0_a)}, {length, clock}};
  const std::vector<ClockSpan> in_two{{hours(1.0_a), life_in(40.0_a)}, {length * cut, clock}, {length * (1.0 - cut), clock}};
  const double tolerance = solution == Solution::closed_form ? 1e-10 : 1e-6;
  const ClockRates future{3.0e-6, 1.0e-6};
  CHECK_THAT(years_until(kinetics, in_two, future, threshold, solution).value(),
             WithinAbs(years_until(kinetics, whole, future, threshold, solution).value(), tolerance * 30.0));
  CHECK_THAT(elongation_after(kinetics, in_two, solution).value(),
             WithinRel(elongation_after(kinetics, whole, solution).value(), tolerance));
}

TEST_CASE("years until: closed and integrated lives agree", "[ageing][history][oracle]") {
  const bool guarded = GENERATE(false, true);
  const Kinetics kinetics = kinetics_of(guarded);
  const double past_years = GENERATE(0.5, 8.0, 25.0);
  const double guard_ratio = GENERATE(0.2, 1.0, 6.0);
  const Strain threshold = percent(GENERATE(4.0, 25.0, 100.0));
  CAPTURE(guarded, past_years, guard_ratio, threshold.value());

  const double rate = life_in(15.0_a).extent;
  const std::vector<ClockSpan> past{{hours(Years{past_years}), {rate, rate * guard_ratio}},
                                    {hours(2.0_a), {0.1 * rate, 0.3 * rate}}};
  const ClockRates future{0.6 * rate, 0.8 * rate};
  const double closed = years_until(kinetics, past, future, threshold, Solution::closed_form).value();
  const double integrated = years_until(kinetics, past, future, threshold, Solution::integrated).value();
  const double life = past_years + 2.0 + closed;
  CHECK_THAT(integrated, WithinAbs(closed, 1e-6 * life));
}

TEST_CASE("years until: infinite when the future clock stands still and the threshold is not yet reached",
          "[ageing][history]") {
  const bool guarded = GENERATE(false, true);
  const Solution solution = GENERATE(Solution::closed_form, Solution::integrated);
  const Kinetics kinetics = kinetics_of(guarded);
  const std::vector<ClockSpan> past = slow_then_fast();
  CHECK(years_until(kinetics, past, {0.0, 0.0}, 50.0_percent, solution).value() == std::numeric_limits<double>::infinity());
  CHECK(years_until(kinetics, {{hours(9.0_a), life_in(6.0_a)}}, {0.0, 0.0}, 50.0_percent, solution).value() ==
        Approx(-3.0).epsilon(1e-6));
}

TEST_CASE("years until: a past that stands still only adds its years", "[ageing][history]") {
  const Kinetics kinetics = kinetics_of(GENERATE(false, true));
  const Solution solution = GENERATE(Solution::closed_form, Solution::integrated);
  const std::vector<ClockSpan> past{{hours(4.0_a), {0.0, 0.0}}, {hours(6.0_a), life_in(3.0_a)}, {hours(5.0_a), {0.0, 0.0}}};
  CHECK_THAT(years_until(kinetics, past, life_in(1.0_a), 50.0_percent, solution).value(), WithinRel(-8.0, 1e-6));
}

TEST_CASE("years until: a threshold that new insulation does not reach was passed at the start", "[ageing][history]") {
  // A compound of 250 % when new: 250 % and more count as reached on the first day.
  const bool guarded = GENERATE(false, true);
  const Solution solution = GENERATE(Solution::closed_form, Solution::integrated);
  const Strain threshold = percent(GENERATE(250.0, 255.0, 300.0, 1000.0));
  const Kinetics kinetics = kinetics_of(guarded);
  CAPTURE(guarded, solution, threshold.value());

  CHECK_THAT(years_until(kinetics, slow_then_fast(), life_in(20.0_a), threshold, solution).value(), WithinAbs(-13.0, 1e-9));
  CHECK_THAT(years_until(kinetics, {}, life_in(20.0_a), threshold, solution).value(), WithinAbs(0.0, 1e-9));
}

TEST_CASE("elongation after: spans act in their order on a guarded compound of two clocks", "[ageing][history]") {
  // Spending the stabiliser first and heating then is worse than the other way round.
  const Kinetics kinetics = kinetics_of(true);
  const ClockSpan spends{1000.0_h, {1.0e-5, 1.0e-3}};
  const ClockSpan heats{1000.0_h, {5.0e-4, 1.0e-5}};
  const Solution solution = GENERATE(Solution::closed_form, Solution::integrated);
  const Strain spent_first = elongation_after(kinetics, {spends, heats}, solution);
  const Strain heated_first = elongation_after(kinetics, {heats, spends}, solution);
  CHECK(spent_first / heated_first < 0.5);
}

TEST_CASE("elongation after: no past, no ageing", "[ageing][history]") {
  const Solution solution = GENERATE(Solution::closed_form, Solution::integrated);
  CHECK(elongation_after(kinetics_of(true), {}, solution) == 250.0_percent);
}
