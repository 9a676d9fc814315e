#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "heatside/labfit/life_fit.hpp"

/// Intervals hold the truth as often as they say. Own simulation; the truth is that of an invented compound.

using namespace heatside;
using namespace heatside::labfit;

namespace {

constexpr double slope = 12000.0, intercept = -19.5, scale = 0.3;  // ln h, K
constexpr double taken_off = 9000.0;                               // [h]

double truth(Kelvin temperature, Distribution distribution, double p) {
  return intercept + slope / temperature.value() + scale * standard_quantile(distribution, p);
}

LifeTest simulated(Distribution distribution, std::mt19937_64& random) {
  std::vector<Life> lives;
  for (const double degrees : {140.0, 155.0, 170.0, 185.0}) {
    for (int specimen = 0; specimen < 15; ++specimen) {
      const double p = (static_cast<double>(random() >> 11) + 0.5) * 0x1.0p-53;
      const double hours = std::exp(truth(celsius(degrees), distribution, p));
      const bool failed = hours <= taken_off;
      const Hours seen{failed ? hours : taken_off};
      lives.push_back({celsius(degrees), seen, failed ? std::optional<Hours>{seen} : std::nullopt, 1, 0});
    }
  }
  return life_test(std::move(lives));
}

bool holds(const WithLimits& interval, double value) {
  return (!interval.lo || *interval.lo <= value) && (!interval.hi || *interval.hi >= value);
}

}  // namespace

TEST_CASE("fit: 95 % profile intervals hold the truth in 93 to 97 % of 1000 simulated tests", "[labfit][fit][simulation]") {
  const Distribution distribution = GENERATE(Distribution::log_normal, Distribution::weibull);
  std::mt19937_64 random{20240611};
  constexpr int sets = 1000;
  int energy = 0, early_life = 0;
  FitRequest request;
  request.distribution = distribution;
  request.temperatures = {celsius(120.0)};
  request.quantiles = {0.1};
  const double true_energy = 1.0e-3 * 8.31446261815324 * slope;
  const double true_life = std::exp(truth(celsius(120.0), distribution, 0.1));
  for (int set = 0; set < sets; ++set) {
    const LifeModel model = fit_life(simulated(distribution, random), request);
    energy += holds(model.activation_energy, true_energy) ? 1 : 0;
    early_life += holds(model.lives.front().hours, true_life) ? 1 : 0;
  }
  CAPTURE(name_of(distribution), energy, early_life);
  CHECK(energy >= 930);
  CHECK(energy <= 970);
  CHECK(early_life >= 930);
  CHECK(early_life <= 970);
}
