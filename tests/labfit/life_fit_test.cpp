#include "heatside/labfit/life_fit.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "labfit/data.hpp"

using namespace heatside;
using namespace heatside::labfit;
using Catch::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

FitRequest request(Distribution distribution, std::vector<double> degrees = {}, std::vector<double> quantiles = {0.5, 0.1}) {
  FitRequest wanted;
  wanted.distribution = distribution;
  for (const double at : degrees) wanted.temperatures.push_back(celsius(at));
  wanted.quantiles = std::move(quantiles);
  return wanted;
}

const RatioTest& test_of(const LifeModel& model, const std::string& name) {
  for (const RatioTest& test : model.tests) {
    if (test.name == name) return test;
  }
  FAIL("no test of " + name);
  return model.tests.front();
}

Life life(double degrees, double from, std::optional<double> to, std::size_t count = 1) {
  return {celsius(degrees), Hours{from}, to ? std::optional<Hours>{Hours{*to}} : std::nullopt, count, 0};
}

}  // namespace

// Class-H motorettes, Nelson 1990; the fits by R 4.2.2, survival 3.5-3, survreg on 1000/T with T = Celsius + 273.15.
TEST_CASE("log-normal fit: class-H motorettes as R survreg gives it", "[labfit][fit]") {
  FitRequest wanted = request(Distribution::log_normal, {180.0});
  wanted.method = IntervalMethod::wald;
  const LifeModel model = fit_life(life_data("class-h-motorettes.csv"), wanted);
  CHECK_THAT(model.intercept(), WithinRel(-7.28341120522, 1.0e-6));
  CHECK_THAT(model.intercept_error(), WithinRel(0.752350051981, 1.0e-4));
  CHECK_THAT(model.slope, WithinRel(7535.69257982, 1.0e-6));
  CHECK_THAT(model.slope_error(), WithinRel(375.128606531, 1.0e-4));
  CHECK_THAT(model.scales.front(), WithinRel(0.249262908548, 1.0e-6));
  CHECK_THAT(model.scale_error(0) / model.scales.front(), WithinRel(0.111803398875, 1.0e-4));
  CHECK_THAT(model.log_likelihood, WithinAbs(-313.558224009, 1.0e-7));
  CHECK_THAT(model.aic, WithinAbs(2.0 * (3.0 + 313.558224009), 1.0e-6));
  REQUIRE(model.lives.size() == 2);
  CHECK_THAT(model.lives[0].hours.value, WithinRel(11454.813002, 1.0e-6));
  CHECK_THAT(model.lives[0].ln_error, WithinRel(0.0860620043, 1.0e-4));
  CHECK_THAT(*model.lives[0].hours.lo, WithinRel(9676.8028, 1.0e-5));
  CHECK_THAT(*model.lives[0].hours.hi, WithinRel(13559.5137, 1.0e-5));
  CHECK_THAT(model.lives[1].hours.value, WithinRel(8322.533540, 1.0e-6));
  CHECK_THAT(model.lives[1].ln_error, WithinRel(0.0931784236, 1.0e-4));
  CHECK_THAT(*model.lives[1].hours.lo, WithinRel(6933.3310, 1.0e-5));
  CHECK_THAT(*model.lives[1].hours.hi, WithinRel(9990.0847, 1.0e-5));
}

