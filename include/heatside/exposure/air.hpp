#pragma once

#include "heatside/base/units.hpp"

/// Heat given off by a horizontal cylinder to air.

namespace heatside::exposure {

/// Air at the mean of surface and air temperature.
struct Air {
  double conductivity{};         ///< [W/(m K)]
  double kinematic_viscosity{};  ///< [m2/s]
  double prandtl{};
  double expansion{};  ///< [1/K]
};

/// Properties of dry air, 250 to 700 K (held at the ends of that range beyond it).
///
/// @param altitude  above the sea; thinner air carries less heat away
/// @par Source     fits to Incropera, Fundamentals of Heat and Mass Transfer, table A.4 (from memory): within 0.4 % in
///                 conductivity and 1.2 % in viscosity; standard atmosphere for the pressure
[[nodiscard]] Air air_at(Kelvin film, Metres altitude = Metres{0.0});

/// Nusselt number of a long horizontal cylinder in still air: Morgan below a Rayleigh number of 1e4, Churchill and Chu
/// above, blended in ln Ra between 3e3 and 3e4.
///
/// @par Source  Morgan 1975, Adv. Heat Transfer 11, 199-264 (from memory); Churchill and Chu 1975,
///              Int. J. Heat Mass Transfer 18, 1049-1053 (from memory)
/// @par Tested by  tests/exposure/air_test.cpp
[[nodiscard]] double nusselt_still(double rayleigh, double prandtl);

/// Nusselt number of a cylinder across a stream.
/// @par Source  Churchill and Bernstein 1977, J. Heat Transfer 99, 300-306 (from memory)
[[nodiscard]] double nusselt_stream(double reynolds, double prandtl);

/// Convective heat transfer from a cylinder [W/(m2 K)]; still and forced convection combined as the fourth root of the
/// sum of fourth powers.
[[nodiscard]] double convection(Metres diameter, Kelvin surface, Kelvin air, MetresPerSecond speed,
                                Metres altitude = Metres{0.0});

}  // namespace heatside::exposure
