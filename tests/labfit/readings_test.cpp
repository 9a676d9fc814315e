#include <catch2/catch.hpp>
#include <cmath>
#include <functional>

#include "heatside/base/constants.hpp"
#include "heatside/labfit/reading_study.hpp"
#include "labfit/data.hpp"

using namespace heatside;
using namespace heatside::labfit;
using Catch::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

EndPoint at_value(double value) {
  EndPoint end;
  end.value = value;
  return end;
}

// Elongation that falls as exp(-(k t)^1.5) at a rate of k(T), read at even steps of k t from new to far gone.
ReadingTest simulated(const std::vector<double>& temperatures, const std::function<double(Kelvin)>& rate) {
  ReadingTest test;
  test.specimens = {""};
  for (const double degrees : temperatures) {
    for (int step = 0; step <= 80; ++step) {
      const double progress = 0.025 * step;
      const double hours = progress / rate(celsius(degrees));
      test.readings.push_back({celsius(degrees), Hours{hours}, 200.0 * std::exp(-std::pow(progress, 1.5)), 0});
    }
  }
  return test;
}

double arrhenius(Kelvin temperature, double kilojoule, double share) {
  const double reference = 1.0 / celsius(83.0).value();
  return share * 1.0e-4 * std::exp(1.0e3 * kilojoule / molar_gas_constant * (reference - 1.0 / temperature.value()));
}

}  // namespace

TEST_CASE("readings: resistor drift drawn on to 30 per cent", "[labfit][readings]") {
  // Data: Tobias and Trindade, Applied Reliability, 2nd ed., p. 201. Lives: slope through the origin, computed in R.
  EndPoint end = at_value(30.0);
  end.initial = 0.0;
  end.rule = CrossingRule::through_start;
  const LifeTest test = lives_of(reading_data("resistors.csv"), end);
  REQUIRE(test.specimens == 20);
  const auto has = [&](double degrees, double hours) {
    for (const Life& life : test.lives) {
      if (std::abs(in_celsius(life.temperature) - degrees) < 1.0e-6 && std::abs(life.from.value() - hours) < 5.0e-5)
        return true;
    }
    return false;
  };
  CHECK(has(105.0, 462.7069));
  CHECK(has(125.0, 107.2444));
  std::vector<double> means, deviations;
  for (const double degrees : {105.0, 125.0}) {
    double mean = 0.0, squares = 0.0;
    const LifeTest own = only(test, degrees);
    REQUIRE(own.specimens == 10);
    for (const Life& life : own.lives) mean += std::log(life.from.value()) * static_cast<double>(life.count) / 10.0;
    for (const Life& life : own.lives)
      squares += static_cast<double>(life.count) * std::pow(std::log(life.from.value()) - mean, 2);
    means.push_back(mean);
    deviations.push_back(std::sqrt(squares / 9.0));
  }
  CHECK_THAT(means[0], WithinRel(7.08041390052, 1.0e-8));
  CHECK_THAT(means[1], WithinRel(5.73156311714, 1.0e-8));
  CHECK_THAT(deviations[0], WithinRel(0.980699640875, 1.0e-8));
  CHECK_THAT(deviations[1], WithinRel(0.762356548178, 1.0e-8));
  const double span = 11605.0 * (1.0 / (105.0 + 273.16) - 1.0 / (125.0 + 273.16));
  CHECK_THAT((means[0] - means[1]) / span, WithinRel(0.875028070, 1.0e-8));
}

