#pragma once

#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/exposure/trip_trace.hpp"
#include "heatside/library/library.hpp"

namespace heatside::population {

struct TripOptions {
  library::RunningState state = library::RunningState::city;
  Minutes length{30.0};  ///< from key-on to key-off
  Minutes after{360.0};  ///< how long to watch it cool
  Minutes step{1.0};
  Kelvin ambient = celsius(25.0);  ///< constant
};

/// The trace of one trip with the place that it belongs to.
struct SegmentTrip {
  std::string segment, stretch, zone;  ///< ids
  std::string lot;                     ///< of the wires that were followed
  exposure::Trip trip;
  Minutes time_constant{0.0};  ///< see `exposure::time_constant`
  std::vector<exposure::TripRow> rows;
};

/// One trip from cold of the wires of a segment that are first to crack when handled, at the likely numbers, without heat
/// along the copper.
///
/// @throws DomainError  the case has no such segment, or see `exposure::trip_trace`
[[nodiscard]] SegmentTrip segment_trip(const casefile::Case& job, const library::Library& library,
                                       const std::string& segment, const TripOptions& options);

}  // namespace heatside::population
