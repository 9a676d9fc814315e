#include "heatside/ageing/kinetics.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "ageing/compounds.hpp"
#include "heatside/ageing/integrate.hpp"

using namespace heatside;
using namespace heatside::ageing;
using namespace heatside::tests;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

struct Period {
  Hours length{0.0};
  ClockRates rates;
};

double extent_closed(const Kinetics& kinetics, const std::array<Period, 3>& periods) {
  AgeingState state;
  for (const Period& period : periods) state = aged(kinetics, state, period.rates, period.length);
  return extent_of(kinetics, state);
}

double extent_integrated(const Kinetics& kinetics, const std::array<Period, 3>& periods) {
  LawState state;
  for (const Period& period : periods) state = integrate_law(rate_law(kinetics, period.rates), state, period.length);
  return state.extent;
}

// The same numbers on every platform: the standard fixes the generator's words but not its distributions.
class Draws {
 public:
  double between(double low, double high) { return low + (high - low) * (static_cast<double>(generator_()) / 4294967296.0); }
  double between_ln(double low, double high) { return std::exp(between(std::log(low), std::log(high))); }

 private:
  std::mt19937 generator_{20240611};
};

Kinetics random_kinetics(Draws& draws, bool guarded) {
  const Elongations elongations{draws.between(110.0, 450.0), draws.between(25.0, 90.0)};
  const double induction = draws.between(0.2, 0.95);
  return likely_kinetics(guarded ? guarded_compound(elongations, induction) : gradual_compound(elongations),
                         model_constants());
}

std::array<Period, 3> random_periods(Draws& draws) {
  std::array<Period, 3> periods;
  for (Period& period : periods) {
    period.rates.extent = draws.between_ln(1.0e-7, 1.0e-2);
    period.rates.guard = period.rates.extent * draws.between_ln(0.2, 5.0);
    period.length = Hours{draws.between(0.0, 0.7) / period.rates.extent};
  }
  return periods;
}

Kinetics usual_guarded() { return likely_kinetics(guarded_compound(), model_constants()); }
Kinetics usual_gradual() { return likely_kinetics(gradual_compound(), model_constants()); }

}  // namespace

TEST_CASE("kinetics: closed forms agree with Odeint over three periods of unequal clocks", "[ageing][kinetics][oracle]") {
  Draws draws;
  double worst = 0.0;
  for (int i = 0; i < 200; ++i) {
    const Kinetics kinetics = random_kinetics(draws, i % 5 != 0);
    const std::array<Period, 3> periods = random_periods(draws);
    CAPTURE(i, kinetics.rate, kinetics.guard_rate);
    const double closed = extent_closed(kinetics, periods);
    const double integrated = extent_integrated(kinetics, periods);
    CHECK_THAT(closed, WithinAbs(integrated, 1e-8));
    worst = std::max(worst, closed);
  }
  CHECK(worst > 0.9);  // The cases reach far enough to mean something.
}

TEST_CASE("kinetics: the thermal-life point is reached after its hours", "[ageing][kinetics]") {
  const Elongations elongations{GENERATE(200.0, 250.0, 400.0), GENERATE(40.0, 50.0, 100.0)};
  const double induction = GENERATE(0.3, 0.6, 0.9);
  const bool guarded = GENERATE(false, true);
  const Kinetics kinetics =
      likely_kinetics(guarded ? guarded_compound(elongations, induction) : gradual_compound(elongations), model_constants());
  const Hours life = 3000.0_h;
  const ClockRates clock{1.0 / life.value(), 1.0 / life.value()};
  CAPTURE(elongations.initial, elongations.end, induction, guarded);

  const AgeingState state = aged(kinetics, {}, clock, life);
  CHECK_THAT(in_percent(elongation_at(kinetics, extent_of(kinetics, state))), WithinRel(elongations.end, 1e-11));
  CHECK_THAT(time_until(kinetics, {}, clock, extent_at(kinetics, percent(elongations.end))).value(),
             WithinRel(3000.0, 1e-11));
}

