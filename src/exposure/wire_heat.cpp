#include "heatside/exposure/wire_heat.hpp"

#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <optional>
#include <string>

#include "exposure/heat_path.hpp"

namespace heatside::exposure {

namespace {

// Heat in a bundle, each part as it is while the copper around it has 20 degC [W/m].
struct ColdHeat {
  double own;    // of all loaded wires, with what each adds by warming itself through its own insulation
  double other;  // of wires of another kind
  [[nodiscard]] double total() const { return own + other; }
};

// Nothing when a loaded wire runs away within its own insulation.
std::optional<ColdHeat> cold_heat(const HeatPath& path, double current) {
  const double wire = path.loaded > 0.0 ? current * current * path.resistance : 0.0;
  const double left = 1.0 - wire * copper_coefficient * path.wire_shell;
  if (left <= 0.0) return std::nullopt;
  return ColdHeat{path.loaded * wire / left, path.other_heat};
}

// By how much the heat grows when the surface is at `surface`: f = copper_factor(surface + R total f). Nothing when no
// steady state carries it.
std::optional<double> growth(const HeatPath& path, const ColdHeat& cold, double surface) {
  const double left = 1.0 - copper_coefficient * path.inside() * cold.total();
  if (left <= 0.0) return std::nullopt;
  return copper_factor(surface) / left;
}

HeatSources sources_of(const HeatPath& path, Amperes current, const WireSetting& setting) {
  return {path.loaded > 0.0 ? current : Amperes{0.0}, path.other_heat > 0.0, setting.hot_body.has_value()};
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
  const std::optional<ColdHeat> cold = cold_heat(path, current.value());
  const auto excess = [&](double surface) {
    return net_loss(path, setting, surface) - *growth(path, *cold, surface) * cold->total();
  };
  if (!cold || !growth(path, *cold, setting.air.value()) || excess(hottest_meaningful.value()) < 0.0)
    no_steady_state(sources_of(path, current, setting));
  const double low = 0.5 * setting.air.value();
  const double surface = surface_root(excess, low, hottest_meaningful.value());

  const double factor = *growth(path, *cold, surface);
  const double own = factor * cold->own;
  const double per_wire = bundle.loaded > 0 ? own / path.loaded : 0.0;
  const Kelvin outer{surface + factor * cold->total() * path.inside()};
  const Kelvin inner = outer + KelvinRise{per_wire * path.wire_shell};
  if (inner > hottest_meaningful) no_steady_state(sources_of(path, current, setting));
  return {inner, inner, outer, Kelvin{surface}, WattsPerMetre{own}};
}

Amperes allowed_current(const WireBuild& wire, Bundle bundle, const CoverLayer& cover, Kelvin limit,
                        const WireSetting& setting) {
  if (bundle.loaded == 0) throw DomainError("no loaded wire: there is no current to allow");
  const HeatPath path = heat_path(wire, bundle, cover);
  // With the hottest conductor at the limit, copper of the other kind is cooler by what a loaded wire's insulation takes.
  // Own heat falls as the surface warms towards the limit: both ends are known, and one root lies between them.
  const double shell = path.wire_shell / path.loaded;
  const double others_at_limit = path.other_heat * copper_factor(limit.value());
  const double others_slope = path.other_heat * copper_coefficient;
  const double chain = path.inside() + shell * (1.0 - others_slope * path.inside());
  const double cooler_limit = limit.value() - others_at_limit * path.inside();
  const auto own_heat = [&](double surface) { return (cooler_limit - surface) / chain; };
  const auto excess = [&](double surface) {
    const double own = own_heat(surface);
    return own + others_at_limit - others_slope * shell * own - net_loss(path, setting, surface);
  };
  const double coldest = 0.5 * setting.air.value();
  if (cooler_limit <= coldest || excess(cooler_limit) >= 0.0) return Amperes{0.0};
  const double surface = surface_root(excess, coldest, cooler_limit);
  const double hot_resistance = path.resistance * copper_factor(limit.value());
  return Amperes{std::sqrt(std::max(0.0, own_heat(surface) / (path.loaded * hot_resistance)))};
}

WattsPerMetreKelvin heat_loss(const WireBuild& wire, Bundle bundle, const CoverLayer& cover) {
  const HeatPath path = heat_path(wire, bundle, cover);
  WireSetting setting;
  setting.air = celsius(80.0);
  // Of the middle of the bundle above the air, when so many W/m arise in it whatever its temperature.
  const auto rise_of = [&](double heat) {
    const auto excess = [&](double surface) { return net_loss(path, setting, surface) - heat; };
    const double surface = surface_root(excess, setting.air.value(), hottest_meaningful.value());
    return surface + heat * path.inside() - setting.air.value();
  };
  // The loss grows slowly with the rise: one correction brings the rise near enough to 10 K.
  const double heat = 10.0 / rise_of(1.0);
  return WattsPerMetreKelvin{heat / rise_of(heat)};
}

}  // namespace heatside::exposure