TEST_CASE("Weibull fit: class-H motorettes as R survreg gives it", "[labfit][fit]") {
  FitRequest wanted = request(Distribution::weibull, {180.0});
  wanted.method = IntervalMethod::wald;
  const LifeModel model = fit_life(life_data("class-h-motorettes.csv"), wanted);
  CHECK_THAT(model.intercept(), WithinRel(-5.87311507002, 1.0e-6));
  CHECK_THAT(model.intercept_error(), WithinRel(0.660668424477, 1.0e-4));
  CHECK_THAT(model.slope, WithinRel(6896.28768881, 1.0e-6));
  CHECK_THAT(model.slope_error(), WithinRel(327.876688657, 1.0e-4));
  CHECK_THAT(model.scales.front(), WithinRel(0.254989561502, 1.0e-6));
  CHECK_THAT(model.log_likelihood, WithinAbs(-318.052033272, 1.0e-7));
  CHECK_THAT(model.lives[0].hours.value, WithinRel(10425.206315, 1.0e-6));
  CHECK_THAT(model.lives[0].ln_error, WithinRel(0.0783128114, 1.0e-4));
  CHECK_THAT(*model.lives[0].hours.lo, WithinRel(8941.7942, 1.0e-5));
  CHECK_THAT(*model.lives[0].hours.hi, WithinRel(12154.7112, 1.0e-5));
  CHECK_THAT(model.lives[1].hours.value, WithinRel(6448.601907, 1.0e-6));
  CHECK_THAT(model.lives[1].ln_error, WithinRel(0.1035678553, 1.0e-4));
  CHECK_THAT(*model.lives[1].hours.lo, WithinRel(5263.9099, 1.0e-5));
  CHECK_THAT(*model.lives[1].hours.hi, WithinRel(7899.9199, 1.0e-5));
}

TEST_CASE("log-normal fit: three test cells with most units alive", "[labfit][fit]") {
  // NIST/SEMATECH e-Handbook 8.4.2.2, printed; k = 8.617e-5 eV/K, T = Celsius + 273.16. Further digits: R survreg.
  constexpr double k = 8.617e-5;
  const LifeTest cells = with_offset(life_data("three-cells.csv"), 273.16);
  FitRequest wanted = request(Distribution::log_normal, {}, {0.5, 0.1, 0.01});
  wanted.temperatures = {Kelvin{25.0 + 273.16}};
  const LifeModel model = fit_life(cells, wanted);
  CHECK_THAT(model.intercept(), WithinAbs(-19.906, 5.0e-4));
  CHECK_THAT(model.intercept_error(), WithinAbs(2.3204, 5.0e-5));
  CHECK_THAT(model.slope * k, WithinAbs(0.863, 5.0e-4));
  CHECK_THAT(model.slope_error() * k, WithinAbs(0.0761, 5.0e-5));
  CHECK_THAT(std::log(model.scales.front()), WithinAbs(-0.259, 5.0e-4));
  CHECK_THAT(model.scale_error(0) / model.scales.front(), WithinAbs(0.0928, 5.0e-5));
  CHECK_THAT(model.log_likelihood, WithinAbs(-476.7089, 5.0e-5));
  CHECK_THAT(model.intercept(), WithinRel(-19.906173534743, 1.0e-6));
  CHECK_THAT(model.slope * k, WithinRel(0.862902875256, 1.0e-6));
  CHECK_THAT(model.scales.front(), WithinRel(0.771986262491, 1.0e-6));
  CHECK_THAT(model.log_likelihood, WithinAbs(-476.708913502, 1.0e-7));
  CHECK_THAT(model.lives[0].hours.value, WithinRel(872994.165, 1.0e-6));
  CHECK_THAT(model.lives[0].ln_error, WithinAbs(0.6475, 5.0e-5));
  CHECK_THAT(model.lives[1].hours.value, WithinRel(324598.381, 1.0e-6));
  CHECK_THAT(model.lives[2].hours.value, WithinRel(144896.584, 1.0e-6));
}

TEST_CASE("log-normal fit: each test cell by itself, and all of them against the line", "[labfit][fit]") {
  // NIST/SEMATECH e-Handbook 8.4.2.2, printed: the cells, the sum of their ln likelihoods, the likelihood ratio.
  const LifeModel model = fit_life(with_offset(life_data("three-cells.csv"), 273.16), request(Distribution::log_normal));
  const std::vector<double> locations{8.89140914, 6.46971196, 5.33337597}, scales{1.21174625, 0.71478831, 0.81055897};
  const std::vector<double> printed{-53.4, -265.2, -156.5};
  REQUIRE(model.by_temperature.size() == 3);
  double sum = 0.0;
  for (std::size_t i = 0; i < 3; ++i) {
    const TemperatureFit& cell = model.by_temperature[i];
    CHECK_THAT(*cell.location, WithinRel(locations[i], 1.0e-6));
    CHECK_THAT(*cell.scale, WithinRel(scales[i], 1.0e-6));
    CHECK_THAT(*cell.log_likelihood, WithinAbs(printed[i], 0.05));
    sum += *cell.log_likelihood;
  }
  CHECK_THAT(sum, WithinAbs(-475.1119, 5.0e-5));
  const RatioTest& test = test_of(model, "scale and line together");
  CHECK(test.degrees == 3);
  CHECK_THAT(*test.statistic, WithinAbs(3.194015, 5.0e-7));
  CHECK_THAT(test.probability, WithinAbs(0.3626682, 5.0e-8));
  CHECK_THAT(test.limit, WithinAbs(7.814728, 5.0e-7));
}

