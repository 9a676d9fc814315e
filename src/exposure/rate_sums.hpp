#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "heatside/base/units.hpp"

/// Sums of rates over many temperatures for a row of activation energies at once: the inner loop of a rate table.

namespace heatside::exposure {

/// Equally spaced activation energies.
struct EnergyRow {
  static constexpr std::size_t count = 25;
  JoulePerMole first{0.0}, step{0.0};

  [[nodiscard]] JoulePerMole at(std::size_t i) const { return first + step * static_cast<double>(i); }
  [[nodiscard]] JoulePerMole last() const { return at(count - 1); }
};

using RateSums = std::array<double, EnergyRow::count>;

/// Rates are counted from here, where no exponent gets large.
inline constexpr double table_reference_kelvin = 350.0;

/// Temperatures that differ from place to place in two numbers only: base + running * r + soak * s. Lengths are equal.
struct LinearTemperatures {
  std::vector<double> base_kelvin, running, soak_kelvin, share;
};

/// One choice of the two numbers, and what its shares count for.
struct LinearChoice {
  double rise_kelvin{}, soak_factor{}, weight{};
};

/// Adds weight * sum over places of share * exp(-(E/R)(1/T - 1/350 K)) to `sums` for each energy E of the row.
/// The same digits on every instruction set: four fixed lanes.
///
/// @par Tested by  tests/exposure/rate_table_test.cpp
void add_rates(const LinearTemperatures& places, const LinearChoice& choice, const EnergyRow& energies, RateSums& sums);

}  // namespace heatside::exposure