TEST_CASE("kinetics: the rate constant of the guarded law at 250 % and an induction share of 0.6", "[ageing][kinetics]") {
  // c = K(x_ref) g / [E1(8 e^-g) - E1(8)] with g = ln 8/0.6; SciPy's exp1 gives 8.9937.
  const Kinetics kinetics = usual_guarded();
  CHECK_THAT(kinetics.rate, WithinAbs(8.994, 5e-4));
  CHECK_THAT(kinetics.guard_rate, WithinRel(3.46573590279973, 1e-14));  // ln 8/0.6 = 5 ln 2
}

TEST_CASE("kinetics: the rate constant of the gradual law is what is left at the thermal-life point", "[ageing][kinetics]") {
  // W = ln(250/0.2), x_ref = ln(250/50)/W, c = -ln(1 - x_ref): own arithmetic of the test.
  const double reference_extent = std::log(5.0) / std::log(1250.0);
  CHECK_THAT(usual_gradual().rate, WithinRel(-std::log(1.0 - reference_extent), 1e-13));
}

TEST_CASE("kinetics: the stabiliser has fallen to e^-8 strength 1 after the induction share of the life",
          "[ageing][kinetics]") {
  // g = ln(8)/i makes 8 s = 1 at that moment.
  const double induction = GENERATE(0.3, 0.6, 0.85);
  const Kinetics kinetics = likely_kinetics(guarded_compound({}, induction), model_constants());
  const AgeingState state = aged(kinetics, {}, {1.0, 1.0}, Hours{induction});
  CHECK_THAT(8.0 * std::exp(state.ln_guard), WithinRel(1.0, 1e-13));
}

TEST_CASE("kinetics: time until an extent is the inverse of ageing", "[ageing][kinetics][property]") {
  const bool guarded = GENERATE(false, true);
  const Kinetics kinetics = guarded ? usual_guarded() : usual_gradual();
  const double ratio = GENERATE(0.0, 0.1, 1.0, 10.0);
  const ClockRates clock{2.0e-4, 2.0e-4 * ratio};
  const AgeingState before = aged(kinetics, {}, {1.0e-3, 1.0e-3}, Hours{GENERATE(0.0, 100.0, 500.0)});
  const double extent = GENERATE(0.05, 0.3, 0.7, 0.99, 0.999999);
  CAPTURE(guarded, ratio, extent, before.progress);

  const Hours time = time_until(kinetics, before, clock, extent);
  if (extent <= extent_of(kinetics, before)) {
    CHECK(time.value() == 0.0);
  } else {
    CHECK_THAT(extent_of(kinetics, aged(kinetics, before, clock, time)), WithinRel(extent, 1e-11));
    const LawState start{extent_of(kinetics, before), std::exp(before.ln_guard)};
    CHECK_THAT(integrate_until(rate_law(kinetics, clock), start, extent).value(), WithinRel(time.value(), 1e-6));
  }
}

TEST_CASE("kinetics: ageing for one time and then another is ageing for their sum", "[ageing][kinetics][property]") {
  const bool guarded = GENERATE(false, true);
  const Kinetics kinetics = guarded ? usual_guarded() : usual_gradual();
  const ClockRates clock{3.0e-4, GENERATE(0.0, 1.0e-4, 3.0e-4, 2.0e-3)};
  const double first = GENERATE(0.0, 1.0, 700.0, 2500.0);
  CAPTURE(guarded, clock.guard, first);

  const AgeingState in_two = aged(kinetics, aged(kinetics, {}, clock, Hours{first}), clock, Hours{4000.0 - first});
  const AgeingState in_one = aged(kinetics, {}, clock, Hours{4000.0});
  CHECK_THAT(in_two.progress, WithinRel(in_one.progress, 1e-12));
  CHECK_THAT(in_two.ln_guard, WithinAbs(in_one.ln_guard, 1e-12));
}

