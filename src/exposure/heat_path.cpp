#include "exposure/heat_path.hpp"

#include <cmath>
#include <numbers>
#include <string>

#include "base/text.hpp"
#include "heatside/exposure/air.hpp"

namespace heatside::exposure {

namespace {

constexpr double stefan_boltzmann = 5.670374419e-8;  // [W/(m2 K4)], CODATA 2018
constexpr double bundle_conductivity = 0.20;         // [W/(m K)]
constexpr double bundle_packing = 1.15;

double fourth_power(double x) { return x * x * x * x; }

// Two pi k-less resistance of a shell [K m/W].
double shell_resistance(double inner, double outer, double conductivity) {
  return std::log(outer / inner) / (2.0 * std::numbers::pi * conductivity);
}

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

}  // namespace

HeatPath heat_path(const WireBuild& wire, Bundle bundle, const CoverLayer& cover) {
  check(wire, bundle);
  const double d = wire.outer_diameter.value();
  const double wires = static_cast<double>(bundle.wires);
  HeatPath path{};
  path.bundle_diameter = bundle.wires > 1 ? bundle_packing * d * std::sqrt(wires) : d;
  path.surface_diameter = path.bundle_diameter;
  path.emissivity = wire.emissivity;
  path.wire_shell = shell_resistance(wire.conductor_diameter.value(), d, wire.insulation_conductivity.value());
  path.loaded = static_cast<double>(bundle.loaded);
  path.other_heat = bundle.other_heat.value();
  path.resistance = wire.resistance.value();
  // Centre over rim of a cylinder that is heated evenly: 1/(4 pi k).
  if (bundle.wires > 1) path.bundle = 1.0 / (4.0 * std::numbers::pi * bundle_conductivity);
  if (cover.thickness.value() > 0.0) {
    path.surface_diameter += 2.0 * cover.thickness.value();
    path.covering =
        cover.air_gap + shell_resistance(path.bundle_diameter, path.surface_diameter, cover.conductivity.value());
    path.emissivity = cover.emissivity;
  }
  return path;
}

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

double copper_factor(double kelvin) { return 1.0 + copper_coefficient * (kelvin - copper_reference.value()); }

void no_steady_state(const HeatSources& sources) {
  const std::string none = " no steady state below 1000 degC: ";
  const std::string beside = sources.hot_body ? " beside hot bodies" : "";
  if (sources.current.value() > 0.0) {
    throw DomainError("a current of " + plain_number(sources.current.value()) + " A" + beside + " has" + none +
                      "the conductor runs away");
  }
  if (sources.others)
    throw DomainError("the currents of other wires in the bundle" + beside + " have" + none + "the bundle runs away");
  throw DomainError("the hot bodies around the wire leave it" + none +
                    "they are hotter than that, or fill more than what the wire sees");
}

}  // namespace heatside::exposure
