#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "heatside/population/value_of_information.hpp"

/// Looks one after the other, each chosen after what the one before has shown.

namespace heatside::population {

/// An action that an outcome of a look rules out, whatever it costs.
struct RuledOut {
  std::size_t outcome{};  ///< of the look
  std::size_t choice{}, action{};
};

/// A look and what it costs [money].
struct PricedLook {
  Look look;
  double price = 0.0;                 ///< whatever is found
  ConditionRow harm{};                ///< expected harm done by looking, by condition
  std::optional<std::size_t> cover;   ///< index of the cover that has to come off first
  std::vector<RuledOut> ruled_out{};  ///< all actions of a choice together rule out none
};

/// Everything a search for the next look needs.
struct LookingProblem {
  Knowledge knowledge;
  std::vector<Choice> choices;
  std::vector<PricedLook> looks;     ///< at most one is made at each segment on a way through the tree
  std::vector<double> cover_prices;  ///< [money], paid by the first look below each cover; 0 for one that is off
};

struct TreeOptions {
  std::size_t depth = 3;             ///< looks on a way; 0 to 8
  std::size_t keep = 6;              ///< looks tried at each place, the best by what they bring next
  std::optional<double> spend_most;  ///< [money], prices of a way together; harm is not counted
  double most_work = 3.0e9;          ///< multiplications; beyond it the draws are thinned
};

struct TreeBranch;

/// A place in the tree: what to do there.
struct TreeNode {
  std::optional<std::size_t> look;   ///< the next look; none: choose now
  std::vector<std::size_t> actions;  ///< the best action of each choice, were one to choose here
  double chance = 1.0;               ///< of coming here
  double loss_if_chosen = 0.0;       ///< [money], expected here, if one chooses now
  double loss = 0.0;                 ///< [money], expected here with the looks still to come and their costs
  std::vector<TreeBranch> branches;
};

/// Where outcomes lead that ask for the same steps from then on.
struct TreeBranch {
  std::vector<std::size_t> outcomes;  ///< of the look, in rising order
  double chance{};                    ///< given that one is at the node above
  TreeNode next;
};

struct DecisionTree {
  TreeNode root;
  double net_saving{};         ///< [money], against choosing now, after all costs; >= 0
  std::size_t draws{};         ///< that it was worked out with
  bool thinned = false;        ///< fewer than there are
  bool all_looks_kept = true;  ///< false: only the best `keep` looks were tried at some place
};

/// Best way through at most `depth` looks, each followed by whatever its outcome advises, to a choice.
///
/// At each place the looks are ranked by what they bring as the last one (at the start of three or more: as the last but
/// one) and the best `keep` are followed. Where the work would pass `most_work`, evenly weighted draws are taken by
/// systematic resampling with a fixed start. Branches of the same further steps are joined. Same digits whatever the
/// machine.
///
/// What an outcome rules out is never among the actions from there on, and losses are those of the actions that are. The
/// looks are chosen as if nothing were ruled out: a rule must not make it look dear to know.
///
/// @throws DomainError  as `value_of_look`, more than 8 looks deep, a cover that is not there, a price below 0
/// @par Source     dynamic programming on a decision tree, Raiffa & Schlaifer 1961 (from memory)
/// @par Tested by  tests/population/decision_tree_test.cpp: dynamic programming over all conditions in the test
[[nodiscard]] DecisionTree decision_tree(const LookingProblem& problem, const TreeOptions& options = {});

/// Two looks, the second made only where the first leaves it worth its cost.
struct PairValue {
  std::size_t first{}, second{};  ///< indices of looks
  double net_saving{};            ///< [money], against choosing now, after all costs; may be negative
};

/// All pairs of looks at different segments in the better order of the two, best first; ties by index.
/// Worked out with all draws.
/// @param spend_most  [money], as in TreeOptions
[[nodiscard]] std::vector<PairValue> pairs_of_looks(const LookingProblem& problem, std::optional<double> spend_most = {});

}  // namespace heatside::population
