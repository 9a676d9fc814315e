#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "heatside/ageing/history.hpp"
#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/library/library.hpp"

/// Where the ageing of one segment came from, and what would change it.

namespace heatside::population {

/// Part of the ageing that happened between two temperatures.
struct BandShare {
  int from_celsius{}, to_celsius{};
  double hours_a_year{};
  double share{};  ///< of the clock since fitting; sums to 1 over the bands
};

/// Part of the ageing in one running state and in the soak after it.
struct StateShare {
  double running{}, soak{};
};

/// What the ageing would be less without one cause. The parts need not sum to 1: causes act together.
struct CauseShare {
  std::string cause;  ///< "zone", "own current", "hot body", "terminal", "neighbouring zones"
  double share{};     ///< of the clock since fitting; below 0 where the cause cools
};

/// What another choice would do from now on.
struct ChangeEffect {
  std::string change;              ///< plain words
  std::string remark;              ///< what it rests on, or why it does nothing here; may be empty
  double pace{};                   ///< clock of the change over the clock as it is, on the future use
  std::optional<Years> remaining;  ///< until this wire cracks when handled; absent where it would be replaced
  Years new_wire{0.0};             ///< until a new wire of it does
};

struct Explanation {
  std::string id, name, loom, lot, insulation, insulation_name;
  bool compound_known = false;
  std::string stretch, zone;         ///< where the segment is worst
  std::optional<Metres> from_start;  ///< of the worst spot, from the segment's `from` node
  Kelvin equivalent_temperature{273.15};
  Years remaining{0.0}, new_wire{0.0};  ///< until flex-cracks: this wire, and a new one on the future use
  exposure::PerRegime by_regime{};      ///< sums to 1
  std::array<StateShare, 4> by_state{};
  std::vector<BandShare> by_temperature;  ///< bands of 10 K, coldest first
  std::vector<CauseShare> by_cause;       ///< zone first; only causes that the case has
  std::vector<ChangeEffect> changes;
};

/// Explains the wire group and stretch of a segment that are first to crack when handled, in the likely case.
///
/// @param segment  id of a segment of the case
/// @throws DomainError  the case has no such segment, or see `likely_estimate`
/// @par Tested by  tests/population/explanation_test.cpp
[[nodiscard]] Explanation explain_segment(const casefile::Case& job, const library::Library& library,
                                          const std::string& segment);

/// As above for every segment, in the order of the case, without what changed cases would show: `by_cause` and `changes` are
/// empty.
/// @throws DomainError  see `likely_estimate`
[[nodiscard]] std::vector<Explanation> explain_heat(const casefile::Case& job, const library::Library& library);

}  // namespace heatside::population