TEST_CASE("kinetics: a thousand lifetimes leave the floor elongation", "[ageing][kinetics]") {
  // The stabiliser is then e^-3466, which no double holds.
  const bool guarded = GENERATE(false, true);
  const Kinetics kinetics = guarded ? usual_guarded() : usual_gradual();
  const AgeingState state = aged(kinetics, {}, {1.0, 1.0}, 1000.0_h);
  CHECK_THAT(in_percent(elongation_at(kinetics, extent_of(kinetics, state))), WithinRel(0.2, 1e-12));
}

TEST_CASE("kinetics: a spent stabiliser no longer matters", "[ageing][kinetics]") {
  // With s = 0 progress is c a_x t, whether or not the rest of the stabiliser goes on decaying.
  const Kinetics kinetics = usual_guarded();
  const double ln_guard = GENERATE(-40.0, -800.0, -3000.0);
  const double guard_clock = GENERATE(0.0, 0.01, 1.0);
  const AgeingState state = aged(kinetics, {0.0, ln_guard}, {0.5, guard_clock}, 0.1_h);
  CAPTURE(ln_guard, guard_clock);
  CHECK_THAT(state.progress, WithinRel(kinetics.rate * 0.05, 1e-9));
}

TEST_CASE("kinetics: a stabiliser that is not spent slows ageing by e^-8 for ever", "[ageing][kinetics]") {
  const Kinetics kinetics = usual_guarded();
  const ClockRates clock{1.0, 0.0};
  const AgeingState state = aged(kinetics, {}, clock, 1000.0_h);
  CHECK(state.ln_guard == 0.0);
  CHECK_THAT(state.progress, WithinRel(kinetics.rate * 1000.0 * std::exp(-8.0), 1e-13));
  CHECK_THAT(extent_of(kinetics, state), WithinAbs(integrate_law(rate_law(kinetics, clock), {}, 1000.0_h).extent, 1e-8));
}

TEST_CASE("kinetics: a stabiliser that is spent very slowly is the limit of one that is not", "[ageing][kinetics]") {
  const Kinetics kinetics = usual_guarded();
  const double guard_clock = GENERATE(1.0e-4, 1.0e-6, 1.0e-8);
  CAPTURE(guard_clock);
  const double closed = extent_of(kinetics, aged(kinetics, {}, {1.0, guard_clock}, 300.0_h));
  const double integrated = integrate_law(rate_law(kinetics, {1.0, guard_clock}), {}, 300.0_h).extent;
  CHECK_THAT(closed, WithinAbs(integrated, 1e-8));
}

TEST_CASE("kinetics: a clock that stands still never gets there", "[ageing][kinetics]") {
  const Kinetics kinetics = GENERATE(usual_guarded(), usual_gradual());
  CHECK(std::isinf(time_until(kinetics, {}, {0.0, 1.0}, 0.5).value()));
  CHECK(extent_of(kinetics, aged(kinetics, {}, {0.0, 1.0}, 1.0e6_h)) == 0.0);
}

TEST_CASE("kinetics: elongation falls from new to floor and names its extent", "[ageing][kinetics][property]") {
  const Kinetics kinetics = usual_guarded();
  CHECK_THAT(in_percent(elongation_at(kinetics, 0.0)), WithinRel(250.0, 1e-15));
  CHECK_THAT(in_percent(elongation_at(kinetics, 1.0)), WithinRel(0.2, 1e-13));
  // Half way in extent is the geometric mean of the two ends: sqrt(250 * 0.2) = sqrt(50).
  CHECK_THAT(in_percent(elongation_at(kinetics, 0.5)), WithinRel(7.0710678118654752, 1e-13));
  const double extent = GENERATE(0.01, 0.2257, 0.5, 0.9, 0.9999);
  CHECK_THAT(extent_at(kinetics, elongation_at(kinetics, extent)), WithinRel(extent, 1e-13));
}

