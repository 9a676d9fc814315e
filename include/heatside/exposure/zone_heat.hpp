#pragma once

#include <array>

#include "heatside/base/units.hpp"
#include "heatside/library/records.hpp"

namespace heatside::exposure {

/// The numbers of a zone that one trace is computed from: the record's likely ones, or a draw.
struct ZoneHeat {
  double ambient_following{};  ///< s, change of zone per change of ambient temperature [-], 0 to 1
  std::array<KelvinRise, 4> rise{KelvinRise{0.0}, KelvinRise{0.0}, KelvinRise{0.0}, KelvinRise{0.0}};
  ///< above the anchor ambient, warm engine, by running state [K]
  KelvinRise soak_peak{0.0};  ///< highest rise after key-off from city driving at the anchor ambient [K]
  Minutes tau_warm{0.0}, tau_soak_rise{0.0}, tau_soak_decay{0.0};
};

/// The likely numbers of a zone record.
[[nodiscard]] ZoneHeat likely_zone_heat(const library::Zone& zone);

/// The model's constants of the trace, as quantities.
struct TraceConstants {
  Minutes engine_warm_time{0.0};  ///< time constant of the engine's warming
  Minutes exhaust_warm_time{0.0};
  Minutes exhaust_decay_time{0.0};  ///< time constant of the exhaust's cooling
  KelvinRise engine_excess{0.0};    ///< engine above an ambient of the anchor temperature
  Minutes slow_decay_from{0.0};     ///< zones that decay slower than this are warmed by the engine alone at first
  double running_response_share{};  ///< of tau_warm, while running
  KelvinRise soak_threshold{0.0};   ///< a stopped zone warmer than this above ambient is in hot soak
  Kelvin anchor_ambient{298.15};    ///< ambient at which the rises are stated
  Hours hottest_hour{0.0};          ///< of the day
  Hours sun_centre_hour{0.0};
};

[[nodiscard]] TraceConstants trace_constants(const library::ModelConstants& model);

/// How strongly engine and exhaust heat a zone after key-off.
struct SoakAmplitudes {
  KelvinRise engine{0.0};   ///< S_e, decays with tau_soak_decay
  KelvinRise exhaust{0.0};  ///< S_x, decays with the exhaust
};

/// Amplitudes for which the zone, warm from city driving at the anchor ambient, peaks at `soak_peak` after key-off:
///
///     max over t of  rise_city e^(-t/tau_r) + S_e (e^(-t/tau_d) - e^(-t/tau_r)) + S_x (e^(-t/25 min) - e^(-t/tau_r))
///
/// S_x is 0 unless tau_d is at least `slow_decay_from` and S_e alone would exceed `engine_excess`; then S_e is that
/// excess and S_x makes up the peak. Found once a zone record; a draw scales both by peak_draw / peak_likely.
///
/// @throws DomainError  the peak lies below the city rise, or the zone rises so slowly that no amplitude can give it
/// @par Source     heat balance of our own; the amplitudes are judgement, the bounds stand in each zone record
/// @par Tested by  tests/exposure/zone_heat_test.cpp
[[nodiscard]] SoakAmplitudes soak_amplitudes(const ZoneHeat& heat, const TraceConstants& constants);

}  // namespace heatside::exposure
