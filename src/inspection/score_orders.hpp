#pragma once

#include <optional>
#include <vector>

#include "heatside/inspection/score.hpp"
#include "inspection/resampling.hpp"

namespace heatside::inspection {

/// By predicted chance against hottest first, over the rounds that can tell them apart.
[[nodiscard]] std::optional<OrderComparison> compared_orders(const std::vector<Look>& looks, const ScoreOptions& options);

}  // namespace heatside::inspection
