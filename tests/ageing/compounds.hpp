#pragma once

#include <vector>

#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/library/library.hpp"

/// Made-up compounds and years for the tests, each with only the numbers that a test looks at.

namespace heatside::tests {

/// The constants that travel with the program.
inline const library::ModelConstants& model_constants() {
  static const library::Library built_in = library::built_in_library();
  return built_in.model;
}

inline Sourced number(double value) {
  Sourced sourced;
  sourced.value = value;
  return sourced;
}

/// Elongation at break [%] when new and at the thermal-life point.
struct Elongations {
  double initial = 250.0, end = 50.0;
};

inline library::Insulation gradual_compound(Elongations elongations = {}) {
  library::Insulation insulation;
  insulation.law = library::KineticsLaw::gradual;
  insulation.initial_elongation = number(elongations.initial);
  insulation.end_elongation = number(elongations.end);
  return insulation;
}

inline library::Insulation guarded_compound(Elongations elongations = {}, double induction_share = 0.6) {
  library::Insulation insulation = gradual_compound(elongations);
  insulation.law = library::KineticsLaw::guarded;
  insulation.induction_share = number(induction_share);
  return insulation;
}

/// Part of a year at one temperature of the wire, in air of another.
struct Stay {
  Kelvin wire;
  Kelvin ambient;
  double share;
};

inline void add_stay(exposure::TemperatureMeasure& year, exposure::Regime regime, const Stay& stay) {
  exposure::Nodes& nodes = year.by_regime[static_cast<std::size_t>(regime)];
  nodes.kelvin.push_back(stay.wire.value());
  nodes.ambient_kelvin.push_back(stay.ambient.value());
  nodes.share.push_back(stay.share);
}

/// A year of a few stays, all of them parked.
inline exposure::TemperatureMeasure year_of(const std::vector<Stay>& stays) {
  exposure::TemperatureMeasure year;
  for (const Stay& stay : stays) add_stay(year, exposure::Regime::parked, stay);
  return year;
}

/// A whole year at one temperature.
inline exposure::TemperatureMeasure year_at_constant(Kelvin temperature) {
  return year_of({{temperature, temperature, 1.0}});
}

}  // namespace heatside::tests