TEST_CASE("readings: crossings lie where the readings say", "[labfit][readings]") {
  // Own arithmetic: from 200 down to 100 in 1000 h at 150 Cel, so 125 is reached at 750 h; two pieces 10 apart each time.
  ReadingTest test;
  test.specimens = {""};
  for (const auto& [degrees, hours] : std::vector<std::pair<double, double>>{{150.0, 1000.0}, {170.0, 250.0}}) {
    for (const double off : {-5.0, 5.0}) {
      test.readings.push_back({celsius(degrees), Hours{0.0}, 200.0 + off, 0});
      test.readings.push_back({celsius(degrees), Hours{hours}, 100.0 + off, 0});
    }
  }
  const ReadingStudy study = reading_study(test, at_value(125.0));
  CHECK(study.falling);
  CHECK_FALSE(study.repeated);
  CHECK_THAT(*study.initial, WithinAbs(200.0, 1.0e-12));
  REQUIRE(study.crossings.size() == 2);
  CHECK_THAT(study.crossings[0].hours->value(), WithinAbs(750.0, 1.0e-9));
  CHECK_THAT(study.crossings[1].hours->value(), WithinAbs(187.5, 1.0e-9));
  // Variance of a reading 50, of a mean of two 25; d hours/d mean = 1000 (25, 75)/100^2.
  const double sd = 1000.0 * std::sqrt(25.0 * (0.0025 * 0.0025 + 0.0075 * 0.0075));
  CHECK_THAT(*study.crossings[0].ln_error, WithinRel(sd / 750.0, 1.0e-9));
  // Life falls by 4 between the two: Ea = R ln 4/(1/T1 - 1/T2).
  const double energy = 1.0e-3 * molar_gas_constant * std::log(4.0) / (1.0 / 423.15 - 1.0 / 443.15);
  CHECK_THAT(*study.crossing_energy, WithinRel(energy, 1.0e-9));
}

TEST_CASE("readings: a retained share and a rising property", "[labfit][readings]") {
  ReadingTest test;
  test.specimens = {""};
  for (const auto& [degrees, hours] : std::vector<std::pair<double, double>>{{150.0, 1000.0}, {170.0, 250.0}}) {
    test.readings.push_back({celsius(degrees), Hours{0.0}, 40.0, 0});
    test.readings.push_back({celsius(degrees), Hours{hours}, 80.0, 0});
  }
  const ReadingStudy rising = reading_study(test, at_value(60.0));
  CHECK_FALSE(rising.falling);
  CHECK_THAT(rising.crossings[0].hours->value(), WithinAbs(500.0, 1.0e-9));
  for (Reading& reading : test.readings) reading.value = 120.0 - reading.value;
  EndPoint half;
  half.retained = 0.75;
  CHECK_THAT(reading_study(test, half).crossings[0].hours->value(), WithinAbs(500.0, 1.0e-9));
}

TEST_CASE("readings: superposition finds the energy that the rates were made with", "[labfit][readings]") {
  const ReadingStudy study =
      reading_study(simulated({110, 125, 140, 155}, [](Kelvin t) { return arrhenius(t, 100.0, 1.0); }), at_value(50.0));
  REQUIRE(study.superposition);
  const Superposition& shifted = *study.superposition;
  CHECK(shifted.factors.size() == 4);
  CHECK_THAT(shifted.energy, WithinRel(100.0, 1.0e-9));
  for (const ShiftFactor& factor : shifted.factors) {
    const double exact = std::log(arrhenius(celsius(110.0), 100.0, 1.0) / arrhenius(factor.temperature, 100.0, 1.0));
    CHECK_THAT(factor.ln_factor, WithinAbs(exact, 1.0e-9));
  }
  // The master curve is the law itself at the reference temperature, but for chords between readings.
  for (std::size_t i = 0; i < shifted.levels.size(); ++i) {
    const double progress = std::pow(-std::log(shifted.levels[i] / 200.0), 1.0 / 1.5);
    CHECK_THAT(shifted.master[i].value() * arrhenius(celsius(110.0), 100.0, 1.0), WithinRel(progress, 2.0e-3));
  }
  CHECK_THAT(shifted.verdict, Contains("one path"));
  CHECK_FALSE(shifted.two_paths);
}

TEST_CASE("readings: two paths are found where there are two", "[labfit][readings]") {
  // Polypropylene: 42.5 and 131.5 kJ/mol, equally fast at 83 Cel (Celina and others 2005, as quoted in the library).
  const auto rate = [](Kelvin t) { return arrhenius(t, 42.5, 0.5) + arrhenius(t, 131.5, 0.5); };
  const ReadingStudy study = reading_study(simulated({60, 75, 90, 105, 120, 135}, rate), at_value(50.0));
  REQUIRE(study.superposition);
  const Superposition& shifted = *study.superposition;
  REQUIRE(shifted.two_paths);
  CHECK_THAT(shifted.two_paths->low_energy, WithinRel(42.5, 1.0e-6));
  CHECK_THAT(shifted.two_paths->high_energy, WithinRel(131.5, 1.0e-6));
  const double share = arrhenius(celsius(60.0), 42.5, 0.5) / rate(celsius(60.0));
  CHECK_THAT(shifted.two_paths->low_share, WithinRel(share, 1.0e-6));
  CHECK(*shifted.curvature_probability < 0.05);
  CHECK_THAT(shifted.verdict, Contains("two paths describe") && Contains("overstates life"));
}

