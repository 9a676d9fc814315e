#pragma once

#include "heatside/base/constants.hpp"

/// Published examples were computed with rounded constants of their own: these bring them into the program's units
/// without rounding twice.

namespace heatside::tests {

/// Molar energy that stands for `electronvolts` where the source used `boltzmann` [eV/K].
inline JoulePerMole electronvolts_with(double electronvolts, double boltzmann) {
  return JoulePerMole{electronvolts / boltzmann * molar_gas_constant};
}

/// Activation energy whose Ea/R is `slope`.
inline JoulePerMole energy_of_slope(Kelvin slope) { return JoulePerMole{slope.value() * molar_gas_constant}; }

/// Temperature of `degrees` Celsius where the source put the ice point at `offset` kelvin.
inline Kelvin celsius_with(double degrees, double offset) { return Kelvin{degrees + offset}; }

}  // namespace heatside::tests
