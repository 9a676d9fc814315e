#pragma once

#include <cstddef>
#include <optional>

#include "heatside/base/units.hpp"

/// Steady heat balance of a wire or bundle: what its own current and hot bodies nearby add to the air's temperature.

namespace heatside::exposure {

/// One round insulated wire.
struct WireBuild {
  Metres conductor_diameter{0.0};
  Metres outer_diameter{0.0};    ///< above the conductor's
  OhmsPerMetre resistance{0.0};  ///< at 20 degC
  WattsPerMetreKelvin insulation_conductivity{0.0};
  double emissivity{};  ///< of its surface, 0 to 1
};

/// Wires of one kind laid together.
struct Bundle {
  std::size_t wires = 1;
  std::size_t loaded = 1;         ///< how many carry the current at once, at most `wires`
  WattsPerMetre other_heat{0.0};  ///< of wires of another kind in the same bundle, were their copper at 20 degC
};

/// What lies around a wire or bundle.
struct CoverLayer {
  Metres thickness{0.0};  ///< of the covering; 0 for none
  WattsPerMetreKelvin conductivity{0.0};
  double air_gap{};     ///< thermal resistance of trapped air [K m/W], 0 for a tight covering
  double emissivity{};  ///< of the covering's surface
};

/// A hot part that radiates on the wire.
struct HotBodyView {
  Kelvin surface{273.15};
  double emissivity{};   ///< of the hot part
  double view_factor{};  ///< share of what the wire sees, 0 to 1
  double shield{1.0};    ///< share of the exchange that a shield lets through, 0 to 1
};

struct WireSetting {
  Kelvin air{273.15};  ///< also of all surfaces around but the hot body
  MetresPerSecond speed{0.0};
  Metres altitude{0.0};
  std::optional<HotBodyView> hot_body;
};

struct WireTemperatures {
  Kelvin conductor{273.15};         ///< of the hottest loaded wire
  Kelvin insulation_inner{273.15};  ///< touches the conductor
  Kelvin insulation_outer{273.15};  ///< of the hottest wire
  Kelvin surface{273.15};           ///< what meets the air: wire, bundle or covering
  WattsPerMetre own_heat{0.0};      ///< of all loaded wires

  /// What the insulation ages by.
  [[nodiscard]] Kelvin hottest_insulation() const {
    return insulation_inner > insulation_outer ? insulation_inner : insulation_outer;
  }
};

/// View factor from a thin wire to a parallel cylinder: asin(R/d)/pi.
/// @throws DomainError  the wire lies inside the cylinder
/// @par Tested by  tests/exposure/wire_heat_test.cpp, against the crossed-string exact value
[[nodiscard]] double view_of_cylinder(Metres diameter, Metres axis_distance);

/// View factor from a thin wire to a strip it runs along the middle of: atan(W/2d)/pi.
/// @throws DomainError  distance not above 0
[[nodiscard]] double view_of_plate(Metres width, Metres distance);

/// Steady temperatures of a wire that carries a current.
///
/// Natural or forced convection and grey radiation at the surface, conduction through covering and insulation,
/// I^2 R20 (1 + 0.00393 (T - 20 degC)) in the conductor. A bundle is one cylinder of 1.15 D sqrt(n) with a conductivity of
/// 0.20 W/(m K) and the loaded wires' heat spread over it. Copper of wires of another kind has the temperature of its
/// middle: their heat grows with it by the same coefficient.
///
/// @throws DomainError  sizes out of order, more wires loaded than there are, or no steady state below 1000 degC
/// @par Source     heat balance of any text on heat transfer; bundle rule: judgement, reproduces IEC 60364-5-52
///                 table B.52.17 within 0.035 for thin-wall wire (from memory)
/// @par Tested by  tests/exposure/wire_heat_test.cpp, against handbook examples and current tables
[[nodiscard]] WireTemperatures wire_temperatures(const WireBuild& wire, Bundle bundle, const CoverLayer& cover,
                                                 Amperes current, const WireSetting& setting);

/// The current at which the conductor of the hottest loaded wire is just at `limit`; 0 where it is hotter without any.
/// @throws DomainError  sizes out of order
[[nodiscard]] Amperes allowed_current(const WireBuild& wire, Bundle bundle, const CoverLayer& cover, Kelvin limit,
                                      const WireSetting& setting);

/// Heat that a metre of the bundle gives off per kelvin that its wires are warmer than the air: what the fin equation
/// calls loss.
///
/// Taken at a rise of 10 K in still air of 80 degC, a warm engine bay; between 40 and 120 degC and rises of 5 to 40 K it
/// changes by less than a fifth, a decay length by a tenth.
///
/// @throws DomainError  sizes out of order
[[nodiscard]] WattsPerMetreKelvin heat_loss(const WireBuild& wire, Bundle bundle, const CoverLayer& cover);

}  // namespace heatside::exposure
