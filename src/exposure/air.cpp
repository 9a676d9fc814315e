#include "heatside/exposure/air.hpp"

#include <algorithm>
#include <cmath>

namespace heatside::exposure {

namespace {

constexpr double standard_gravity = 9.80665;  // [m/s2]

constexpr double conduction_only = 0.36;  // Nusselt number at the low end of Churchill and Chu

// Morgan's power laws up to a Rayleigh number of 1e4. Their exponents grow, so the largest is the one that holds, and taking
// it joins them where they meet instead of at the rounded limits of the printed table.
double morgan(double rayleigh) {
  return std::max({conduction_only, 0.675 * std::pow(rayleigh, 0.058), 1.02 * std::pow(rayleigh, 0.148),
                   0.850 * std::pow(rayleigh, 0.188)});
}

double churchill_chu(double rayleigh, double prandtl) {
  const double film = std::pow(1.0 + std::pow(0.559 / prandtl, 9.0 / 16.0), 8.0 / 27.0);
  const double root = 0.60 + 0.387 * std::pow(rayleigh, 1.0 / 6.0) / film;
  return root * root;
}

// Rises from 0 to 1 with level ends.
double smooth_step(double x) {
  const double t = std::clamp(x, 0.0, 1.0);
  return t * t * (3.0 - 2.0 * t);
}

}  // namespace

Air air_at(Kelvin film, Metres altitude) {
  const double t = std::clamp(film.value(), 250.0, 700.0);
  // Pressure of the standard atmosphere; viscosity over density is what thins out.
  const double pressure = std::pow(1.0 - 2.25577e-5 * altitude.value(), 5.25588);
  Air air;
  air.conductivity = -3.3030e-8 * t * t + 9.8397e-5 * t - 2.7485e-4;
  air.kinematic_viscosity = (8.3591e-11 * t * t + 4.7002e-8 * t - 5.6692e-6) / pressure;
  air.prandtl = 0.70;
  air.expansion = 1.0 / film.value();
  return air;
}

double nusselt_still(double rayleigh, double prandtl) {
  if (rayleigh <= 0.0) return conduction_only;
  constexpr double from = 3.0e3, to = 3.0e4;
  const double part = smooth_step(std::log(rayleigh / from) / std::log(to / from));
  if (part <= 0.0) return morgan(rayleigh);
  const double above = churchill_chu(rayleigh, prandtl);
  return part >= 1.0 ? above : (1.0 - part) * morgan(rayleigh) + part * above;
}

double nusselt_stream(double reynolds, double prandtl) {
  if (reynolds <= 0.0) return 0.0;
  const double film = std::pow(1.0 + std::pow(0.4 / prandtl, 2.0 / 3.0), 0.25);
  const double turbulent = std::pow(1.0 + std::pow(reynolds / 282000.0, 5.0 / 8.0), 0.8);
  return 0.3 + 0.62 * std::sqrt(reynolds) * std::cbrt(prandtl) / film * turbulent;
}

double convection(Metres diameter, Kelvin surface, Kelvin air, MetresPerSecond speed, Metres altitude) {
  const Kelvin film{0.5 * (surface.value() + air.value())};
  const Air properties = air_at(film, altitude);
  const double d = diameter.value();
  const double nu = properties.kinematic_viscosity;
  const double difference = std::abs((surface - air).value());
  const double rayleigh = standard_gravity * properties.expansion * difference * d * d * d / (nu * nu) * properties.prandtl;
  const double still = nusselt_still(rayleigh, properties.prandtl);
  const double stream = nusselt_stream(speed.value() * d / nu, properties.prandtl);
  return std::pow(std::pow(still, 4.0) + std::pow(stream, 4.0), 0.25) * properties.conductivity / d;
}

}  // namespace heatside::exposure
