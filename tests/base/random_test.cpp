#include <algorithm>
#include <array>
#include <boost/math/special_functions/erf.hpp>
#include <boost/random/sobol.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numeric>
#include <string>
#include <vector>

#include "base/sobol_table.hpp"
#include "heatside/base/error.hpp"
#include "heatside/base/random.hpp"

using Catch::Contains;
using Catch::WithinAbs;
using namespace heatside;

namespace {

double mean_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

double mean_power(const std::vector<double>& values, int power) {
  double sum = 0.0;
  for (const double value : values) sum += std::pow(value, power);
  return sum / static_cast<double>(values.size());
}

// Largest distance between the empirical distribution and a continuous one.
template <class Distribution>
double kolmogorov_distance(std::vector<double> values, Distribution below) {
  std::sort(values.begin(), values.end());
  const auto count = static_cast<double>(values.size());
  double distance = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const double p = below(values[i]);
    distance = std::max({distance, p - static_cast<double>(i) / count, static_cast<double>(i + 1) / count - p});
  }
  return distance;
}

double normal_below(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  const double mean_a = mean_of(a), mean_b = mean_of(b);
  double both = 0.0, square_a = 0.0, square_b = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    both += (a[i] - mean_a) * (b[i] - mean_b);
    square_a += (a[i] - mean_a) * (a[i] - mean_a);
    square_b += (b[i] - mean_b) * (b[i] - mean_b);
  }
  return both / std::sqrt(square_a * square_b);
}

// Below this lie 99.99 % of Kolmogorov distances of n values: sqrt(ln(2/1e-4)/2)/sqrt(n). Massart 1990, Ann. Probab. 18,
// 1269-1283. The numbers are the same on every run, so a failure is never chance.
double kolmogorov_bound(std::size_t count) { return std::sqrt(0.5 * std::log(2.0e4) / static_cast<double>(count)); }

// Mean of exp(sum of x_d / (d + 1)) over points of the unit cube, and its exact value.
double mean_of_exponential(const std::vector<std::vector<double>>& columns, std::size_t draws) {
  double sum = 0.0;
  for (std::size_t i = 0; i < draws; ++i) {
    double exponent = 0.0;
    for (std::size_t d = 0; d < columns.size(); ++d) exponent += columns[d][i] / static_cast<double>(d + 1);
    sum += std::exp(exponent);
  }
  return sum / static_cast<double>(draws);
}

double exact_exponential(std::size_t dimensions) {
  double product = 1.0;
  for (std::size_t d = 0; d < dimensions; ++d)
    product *= static_cast<double>(d + 1) * std::expm1(1.0 / static_cast<double>(d + 1));
  return product;
}

}  // namespace

TEST_CASE("philox: known answers of the generator's distribution", "[base][random]") {
  // Random123 1.14.0, tests/kat_vectors, lines "philox4x32 10" (Salmon et al. 2011, doi:10.1145/2063384.2063405).
  using Block = std::array<std::uint32_t, 4>;
  CHECK(philox_block({0, 0, 0, 0}, {0, 0}) == Block{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8});
  CHECK(philox_block({0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff}, {0xffffffff, 0xffffffff}) ==
        Block{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd});
  CHECK(philox_block({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}) ==
        Block{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1});
}

TEST_CASE("hash of a name: known answers of FNV-1a", "[base][random]") {
  // IETF draft-eastlake-fnv, test vectors of FNV-1a, 64 bits.
  CHECK(hash_of("") == 0xcbf29ce484222325u);
  CHECK(hash_of("a") == 0xaf63dc4c8601ec8cu);
  CHECK(hash_of("foobar") == 0x85944171f73967e8u);
}

TEST_CASE("random word: draws 0 and 1 are the halves of one block, the seed is its key", "[base][random]") {
  // First known answer above: counter, key and name all 0.
  CHECK(random_word({0, 0}, 0) == 0xe169c58d6627e8d5u);
  CHECK(random_word({0, 0}, 1) == 0x9b00dbd8bc57ac4cu);
  CHECK(random_word({1, 0}, 0) != random_word({0, 0}, 0));
  CHECK(random_word({0, 1}, 0) != random_word({0, 0}, 0));
}

TEST_CASE("uniform: the ends of the words stay inside (0, 1)", "[base][random]") {
  CHECK(uniform_of(0) == 0x1p-53);
  CHECK(uniform_of(std::numeric_limits<std::uint64_t>::max()) == 1.0 - 0x1p-53);
  CHECK(std::isfinite(normal_quantile(uniform_of(0))));
  CHECK(normal_quantile(uniform_of(0)) == -normal_quantile(uniform_of(std::numeric_limits<std::uint64_t>::max())));
}

