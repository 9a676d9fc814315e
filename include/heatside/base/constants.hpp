#pragma once

#include "heatside/base/units.hpp"

/// Physical constants, exact since the SI of 2019 (CODATA 2018 and 2022).

namespace heatside {

inline constexpr double boltzmann_constant = 1.380649e-23;              ///< k_B [J/K]
inline constexpr double elementary_charge = 1.602176634e-19;            ///< e [C]
inline constexpr double avogadro_constant = 6.02214076e23;              ///< N_A [1/mol]
inline constexpr double molar_gas_constant = 8.31446261815324;          ///< R = k_B N_A [J/(mol K)]
inline constexpr double boltzmann_electronvolt = 8.617333262145179e-5;  ///< k_B / e [eV/K]

/// Molar energy of one electron volt a particle: e N_A = 96485.332... J/mol.
[[nodiscard]] constexpr JoulePerMole electronvolt(double value) {
  return JoulePerMole{value * (elementary_charge * avogadro_constant)};
}

}  // namespace heatside
