#pragma once

#include <string>
#include <vector>

#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/exposure/zone_trace.hpp"
#include "heatside/library/library.hpp"

/// The records that the tests of this room read their zones, duties and climates from.

namespace heatside::exposure::testing {

inline const library::Library& records() {
  static const library::Library library = library::built_in_library();
  return library;
}

inline TraceConstants constants() { return trace_constants(records().model); }

inline ZoneHeat zone_heat(const std::string& id) { return likely_zone_heat(records().zones.at(id)); }

inline ZoneTrace trace_of(const ZoneHeat& heat, const std::vector<Drive>& drives) {
  return periodic_week(heat, soak_amplitudes(heat, constants()), constants(), drives);
}

inline ZoneTrace trace_of(const std::string& zone, const std::string& duty) {
  return trace_of(zone_heat(zone), weekly_drives(records().duties.at(duty)));
}

/// A day on which the ambient stays at one temperature.
inline DailyCourse even_day(double celsius_all_day) { return {celsius(celsius_all_day), KelvinRise{0.0}, 1.0}; }

inline double rise_at(const ZoneTrace& trace, const TraceInterval& interval, double after, const DailyCourse& day,
                      KelvinRise rise) {
  return rise_above_ambient(trace, state_at(trace, interval, Minutes{after}), day, rise).value();
}

inline KelvinRise city_rise(const ZoneHeat& heat) {
  return heat.rise[static_cast<std::size_t>(library::RunningState::city)];
}

}  // namespace heatside::exposure::testing