TEST_CASE("normal quantile: agrees with the inverse error function", "[base][random]") {
  // Boost.Math erfc_inv in long double; the paper states about 1e-16.
  double worst = 0.0;
  for (int i = 0; i < 20000; ++i) {
    const double even = (i + 0.5) / 20000.0;
    for (const double p : {even, std::pow(even, 12.0), 1.0 - 0.5 * std::pow(even, 6.0)}) {
      if (p <= 0.0 || p >= 1.0 || p == 0.5) continue;
      const long double exact = -std::sqrt(2.0L) * boost::math::erfc_inv(2.0L * static_cast<long double>(p));
      worst = std::max(worst, static_cast<double>(std::abs((static_cast<long double>(normal_quantile(p)) - exact) / exact)));
    }
  }
  CHECK(worst < 1.0e-15);
  CHECK(normal_quantile(0.5) == 0.0);
}

TEST_CASE("normal quantile: handbook values", "[base][random]") {
  // Abramowitz & Stegun, table 26.5 (from memory).
  CHECK_THAT(normal_quantile(0.95), WithinAbs(1.64485363, 5.0e-9));
  CHECK_THAT(normal_quantile(0.025), WithinAbs(-1.95996398, 5.0e-9));
  CHECK_THAT(normal_quantile(0.999), WithinAbs(3.09023231, 5.0e-9));
}

TEST_CASE("normal draws: moments and distribution", "[base][random]") {
  constexpr std::size_t count = 200'000;
  const double root = std::sqrt(static_cast<double>(count));
  for (const char* name : {"usage", "zone head-cover", "lot a / ln life"}) {
    const std::vector<double> z = normal_draws(random_quantity(20261125, name), count);
    CAPTURE(name);
    // Standard errors of the first four moments of a normal sample: 1, sqrt 2, sqrt 15, sqrt 96 over the root of n. Four.
    CHECK_THAT(mean_power(z, 1), WithinAbs(0.0, 4.0 / root));
    CHECK_THAT(mean_power(z, 2), WithinAbs(1.0, 4.0 * std::sqrt(2.0) / root));
    CHECK_THAT(mean_power(z, 3), WithinAbs(0.0, 4.0 * std::sqrt(15.0) / root));
    CHECK_THAT(mean_power(z, 4), WithinAbs(3.0, 4.0 * std::sqrt(96.0) / root));
    CHECK(kolmogorov_distance(z, normal_below) < kolmogorov_bound(count));
  }
}

TEST_CASE("uniform draws: the Kolmogorov distance is that of even chances", "[base][random]") {
  constexpr std::size_t count = 200'000;
  CHECK(kolmogorov_distance(uniform_draws(random_quantity(7, "a"), count), [](double u) { return u; }) <
        kolmogorov_bound(count));
  CHECK(kolmogorov_distance(uniform_draws(random_quantity(7, "a"), count), [](double u) { return u * u; }) >
        kolmogorov_bound(count));
}

TEST_CASE("random quantities: names, seeds and neighbouring draws do not follow each other", "[base][random]") {
  constexpr std::size_t count = 100'000;
  const double bound = 4.0 / std::sqrt(static_cast<double>(count));  // standard error of a correlation of 0 is 1/sqrt(n)
  const std::vector<double> a = normal_draws(random_quantity(1, "zone a"), count);
  CHECK(std::abs(correlation(a, normal_draws(random_quantity(1, "zone b"), count))) < bound);
  CHECK(std::abs(correlation(a, normal_draws(random_quantity(2, "zone a"), count))) < bound);
  CHECK(std::abs(correlation(a, normal_draws(random_quantity(1, "zone a"), count, 1))) < bound);
  CHECK_THAT(correlation(a, normal_draws(random_quantity(1, "zone a"), count)), WithinAbs(1.0, 1.0e-12));
}

TEST_CASE("random draws: a draw is the same alone, in any order and in any batch", "[base][random]") {
  const RandomQuantity quantity = random_quantity(42, "soak decay");
  const std::vector<double> all = normal_draws(quantity, 1001);
  for (std::size_t i = all.size(); i-- > 0;) CHECK(normal_draw(quantity, i) == all[i]);
  for (const std::uint64_t first : {std::uint64_t{1}, std::uint64_t{2}, std::uint64_t{500}}) {
    const std::vector<double> part = normal_draws(quantity, 501, first);
    CHECK(std::equal(part.begin(), part.end(), all.begin() + static_cast<std::ptrdiff_t>(first)));
  }
  const std::vector<double> uniforms = uniform_draws(quantity, 3, 7);
  for (std::size_t i = 0; i < uniforms.size(); ++i) CHECK(uniforms[i] == uniform_draw(quantity, 7 + i));
  CHECK(normal_draws(quantity, 0).empty());
}

TEST_CASE("random draws: the same on every platform", "[base][random]") {
  // Own arithmetic of the test: FNV-1a of the name, ten rounds and the quantile, with Python's integers and 40 digits.
  CHECK(random_word(random_quantity(12345, "usage"), 6) == 0xeeb05c70e592ca7eu);
  CHECK_THAT(normal_draw(random_quantity(12345, "usage"), 6), WithinAbs(1.493742688064265, 1.0e-15));
}

