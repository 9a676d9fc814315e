#include "heatside/exposure/zone_at_score.hpp"

#include <algorithm>
#include <cmath>

namespace heatside::exposure {

namespace {

// What one unit of score moves a number by, on the side of the score.
double step_of(const Sourced& number, double z) {
  if (number.low && number.high) {
    return (z > 0.0 ? *number.high - number.value : number.value - *number.low) / score_of_band;
  }
  return number.sd.value_or(0.0);
}

KelvinRise soak_peak_at(const library::Zone& zone, double z) {
  constexpr double least = 1.0e-6;  // [K]
  const double peak = value_at_score(zone.soak_peak, z);
  return KelvinRise{std::abs(peak) < least ? least : peak};
}

}  // namespace

double value_at_score(const Sourced& number, double z) {
  const double cut = std::clamp(z, -score_limit, score_limit);
  return number.value + step_of(number, cut) * cut;
}

ZoneHeat zone_heat_at(const library::Zone& zone, double z) {
  ZoneHeat heat = likely_zone_heat(zone);
  for (std::size_t state = 0; state < heat.rise.size(); ++state) {
    heat.rise[state] = KelvinRise{value_at_score(zone.rise[state], z)};
  }
  heat.soak_peak = soak_peak_at(zone, z);
  return heat;
}

SoakAmplitudes soak_amplitudes_at(const library::Zone& zone, const SoakAmplitudes& at_likely, double z) {
  const double ratio = soak_peak_at(zone, z).value() / zone.soak_peak.value;
  return {at_likely.engine * ratio, at_likely.exhaust * ratio};
}

}  // namespace heatside::exposure
