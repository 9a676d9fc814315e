#pragma once

#include <vector>

#include "heatside/exposure/wire_year.hpp"

namespace heatside::exposure {

/// Several hot bodies as one: how much of the view they take, how strongly they radiate, and how hot.
struct CombinedHotBody {
  double view = 0.0;  ///< shields included
  double emissivity = 0.0;
  std::vector<double> parts{};  ///< of each body in the combined fourth power of the temperature, sum to 1

  explicit CombinedHotBody(const std::vector<HotNeighbour>& bodies);

  /// What the wire sees when the combined fourth power of the bodies' temperatures is so much [K4].
  [[nodiscard]] HotBodyView seen(double fourth_power_of_kelvin) const;
};

/// A hot body's surface [K]: it warms from the air around it and cools back to it with the exhaust.
[[nodiscard]] double surface_kelvin(const HotNeighbour& body, std::size_t state, double exhaust_warmth, double air);

/// Combined fourth power [K4] of the bodies' temperatures.
[[nodiscard]] double combined_fourth_power(const CombinedHotBody& hot, const std::vector<HotNeighbour>& bodies,
                                           std::size_t state, double exhaust_warmth, double air);

}  // namespace heatside::exposure