TEST_CASE("spread points: the first 2^k of each column lie one each in 2^k equal parts", "[base][random][sobol]") {
  // Property of a (0, k, 1)-net: Niederreiter 1992, Random Number Generation and Quasi-Monte Carlo Methods, chapter 4.
  const auto columns = spread_points(3, most_spread_dimensions, 4096);
  for (std::size_t d = 0; d < columns.size(); ++d) {
    for (const std::size_t parts : {std::size_t{16}, std::size_t{1024}, std::size_t{4096}}) {
      std::vector<int> hits(parts, 0);
      for (std::size_t i = 0; i < parts; ++i) {
        REQUIRE(columns[d][i] > 0.0);
        REQUIRE(columns[d][i] < 1.0);
        ++hits[static_cast<std::size_t>(columns[d][i] * static_cast<double>(parts))];
      }
      CAPTURE(d, parts);
      CHECK(std::all_of(hits.begin(), hits.end(), [](int hit) { return hit == 1; }));
    }
  }
}

TEST_CASE("spread points: the table of direction numbers is that of the library", "[base][random][sobol]") {
  using Published = boost::random::detail::qrng_tables::sobol;
  for (std::size_t n = 0; n < heatside::SobolTable::num_polynomials; ++n) {
    CAPTURE(n);
    CHECK(heatside::SobolTable::polynomial(n) == Published::polynomial(n));
    for (std::size_t degree = 0; degree < Published::max_degree; ++degree) {
      const unsigned ours = degree < heatside::SobolTable::max_degree ? heatside::SobolTable::minit(n, degree) : 0u;
      CHECK(ours == Published::minit(n, degree));
    }
  }
}

TEST_CASE("spread points: the first two dimensions fill every elementary box", "[base][random][sobol]") {
  // The first two Sobol dimensions are a (0, 2)-sequence: 2^k points, boxes of 2^-a by 2^-(k-a), one point in each.
  // Sobol 1967, USSR Comput. Math. Math. Phys. 7(4), 86-112. Scrambling keeps it: Owen 1995.
  const auto columns = spread_points(11, 2, 1024);
  for (unsigned a = 0; a <= 10; ++a) {
    const std::size_t wide = std::size_t{1} << a, high = std::size_t{1} << (10 - a);
    std::vector<int> hits(wide * high, 0);
    for (std::size_t i = 0; i < 1024; ++i) {
      const auto x = static_cast<std::size_t>(columns[0][i] * static_cast<double>(wide));
      const auto y = static_cast<std::size_t>(columns[1][i] * static_cast<double>(high));
      ++hits[x * high + y];
    }
    CAPTURE(a);
    CHECK(std::all_of(hits.begin(), hits.end(), [](int hit) { return hit == 1; }));
  }
}

TEST_CASE("spread points: integrate a smooth function far better than plain draws", "[base][random][sobol]") {
  constexpr std::size_t draws = 10'000, dimensions = 20;
  const double exact = exact_exponential(dimensions);
  double spread_error = 0.0, plain_error = 0.0;
  constexpr int seeds = 10;
  for (std::uint64_t seed = 0; seed < seeds; ++seed) {
    std::vector<std::vector<double>> plain;
    for (std::size_t d = 0; d < dimensions; ++d)
      plain.push_back(uniform_draws(random_quantity(seed, "plain " + std::to_string(d)), draws));
    spread_error += std::pow(mean_of_exponential(spread_points(seed, dimensions, draws), draws) / exact - 1.0, 2) / seeds;
    plain_error += std::pow(mean_of_exponential(plain, draws) / exact - 1.0, 2) / seeds;
  }
  CAPTURE(std::sqrt(spread_error), std::sqrt(plain_error));
  CHECK(std::sqrt(spread_error) < 0.02 * std::sqrt(plain_error));
}

TEST_CASE("spread points: seeds scramble differently, further draws and dimensions change nothing",
          "[base][random][sobol]") {
  const auto few = spread_points(5, 3, 100);
  const auto more = spread_points(5, 7, 1000);
  for (std::size_t d = 0; d < few.size(); ++d) CHECK(std::equal(few[d].begin(), few[d].end(), more[d].begin()));
  CHECK(spread_points(6, 3, 100) != few);
  CHECK(std::abs(correlation(more[0], more[6])) < 0.1);
}

TEST_CASE("spread points: any one point is uniform over seeds", "[base][random][sobol]") {
  std::vector<double> values;
  for (std::uint64_t seed = 0; seed < 4000; ++seed) values.push_back(spread_points(seed, 3, 6)[2][5]);
  CHECK(kolmogorov_distance(values, [](double u) { return u; }) < kolmogorov_bound(values.size()));
}

TEST_CASE("spread points: too many dimensions are named", "[base][random][error]") {
  CHECK_THROWS_WITH(spread_points(1, 41, 10), Contains("1 to 40") && Contains("41"));
  CHECK_THROWS_AS(spread_points(1, 0, 10), DomainError);
}
