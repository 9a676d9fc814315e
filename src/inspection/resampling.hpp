#pragma once

#include <algorithm>
#include <cstdint>
#include <optional>
#include <vector>

#include "heatside/base/random.hpp"
#include "heatside/inspection/score.hpp"

namespace heatside::inspection {

/// Index of the n-th thing that is drawn with replacement out of `count`.
[[nodiscard]] inline std::size_t resampled_index(const RandomQuantity& quantity, std::uint64_t n, std::size_t count) {
  const auto index = static_cast<std::size_t>(uniform_draw(quantity, n) * static_cast<double>(count));
  return std::min(index, count - 1);
}

/// The middle nine tenths of values, by linear interpolation between them; nothing where more than one in ten of the
/// resamples gave none.
[[nodiscard]] inline std::optional<Interval> middle_of(std::vector<double> values, std::size_t resamples) {
  if (values.empty() || 10 * values.size() < 9 * resamples) return std::nullopt;
  std::sort(values.begin(), values.end());
  const auto quantile = [&](double probability) {
    const double place = probability * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, values.size() - 1);
    return values[below] + (place - static_cast<double>(below)) * (values[above] - values[below]);
  };
  return Interval{quantile(0.05), quantile(0.95)};
}

}  // namespace heatside::inspection
