#pragma once

#include <vector>

#include "heatside/ageing/clock.hpp"
#include "heatside/exposure/trip_trace.hpp"
#include "heatside/library/library.hpp"

/// How far one trip ages a wire.

namespace heatside::population {

/// What a clock on a trip depends on beside temperature.
struct TripClock {
  const library::Insulation& insulation;
  ageing::WireSurroundings around;
  double humidity_percent{};  ///< of the ambient air, annual mean
  bool damp = false;          ///< trapped here
  Kelvin ambient{ice_point_kelvin};
};

/// Clock rate at one temperature of the insulation [1/h].
[[nodiscard]] double rate_at(const TripClock& clock, Kelvin insulation, const library::ModelConstants& model);

/// Share of the life that passes while the engine runs and after it, between the first row and the last (trapezoidal rule).
struct TripAgeing {
  double running{}, after{};
};
[[nodiscard]] TripAgeing ageing_of(const std::vector<exposure::TripRow>& rows, const TripClock& clock,
                                   const library::ModelConstants& model);

/// The first of the rows at which the insulation is hottest.
/// @pre  there are rows
[[nodiscard]] const exposure::TripRow& hottest_of(const std::vector<exposure::TripRow>& rows);

}  // namespace heatside::population