TEST_CASE("Weibull fit: twenty units at one stress", "[labfit][fit]") {
  // NIST/SEMATECH e-Handbook 8.4.1.3, printed (from memory): shape 1.7208, scale 606.5280, ln likelihood -75.135.
  const SingleFit fit = fit_single_temperature(life_data("twenty-units.csv"), Distribution::weibull);
  CHECK_THAT(1.0 / fit.scale, WithinAbs(1.7208, 2.0e-4));
  CHECK_THAT(std::exp(fit.location), WithinAbs(606.5280, 1.0e-3));
  CHECK_THAT(fit.log_likelihood, WithinAbs(-75.135, 1.0e-3));
  // R 4.2.2, survreg.
  CHECK_THAT(1.0 / fit.scale, WithinRel(1.7207972608, 1.0e-6));
  CHECK_THAT(std::exp(fit.location), WithinRel(606.527558004, 1.0e-6));
  CHECK_THAT(fit.location_error, WithinRel(0.205943909, 1.0e-6));
  CHECK_THAT(fit.ln_scale_error, WithinRel(0.291812763, 1.0e-6));
  CHECK_THAT(fit.log_likelihood, WithinAbs(-75.1346181645, 1.0e-7));
}

TEST_CASE("Weibull fit: capacitors looked at now and then", "[labfit][fit]") {
  // Data: Tobias and Trindade, Applied Reliability, 2nd ed., p. 171. Fit: R survreg, interval2, on 11605/(Celsius + 273.16).
  const LifeModel model = fit_life(with_offset(life_data("capacitors.csv"), 273.16), request(Distribution::weibull));
  CHECK_THAT(model.intercept(), WithinRel(-31.47533412729, 1.0e-6));
  CHECK_THAT(model.slope / 11605.0, WithinRel(1.26746887988, 1.0e-6));
  CHECK_THAT(model.scales.front(), WithinRel(1.39218680841, 1.0e-6));
  CHECK_THAT(model.log_likelihood, WithinAbs(-197.297878383, 1.0e-6 * 197.0));
}

TEST_CASE("fit: a profile limit is where twice the ln likelihood has fallen by chi-squared", "[labfit][fit]") {
  // Independent of how the limits are found: with the slope held, the best of the rest is found on a grid of scales. Along
  // a held slope the best location of a complete log-normal sample is a mean, so the profile is -n ln s(slope), closed.
  const LifeTest test = life_data("class-h-motorettes.csv");
  const LifeModel model = fit_life(test, request(Distribution::log_normal));
  const auto profile = [&](double kilojoule) {
    const double slope = kilojoule * 1.0e3 / 8.31446261815324;
    double n = 0.0, mean = 0.0, squares = 0.0;
    for (const Life& one : test.lives) {
      const double rest = std::log(one.from.value()) - slope / one.temperature.value(),
                   count = static_cast<double>(one.count);
      n += count;
      squares += count * (rest - mean) * (rest - mean) * (n - count) / n;
      mean += count / n * (rest - mean);
    }
    return -0.5 * n * std::log(squares / n);
  };
  const WithLimits& energy = model.activation_energy;
  const double fall = 3.841458820694124;  // 95 % of chi-squared with one degree of freedom
  REQUIRE(energy.lo);
  REQUIRE(energy.hi);
  CHECK_THAT(2.0 * (profile(energy.value) - profile(*energy.lo)), WithinAbs(fall, 1.0e-6));
  CHECK_THAT(2.0 * (profile(energy.value) - profile(*energy.hi)), WithinAbs(fall, 1.0e-6));
  CHECK(energy.method == IntervalMethod::profile);
}