TEST_CASE("readings: a bend the other way is not called two paths", "[labfit][readings]") {
  // One path that stops below some temperature: slower at the cool end than the line says.
  const auto rate = [](Kelvin t) { return 1.0 / (1.0 / arrhenius(t, 60.0, 1.0) + 1.0 / arrhenius(t, 140.0, 1.0)); };
  const ReadingStudy study = reading_study(simulated({60, 75, 90, 105, 120, 135}, rate), at_value(50.0));
  REQUIRE(study.superposition);
  CHECK_FALSE(study.superposition->two_paths);
  CHECK_THAT(study.superposition->verdict, Contains("which two paths side by side cannot do"));
}

TEST_CASE("readings: few temperatures tell nothing of a second path, and say so", "[labfit][readings]") {
  const ReadingStudy study =
      reading_study(simulated({110, 130, 150}, [](Kelvin t) { return arrhenius(t, 100.0, 1.0); }), at_value(50.0));
  REQUIRE(study.superposition);
  CHECK_FALSE(study.superposition->curvature_probability);
  CHECK_THAT(study.superposition->verdict, Contains("3 temperatures cannot tell two paths from one"));
}

TEST_CASE("readings: ovens that never come to the end point", "[labfit][readings]") {
  ReadingTest test = simulated({110, 125, 140}, [](Kelvin t) { return arrhenius(t, 100.0, 1.0); });
  std::erase_if(test.readings,
                [](const Reading& reading) { return in_celsius(reading.temperature) < 115.0 && reading.value < 150.0; });
  const ReadingStudy study = reading_study(test, at_value(50.0));
  CHECK_FALSE(study.crossings[0].hours);
  CHECK_THAT(study.warnings.at(0), Contains("110 Cel"));
  // Its curve still lies over the others as far as it goes.
  REQUIRE(study.superposition);
  CHECK(study.superposition->factors.size() == 3);
  CHECK_THAT(study.superposition->energy, WithinRel(100.0, 1.0e-6));
}

TEST_CASE("readings: specimens read again and again have lives of their own", "[labfit][readings]") {
  ReadingTest test;
  test.specimens = {"a", "b", "c"};
  const auto add = [&](std::size_t specimen, double hours, double value) {
    test.readings.push_back({celsius(150.0), Hours{hours}, value, specimen});
  };
  add(0, 0, 100), add(0, 100, 80), add(0, 200, 40);
  add(1, 0, 100), add(1, 100, 90), add(1, 200, 70);
  add(2, 100, 30), add(2, 200, 20);
  const LifeTest lives = lives_of(test, at_value(50.0));
  REQUIRE(lives.lives.size() == 3);
  // Nobody read c when it was new: its curve begins with the mean of the others.
  CHECK_THAT(lives.lives[0].from.value(), WithinAbs(100.0 * 50.0 / 70.0, 1.0e-9));
  CHECK_THAT(lives.lives[1].from.value(), WithinAbs(175.0, 1.0e-9));
  CHECK(lives.lives[2].from == Hours{200.0});
  CHECK_FALSE(lives.lives[2].to);
}

TEST_CASE("readings: what cannot be told is refused with a reason", "[labfit][readings][error]") {
  const ReadingTest test = simulated({110, 125}, [](Kelvin t) { return arrhenius(t, 100.0, 1.0); });
  CHECK_THROWS_WITH(reading_study(test, {}), Contains("one end point is needed"));
  EndPoint both = at_value(50.0);
  both.retained = 0.5;
  CHECK_THROWS_WITH(reading_study(test, both), Contains("one end point is needed"));
  CHECK_THROWS_WITH(reading_study(test, at_value(200.0)), Contains("is the value at the start"));
  CHECK_THROWS_WITH(reading_study(simulated({110}, [](Kelvin t) { return arrhenius(t, 100.0, 1.0); }), at_value(50.0)),
                    Contains("one temperature only"));
  ReadingTest late = test;
  std::erase_if(late.readings, [](const Reading& reading) { return reading.hours.value() == 0.0; });
  EndPoint half;
  half.retained = 0.5;
  CHECK_THROWS_WITH(reading_study(late, half), Contains("needs the initial value"));
}
