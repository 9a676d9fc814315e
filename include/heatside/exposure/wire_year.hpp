#pragma once

#include <array>
#include <vector>

#include "heatside/exposure/wire_heat.hpp"
#include "heatside/exposure/year.hpp"

/// What a wire makes of the air around it over a year: its own current and the hot bodies beside it.

namespace heatside::exposure {

/// A hot part beside a wire. It warms up from the air around it and cools back to it with the exhaust.
struct HotNeighbour {
  std::array<Kelvin, 4> surface{Kelvin{273.15}, Kelvin{273.15}, Kelvin{273.15}, Kelvin{273.15}};  ///< warm, by running state
  double view_factor{};
  double shield{1.0};  ///< share of the exchange that a shield lets through
  double emissivity{};
};

/// A wire with everything that can make it warmer or cooler than the air of its zone.
struct PlacedWire {
  WireBuild wire;
  Bundle bundle;
  CoverLayer cover;
  Amperes current{0.0};       ///< of each loaded wire
  double loaded_share = 0.0;  ///< share of the running time in which currents flow
  std::vector<HotNeighbour> hot_bodies;
  std::array<MetresPerSecond, 4> running_air_speed{MetresPerSecond{0.0}, MetresPerSecond{0.0}, MetresPerSecond{0.0},
                                                   MetresPerSecond{0.0}};  ///< by running state; stopped, the air is still
};

/// Whether the wire is ever warmed by a current, its own or that of others in its bundle.
[[nodiscard]] bool has_own_heat(const PlacedWire& wire);

/// Whether the insulation is ever at another temperature than the air.
[[nodiscard]] bool differs_from_air(const PlacedWire& wire);

/// Diameter of the bundle below its covering, as one cylinder.
/// @throws DomainError  sizes out of order
[[nodiscard]] Metres bundle_diameter(const PlacedWire& wire);

/// Air temperatures that a wire will meet.
struct AirRange {
  Kelvin low{273.15}, high{273.15};
};

/// Lowest and highest temperature of a year.
[[nodiscard]] AirRange range_of(const TemperatureMeasure& year);

/// The hottest insulation of a wire as a function of the instant, for `year_of`.
///
/// The heat balance is solved once on a grid of air and hot-body temperatures and interpolated by Chebyshev polynomials:
/// within 0.1 K of the direct solution. One grid serves all running states of the same air speed, and none is made for
/// what never happens: a state without a share, a current that never flows, hot bodies where there are none.
///
/// @param running_mix  shares of the running time; only those above 0 matter
/// @throws DomainError  the current has no steady state in the hottest air, see `wire_temperatures`
/// @par Tested by  tests/exposure/wire_year_test.cpp
[[nodiscard]] Temperature insulation_temperature(const PlacedWire& wire, AirRange air,
                                                 const std::array<double, 4>& running_mix = {1.0, 1.0, 1.0, 1.0});

}  // namespace heatside::exposure
