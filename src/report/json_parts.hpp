#pragma once

#include <vector>

#include "base/strict_json.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/temperature_measure.hpp"

/// Pieces that several JSON documents share.

namespace heatside::report {

/// `{"running": ..., "soak": ..., "parked": ...}`
[[nodiscard]] Json regimes_json(const exposure::PerRegime& parts);

/// `[{"at": pointer, "text": ..., "grade": ...}]`
[[nodiscard]] Json assumptions_json(const std::vector<casefile::Assumption>& assumptions);

}  // namespace heatside::report