TEST_CASE("fit: another unit of time moves the location and nothing else", "[labfit][fit][property]") {
  const Distribution distribution = GENERATE(Distribution::log_normal, Distribution::weibull);
  const std::string name = GENERATE("class-h-motorettes.csv", "three-cells.csv", "capacitors.csv");
  LifeTest test = life_data(name);
  const LifeModel model = fit_life(test, request(distribution, {95.0}));
  constexpr double unit = 0.25;
  for (Life& one : test.lives) {
    one.from = one.from * unit;
    if (one.to) one.to = *one.to * unit;
  }
  const LifeModel other = fit_life(test, request(distribution, {95.0}));
  CAPTURE(name, name_of(distribution));
  CHECK_THAT(other.slope, WithinRel(model.slope, 1.0e-8));
  CHECK_THAT(other.scales.front(), WithinRel(model.scales.front(), 1.0e-8));
  CHECK_THAT(other.ln_hours, WithinAbs(model.ln_hours + std::log(unit), 1.0e-8));
  CHECK_THAT(other.lives[0].hours.value, WithinRel(unit * model.lives[0].hours.value, 1.0e-8));
  CHECK_THAT(*other.lives[1].hours.lo, WithinRel(unit * *model.lives[1].hours.lo, 1.0e-7));
  CHECK_THAT(*other.activation_energy.hi, WithinRel(*model.activation_energy.hi, 1.0e-7));
}

TEST_CASE("fit: degrees Celsius and kelvin give the same", "[labfit][fit][property]") {
  std::string table = data_text("class-h-motorettes.csv");
  for (const auto& [degrees, kelvin] :
       std::vector<std::pair<std::string, std::string>>{{"\n190,", "\n463.15,"},
                                                        {"\n220,", "\n493.15,"},
                                                        {"\n240,", "\n513.15,"},
                                                        {"\n260,", "\n533.15,"},
                                                        {"temperature_Cel", "temperature_K"}}) {
    for (std::size_t at = table.find(degrees); at != std::string::npos; at = table.find(degrees, at + 1)) {
      table.replace(at, degrees.size(), kelvin);
    }
  }
  const Distribution distribution = GENERATE(Distribution::log_normal, Distribution::weibull);
  const LifeModel one = fit_life(life_data("class-h-motorettes.csv"), request(distribution, {180.0}));
  const LifeModel other = fit_life(std::get<LifeTest>(read_oven_test(table, "kelvin.csv")), request(distribution, {180.0}));
  CHECK_THAT(other.intercept(), WithinRel(one.intercept(), 1.0e-8));
  CHECK_THAT(other.slope, WithinRel(one.slope, 1.0e-8));
  CHECK_THAT(other.log_likelihood, WithinRel(one.log_likelihood, 1.0e-8));
  CHECK_THAT(other.lives[1].hours.value, WithinRel(one.lives[1].hours.value, 1.0e-8));
  CHECK_THAT(*other.lives[1].hours.lo, WithinRel(*one.lives[1].hours.lo, 1.0e-8));
}

TEST_CASE("fit: lives known exactly and within a narrow interval give the same line", "[labfit][fit][property]") {
  const Distribution distribution = GENERATE(Distribution::log_normal, Distribution::weibull);
  LifeTest test = life_data("class-h-motorettes.csv");
  const LifeModel exact = fit_life(test, request(distribution));
  for (Life& one : test.lives) {
    one.to = one.from * 1.00001;
    one.from = one.from * 0.99999;
  }
  const LifeModel narrow = fit_life(test, request(distribution));
  CHECK_THAT(narrow.slope, WithinRel(exact.slope, 1.0e-6));
  CHECK_THAT(narrow.scales.front(), WithinRel(exact.scales.front(), 1.0e-6));
  CHECK_THAT(narrow.slope_error(), WithinRel(exact.slope_error(), 1.0e-5));
}

