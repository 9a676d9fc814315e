#include "heatside/base/random.hpp"

#include <boost/random/sobol.hpp>
#include <cmath>
#include <numbers>
#include <string>

#include "base/sobol_table.hpp"
#include "heatside/base/error.hpp"

namespace heatside {

namespace {

constexpr std::uint32_t low_half(std::uint64_t word) { return static_cast<std::uint32_t>(word & 0xffffffffu); }
constexpr std::uint32_t high_half(std::uint64_t word) { return static_cast<std::uint32_t>(word >> 32u); }
constexpr std::uint64_t joined(std::uint32_t low, std::uint32_t high) {
  return static_cast<std::uint64_t>(high) << 32u | low;
}

// Two words of draws 2 pair and 2 pair + 1.
std::array<std::uint64_t, 2> word_pair(const RandomQuantity& quantity, std::uint64_t pair) {
  const std::array<std::uint32_t, 4> block =
      philox_block({low_half(pair), high_half(pair), low_half(quantity.name_hash), high_half(quantity.name_hash)},
                   {low_half(quantity.seed), high_half(quantity.seed)});
  return {joined(block[0], block[1]), joined(block[2], block[3])};
}

using Eight = std::array<double, 8>;

// Quotient of two polynomials of degree 7, lowest power first.
double ratio(const Eight& above, const Eight& below, double x) {
  double numerator = above[7], denominator = below[7];
  for (std::size_t i = 7; i-- > 0;) {
    numerator = numerator * x + above[i];
    denominator = denominator * x + below[i];
  }
  return numerator / denominator;
}

// The coefficients of AS 241, routine PPND16: |p - 1/2| <= 0.425; nearer the ends by r = sqrt(-ln of the tail), to 5;
// beyond.
constexpr double middle_reach = 0.425;
constexpr Eight middle_above{3.3871328727963666080e0,  1.3314166789178437745e+2, 1.9715909503065514427e+3,
                             1.3731693765509461125e+4, 4.5921953931549871457e+4, 6.7265770927008700853e+4,
                             3.3430575583588128105e+4, 2.5090809287301226727e+3};
constexpr Eight middle_below{1.0,
                             4.2313330701600911252e+1,
                             6.8718700749205790830e+2,
                             5.3941960214247511077e+3,
                             2.1213794301586595867e+4,
                             3.9307895800092710610e+4,
                             2.8729085735721942674e+4,
                             5.2264952788528545610e+3};
constexpr Eight tail_above{1.42343711074968357734e0,  4.63033784615654529590e0, 5.76949722146069140550e0,
                           3.64784832476320460504e0,  1.27045825245236838258e0, 2.41780725177450611770e-1,
                           2.27238449892691845833e-2, 7.74545014278341407640e-4};
constexpr Eight tail_below{1.0,
                           2.05319162663775882187e0,
                           1.67638483018380384940e0,
                           6.89767334985100004550e-1,
                           1.48103976427480074590e-1,
                           1.51986665636164571966e-2,
                           5.47593808499534494600e-4,
                           1.05075007164441684324e-9};
constexpr Eight far_above{6.65790464350110377720e0,  5.46378491116411436990e0,  1.78482653991729133580e0,
                          2.96560571828504891230e-1, 2.65321895265761230930e-2, 1.24266094738807843860e-3,
                          2.71155556874348757815e-5, 2.01033439929228813265e-7};
constexpr Eight far_below{1.0,
                          5.99832206555887937690e-1,
                          1.36929880922735805310e-1,
                          1.48753612908506148525e-2,
                          7.86869131145613259100e-4,
                          1.84631831751005468180e-5,
                          1.42151175831644588870e-7,
                          2.04426310338993978564e-15};

double middle_quantile(double from_middle) {
  return from_middle * ratio(middle_above, middle_below, middle_reach * middle_reach - from_middle * from_middle);
}

double tail_quantile(double probability) {
  const double r = std::sqrt(-std::log(probability));
  return r <= 5.0 ? ratio(tail_above, tail_below, r - 1.6) : ratio(far_above, far_below, r - 5.0);
}

std::uint32_t reversed(std::uint32_t bits) {
  bits = (bits >> 1u & 0x55555555u) | (bits & 0x55555555u) << 1u;
  bits = (bits >> 2u & 0x33333333u) | (bits & 0x33333333u) << 2u;
  bits = (bits >> 4u & 0x0f0f0f0fu) | (bits & 0x0f0f0f0fu) << 4u;
  bits = (bits >> 8u & 0x00ff00ffu) | (bits & 0x00ff00ffu) << 8u;
  return bits >> 16u | bits << 16u;
}

// Flips each bit depending on the bits above it alone, so that every net of points stays a net. An even factor lets a bit
// reach only higher ones, hence the two reversals.
std::uint32_t scrambled(std::uint32_t bits, std::uint64_t word) {
  std::uint32_t mixed = reversed(bits ^ high_half(word)) + low_half(word);
  for (const std::uint32_t factor : {0x6c50b47cu, 0xb82f1e52u, 0xc7afe638u, 0x8d22f6e6u}) mixed ^= mixed * factor;
  return reversed(mixed);
}

using Sobol = boost::random::sobol_engine<std::uint32_t, 32u, SobolTable>;

void check_size(std::size_t dimensions, std::size_t draws) {
  if (dimensions == 0 || dimensions > most_spread_dimensions) {
    throw DomainError("evenly spread points have 1 to " + std::to_string(most_spread_dimensions) + " dimensions, not " +
                      std::to_string(dimensions));
  }
  if (static_cast<std::uint64_t>(draws) > std::uint64_t{1} << 32u) {
    throw DomainError("there are 2^32 evenly spread points, not " + std::to_string(draws));
  }
}

}  // namespace

std::array<std::uint32_t, 4> philox_block(const std::array<std::uint32_t, 4>& counter,
                                          const std::array<std::uint32_t, 2>& key) {
  std::array<std::uint32_t, 4> block = counter;
  std::array<std::uint32_t, 2> round_key = key;
  constexpr int rounds = 10;
  for (int round = 0; round < rounds; ++round) {
    const std::uint64_t first = std::uint64_t{0xd2511f53u} * block[0];
    const std::uint64_t second = std::uint64_t{0xcd9e8d57u} * block[2];
    block = {high_half(second) ^ block[1] ^ round_key[0], low_half(second), high_half(first) ^ block[3] ^ round_key[1],
             low_half(first)};
    round_key[0] += 0x9e3779b9u;
    round_key[1] += 0xbb67ae85u;
  }
  return block;
}

std::uint64_t random_word(const RandomQuantity& quantity, std::uint64_t draw) {
  return word_pair(quantity, draw / 2)[draw % 2];
}

double normal_share(double score) { return 0.5 * std::erfc(-score / std::numbers::sqrt2); }

double normal_quantile(double probability) {
  const double from_middle = probability - 0.5;
  if (std::abs(from_middle) <= middle_reach) return middle_quantile(from_middle);
  return from_middle < 0.0 ? -tail_quantile(probability) : tail_quantile(1.0 - probability);
}

double uniform_draw(const RandomQuantity& quantity, std::uint64_t draw) { return uniform_of(random_word(quantity, draw)); }

double normal_draw(const RandomQuantity& quantity, std::uint64_t draw) {
  return normal_quantile(uniform_draw(quantity, draw));
}

std::vector<double> uniform_draws(const RandomQuantity& quantity, std::size_t count, std::uint64_t first) {
  std::vector<double> values(count);
  std::size_t i = 0;
  if (first % 2 == 1 && count > 0) values[i++] = uniform_draw(quantity, first);
  for (; i + 1 < count; i += 2) {
    const std::array<std::uint64_t, 2> words = word_pair(quantity, (first + i) / 2);
    values[i] = uniform_of(words[0]);
    values[i + 1] = uniform_of(words[1]);
  }
  if (i < count) values[i] = uniform_draw(quantity, first + i);
  return values;
}

std::vector<double> normal_draws(const RandomQuantity& quantity, std::size_t count, std::uint64_t first) {
  const std::vector<double> uniforms = uniform_draws(quantity, count, first);
  std::vector<double> values(count);
  // The middle formula for all and then the tails: a branch that is taken by chance costs more than the wasted work.
  for (std::size_t i = 0; i < count; ++i) values[i] = middle_quantile(uniforms[i] - 0.5);
  for (std::size_t i = 0; i < count; ++i) {
    if (std::abs(uniforms[i] - 0.5) > middle_reach) values[i] = normal_quantile(uniforms[i]);
  }
  return values;
}

std::vector<std::vector<double>> spread_points(std::uint64_t seed, std::size_t dimensions, std::size_t draws) {
  check_size(dimensions, draws);
  std::vector<std::vector<double>> columns(dimensions, std::vector<double>(draws));
  const RandomQuantity scramble = random_quantity(seed, "evenly spread points");
  std::vector<std::uint64_t> words(dimensions);
  for (std::size_t d = 0; d < dimensions; ++d) words[d] = random_word(scramble, d);
  Sobol sobol{dimensions};
  for (std::size_t i = 0; i < draws; ++i) {
    for (std::size_t d = 0; d < dimensions; ++d) {
      // The engine leaves out the sequence's first point, 0; without it no 2^k points would be a net.
      const std::uint32_t bits = i == 0 ? 0u : sobol();
      columns[d][i] = (static_cast<double>(scrambled(bits, words[d])) + 0.5) * 0x1p-32;
    }
  }
  return columns;
}

}  // namespace heatside
