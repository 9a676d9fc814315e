#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numeric>

#include "heatside/base/random.hpp"
#include "heatside/population/belief.hpp"

using namespace heatside;
using namespace heatside::population;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

// The value at which the sorted draws' weights have added up to the share: the definition itself.
double by_sorting(const Belief& belief, const std::vector<double>& values, double share) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  double sum = 0.0, last = 0.0;
  for (const std::size_t n : order) {
    if (belief.weights[n] <= 0.0) continue;
    sum += belief.weights[n];
    last = values[n];
    if (share <= sum + 1.0e-12) return last;
  }
  return last;
}

std::vector<double> draws_of(const std::string& shape, std::size_t count) {
  std::vector<double> values = normal_draws(random_quantity(1, shape), count);
  for (std::size_t n = 0; n < count; ++n) {
    double& value = values[n];
    if (shape == "heavy-tailed") value = std::exp(4.0 * value);
    if (shape == "few values") value = std::floor(value);
    if (shape == "some infinite") value = value > 1.0 ? infinite : value < -1.5 ? -infinite : value;
    if (shape == "one far away") value = n == 7 ? 1.0e300 : 1.0e-300 * value;
    if (shape == "all the same") value = 3.0;
    if (shape == "all infinite") value = infinite;
  }
  return values;
}

Belief uneven_belief(std::size_t count) {
  Belief belief{uniform_draws(random_quantity(1, "weights"), count)};
  for (double& weight : belief.weights) weight = weight < 0.2 ? 0.0 : weight;
  const double sum = std::accumulate(belief.weights.begin(), belief.weights.end(), 0.0);
  for (double& weight : belief.weights) weight /= sum;
  return belief;
}

}  // namespace

TEST_CASE("quantiles: the draws that sorting finds, whatever their number and shape", "[population][quantiles]") {
  const std::string shape =
      GENERATE("normal", "heavy-tailed", "few values", "some infinite", "one far away", "all the same", "all infinite");
  const std::size_t count = GENERATE(1u, 3u, 250u, 257u, 1000u, 10'003u);
  const bool even = GENERATE(true, false);
  CAPTURE(shape, count, even);
  const std::vector<double> values = draws_of(shape, count);
  const Belief belief = even || count < 250 ? even_belief(count) : uneven_belief(count);
  const std::vector<double> shares{0.0, 0.05, 0.1, 0.1, 0.25, 0.5, 0.9, 0.95, 1.0};
  const std::vector<double> found = quantiles(belief, values, shares);
  REQUIRE(found.size() == shares.size());
  for (std::size_t i = 0; i < shares.size(); ++i) CHECK(found[i] == by_sorting(belief, values, shares[i]));
}

TEST_CASE("quantiles: a draw without a value is refused wherever it stands", "[population][quantiles][error]") {
  const std::size_t at = GENERATE(0u, 500u, 1002u);
  std::vector<double> values(1003, 1.0);
  values[at] = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(quantiles(even_belief(1003), values, {0.5}), DomainError);
}
