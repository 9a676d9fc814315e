#pragma once

#include "base/strict_json.hpp"
#include "heatside/remedy/plan.hpp"

namespace heatside::report {

/// The plan of a remedy for programs.
[[nodiscard]] Json plan_json(const remedy::Plan& plan);

}  // namespace heatside::report
