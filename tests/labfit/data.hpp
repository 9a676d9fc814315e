#pragma once

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "heatside/labfit/oven_test.hpp"

/// Published data sets; each file of tests/labfit/data names its source.

namespace heatside::labfit {

inline std::string data_text(const std::string& name) {
  std::string path = HEATSIDE_SOURCE_DIR "/tests/labfit/data/";
  path += name;
  std::ifstream in{path, std::ios::binary};
  REQUIRE(in.good());
  return {std::istreambuf_iterator<char>{in}, {}};
}

inline LifeTest life_data(const std::string& name) { return std::get<LifeTest>(read_oven_test(data_text(name), name)); }

inline ReadingTest reading_data(const std::string& name) {
  return std::get<ReadingTest>(read_oven_test(data_text(name), name));
}

/// The same lives with another origin of the Kelvin scale: published fits use 273.15, 273.16 and others.
inline LifeTest with_offset(LifeTest test, double offset) {
  for (Life& life : test.lives) life.temperature = Kelvin{in_celsius(life.temperature) + offset};
  return test;
}

/// Lives of one temperature alone.
inline LifeTest only(LifeTest test, double degrees) {
  std::erase_if(test.lives, [&](const Life& life) { return std::abs(in_celsius(life.temperature) - degrees) > 1.0e-6; });
  return life_test(std::move(test.lives), std::move(test.groups));
}

}  // namespace heatside::labfit
