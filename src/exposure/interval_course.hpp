#pragma once

#include <complex>

#include "heatside/exposure/zone_trace.hpp"

namespace heatside::exposure {

/// The states of a zone along one interval: as `state_at`, with what all its instants share worked out before.
class IntervalCourse {
 public:
  IntervalCourse(const ZoneTrace& trace, const TraceInterval& interval);

  /// @param after  the start of the interval, 0 to its length
  [[nodiscard]] TraceState at(Minutes after) const;

 private:
  [[nodiscard]] TraceState running_at(double t) const;
  [[nodiscard]] TraceState stopped_at(double t) const;

  bool running_;
  TraceState from_;
  double tau_;                                                    // [min] of the zone's own response
  double engine_;                                                 // [1/min] exponent of its warming, or of its decay
  double exhaust_warm_time_, exhaust_decay_;                      // [min], [1/min]
  std::complex<double> phase_;                                    // of the day at the start
  std::complex<double> of_day_, of_engine_day_, of_exhaust_day_;  // 1 + mu tau of the inputs e^(mu t)
};

}  // namespace heatside::exposure
