#include "heatside/ageing/arrhenius.hpp"

#include <cmath>
#include <numbers>
#include <string>

#include "heatside/base/constants.hpp"

namespace heatside::ageing {

double acceleration_factor(Step step, JoulePerMole activation_energy) {
  if (!(activation_energy.value() >= 0.0) || !std::isfinite(activation_energy.value())) {
    throw DomainError("activation energy " + std::to_string(activation_energy.value()) + " J/mol is not finite and >= 0");
  }
  // (to - from)/(from to) is 1/from - 1/to without the cancellation when the two are close.
  const double inverse_gap = (step.to - step.from).value() / (step.from.value() * step.to.value());  // [1/K]
  const double factor = std::exp(activation_energy.value() / molar_gas_constant * inverse_gap);
  if (!std::isnormal(factor)) {
    throw DomainError("acceleration factor from " + std::to_string(step.from.value()) + " K to " +
                      std::to_string(step.to.value()) + " K is outside the range of double");
  }
  return factor;
}

Kelvin temperature_for_life(ThermalLifePoint point, JoulePerMole activation_energy, Hours hours) {
  if (!(hours.value() > 0.0) || !(point.hours.value() > 0.0) || !(activation_energy.value() > 0.0)) {
    throw DomainError("a life line needs hours and an activation energy above 0");
  }
  const double inverse =
      1.0 / point.temperature.value() + molar_gas_constant / activation_energy.value() * std::log(hours / point.hours);
  if (!(inverse > 0.0)) {
    throw DomainError("no temperature gives a life of " + std::to_string(hours.value()) + " h on this line");
  }
  return Kelvin{1.0 / inverse};
}

KelvinRise halving_interval(Kelvin temperature, JoulePerMole activation_energy) {
  const double doubling = molar_gas_constant * std::numbers::ln2 * temperature.value();  // [J/mol]
  if (!(activation_energy.value() > doubling)) {
    throw DomainError("an activation energy of " + std::to_string(activation_energy.value()) +
                      " J/mol never halves the life");
  }
  return KelvinRise{doubling * temperature.value() / (activation_energy.value() - doubling)};
}

JoulePerMole activation_energy_for(Kelvin temperature, KelvinRise interval) {
  if (!(interval.value() > 0.0)) throw DomainError("a halving interval must be above 0 K");
  const double doubling = molar_gas_constant * std::numbers::ln2 * temperature.value();
  return JoulePerMole{doubling * (temperature + interval).value() / interval.value()};
}

}  // namespace heatside::ageing
