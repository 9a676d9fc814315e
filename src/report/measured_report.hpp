#pragma once

#include <string>

#include "base/strict_json.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/zone_scores.hpp"

namespace heatside::report {

/// What the measured temperatures did to the zones, in words; empty without any.
[[nodiscard]] std::string measured_text(const exposure::ZoneScores& scores);

/// `{"zones": [...], "readings": [...], "warnings": [...]}`
[[nodiscard]] Json measured_json(const exposure::ZoneScores& scores, const casefile::Case& job);

}  // namespace heatside::report
