#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "heatside/base/error.hpp"
#include "heatside/labfit/distribution.hpp"

using namespace heatside;
using namespace heatside::labfit;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("tolerance factors: the worked example of the NIST handbook", "[labfit][statistics]") {
  // NIST/SEMATECH e-Handbook 7.2.6.3, printed: N = 43, 90 % of the population, 99 % confidence.
  const Coverage wanted{0.90, 0.99};
  CHECK_THAT(one_sided_tolerance_factor(43, wanted), WithinAbs(1.8740, 5.0e-5));
  CHECK_THAT(natrella_tolerance_factor(43, wanted), WithinAbs(1.8752, 5.0e-5));
  CHECK_THAT(two_sided_tolerance_factor(43, wanted), WithinAbs(2.217, 5.0e-4));
  CHECK_THAT(one_sided_tolerance_factor(6, wanted), WithinAbs(4.4111, 5.0e-5));
  CHECK_THAT(natrella_tolerance_factor(6, wanted), WithinAbs(5.2808, 5.0e-5));
  // The same, recomputed with R 4.2.2.
  CHECK_THAT(one_sided_tolerance_factor(43, wanted), WithinAbs(1.87395360586, 1.0e-6));
  CHECK_THAT(one_sided_tolerance_factor(6, wanted), WithinAbs(4.41108057244, 1.0e-6));
  CHECK_THAT(two_sided_tolerance_factor(43, wanted), WithinAbs(2.21731589665, 1.0e-6));
}

TEST_CASE("tolerance factors: rows of the standard tables at 95 % confidence", "[labfit][statistics]") {
  // Printed to three decimals in the usual tables (from memory), the further digits from R 4.2.2.
  CHECK_THAT(one_sided_tolerance_factor(10, {0.90, 0.95}), WithinAbs(2.35464013183, 1.0e-6));
  CHECK_THAT(one_sided_tolerance_factor(10, {0.95, 0.95}), WithinAbs(2.91096341308, 1.0e-6));
  CHECK_THAT(one_sided_tolerance_factor(10, {0.99, 0.95}), WithinAbs(3.98111784528, 1.0e-6));
  CHECK_THAT(one_sided_tolerance_factor(20, {0.90, 0.95}), WithinAbs(1.92599097226, 1.0e-6));
  CHECK_THAT(one_sided_tolerance_factor(30, {0.90, 0.95}), WithinAbs(1.77732879783, 1.0e-6));
}

TEST_CASE("Weibull lives: coefficient of variation over shape", "[labfit][statistics]") {
  struct Row {
    double shape, variation;
  };
  // Table 3 of a guide on accelerated thermal-endurance tests of insulation; some entries are cut, not rounded.
  const Row row = GENERATE(values<Row>(
      {{0.30, 5.408}, {0.40, 3.141}, {0.50, 2.236}, {0.60, 1.758}, {0.70, 1.462}, {0.80, 1.260}, {0.90, 1.113},
       {1.00, 1.000}, {1.10, 0.910}, {1.20, 0.837}, {1.30, 0.776}, {1.40, 0.724}, {1.50, 0.679}, {1.60, 0.640},
       {1.70, 0.605}, {2.70, 0.399}, {2.80, 0.387}, {2.90, 0.375}, {3.00, 0.363}, {5.20, 0.221}, {5.30, 0.217}}));
  CHECK_THAT(weibull_variation(row.shape), WithinAbs(row.variation, 6.0e-4));
}

TEST_CASE("Weibull lives: the ends of that table", "[labfit][statistics]") {
  CHECK_THAT(weibull_variation(0.20), WithinAbs(15.84, 5.0e-3));
  // Read between the rows of the same table on its page of examples.
  CHECK_THAT(weibull_variation(7.85), WithinAbs(0.1507, 6.0e-4));
  CHECK_THROWS_AS(weibull_variation(0.0), DomainError);
}

