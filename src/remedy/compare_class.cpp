#include "heatside/remedy/temperature_class.hpp"

namespace heatside::remedy {

Rated rated(const library::Insulation& insulation) {
  constexpr double class_hours = 3000.0;
  const bool by_life = insulation.pass_mark && insulation.life_hours.value >= class_hours;
  const double degrees = by_life ? insulation.life_temperature.value : insulation.rating.value;
  Rated rated{std::nullopt, celsius(insulation.rating.value)};
  for (const TemperatureClass& one : temperature_classes) {
    if (one.celsius > degrees) break;
    rated = {one, celsius(one.celsius)};
  }
  return rated;
}

std::optional<TemperatureClass> lowest_class_for(Kelvin hottest) {
  for (const TemperatureClass& one : temperature_classes) {
    if (hottest <= celsius(one.celsius)) return one;
  }
  return std::nullopt;
}

}  // namespace heatside::remedy
