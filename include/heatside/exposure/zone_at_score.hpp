#pragma once

#include "heatside/exposure/zone_heat.hpp"
#include "heatside/library/records.hpp"

/// A zone's numbers at one value of its normal score z: 0 is the likely zone, -1.645 and +1.645 the ends of its bands.

namespace heatside::exposure {

inline constexpr double score_limit = 4.0;      ///< scores are cut at minus and plus this
inline constexpr double score_of_band = 1.645;  ///< 5 % of belief lies beyond `low`, and 5 % beyond `high`

/// A record's number at a score:
///
///     likely + (high - likely) z / 1.645   for z > 0
///     likely + (likely - low)  z / 1.645   for z < 0
///
/// with z cut at +-4. A number without a band moves by its sd; one with neither stays where it is.
[[nodiscard]] double value_at_score(const Sourced& number, double z);

/// The zone at a score: the four rises and the soak peak move together, `ambient_following` and the times stay.
/// Columns that moved by themselves would put the soak peak below the city rise in many draws.
///
/// @param z  standard normal score [-]; cut at +-4. Far below 0 a zone that is hardly warmed may come out a few kelvin
///           below the ambient; its soak peak is never exactly 0, because the trace divides by it.
/// @par Tested by  tests/exposure/zone_at_score_test.cpp
[[nodiscard]] ZoneHeat zone_heat_at(const library::Zone& zone, double z);

/// Soak amplitudes at a score: those of the likely zone, both times peak(z) / peak_likely. They are not solved for anew,
/// so that they are smooth in z and exist for every z.
///
/// @param at_likely  `soak_amplitudes(likely_zone_heat(zone), ...)`, found once a record
[[nodiscard]] SoakAmplitudes soak_amplitudes_at(const library::Zone& zone, const SoakAmplitudes& at_likely, double z);

}  // namespace heatside::exposure
