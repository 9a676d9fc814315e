#pragma once

#include "exposure/heat_path.hpp"
#include "heatside/exposure/trip_trace.hpp"

namespace heatside::exposure {

/// A metre of wire or bundle as two masses: its wires and its surface.
struct TwoNodes {
  HeatPath path;
  double wires_capacity;    ///< [J/(m K)]
  double surface_capacity;  ///< [J/(m K)]
  double core;              ///< from the wires' temperature to the rim below the covering [K m/W]
  bool bundled;
};

/// @throws DomainError  sizes out of order, or more copper than the conductor has room for
[[nodiscard]] TwoNodes two_nodes(const PlacedWire& wire, const HeatStore& store);

/// Temperatures [K] and heat flows [W/m] that follow from those of the two masses.
struct WireFlows {
  double own_heat;    ///< of all loaded wires
  double into_wires;  ///< what is left in them to warm them
  double to_surface;
  double conductor, insulation;
};

/// @param amperes  of each loaded wire, 0 when none flows
/// @param other    heat of other wires in the bundle [W/m], were their copper at 20 degC
/// @throws DomainError  the copper's feedback alone makes it run away
[[nodiscard]] WireFlows flows_of(const TwoNodes& nodes, double wires_kelvin, double surface_kelvin, double amperes,
                                 double other);

}  // namespace heatside::exposure
