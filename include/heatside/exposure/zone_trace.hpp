#pragma once

#include <array>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/exposure/ambient.hpp"
#include "heatside/exposure/zone_heat.hpp"
#include "heatside/library/records.hpp"

/// Temperature of a zone over a week that repeats itself, in closed form.
///
/// Engine warmth E and exhaust warmth X (0 cold, 1 warm) and the zone's rise theta above ambient follow, in minutes,
///
///     running:  E' = (1-E)/8   X' = (1-X)/8    theta' = (rise E - theta) / (0.6 tau_warm)
///     stopped:  E' = -E/tau_d  X' = -X/25      theta' = (k (S_e E (1-tau_r/tau_d) + S_x X (1-tau_r/25)) - theta) / tau_r
///
/// with rise = rise_state + (25 - T_amb)(1-s) and k = (peak + (25 - T_amb)(1-s)) / peak at the ambient of that instant.
/// theta is linear in rise_state, S_e, S_x and the ambient, so six responses carry every month, day and running state.
///
/// @par Tested by  tests/exposure/zone_trace_test.cpp: against Boost.Odeint (1e-6 K) and piecewise exponentials

namespace heatside::exposure {

/// One drive of a week, counted from Monday 00:00.
struct Drive {
  Minutes start{0.0};
  Minutes length{0.0};
};

/// The drives of a weekly schedule in order of time.
[[nodiscard]] std::vector<Drive> weekly_drives(const library::Duty& duty);

/// Warmth of engine and exhaust and the six responses of a zone at one instant [-].
struct TraceState {
  double engine{}, exhaust{};
  double running{}, by_engine{}, by_exhaust{};              ///< responses u, v, w
  double running_cos{}, by_engine_cos{}, by_exhaust_cos{};  ///< the same inputs times the day's cosine
};

/// A time of running or of standing.
struct TraceInterval {
  Minutes start{0.0};  ///< from Monday 00:00; may lie before it or beyond Sunday
  Minutes length{0.0};
  bool running{};
  TraceState at_start;
};

/// A zone's week in its periodic state.
struct ZoneTrace {
  ZoneHeat heat;
  SoakAmplitudes soak;
  TraceConstants constants;
  std::vector<TraceInterval> week;  ///< in order of time, covers 7 days exactly
};

/// @param drives  not overlapping, in order, none longer than the week; may be empty (laid up)
/// @throws DomainError  see `soak_amplitudes`
[[nodiscard]] ZoneTrace periodic_week(const ZoneHeat& heat, const SoakAmplitudes& soak, const TraceConstants& constants,
                                      const std::vector<Drive>& drives);

/// State at a time after the start of an interval, 0 to its length.
[[nodiscard]] TraceState state_at(const ZoneTrace& trace, const TraceInterval& interval, Minutes after);

/// cos(2 pi (t - hottest hour) / 24 h) at a time of the week.
[[nodiscard]] double day_cosine(const TraceConstants& constants, Minutes time_of_week);

/// Rise of the zone above the ambient of the instant.
///
/// @param state  responses at the instant
/// @param day    the day's ambient course
/// @param rise   the zone's rise in the running state of this week, above the anchor ambient
[[nodiscard]] KelvinRise rise_above_ambient(const ZoneTrace& trace, const TraceState& state, const DailyCourse& day,
                                            KelvinRise rise);

}  // namespace heatside::exposure
