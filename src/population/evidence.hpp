#pragma once

#include <cstddef>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/belief.hpp"
#include "population/drawn_case.hpp"
#include "population/normals.hpp"

namespace heatside::population {

/// What one finding says in every draw.
struct FindingEvidence {
  std::size_t finding{};           ///< index in `Case::findings`
  std::vector<double> likelihood;  ///< P(finding | draw), up to a factor common to all draws
  std::vector<double> at_place;    ///< the same with the drawn factors of the
                                   ///< stretches, for the place itself
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
/// compared with the elongation of each draw; a clue with its compound.
class Evidence {
 public:
  Evidence(const casefile::Case& job, const library::Library& library);

  [[nodiscard]] std::vector<FindingEvidence> weigh(DrawnCase& drawn, Normals& normals, Usual& usual) const;
  /// Whether any finding of the case can weigh anything.
  [[nodiscard]] bool any() const { return !counted_.empty(); }
  [[nodiscard]] std::size_t count() const { return counted_.size(); }

 private:
  struct Looks;
  [[nodiscard]] FindingEvidence of_look(std::size_t number, const SegmentDraws& segment, Looks& looks, Usual& usual) const;
  [[nodiscard]] std::vector<double> of_clues(const casefile::Finding& finding, std::set<std::string>& counted,
                                             DrawnCase& drawn, Normals& normals) const;

  const casefile::Case& job_;
  const library::Library& library_;
  std::vector<std::size_t> counted_;
};

/// P(what was seen | condition) of a look at one place; empty where the finding
/// is no look or weighs nothing.
[[nodiscard]] std::vector<ConditionRow> row_of(const casefile::Finding& finding, const library::Library& library);

}  // namespace heatside::population
