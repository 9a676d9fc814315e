#pragma once

#include "heatside/exposure/wire_heat.hpp"

/// The way of the heat from a conductor to the air, for the steady balance and for the transient one alike.

namespace heatside::exposure {

inline constexpr double copper_coefficient = 0.00393;  ///< of the resistance [1/K] at 20 degC, IEC 60028
inline constexpr Kelvin copper_reference = celsius(20.0);
inline constexpr Kelvin hottest_meaningful = celsius(1000.0);  ///< copper melts at 1085 degC

/// Geometry and resistances between the hottest conductor and the surface, per metre and watt of the whole bundle.
struct HeatPath {
  double bundle_diameter;   ///< below the covering [m]
  double surface_diameter;  ///< [m]
  double emissivity;        ///< of the surface
  double wire_shell;        ///< one wire's insulation [K m/W]
  double bundle;            ///< from the middle of an evenly heated bundle to its rim [K m/W]; 0 for a wire alone
  double covering;          ///< with the air it traps [K m/W]
  double loaded;            ///< number of loaded wires
  double other_heat;        ///< of other wires in the bundle [W/m], were their copper at 20 degC
  double resistance;        ///< of a conductor [Ohm/m] at 20 degC

  [[nodiscard]] double inside() const { return bundle + covering; }
};

/// @throws DomainError  sizes out of order, or more wires loaded than there are
[[nodiscard]] HeatPath heat_path(const WireBuild& wire, Bundle bundle, const CoverLayer& cover);

/// Heat that leaves a surface of so many kelvin for the surroundings, less what the hot body sends [W/m].
[[nodiscard]] double net_loss(const HeatPath& path, const WireSetting& setting, double surface);

/// Resistance of copper over that at 20 degC; below 0 it means nothing.
[[nodiscard]] double copper_factor(double kelvin);

/// What is said to have no steady state.
struct HeatSources {
  Amperes current{0.0};
  bool others = false;    ///< currents of other wires in the bundle
  bool hot_body = false;  ///< something that radiates on it
};

/// @throws DomainError  always: names the current, or what else heats the wire
[[noreturn]] void no_steady_state(const HeatSources& sources);

}  // namespace heatside::exposure
