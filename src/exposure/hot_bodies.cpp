#include "exposure/hot_bodies.hpp"

#include <cmath>

namespace heatside::exposure {

CombinedHotBody::CombinedHotBody(const std::vector<HotNeighbour>& bodies) {
  double strength = 0.0;
  for (const HotNeighbour& body : bodies) {
    view += body.view_factor * body.shield;
    parts.push_back(body.view_factor * body.shield * body.emissivity);
    strength += parts.back();
  }
  if (strength <= 0.0) return;
  emissivity = strength / view;
  for (double& part : parts) part /= strength;
}

HotBodyView CombinedHotBody::seen(double fourth_power_of_kelvin) const {
  return {Kelvin{std::pow(fourth_power_of_kelvin, 0.25)}, emissivity, view, 1.0};
}

double surface_kelvin(const HotNeighbour& body, std::size_t state, double exhaust_warmth, double air) {
  return air + exhaust_warmth * (body.surface[state].value() - air);
}

double combined_fourth_power(const CombinedHotBody& hot, const std::vector<HotNeighbour>& bodies, std::size_t state,
                             double exhaust_warmth, double air) {
  double sum = 0.0;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    const double kelvin = surface_kelvin(bodies[i], state, exhaust_warmth, air);
    sum += hot.parts[i] * kelvin * kelvin * kelvin * kelvin;
  }
  return sum;
}

}  // namespace heatside::exposure
