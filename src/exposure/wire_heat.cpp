#include "heatside/exposure/wire_heat.hpp"

#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <string>

#include "heatside/exposure/air.hpp"

namespace heatside::exposure {

namespace {

constexpr double stefan_boltzmann = 5.670374419e-8;  // [W/(m2 K4)], CODATA 2018
constexpr double copper_coefficient = 0.00393;       // [1/K] at 20 degC, IEC 60028
constexpr Kelvin reference_temperature = celsius(20.0);
constexpr Kelvin hottest_meaningful = celsius(1000.0);  // copper melts at 1085 degC
constexpr double bundle_conductivity = 0.20;            // [W/(m K)]
constexpr double bundle_packing = 1.15;

double fourth_power(double x) { return x * x * x * x; }

// Two pi k-less resistance of a shell [K m/W].
double shell_resistance(double inner, double outer, double conductivity) {
  return std::log(outer / inner) / (2.0 * std::numbers::pi * conductivity);
}

// Geometry and resistances between the hottest conductor and the surface, per metre and watt of the whole bundle.
struct HeatPath {
  double surface_diameter;  // [m]
  double emissivity;
  double wire_shell;  // one wire's insulation [K m/W]
  double inside;      // bundle and covering [K m/W]
  double loaded;      // number of loaded wires
  double other_heat;  // of other wires in the bundle [W/m]
  double resistance;  // [Ohm/m] at 20 degC
};

void check(const WireBuild& wire, Bundle bundle) {
  if (!(wire.conductor_diameter.value() > 0.0) || !(wire.outer_diameter > wire.conductor_diameter)) {
    throw DomainError("the outer diameter of " + std::to_string(in_millimetres(wire.outer_diameter)) +
                      " mm leaves no insulation wall around a conductor of " +
                      std::to_string(in_millimetres(wire.conductor_diameter)) + " mm");
  }
  if (bundle.wires == 0 || bundle.loaded > bundle.wires) {
    throw DomainError(std::to_string(bundle.loaded) + " loaded wires in a bundle of " + std::to_string(bundle.wires));
  }
}

HeatPath heat_path(const WireBuild& wire, Bundle bundle, const CoverLayer& cover) {
  check(wire, bundle);
  const double d = wire.outer_diameter.value();
  const double wires = static_cast<double>(bundle.wires);
  HeatPath path{};
  path.surface_diameter = bundle.wires > 1 ? bundle_packing * d * std::sqrt(wires) : d;
  path.emissivity = wire.emissivity;
  path.wire_shell = shell_resistance(wire.conductor_diameter.value(), d, wire.insulation_conductivity.value());
  path.loaded = static_cast<double>(bundle.loaded);
  path.other_heat = bundle.other_heat.value();
  path.resistance = wire.resistance.value();
  // Centre over rim of a cylinder that is heated evenly: 1/(4 pi k).
  if (bundle.wires > 1) path.inside += 1.0 / (4.0 * std::numbers::pi * bundle_conductivity);
  if (cover.thickness.value() > 0.0) {
    const double covered = path.surface_diameter + 2.0 * cover.thickness.value();
    path.inside += cover.air_gap + shell_resistance(path.surface_diameter, covered, cover.conductivity.value());
    path.surface_diameter = covered;
    path.emissivity = cover.emissivity;
  }
  return path;
}

// Heat that leaves the surface for the surroundings, less what the hot body sends [W/m].
double net_loss(const HeatPath& path, const WireSetting& setting, double surface) {
  const double perimeter = std::numbers::pi * path.surface_diameter;
  const double air = setting.air.value();
  const double h = convection(Metres{path.surface_diameter}, Kelvin{surface}, setting.air, setting.speed, setting.altitude);
  const double seen = setting.hot_body ? setting.hot_body->view_factor * setting.hot_body->shield : 0.0;
  double flux =
      h * (surface - air) + (1.0 - seen) * path.emissivity * stefan_boltzmann * (fourth_power(surface) - fourth_power(air));
  if (setting.hot_body) {
    const HotBodyView& hot = *setting.hot_body;
    flux -= seen * path.emissivity * hot.emissivity * stefan_boltzmann *
            (fourth_power(hot.surface.value()) - fourth_power(surface));
  }
  return perimeter * flux;
}

// Heat of all loaded wires when the surface is at `surface` [W/m]; negative when no steady state carries it.
double own_heat(const HeatPath& path, double current, double surface) {
  const double cold = current * current * path.resistance;  // one wire at 20 degC
  const double around = surface + path.other_heat * path.inside;
  const double base = cold * (1.0 + copper_coefficient * (around - reference_temperature.value()));
  const double feedback = cold * copper_coefficient * (path.wire_shell + path.loaded * path.inside);
  return feedback < 1.0 ? path.loaded * base / (1.0 - feedback) : -1.0;
}

template <class Excess>
double surface_root(Excess excess, double low, double high) {
  std::uintmax_t iterations = 200;
  const auto bracket =
      boost::math::tools::toms748_solve(excess, low, high, boost::math::tools::eps_tolerance<double>(46), iterations);
  return 0.5 * (bracket.first + bracket.second);
}

[[noreturn]] void no_steady_state(Amperes current) {
  throw DomainError("a current of " + std::to_string(current.value()) +
                    " A has no steady state below 1000 degC: the conductor runs away");
}

}  // namespace

double view_of_cylinder(Metres diameter, Metres axis_distance) {
  const double ratio = 0.5 * diameter.value() / axis_distance.value();
  if (!(ratio > 0.0 && ratio < 1.0)) {
    throw DomainError("the wire's axis at " + std::to_string(in_millimetres(axis_distance)) +
                      " mm lies inside a hot body of " + std::to_string(in_millimetres(diameter)) + " mm diameter");
  }
  return std::asin(ratio) / std::numbers::pi;
}

double view_of_plate(Metres width, Metres distance) {
  if (!(distance.value() > 0.0) || !(width.value() > 0.0))
    throw DomainError("a hot plate needs a width and a distance above 0");
  return std::atan(0.5 * width.value() / distance.value()) / std::numbers::pi;
}

WireTemperatures wire_temperatures(const WireBuild& wire, Bundle bundle, const CoverLayer& cover, Amperes current,
                                   const WireSetting& setting) {
  const HeatPath path = heat_path(wire, bundle, cover);
  const auto excess = [&](double surface) {
    return net_loss(path, setting, surface) - own_heat(path, current.value(), surface) - path.other_heat;
  };
  if (own_heat(path, current.value(), setting.air.value()) < 0.0 || excess(hottest_meaningful.value()) < 0.0)
    no_steady_state(current);
  const double low = 0.5 * setting.air.value();
  const double surface = surface_root(excess, low, hottest_meaningful.value());

  const double heat = own_heat(path, current.value(), surface);
  const double per_wire = bundle.loaded > 0 ? heat / path.loaded : 0.0;
  const Kelvin outer{surface + (heat + path.other_heat) * path.inside};
  const Kelvin inner = outer + KelvinRise{per_wire * path.wire_shell};
  if (inner > hottest_meaningful) no_steady_state(current);
  return {inner, inner, outer, Kelvin{surface}, WattsPerMetre{heat}};
}

Amperes allowed_current(const WireBuild& wire, Bundle bundle, const CoverLayer& cover, Kelvin limit,
                        const WireSetting& setting) {
  if (bundle.loaded == 0) throw DomainError("no loaded wire: there is no current to allow");
  const HeatPath path = heat_path(wire, bundle, cover);
  // Heat falls as the surface warms towards the limit: both ends are known, and one root lies between them.
  const double chain = path.inside + path.wire_shell / path.loaded;
  const double cooler_limit = limit.value() - path.other_heat * path.inside;
  const auto excess = [&](double surface) {
    return (cooler_limit - surface) / chain + path.other_heat - net_loss(path, setting, surface);
  };
  const double coldest = 0.5 * setting.air.value();
  if (cooler_limit <= coldest || excess(cooler_limit) >= 0.0) return Amperes{0.0};
  const double surface = surface_root(excess, coldest, cooler_limit);
  const double heat = (cooler_limit - surface) / chain;
  const double hot_resistance = path.resistance * (1.0 + copper_coefficient * (limit - reference_temperature).value());
  return Amperes{std::sqrt(std::max(0.0, heat / (path.loaded * hot_resistance)))};
}

}  // namespace heatside::exposure
