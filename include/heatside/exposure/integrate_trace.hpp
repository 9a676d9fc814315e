#pragma once

#include <vector>

#include "heatside/exposure/zone_trace.hpp"

namespace heatside::exposure {

/// Rise of a zone above ambient on one kind of day, integrated step by step through a week with Boost.Odeint
/// (Dormand-Prince 5, piecewise between key-on and key-off). The closed form of `state_at` is checked against it.
///
/// @param trace     periodic week whose first interval gives the start
/// @param day       the day's ambient course
/// @param rise      the zone's rise in the running state of this week
/// @param times     times of the week from the start of the first interval on, in order
/// @return          the rise at each of `times` [K]
/// @throws NumericsError  the step size went to zero
[[nodiscard]] std::vector<KelvinRise> integrate_trace(const ZoneTrace& trace, const DailyCourse& day, KelvinRise rise,
                                                      const std::vector<Minutes>& times);

}  // namespace heatside::exposure
