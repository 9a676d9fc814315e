#pragma once

#include "base/strict_json.hpp"
#include "heatside/ageing/condition.hpp"
#include "heatside/population/ageing_curves.hpp"
#include "heatside/population/estimate.hpp"

/// Numbers of curves as JSON.

namespace heatside::page {

/// `{"p10", "p50", "p90"}` of elongations, in per cent.
[[nodiscard]] Json percents_json(const population::Quantiles<Strain>& elongation);

/// Elongations at which conditions begin, in per cent: `{"stiff", "flex_cracks", "cracked", "crumbling"}`.
[[nodiscard]] Json limits_json(const ageing::ConditionThresholds& limits);

/// `[{"temperature_Cel", "hours": {"p10", "p50", "p90"}, "straight_hours"}]`; what never comes is null.
[[nodiscard]] Json life_json(const population::LifeLine& line);

/// `{"p10", "p50", "p90"}` of lives in hours; what never comes is null.
[[nodiscard]] Json hours_json(const population::Quantiles<Years>& life);

/// A number, or null where it is infinite: JSON has no such number.
[[nodiscard]] Json finite_or_null(double number);

}  // namespace heatside::page
