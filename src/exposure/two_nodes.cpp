#include "exposure/two_nodes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

namespace heatside::exposure {

namespace {

double circle(double diameter) { return 0.25 * std::numbers::pi * diameter * diameter; }

// Share of a shell's heat that goes with the temperature of its inside: mean of ln(D/r)/ln(D/d) over its area.
double inner_share(double inner, double outer) {
  const double ratio = outer / inner;
  return 0.5 / std::log(ratio) - 1.0 / (ratio * ratio - 1.0);
}

// Share of a bundle's area that its outermost wires take, each to half of its depth; all of it for a wire alone.
double outer_layer(double wire, double bundle) {
  const double within = 1.0 - wire / bundle;
  return 1.0 - within * within;
}

// Heat of other wires at the rim of a wire that is alone but for them, which warms the rim itself; `rim` is without it.
double heat_at_rim(const TwoNodes& nodes, double rim, double other) {
  const double warms = nodes.core * nodes.path.covering / (nodes.core + nodes.path.covering);  // [K m/W]
  const double feedback = other * copper_coefficient * warms;
  if (feedback >= 1.0) no_steady_state({Amperes{0.0}, true});
  return other * copper_factor(rim) / (1.0 - feedback);
}

void expect_room(const PlacedWire& wire, const HeatStore& store) {
  const double room = circle(wire.wire.conductor_diameter.value());
  if (!(store.copper_area.value() > 0.0 && store.copper_area.value() <= 1.001 * room)) {
    throw DomainError("copper of " + std::to_string(in_square_millimetres(store.copper_area)) +
                      " mm2 in a conductor that has room for more than 0 and up to " +
                      std::to_string(in_square_millimetres(SquareMetres{room})) + " mm2");
  }
}

}  // namespace

TwoNodes two_nodes(const PlacedWire& wire, const HeatStore& store) {
  const HeatPath path = heat_path(wire.wire, wire.bundle, wire.cover);
  expect_room(wire, store);
  const double inner = wire.wire.conductor_diameter.value();
  const double outer = wire.wire.outer_diameter.value();
  const double count = static_cast<double>(wire.bundle.wires);
  const double copper = count * store.copper_area.value() * copper_heat_capacity;
  const double insulation = count * (circle(outer) - circle(inner)) * store.insulation;
  const double outside = insulation * (1.0 - inner_share(inner, outer)) * outer_layer(outer, path.bundle_diameter);
  const double covering = (circle(path.surface_diameter) - circle(path.bundle_diameter)) * store.covering;
  const bool bundled = wire.bundle.wires > 1;
  return {path, copper + insulation - outside, outside + covering, bundled ? 0.5 * path.bundle : path.wire_shell, bundled};
}

WireFlows flows_of(const TwoNodes& nodes, double wires_kelvin, double surface_kelvin, double amperes, double other) {
  const HeatPath& path = nodes.path;
  const double straight = (wires_kelvin - surface_kelvin) / (nodes.core + path.covering);
  // Heat of other wires arises inside a bundle, but around a wire that is alone but for them.
  const double at_rim = nodes.bundled ? 0.0 : heat_at_rim(nodes, surface_kelvin + straight * path.covering, other);
  WireFlows flows{};
  const double leaves = straight - at_rim * path.covering / (nodes.core + path.covering);
  flows.to_surface = leaves + at_rim;
  const double rim = surface_kelvin + flows.to_surface * path.covering;
  const double middle = nodes.bundled ? rim + 2.0 * leaves * nodes.core : rim;

  // Of one wire at 20 degC; the hottest wire is warmer than the middle only where a wire is loaded.
  const double cold = path.loaded > 0.0 ? amperes * amperes * path.resistance : 0.0;
  const double around = nodes.bundled ? middle : wires_kelvin;
  const double shell = nodes.bundled ? path.wire_shell : 0.0;
  const double feedback = cold * copper_coefficient * shell;
  if (feedback >= 1.0) no_steady_state({Amperes{amperes}});
  const double heat = cold * copper_factor(around) / (1.0 - feedback);
  flows.conductor = around + heat * shell;
  flows.own_heat = path.loaded * heat;
  flows.into_wires = flows.own_heat + (nodes.bundled ? other * copper_factor(middle) : 0.0) - leaves;
  flows.insulation = std::max({flows.conductor, middle, rim});
  return flows;
}

}  // namespace heatside::exposure
