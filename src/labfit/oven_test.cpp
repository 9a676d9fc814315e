#include "heatside/labfit/oven_test.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include "base/text.hpp"

namespace heatside::labfit {

LifeTest life_test(std::vector<Life> lives, std::vector<std::string> groups) {
  const auto key = [](const Life& life) {
    const double to = life.to ? life.to->value() : HUGE_VAL;
    return std::tuple{life.temperature.value(), life.from.value(), to, life.group};
  };
  std::sort(lives.begin(), lives.end(), [&](const Life& a, const Life& b) { return key(a) < key(b); });
  LifeTest test;
  test.groups = std::move(groups);
  for (const Life& life : lives) {
    const double from = life.from.value(), to = life.to ? life.to->value() : from;
    if (!(from >= 0.0 && to >= from && std::isfinite(to) && (to > 0.0)))
      throw DomainError(fmt::format("a life from {} h to {} h is no life", plain_number(from), plain_number(to)));
    test.specimens += life.count;
    if (!test.lives.empty() && key(test.lives.back()) == key(life)) {
      test.lives.back().count += life.count;
    } else {
      test.lives.push_back(life);
    }
  }
  return test;
}

namespace {

template <class Rows>
std::vector<Kelvin> distinct_temperatures(const Rows& rows) {
  std::vector<Kelvin> temperatures;
  for (const auto& row : rows) {
    if (temperatures.empty() || temperatures.back() != row.temperature) temperatures.push_back(row.temperature);
  }
  return temperatures;
}

}  // namespace

std::vector<Kelvin> temperatures_of(const LifeTest& test) { return distinct_temperatures(test.lives); }
std::vector<Kelvin> temperatures_of(const ReadingTest& test) { return distinct_temperatures(test.readings); }

}  // namespace heatside::labfit
