#include "base/four_doubles.hpp"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <cstring>
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