TEST_CASE("kinetics: progress and extent are two names of one thing", "[ageing][kinetics][property]") {
  const Kinetics kinetics = GENERATE(usual_guarded(), usual_gradual());
  const double extent = GENERATE(1.0e-12, 1.0e-3, 0.2, 0.5, 0.99, 1.0 - 1.0e-9);
  CHECK_THAT(extent_of(kinetics, {progress_at(kinetics, extent), 0.0}), WithinRel(extent, 1e-12));
}

TEST_CASE("kinetics: feel gives little warning in a guarded compound", "[ageing][kinetics]") {
  // common practice, no source: a guarded compound keeps most of its elongation through the induction time and then
  // collapses, where a gradual one loses it from the first day.
  const auto left_after = [](const Kinetics& kinetics, double lives) {
    return elongation_at(kinetics, extent_of(kinetics, aged(kinetics, {}, {1.0, 1.0}, Hours{lives}))) / kinetics.initial;
  };
  CHECK(left_after(usual_guarded(), 0.6) > 0.8);
  CHECK(left_after(usual_gradual(), 0.6) < 0.5);
  CHECK(left_after(usual_guarded(), 1.3) < left_after(usual_gradual(), 1.3));
}

TEST_CASE("kinetics: an end elongation outside floor and initial is refused", "[ageing][kinetics][error]") {
  CHECK_THROWS_AS(likely_kinetics(gradual_compound({100.0, 100.0}), model_constants()), DomainError);
  CHECK_THROWS_AS(likely_kinetics(guarded_compound({100.0, 150.0}), model_constants()), DomainError);
  CHECK_THROWS_AS(likely_kinetics(guarded_compound({100.0, 0.2}), model_constants()), DomainError);
  CHECK_NOTHROW(likely_kinetics(guarded_compound({100.0, 50.0}), model_constants()));
}

TEST_CASE("integration: what is complete stays complete, however many lives follow", "[ageing][integrate]") {
  // Against the closed form; a PVC at 446 degC passes 1e7 of its lives in 30 years.
  const Kinetics kinetics = GENERATE(usual_gradual(), usual_guarded());
  const double guard_clock = GENERATE(1.0e-3, 1.0, 1.0e4);
  const Hours service{GENERATE(1.0e2, 1.0e7, 1.0e12)};
  const ClockRates rates{1.0, guard_clock};
  const LawState state = integrate_law(rate_law(kinetics, rates), {}, service);
  CAPTURE(guard_clock, service.value());
  CHECK_THAT(state.extent, WithinAbs(extent_of(kinetics, aged(kinetics, {}, rates, service)), 1e-9));
  // And once more, from where it is.
  const double later = extent_of(kinetics, aged(kinetics, {}, rates, 2.0 * service));
  CHECK_THAT(integrate_law(rate_law(kinetics, rates), state, service).extent, WithinAbs(later, 1e-9));
}

TEST_CASE("integration: a stabiliser that is long gone does not hold up what follows", "[ageing][integrate]") {
  const Kinetics kinetics = usual_guarded();
  const ClockRates rates{1.0, 1.0e7};
  const Hours time{0.5 * time_until(kinetics, {}, rates, 0.5).value()};
  CHECK_THAT(integrate_law(rate_law(kinetics, rates), {}, time).extent,
             WithinAbs(extent_of(kinetics, aged(kinetics, {}, rates, time)), 1e-8));
  CHECK_THAT(integrate_until(rate_law(kinetics, rates), {}, 0.5).value(),
             WithinRel(time_until(kinetics, {}, rates, 0.5).value(), 1e-8));
}

TEST_CASE("integration: a law that never gets there is given up", "[ageing][integrate][error]") {
  const RateLaw saturating = [](const LawState& y) { return LawState{0.01 * (0.5 - y.extent), 0.0}; };
  CHECK_THROWS_AS(integrate_until(saturating, {}, 0.6), NumericsError);
  CHECK(integrate_until(saturating, {0.7, 1.0}, 0.6).value() == 0.0);
}