TEST_CASE("fit: a scale a temperature", "[labfit][fit]") {
  FitRequest wanted = request(Distribution::log_normal, {190.0});
  wanted.scale = ScaleKind::per_temperature;
  const LifeTest test = life_data("class-h-motorettes.csv");
  const LifeModel model = fit_life(test, wanted);
  const LifeModel common = fit_life(test, request(Distribution::log_normal));
  CHECK(model.scales.size() == 4);
  CHECK(model.parameters == 6);
  CHECK_THAT(2.0 * (model.log_likelihood - common.log_likelihood),
             WithinAbs(*test_of(common, "common scale").statistic, 1.0e-8));
  CHECK(model.lives[1].hours.method == IntervalMethod::wald);
  CHECK_THROWS_WITH(ln_life(model, celsius(200.0), 0.1), Contains("200 Cel was not tested"));
  CHECK_NOTHROW(ln_life(model, celsius(200.0), 0.5));
}

TEST_CASE("fit: residuals of exact lives have mean 0 and Cox-Snell mean 1", "[labfit][fit]") {
  // Both follow from the likelihood equations: of the log-normal the first, of the Weibull the second.
  const LifeTest test = life_data("class-h-motorettes.csv");
  double sum = 0.0, squares = 0.0, hazard = 0.0;
  for (const Residual& one : residuals(test, fit_life(test, request(Distribution::log_normal)))) {
    sum += static_cast<double>(one.life.count) * one.standardised;
    squares += static_cast<double>(one.life.count) * one.standardised * one.standardised;
  }
  for (const Residual& one : residuals(test, fit_life(test, request(Distribution::weibull)))) {
    hazard += static_cast<double>(one.life.count) * one.cox_snell;
  }
  CHECK_THAT(sum, WithinAbs(0.0, 1.0e-8));
  CHECK_THAT(squares, WithinRel(40.0, 1.0e-8));
  CHECK_THAT(hazard, WithinRel(40.0, 1.0e-8));
}

TEST_CASE("fit: what the data cannot tell is refused with a reason", "[labfit][fit][error]") {
  const Distribution distribution = GENERATE(Distribution::log_normal, Distribution::weibull);
  const auto refusal = [&](std::vector<Life> lives, ScaleKind scale = ScaleKind::common) {
    FitRequest wanted = request(distribution);
    wanted.scale = scale;
    try {
      (void)fit_life(life_test(std::move(lives)), wanted);
    } catch (const DomainError& error) {
      return std::string{error.what()};
    }
    return std::string{"fitted"};
  };
  CHECK_THAT(refusal({life(150, 900, 900), life(150, 1100, 1100)}), Contains("one temperature only (150 Cel)"));
  CHECK_THAT(refusal({life(150, 900, {}), life(180, 1100, {})}), Contains("no specimen has failed"));
  CHECK_THAT(refusal({life(150, 5000, {}), life(180, 900, 900), life(180, 1100, 1100)}),
             Contains("failures at 180 Cel only"));
  CHECK_THAT(refusal({life(150, 4000, 4000), life(180, 1000, 1000)}), Contains("without any spread"));
  CHECK_THAT(refusal({life(150, 3000, 4000, 5), life(180, 800, 1000, 5)}), Contains("without any spread"));
  CHECK_THAT(refusal({life(150, 4000, 4000), life(150, 5000, 5000), life(180, 1000, 1000, 2)}, ScaleKind::per_temperature),
             Contains("180 Cel has none"));
}

TEST_CASE("fit: failures before the first look and after the last are enough", "[labfit][fit]") {
  // Quantal data: at each of four temperatures ten specimens were looked at once. Own arithmetic: a probit line of ln hours.
  std::vector<Life> lives;
  for (const auto& [degrees, failed] : std::vector<std::pair<double, std::size_t>>{{150, 2}, {160, 4}, {170, 7}, {180, 9}}) {
    lives.push_back(life(degrees, 0.0, 1000.0, failed));
    lives.push_back(life(degrees, 1000.0, {}, 10 - failed));
  }
  const LifeModel model = fit_life(life_test(lives), request(Distribution::log_normal, {165.0}, {0.5}));
  CHECK(model.slope > 0.0);
  // 22 of 40 have failed: the middle temperature is close to the one at which half have.
  CHECK_THAT(std::log(model.lives[0].hours.value), WithinAbs(std::log(1000.0), 3.0 * model.lives[0].ln_error));
}
