#pragma once

#include <array>

#include "heatside/base/units.hpp"
#include "heatside/exposure/temperature_measure.hpp"

namespace heatside::exposure {

/// Three activation energies, equally far apart.
struct EnergyTriple {
  JoulePerMole middle{0.0}, step{0.0};
  Kelvin reference{1.0};
  /// Humidity exponent times enthalpy of vaporisation; 0 for dry processes and where damp is trapped.
  JoulePerMole drying{0.0};
};

/// Mean acceleration over a year at the middle energy less the step, at the middle one and at the one above, all regimes
/// together: as `mean_acceleration`, and as `mean_wet_acceleration` before its factor (RH / reference)^n.
/// Four temperatures at a time, the same digits everywhere.
///
/// @par Tested by  tests/exposure/means_about_test.cpp, against both
[[nodiscard]] std::array<double, 3> means_about(const TemperatureMeasure& year, const EnergyTriple& energies);

}  // namespace heatside::exposure
