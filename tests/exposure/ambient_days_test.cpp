#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <vector>

#include "exposure/records.hpp"
#include "heatside/base/constants.hpp"
#include "heatside/exposure/ambient.hpp"

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::exposure;
using namespace heatside::exposure::testing;

namespace {

double sum_over(const std::vector<DailyCourse>& days, const std::function<double(const DailyCourse&)>& value) {
  double sum = 0.0;
  for (const DailyCourse& day : days) sum += day.weight * value(day);
  return sum;
}

bool half_range_varies(const library::Climate& climate) {
  return std::any_of(climate.daily_range.begin(), climate.daily_range.end(),
                     [&](double range) { return range != climate.daily_range[0]; });
}

library::Climate even_climate(double monthly_mean, double deviation) {
  library::Climate climate;
  climate.monthly_mean.fill(monthly_mean);
  climate.daily_range.fill(8.0);
  climate.deviation_sd.fill(deviation);
  return climate;
}

double rate(const ZoneTrace& trace, const std::vector<DailyCourse>& days, const std::string& duty, double energy) {
  const TemperatureMeasure year = year_at(trace, days, records().duties.at(duty).running_mix, {});
  return total(mean_acceleration(year, kilojoule_per_mole(energy), Kelvin{350.0}));
}

void check_against_all_days(const ZoneTrace& trace, const library::Climate& climate, const std::string& duty) {
  for (const double energy : {15.0, 45.0, 95.0, 150.0, 190.0}) {
    CAPTURE(climate.head.id, duty, energy);
    // Own arithmetic of the test: the sum over all 36 days.
    CHECK_THAT(rate(trace, gauss_days(climate), duty, energy),
               WithinRel(rate(trace, days_of_year(climate), duty, energy), 1.0e-4));
  }
}

}  // namespace

TEST_CASE("gauss days: weights are above 0 and sum to 1, the coldest day comes first", "[exposure][climate]") {
  for (const auto& [id, climate] : records().climates) {
    for (const std::size_t nodes : {std::size_t{1}, std::size_t{2}, std::size_t{5}, std::size_t{6}, std::size_t{8}}) {
      CAPTURE(id, nodes);
      const std::vector<DailyCourse> days = gauss_days(climate, nodes);
      CHECK(days.size() <= (half_range_varies(climate) ? 2 * nodes : nodes));
      CHECK_THAT(sum_over(days, [](const DailyCourse&) { return 1.0; }), WithinAbs(1.0, 1.0e-14));
      CHECK(std::all_of(days.begin(), days.end(), [](const DailyCourse& day) { return day.weight > 0.0; }));
      CHECK(std::is_sorted(days.begin(), days.end(),
                           [](const DailyCourse& a, const DailyCourse& b) { return a.mean < b.mean; }));
    }
    CHECK(gauss_days(climate).size() <= (half_range_varies(climate) ? 12 : 5));
    CHECK(gauss_days(climate).size() >= 3);
  }
}

TEST_CASE("gauss days: twelve equal months give back the three-node Hermite rule", "[exposure][climate]") {
  // Abramowitz & Stegun, table 25.10: nodes 0 and +-sqrt(3) standard deviations, weights 2/3 and 1/6.
  const std::vector<DailyCourse> days = gauss_days(even_climate(12.0, 3.0), 5);
  REQUIRE(days.size() == 3);
  const std::array<double, 3> celsius_of{12.0 - 3.0 * std::sqrt(3.0), 12.0, 12.0 + 3.0 * std::sqrt(3.0)};
  const std::array<double, 3> weights{1.0 / 6.0, 2.0 / 3.0, 1.0 / 6.0};
  for (std::size_t i = 0; i < days.size(); ++i) {
    CHECK_THAT(in_celsius(days[i].mean), WithinAbs(celsius_of[i], 1.0e-11));
    CHECK_THAT(days[i].weight, WithinAbs(weights[i], 1.0e-13));
    CHECK_THAT(days[i].half_range.value(), WithinAbs(4.0, 1.0e-12));
  }
}

