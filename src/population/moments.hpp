#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "population/looking.hpp"

namespace heatside::population {

/// All that a next look at a segment needs to know of a standing: sums over the draws, by condition c of the segment.
struct SegmentMoments {
  ConditionRow weight{};              ///< sum of w P(c)
  std::vector<ConditionRow> without;  ///< by difference column: sum of P(c) (v - w e), the losses without this segment
};

/// Moments of some segments for several standings at once, by standing and segment (in the order of `segments`).
/// Four draws at a time in a fixed order: the same digits from every compiler and instruction set.
[[nodiscard]] std::vector<std::vector<SegmentMoments>> moments_of(const Columns& columns,
                                                                  const std::vector<const Standing*>& standings,
                                                                  const std::vector<std::size_t>& segments);

}  // namespace heatside::population
