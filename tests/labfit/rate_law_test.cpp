#include "heatside/labfit/rate_law.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/labfit/straight_line.hpp"
#include "labfit/data.hpp"

using namespace heatside;
using namespace heatside::labfit;
using Catch::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::vector<DecayPoint> breakdown_strength() {
  std::vector<DecayPoint> points;
  for (const Reading& reading : reading_data("breakdown-strength.csv").readings) {
    points.push_back({reading.temperature, reading.hours.value(), std::log(reading.value)});
  }
  return points;
}

}  // namespace

TEST_CASE("rate law: the certified values of NIST's Nelson data", "[labfit][rate-law]") {
  // NIST Statistical Reference Datasets, Nelson: ln kV = b1 - b2 weeks exp(-b3 Celsius), 128 readings.
  const DecayFit fit = fit_decay(breakdown_strength(), RateLaw::exponential_in_cel, celsius(250.0));
  CHECK(fit.degrees == 125);
  CHECK_THAT(fit.start, WithinRel(2.5906836021e+00, 1.0e-9));
  CHECK_THAT(fit.start_error, WithinRel(1.9149996413e-02, 1.0e-6));
  CHECK_THAT(-fit.steepness, WithinRel(-5.7701013174e-02, 1.0e-7));
  CHECK_THAT(fit.steepness_error, WithinRel(3.9572366543e-03, 1.0e-6));
  CHECK_THAT(fit.residual_sum, WithinRel(3.7976833176e+00, 1.0e-9));
  CHECK_THAT(fit.residual_sd, WithinRel(1.7430280130e-01, 1.0e-9));
  // b2 is the rate at 0 Cel, 250 K below the reference that keeps the parameters apart.
  const double b2 = std::exp(fit.ln_rate - 250.0 * fit.steepness);
  const double variance = fit.ln_rate_error * fit.ln_rate_error + 250.0 * 250.0 * fit.steepness_error * fit.steepness_error -
                          2.0 * 250.0 * fit.ln_rate_steepness_covariance;
  CHECK_THAT(b2, WithinRel(5.6177717026e-09, 1.0e-6));
  CHECK_THAT(b2 * std::sqrt(variance), WithinRel(6.1124096540e-09, 1.0e-5));
}

TEST_CASE("rate law: the same data with an Arrhenius rate", "[labfit][rate-law]") {
  // R 4.2.2, nls: ln kV = b1 - k250 weeks exp(-B (1/T - 1/523.15)).
  const DecayFit fit = fit_decay(breakdown_strength(), RateLaw::arrhenius, Kelvin{523.15});
  CHECK_THAT(fit.start, WithinRel(2.58854418, 1.0e-5));
  CHECK_THAT(std::exp(fit.ln_rate), WithinRel(0.0104099071, 1.0e-5));
  CHECK_THAT(fit.steepness, WithinRel(16447.1021, 1.0e-5));
  CHECK_THAT(in_kilojoule_per_mole(activation_energy_from_slope(KelvinRise{fit.steepness})), WithinRel(136.748815, 1.0e-5));
  CHECK_THAT(fit.residual_sum, WithinRel(3.81310447, 1.0e-5));
}

TEST_CASE("rate law: readings without a law in them are refused", "[labfit][rate-law][error]") {
  const auto point = [](double degrees, double hours, double ln_value) {
    return DecayPoint{celsius(degrees), hours, ln_value};
  };
  CHECK_THROWS_WITH(fit_decay({point(100, 1, 0), point(120, 1, 0)}, RateLaw::arrhenius, celsius(110)),
                    Contains("four readings"));
  CHECK_THROWS_WITH(fit_decay({point(100, 1, 0), point(100, 2, -1), point(100, 3, -2), point(100, 4, -3)},
                              RateLaw::arrhenius, celsius(100)),
                    Contains("one temperature only"));
}
