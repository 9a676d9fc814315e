#include "base/four_doubles.hpp"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <cstring>
#include <limits>
#include <vector>

using namespace heatside;

namespace {

std::vector<double> exponentials_of(const std::vector<double>& values) {
  std::vector<double> results;
  for (std::size_t i = 0; i < values.size(); i += 4) {
    std::array<double, 4> lanes{};
    for (std::size_t lane = 0; lane < 4 && i + lane < values.size(); ++lane) lanes[lane] = values[i + lane];
    FourDoubles four;
    load(four, lanes.data());
    exponential(four);
    store(four, lanes.data());
    for (std::size_t lane = 0; lane < 4 && i + lane < values.size(); ++lane) results.push_back(lanes[lane]);
  }
  return results;
}

std::int64_t bits_of(double value) {
  std::int64_t bits = 0;
  std::memcpy(&bits, &value, sizeof bits);
  return bits;
}

}  // namespace

TEST_CASE("own exponential: within one unit in the last place of the C library", "[base][exponential]") {
  std::vector<double> values;
  for (int i = -70'000; i <= 70'000; ++i) values.push_back(0.01 * i + 1.0e-5 * (i % 97));
  for (int i = -2'000; i <= 2'000; ++i) values.push_back(std::ldexp(1.0 + 1.0e-4 * i, -3 - std::abs(i) % 60));
  const std::vector<double> own = exponentials_of(values);
  std::int64_t furthest = 0;
  for (std::size_t i = 0; i < values.size(); ++i)
    furthest = std::max(furthest, std::abs(bits_of(own[i]) - bits_of(std::exp(values[i]))));
  CHECK(furthest <= 1);
}

TEST_CASE("own exponential: exact where it must be", "[base][exponential]") {
  // e^0 = 1; the others are correctly rounded 40-digit values (own arithmetic of the test).
  CHECK(exponentials_of({0.0, -0.0, 1.0e-300, 0.5}) == std::vector<double>{1.0, 1.0, 1.0, 1.6487212707001282});
}

TEST_CASE("own exponential: a value does not depend on its lane or its neighbours", "[base][exponential]") {
  const std::vector<double> alone = exponentials_of({-1.25});
  const std::vector<double> among = exponentials_of({300.0, -700.0, 17.5, -1.25, -1.25, 0.0, 1.0, 2.0});
  CHECK(among[3] == alone[0]);
  CHECK(among[4] == alone[0]);
}

TEST_CASE("own logarithm: within one unit in the last place of the C library", "[base][logarithm]") {
  std::vector<double> values;
  for (int i = -7000; i <= 7000; ++i) values.push_back(std::exp(0.1 * i + 1.0e-4 * (i % 97)));
  for (int i = 1; i <= 100'000; ++i) values.push_back(0.5 + 2.0e-5 * i);
  for (int i = -2'000; i <= 2'000; ++i) values.push_back(1.0 + std::ldexp(4.0e-4 * i, -(std::abs(i) % 40)));
  values.push_back(std::numeric_limits<double>::min());
  values.push_back(std::numeric_limits<double>::max());
  std::vector<double> own = values;
  logarithms(own.data(), own.size());
  std::int64_t furthest = 0;
  for (std::size_t i = 0; i < values.size(); ++i)
    furthest = std::max(furthest, std::abs(bits_of(own[i]) - bits_of(std::log(values[i]))));
  CHECK(furthest <= 1);
}

TEST_CASE("own logarithm: exact where it must be", "[base][logarithm]") {
  // ln 1 = 0; ln 2 correctly rounded.
  std::vector<double> values{1.0, 2.0, 0.5};
  logarithms(values.data(), values.size());
  CHECK(values == std::vector<double>{0.0, 0.6931471805599453, -0.6931471805599453});
}

TEST_CASE("own share of a normal variable: as the C library's erfc", "[base][normal-share]") {
  // Phi(x) = erfc(-x / sqrt 2) / 2: Abramowitz & Stegun 1964, 26.2.29; erfc in the extended precision of the C library.
  std::vector<double> values;
  for (int i = -37'400; i <= 37'400; ++i) values.push_back(1.0e-3 * i);
  std::vector<double> own = values;
  normal_shares(own.data(), own.size());
  double below = 0.0, above = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    const long double expected = 0.5L * std::erfc(-static_cast<long double>(values[i]) / std::sqrt(2.0L));
    const auto off = static_cast<double>(std::abs(static_cast<long double>(own[i]) - expected));
    if (values[i] < 0.0) {
      below = std::max(below, off / static_cast<double>(expected));
    } else {
      above = std::max(above, off);
    }
  }
  CHECK(below < 1.0e-14);
  CHECK(above < 6.0e-16);
}

TEST_CASE("own share of a normal variable: the ends", "[base][normal-share]") {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  std::vector<double> values{0.0, -0.0, -infinite, infinite, -38.0, 38.0, 1.0e300};
  normal_shares(values.data(), values.size());
  CHECK(values[0] == Approx(0.5).epsilon(1.0e-15));
  CHECK(values[1] == values[0]);
  CHECK(std::vector<double>(values.begin() + 2, values.end()) == std::vector<double>{0.0, 1.0, 0.0, 1.0, 1.0});
}

TEST_CASE("columns: the digits of four at a time, whatever their length", "[base][columns]") {
  const std::vector<double> values{-1.25, 0.5, 3.0, 700.0, -700.0, 17.5, 2.25};
  const std::vector<double> expected = exponentials_of(values);
  for (std::size_t count = 0; count <= values.size(); ++count) {
    CAPTURE(count);
    std::vector<double> some = values;
    exponentials(some.data(), count);
    for (std::size_t i = 0; i < some.size(); ++i) CHECK(some[i] == (i < count ? expected[i] : values[i]));
  }
}
