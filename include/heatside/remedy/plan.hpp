#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/remedy/remedies.hpp"

/// The work of one remedy, as a list to hold in the hand.

namespace heatside::remedy {

/// A circuit that runs through what is worked on.
struct PlanCircuit {
  casefile::Circuit circuit;
  bool untraded = false;             ///< no price speaks for it: it comes first and is checked twice
  bool unfused = false;              ///< stated, or usual for its function and no fuse is stated
  std::optional<double> milliohms;   ///< of its copper at 20 degC, over its segments one after the other [mOhm]
  std::vector<std::string> missing;  ///< keys that the case does not state
};

/// A plug or break-out that is unplugged or reached.
struct PlanNode {
  std::string id, name;
  std::vector<std::string> segments;  ///< that end there, of those worked on
};

/// How a segment lies.
struct PlanSegment {
  std::string id, name, from, to;  ///< names of the nodes
  Metres length{0.0};
  std::optional<Metres> route_radius;
  std::size_t wires = 0;
  std::vector<std::string> sizes;   ///< "12 of 0.5 mm2"
  std::vector<std::string> places;  ///< "upper-bay, in tube-pp"
  std::vector<std::string> heat;    ///< hot parts, their distance and shield
  std::string cover_group;
  bool leak = false;  ///< oil or coolant reaches it
};

struct Plan {
  Result result;
  bool is_wiring_plan = false;  ///< otherwise only a route checklist: the case lists no circuits here
  std::vector<PlanCircuit> circuits;
  std::vector<PlanNode> nodes;
  std::vector<PlanSegment> route;
  std::vector<std::string> before, after;  ///< steps, in order
  std::optional<Date> look_again;          ///< absent: it cracks when handled already
};

/// @param id  of a remedy of the answer
/// @throws DomainError  no remedy of that id, with the nearest one; or one that takes nothing in hand
/// @par Source     steps: common practice, no source
/// @par Tested by  tests/remedy/plan_test.cpp
[[nodiscard]] Plan plan_of(const casefile::Case& job, const library::Library& library, const Answer& answer,
                           const std::string& id);

/// The day on which to look again: when a tenth of the draws crack when handled; absent: that time is over.
[[nodiscard]] std::optional<Date> look_again_on(const casefile::Case& job, const Weakest& weakest);

/// What is done at the end of every remedy, before and after power comes back.
[[nodiscard]] std::vector<std::string> final_checks();

}  // namespace heatside::remedy
