#pragma once

#include "heatside/base/units.hpp"

namespace heatside::ageing {

/// A change of temperature.
struct Step {
  Kelvin from, to;
};

/// How many times faster one thermally activated process runs at `step.to` than at `step.from`:
/// AF = exp[(Ea/R)(1/T_from - 1/T_to)] [-]. AF(T, T) = 1, AF(a, b) AF(b, a) = 1.
///
/// @param activation_energy  finite and >= 0 [J/mol]
/// @throws DomainError  the energy is negative or not finite, or the factor leaves the range of double
/// @par Valid where  one mechanism with constant Ea acts over the whole step; not across a melting or glass transition
/// @par Source       Dakin 1948, AIEE Trans. 67(1), 113-122, doi:10.1109/T-AIEE.1948.5059649
/// @par Tested by    tests/ageing/arrhenius_test.cpp
[[nodiscard]] double acceleration_factor(Step step, JoulePerMole activation_energy);

/// Hours at `life_temperature` and what they become elsewhere along one life line.
struct ThermalLifePoint {
  Kelvin temperature;
  Hours hours;
};

/// Temperature at which the life line through `point` gives `hours`; the temperature index is that of 20 000 h.
///
/// @throws DomainError  hours not above 0, energy not above 0, or no temperature above 0 K gives that life
/// @par Source  IEC 60216-1, definition of the temperature index
[[nodiscard]] Kelvin temperature_for_life(ThermalLifePoint point, JoulePerMole activation_energy, Hours hours);

/// Rise above `temperature` that halves the life there: HIC = R ln2 T^2 / (Ea - R ln2 T).
///
/// @throws DomainError  the energy is so low that no rise halves the life
/// @par Source  follows from the Arrhenius law; at the temperature index it is the HIC of IEC 60216-1
[[nodiscard]] KelvinRise halving_interval(Kelvin temperature, JoulePerMole activation_energy);

/// Activation energy that gives `interval` at `temperature`: Ea = R ln2 T (T + HIC) / HIC.
/// @throws DomainError  interval not above 0
[[nodiscard]] JoulePerMole activation_energy_for(Kelvin temperature, KelvinRise interval);

}  // namespace heatside::ageing