TEST_CASE("gauss days: a year of one single day needs one node", "[exposure][climate]") {
  const std::vector<DailyCourse> days = gauss_days(even_climate(-5.0, 0.0), 5);
  REQUIRE(days.size() == 1);
  CHECK_THAT(in_celsius(days[0].mean), WithinAbs(-5.0, 1.0e-11));
  CHECK(days[0].weight == 1.0);
}

TEST_CASE("gauss days: n nodes are exact for polynomials of degree 2n-1 times the rate of the middling process",
          "[exposure][climate][property]") {
  // The defining property of a Gauss rule: Golub & Welsch 1969, Math. Comp. 23, 221-230. Weights sum to 1 instead of
  // being exact at degree 0, so means under the rate are compared.
  const library::Climate& climate = records().climates.at("continental");
  const std::vector<DailyCourse> all = days_of_year(climate);
  const auto mean_power = [](const std::vector<DailyCourse>& days, int power) {
    const auto middling = [](const DailyCourse& day) {
      return std::exp(50.0e3 / molar_gas_constant * (1.0 / 290.0 - 1.0 / day.mean.value()));
    };
    return sum_over(days,
                    [&](const DailyCourse& day) {
                      return middling(day) * std::pow((day.mean.value() - 283.0) / 20.0, static_cast<double>(power));
                    }) /
           sum_over(days, middling);
  };
  for (const std::size_t nodes : {std::size_t{2}, std::size_t{3}, std::size_t{5}}) {
    const std::vector<DailyCourse> few = gauss_days(climate, nodes);
    for (int power = 1; power <= 2 * static_cast<int>(nodes) - 1; ++power) {
      CAPTURE(nodes, power);
      CHECK_THAT(mean_power(few, power), WithinAbs(mean_power(all, power), 1.0e-12));
    }
    CHECK(std::abs(mean_power(few, 2 * static_cast<int>(nodes)) - mean_power(all, 2 * static_cast<int>(nodes))) > 1.0e-6);
  }
}

TEST_CASE("gauss days: a laid-up year ages as over all days within 1e-4, in every climate", "[exposure][climate]") {
  // The hardest case: nothing but the ambient, at its full range.
  const ZoneTrace trace = trace_of("alternator", "laid-up");
  for (const auto& [id, climate] : records().climates) check_against_all_days(trace, climate, "laid-up");
}

TEST_CASE("gauss days: a driven year ages as over all days within 1e-4", "[exposure][climate]") {
  const std::string duty = GENERATE("family", "taxi");
  const std::string zone = GENERATE("front-end", "cabin-bulkhead", "exhaust-close");
  const ZoneTrace trace = trace_of(zone, duty);
  for (const std::string id : {"barrow", "new-delhi", "mediterranean"}) {
    CAPTURE(zone);
    check_against_all_days(trace, records().climates.at(id), duty);
  }
}

TEST_CASE("gauss days: as few days as the climate asks for", "[exposure][climate]") {
  // Own arithmetic of the test: the smallest rule that keeps the laid-up year is returned, so one node less fails.
  const ZoneTrace trace = trace_of("alternator", "laid-up");
  for (const std::string id : {"tropical", "mediterranean", "cold"}) {
    const library::Climate& climate = records().climates.at(id);
    const std::size_t nodes = gauss_days(climate).size();
    double error_of_fewer = 0.0;
    for (const double energy : {15.0, 45.0, 95.0, 150.0, 190.0}) {
      const double fewer = rate(trace, gauss_days(climate, nodes - 1), "laid-up", energy);
      error_of_fewer =
          std::max(error_of_fewer, std::abs(fewer / rate(trace, days_of_year(climate), "laid-up", energy) - 1.0));
    }
    CAPTURE(id, nodes);
    CHECK(error_of_fewer > 7.0e-5);
  }
  CHECK(gauss_days(even_climate(20.0, 0.0)).size() == 1);
}

TEST_CASE("gauss days: no days are no year", "[exposure][climate][error]") {
  CHECK_THROWS_AS(gauss_days(records().climates.at("cold"), 0), DomainError);
}