TEST_CASE("log-normal lives: mean from the median", "[labfit][statistics]") {
  // Example of the same guide: 10^(4.512154 + 1.1513 * 0.004235) = 32887 h, variance of log10 life 0.004235.
  const double scale = std::sqrt(0.004235) * std::log(10.0);
  CHECK_THAT(std::pow(10.0, 4.512154) * log_normal_mean_over_median(scale), WithinAbs(32887.0, 1.0));
}

TEST_CASE("quantiles: as R, SciPy and GSL give them", "[labfit][statistics]") {
  CHECK_THAT(normal_quantile(0.9), WithinAbs(1.2815515655446, 1.0e-12));
  CHECK_THAT(normal_quantile(0.99), WithinAbs(2.32634787404084, 1.0e-12));
  // Weibull of shape 3 and scale 1000 h.
  const auto weibull = [](double p) { return 1000.0 * std::exp(standard_quantile(Distribution::weibull, p) / 3.0); };
  CHECK_THAT(weibull(0.01), WithinRel(215.80434853593584, 1.0e-12));
  CHECK_THAT(weibull(0.1), WithinRel(472.308718569663, 1.0e-12));
  CHECK_THAT(weibull(0.5), WithinRel(884.9970445005177, 1.0e-12));
  CHECK_THAT(weibull(0.9), WithinRel(1320.5004784536854, 1.0e-12));
  // Log-normal of location 9 and scale 0.5.
  const auto log_normal = [](double p) { return std::exp(9.0 + 0.5 * standard_quantile(Distribution::log_normal, p)); };
  CHECK_THAT(log_normal(0.01), WithinRel(2532.155164993862, 1.0e-12));
  CHECK_THAT(log_normal(0.1), WithinRel(4269.381368808985, 1.0e-12));
  CHECK_THAT(log_normal(0.5), WithinRel(8103.083927575384, 1.0e-12));
  CHECK_THAT(log_normal(0.9), WithinRel(15379.270078102076, 1.0e-12));
  CHECK_THAT(standard_quantile(Distribution::weibull, 0.01), WithinAbs(-4.60014922677658, 1.0e-13));
  CHECK_THAT(standard_quantile(Distribution::weibull, 0.1), WithinAbs(-2.2503673273124454, 1.0e-13));
  CHECK_THAT(standard_quantile(Distribution::weibull, 0.5), WithinAbs(-0.36651292058166435, 1.0e-13));
}

TEST_CASE("critical values: as R, SciPy and GSL give them", "[labfit][statistics]") {
  CHECK_THAT(student_t_quantile(0.95, 5.0), WithinAbs(2.015048, 1.0e-6));
  CHECK_THAT(student_t_quantile(0.95, 10.0), WithinAbs(1.812461, 1.0e-6));
  CHECK_THAT(student_t_quantile(0.95, 38.0), WithinAbs(1.685954, 1.0e-6));
  CHECK_THAT(fisher_f_quantile(0.95, 1.0, 12.0), WithinAbs(4.747225, 1.0e-6));
  CHECK_THAT(fisher_f_quantile(0.95, 2.0, 18.0), WithinAbs(3.554557, 1.0e-6));
  CHECK_THAT(fisher_f_quantile(0.95, 2.0, 36.0), WithinAbs(3.259446, 1.0e-6));
  CHECK_THAT(chi_squared_quantile(0.95, 1.0), WithinAbs(3.841459, 1.0e-6));
  CHECK_THAT(chi_squared_quantile(0.95, 3.0), WithinAbs(7.814728, 1.0e-6));
  CHECK_THAT(chi_squared_quantile(0.95, 5.0), WithinAbs(11.070498, 1.0e-6));
}

TEST_CASE("quantiles: a probability must lie inside 0 to 1", "[labfit][statistics][error]") {
  const double p = GENERATE(0.0, 1.0, -0.1, 1.5, std::numeric_limits<double>::quiet_NaN());
  CHECK_THROWS_AS(normal_quantile(p), DomainError);
  CHECK_THROWS_AS(standard_quantile(Distribution::weibull, p), DomainError);
  CHECK_THROWS_AS(one_sided_tolerance_factor(10, {0.9, p}), DomainError);
}
