#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "heatside/population/belief.hpp"

/// What it is worth to know more before choosing.
///
/// Losses are amounts of money of any one currency [money]. They are linear in the conditions of the segments, so that the
/// expectation over conditions within a draw is exact, also after a look at a segment, whose condition is then known better
/// than the draw says. All values come from the same weighted draws: a look cannot be worth less than nothing.
///
/// @par Source  Raiffa & Schlaifer 1961, Applied Statistical Decision Theory (from memory); Straub & Faber 2005, Structural
///              Safety 27, 335-355

namespace heatside::population {

/// What the condition of one segment costs under an action.
struct SegmentLoss {
  std::size_t segment{};
  ConditionRow by_condition{};  ///< [money], in the order of ageing::Condition
};

/// Something that can be done, and what it costs: fixed + by_draw + the sum of its segments.
struct Action {
  std::string id;
  double fixed = 0.0;                 ///< [money]
  std::vector<double> by_draw;        ///< [money], N more losses that depend on the draw alone; may be empty
  std::vector<SegmentLoss> segments;  ///< several entries of one segment add up
};

/// Actions of which exactly one is taken. Several choices, for example one a loom, are made side by side: their losses add
/// up, and a look informs them all.
struct Choice {
  std::string id;
  std::vector<Action> actions;
};

/// What a look can show: one row an outcome, P(outcome | condition). For every condition the outcomes sum to 1.
struct OutcomeTable {
  std::vector<ConditionRow> outcomes;
};

/// A way of learning about one segment.
struct Look {
  std::size_t segment{};
  OutcomeTable table;
};

/// Losses before any further look.
struct ExpectedLosses {
  std::vector<std::vector<double>> by_action;  ///< [money], by choice and action
  std::vector<std::size_t> best;               ///< the action of least expected loss of each choice, the first of equals
  double least{};                              ///< [money], sum over the choices
};

/// @throws DomainError  a choice without actions, a loss that is not finite, a segment or number of draws that does not fit
[[nodiscard]] ExpectedLosses expected_losses(const Knowledge& knowledge, const std::vector<Choice>& choices);

/// What one outcome leads to.
struct OutcomeView {
  double chance{};
  std::vector<std::size_t> best;  ///< action of each choice; where the chance is 0, as without the look
};

/// What a look is worth before its own cost.
struct LookValue {
  double saving{};          ///< [money], expected; >= 0
  double standard_error{};  ///< [money], of the saving, as a sample of draws
  std::vector<OutcomeView> outcomes;
  bool changes_a_choice = false;  ///< an outcome leads to another action by more than rounding
};

/// Value of a look: least expected loss now less the mean of the least expected losses after each outcome.
/// The standard error is that of a weighted mean with the actions held: sqrt(sum w^2 (g - mean g)^2).
///
/// @throws DomainError  as `expected_losses`, or a table whose rows are no chances or do not sum to 1 within 1e-9
/// @par Tested by  tests/population/value_of_information_test.cpp: exact integration, enumeration of all conditions
[[nodiscard]] LookValue value_of_look(const Knowledge& knowledge, const std::vector<Choice>& choices, const Look& look);

/// Each of several looks for itself: as `value_of_look` one by one, but faster.
[[nodiscard]] std::vector<LookValue> value_of_each_look(const Knowledge& knowledge, const std::vector<Choice>& choices,
                                                        const std::vector<Look>& looks);

/// The same for several looks at different segments that are all made before choosing. Outcomes in mixed order, the last
/// look running fastest.
/// @throws DomainError  two looks at one segment, or more than 4096 outcomes together
[[nodiscard]] LookValue value_of_looks(const Knowledge& knowledge, const std::vector<Choice>& choices,
                                       const std::vector<Look>& looks);

/// What it would be worth to know everything: no look and no number of looks is worth more.
struct PerfectInformation {
  double saving{};     ///< [money], >= 0
  bool exact = false;  ///< false: an upper bound
};

/// Least expected loss now less the expected loss of who knows the condition of every segment.
///
/// Exact where all combinations of conditions can be enumerated, and for two actions whose losses by condition are multiples
/// of a common step, of which their range holds no more than 1024. Otherwise an upper bound: losses are spread onto a
/// lattice without changing their mean, and with three or more actions the gains over the best action of each draw are added
/// up. Both can only add to what knowing is worth, because the least of several losses is concave in them.
///
/// @throws DomainError  as `expected_losses`
/// @par Source     Jensen's inequality; the lattice is own work
/// @par Tested by  tests/population/value_of_information_test.cpp
[[nodiscard]] PerfectInformation perfect_information(const Knowledge& knowledge, const std::vector<Choice>& choices);

}  // namespace heatside::population
