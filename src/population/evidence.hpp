#pragma once

#include <cstddef>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/belief.hpp"
#include "heatside/population/normals.hpp"
#include "population/drawn_case.hpp"
#include "population/factor_candidates.hpp"

namespace heatside::population {

/// What one finding says in every draw.
struct FindingEvidence {
  std::size_t finding{};           ///< index in `Case::findings`
  std::vector<double> likelihood;  ///< P(finding | draw, earlier ones at that place), up to a factor common to all draws
  double most = 1.0;               ///< largest likelihood that any condition and compound would give
};

/// Mean likelihood of each finding before all findings, by its number: how
/// often it comes where heat was not the cause. Found with the first draws that
/// are weighed, and kept: draws that have learnt would give it too often.
using Usual = std::map<std::size_t, double>;

/// What the findings of a case say about its draws, in their order.
///
/// A look weighs a draw by the chance of seeing that, summed over the
/// conditions of the place on the day of the look. Only heat speaks about other
/// places: a finding of another cause weighs nothing, one whose cause is unsure
/// by the share that heat has of such findings. `not-seen` weighs nothing;
/// `altered` makes draws likelier in which the place was cracked or worse on
/// the day of the repair. A bend round a stated rod and a pulled tail are
/// compared with the elongation of each draw on the day of the test; a clue
/// with its compound.
///
/// The factors of the stretches are integrated out: exactly where a place was only looked at, and on one day; over
/// candidates where it was tested, or looked at on several days or in parts.
class Evidence {
 public:
  Evidence(const casefile::Case& job, const library::Library& library);

  [[nodiscard]] std::vector<FindingEvidence> weigh(DrawnCase& drawn, Normals& normals, Usual& usual) const;
  /// Whether any finding of the case can weigh anything.
  [[nodiscard]] bool any() const { return !counted_.empty(); }
  [[nodiscard]] std::size_t count() const { return counted_.size(); }

 private:
  struct PlaceSeen;
  [[nodiscard]] PlaceSeen place_seen(const std::string& segment, DrawnCase& drawn, Normals& normals) const;
  [[nodiscard]] bool looks_alone(const std::string& segment) const;
  void weigh_look(const ConditionRow& row, PlaceSeen& place, FindingEvidence& one, Usual& usual) const;
  void weigh_candidates(PlaceSeen& place, FindingEvidence& one, DrawnCase& drawn, Normals& normals, Usual& usual) const;
  [[nodiscard]] std::vector<double> of_clues(const casefile::Finding& finding, std::set<std::string>& counted,
                                             DrawnCase& drawn, Normals& normals) const;

  const casefile::Case& job_;
  const library::Library& library_;
  std::vector<std::size_t> counted_;
};

/// Chance of a finding at a place for each candidate and draw, if heat was the cause.
[[nodiscard]] std::vector<double> chances_by_heat(const casefile::Case& job, const library::Library& library,
                                                  const casefile::Finding& finding, const SegmentDraws& segment,
                                                  const FactorCandidates& candidates, DrawnCase& drawn, Normals& normals);

/// Mixed with what is found where heat was not the cause: then any draw gives it as often.
void soften(std::vector<double>& chances, double heat_share, double usual);

}  // namespace heatside::population
