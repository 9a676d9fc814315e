#pragma once

#include <vector>

#include "heatside/ageing/kinetics.hpp"

/// Ageing over the spans of a loom's life, and when a threshold was or will be crossed.

namespace heatside::ageing {

/// How the kinetics are solved. Both agree to 1e-8 in the extent.
enum class Solution { closed_form, integrated };

/// A time at constant clock rates.
struct ClockSpan {
  Hours length{0.0};
  ClockRates rates;
};

/// Elongation at break after the spans, in their order.
[[nodiscard]] Strain elongation_after(const Kinetics& kinetics, const std::vector<ClockSpan>& past, Solution solution);

/// Years from the end of the past until elongation falls to `threshold`, on the future rates for ever;
/// negative where it was reached that many years ago. Cutting a span in two changes nothing.
///
/// @param threshold  above the floor of the law; at or above its initial elongation it counts as reached at the start
/// @return           infinite only when the future clock stands still
[[nodiscard]] Years years_until(const Kinetics& kinetics, const std::vector<ClockSpan>& past, const ClockRates& future,
                                Strain threshold, Solution solution);

}  // namespace heatside::ageing
