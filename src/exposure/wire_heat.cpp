#include "heatside/exposure/wire_heat.hpp"

#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <string>

#include "exposure/heat_path.hpp"

namespace heatside::exposure {

namespace {

// Heat of all loaded wires when the surface is at `surface` [W/m]; negative when no steady state carries it.
double own_heat(const HeatPath& path, double current, double surface) {
  const double cold = current * current * path.resistance;  // one wire at 20 degC
  const double around = surface + path.other_heat * path.inside();
  const double base = cold * (1.0 + copper_coefficient * (around - copper_reference.value()));
  const double feedback = cold * copper_coefficient * (path.wire_shell + path.loaded * path.inside());
  return feedback < 1.0 ? path.loaded * base / (1.0 - feedback) : -1.0;
}

template <class Excess>
double surface_root(Excess excess, double low, double high) {
  std::uintmax_t iterations = 200;
  const auto bracket =
      boost::math::tools::toms748_solve(excess, low, high, boost::math::tools::eps_tolerance<double>(46), iterations);
  return 0.5 * (bracket.first + bracket.second);
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
  const Kelvin outer{surface + (heat + path.other_heat) * path.inside()};
  const Kelvin inner = outer + KelvinRise{per_wire * path.wire_shell};
  if (inner > hottest_meaningful) no_steady_state(current);
  return {inner, inner, outer, Kelvin{surface}, WattsPerMetre{heat}};
}

Amperes allowed_current(const WireBuild& wire, Bundle bundle, const CoverLayer& cover, Kelvin limit,
                        const WireSetting& setting) {
  if (bundle.loaded == 0) throw DomainError("no loaded wire: there is no current to allow");
  const HeatPath path = heat_path(wire, bundle, cover);
  // Heat falls as the surface warms towards the limit: both ends are known, and one root lies between them.
  const double chain = path.inside() + path.wire_shell / path.loaded;
  const double cooler_limit = limit.value() - path.other_heat * path.inside();
  const auto excess = [&](double surface) {
    return (cooler_limit - surface) / chain + path.other_heat - net_loss(path, setting, surface);
  };
  const double coldest = 0.5 * setting.air.value();
  if (cooler_limit <= coldest || excess(cooler_limit) >= 0.0) return Amperes{0.0};
  const double surface = surface_root(excess, coldest, cooler_limit);
  const double heat = (cooler_limit - surface) / chain;
  const double hot_resistance = path.resistance * (1.0 + copper_coefficient * (limit - copper_reference).value());
  return Amperes{std::sqrt(std::max(0.0, heat / (path.loaded * hot_resistance)))};
}

WattsPerMetreKelvin heat_loss(const WireBuild& wire, Bundle bundle, const CoverLayer& cover) {
  WireSetting setting;
  setting.air = celsius(80.0);
  const auto rise_of = [&](double heat) {
    bundle.other_heat = WattsPerMetre{heat};
    return (wire_temperatures(wire, bundle, cover, Amperes{0.0}, setting).insulation_outer - setting.air).value();
  };
  // The loss grows slowly with the rise: one correction brings the rise near enough to 10 K.
  const double heat = 10.0 / rise_of(1.0);
  return WattsPerMetreKelvin{heat / rise_of(heat)};
}

}  // namespace heatside::exposure
