#pragma once

#include <array>
#include <cstddef>
#include <memory>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/exposure/zone_scores.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/belief.hpp"
#include "heatside/population/normals.hpp"

/// The same draws under other wires, routes and use.

namespace heatside::population {

struct HeatMemories;  // of src/population/heat_memory.hpp

/// Everything that was learnt about a case, as draws: what is asked of the case wired otherwise is asked of these.
struct Population {
  Normals normals;
  Belief belief;
  exposure::ZoneScores zone_scores;
  bool conduction = true;
  /// Heat that was worked out for earlier questions, shared by all copies; null where every question starts anew. It changes
  /// no answer.
  std::shared_ptr<HeatMemories> memory{};
};

/// Years from the inspection until the worst wire of a segment comes to each condition, draw by draw; negative: reached
/// that long ago, infinite: never. In the order stiff, flex_cracks, cracked, crumbling; never falling from one to the next
/// within a draw, but for rounding.
struct ConditionYears {
  std::array<std::vector<double>, 4> until;
};

/// Years until each condition of some segments of a case that may differ from the one that was learnt from: other looms,
/// compounds, coverings, zones or use. Quantities of one name are drawn alike, so that a difference between two cases is a
/// difference in every draw.
///
/// The wear of a used part (`Loom::elsewhere`) has a factor of its own in every draw.
///
/// @param segments  their numbers in `job.segments`
/// @throws DomainError  a number that is not there, or as `likely_estimate`
/// @par Tested by  tests/population/alternative_test.cpp
[[nodiscard]] std::vector<ConditionYears> years_to_conditions(const casefile::Case& job, const library::Library& library,
                                                              const Population& population,
                                                              const std::vector<std::size_t>& segments);

/// Years from the inspection until the worst wire of one stretch cracks when handled and as it lies; otherwise as in
/// `ConditionYears`.
struct StretchYears {
  std::vector<double> flex_cracks, cracked;
};

/// By the stretches of a segment, in their order.
using SegmentYears = std::vector<StretchYears>;

/// As `years_to_conditions`, stretch by stretch, for wires whose arrangement or use changes on the day of the inspection.
///
/// @param past      how they lay and were used until then
/// @param to_come   how they lie and are used from then on: same inspection, lots, segments, stretches and groups, in the
///                  same order; other zones, coverings, hot bodies and future use. The same case where nothing changes.
/// @param library   of both
/// @throws DomainError  segments that do not match
/// @par Tested by   tests/population/alternative_test.cpp
[[nodiscard]] std::vector<SegmentYears> years_by_stretch(const casefile::Case& past, const casefile::Case& to_come,
                                                         const library::Library& library, const Population& population,
                                                         const std::vector<std::size_t>& segments);

}  // namespace heatside::population
