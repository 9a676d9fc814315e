#pragma once

#include <optional>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/belief.hpp"
#include "population/drawn_case.hpp"

/// What one finding says of the place that it speaks of.

namespace heatside::population {

/// The part of a segment that a finding speaks of: one stretch, or one lot's wires, or all of it.
struct FoundPart {
  SegmentDraws draws;
  std::vector<std::vector<std::string>> lots;  ///< of the groups of each stretch
};

[[nodiscard]] FoundPart part_of(const SegmentDraws& all, const casefile::Segment& segment, const casefile::Finding& finding);

/// Time of what was found, from the inspection; of the repair where the place was found altered.
[[nodiscard]] Years time_of(const casefile::Finding& finding, const casefile::Case& job);

/// P(what was seen or read | condition) whatever the cause; nothing where the finding is no look or weighs nothing.
[[nodiscard]] std::optional<ConditionRow> seen_row(const casefile::Finding& finding, const library::Library& library);

/// As `seen_row`; nothing too where the cause was certainly not heat.
[[nodiscard]] std::optional<ConditionRow> row_of(const casefile::Finding& finding, const library::Library& library);

[[nodiscard]] inline bool may_be_heat(const casefile::Finding& finding) {
  return finding.cause == casefile::Cause::heat || finding.cause == casefile::Cause::unsure;
}

/// Chance of the result of a test on a tail, by the elongation that the worst of its wires has left on the day of the test,
/// draw by draw; up to a factor common to all.
///
/// A pulled tail shows that elongation with a normal error of the stated standard error. A tail bent round a rod cracks
/// where the strain, made worse by notches, is above it, with a log-normal error of the method's.
class TailTest {
 public:
  TailTest(const casefile::Case& job, const library::Library& library, const casefile::Finding& finding,
           const FoundPart& part, DrawnCase& drawn, Normals& normals);

  /// @param part  the part's draws, with these factors of its stretches
  [[nodiscard]] std::vector<double> chances(const SegmentDraws& part) const;
  /// Elongation at break of the worst wire on the day of the test [-].
  [[nodiscard]] std::vector<double> elongation(const SegmentDraws& part) const;

 private:
  struct Wire {
    std::vector<double> age;  // on that day, without the factor of the stretch
    std::vector<const AgeLaw*> law;
    std::vector<AgeLaw::Scale> scale;
  };
  [[nodiscard]] Wire wire(const PlaceDraws& place, const std::string& lot, Years after, DrawnCase& drawn, Normals& normals);

  const library::Library& library_;
  const casefile::Finding& finding_;
  double notched_ = 0.0;  // strain of a bend
  ageing::GuardTable guard_;
  std::map<std::string, AgeLaw> laws_;
  std::vector<std::vector<Wire>> wires_;  // by stretch and group
};

}  // namespace heatside::population
