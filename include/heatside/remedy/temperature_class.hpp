#pragma once

#include <array>
#include <optional>

#include "heatside/base/units.hpp"
#include "heatside/library/records.hpp"

/// The temperature classes of single-core road-vehicle cables.

namespace heatside::remedy {

/// @par Source  ISO 6722-1 and ISO 19642-1, classes A to H: the upper service temperature, at which a cable lasts 3000 h
struct TemperatureClass {
  char letter{};
  int celsius{};
};

inline constexpr std::array<TemperatureClass, 8> temperature_classes{
    {{'A', 85}, {'B', 100}, {'C', 125}, {'D', 150}, {'E', 175}, {'F', 200}, {'G', 225}, {'H', 250}}};

/// What a compound may be called by its thermal life, and the temperature that it is chosen by.
struct Rated {
  std::optional<TemperatureClass> of_class;  ///< none: below the lowest class
  Kelvin temperature{ice_point_kelvin};      ///< of the class; without one that of the record's rating
};

/// The highest class whose temperature the record holds for 3000 h: by its thermal-life point where that is a pass mark of
/// 3000 h or more, otherwise by its rating.
/// @par Tested by  tests/remedy/compare_class_test.cpp: against the standard types that the records name
[[nodiscard]] Rated rated(const library::Insulation& insulation);

/// The lowest class that is not exceeded; none above the highest.
[[nodiscard]] std::optional<TemperatureClass> lowest_class_for(Kelvin hottest);

}  // namespace heatside::remedy
