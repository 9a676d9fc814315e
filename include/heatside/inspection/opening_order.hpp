#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/library/records.hpp"
#include "heatside/population/decision_tree.hpp"
#include "heatside/population/value_of_information.hpp"

/// Where to open a loom next, and what then: what an opening is expected to save less what it costs.

namespace heatside::inspection {

/// A segment that could be opened.
struct Candidate {
  std::string id;                                 ///< of the segment; decides ties
  std::size_t segment{};                          ///< in the knowledge
  Minutes minutes{0.0};                           ///< to open, look and close, the cover apart
  std::optional<std::size_t> cover;               ///< index of the cover that has to come off first
  population::OutcomeTable table;                 ///< of the method
  population::ConditionRow break_chance{};        ///< that opening breaks it, by condition
  double break_cost = 0.0;                        ///< [money]
  double other_harm = 0.0;                        ///< [money], expected whatever its condition: latches, seals, clips
  bool airbag = false;                            ///< carries airbag or belt-tensioner circuits: never in the order
  bool opened = false;                            ///< already open: nothing more to see there
  std::vector<population::RuledOut> ruled_out{};  ///< what may no longer be chosen once an outcome was seen
};

/// What segments of a cover group have in common.
struct CoverToRemove {
  std::string id;
  Minutes minutes{0.0};  ///< off and on again
  bool off = false;
};

/// Everything the order depends on.
struct OpeningQuestion {
  population::Knowledge knowledge;
  std::vector<population::Choice> choices;
  std::vector<Candidate> candidates;
  std::vector<CoverToRemove> covers;
  double money_per_minute = 1.0;       ///< [money/min]; 1 counts money in minutes of work
  std::optional<std::size_t> allowed;  ///< further openings that the owner allows
  std::optional<double> cost_limit;    ///< [money], for the minutes of all further openings
  population::TreeOptions tree;        ///< its depth is cut to what is allowed, its limit is the cost limit
};

/// What opening one candidate next is worth.
struct OpeningValue {
  std::size_t candidate{};
  double saving{};          ///< [money], expected, before its cost
  double standard_error{};  ///< [money], of the saving
  Minutes minutes{0.0};     ///< with the cover where that is still on
  double price{};           ///< [money], of the minutes
  double harm{};            ///< [money], expected breakage by opening
  double net{};             ///< [money], saving - price - harm
  double chance_cracked{};  ///< that it is cracked or crumbling
  bool changes_a_choice = false;
  std::vector<population::OutcomeView> outcomes;
};

/// Two openings, the second only where the first leaves it worth its cost.
struct PairOfOpenings {
  std::size_t first{}, second{};  ///< candidates
  double net{};                   ///< [money]
};

enum class Looking {
  pays,             ///< open what the tree begins with
  costs_more,       ///< knowing more could change a choice, but no opening, pair or tree is worth its cost
  changes_nothing,  ///< even who knew the condition of every segment would choose the same
  not_allowed,      ///< the owner allows no further opening, or none that the money left would pay for
  nothing_left      ///< everything is open that may be opened
};

struct OpeningOrder {
  population::ExpectedLosses now;
  population::PerfectInformation perfect;  ///< no looking is worth more
  std::vector<OpeningValue> by_value;      ///< best net first; ties by id
  std::vector<PairOfOpenings> pairs;       ///< best first
  population::DecisionTree tree;           ///< its looks are candidates
  std::vector<std::size_t> by_chance;      ///< candidates, most likely cracked first; ties by id
  std::vector<std::size_t> kept_out;       ///< candidates with airbag circuits
  Looking looking{};
};

/// The opening order: one step ahead (`by_value`), two (`pairs`), three (`tree`), and by chance alone.
///
/// Each list looks ahead so many openings and no further: where more are needed before any of them pays, it does not see it.
///
/// @throws DomainError  a number outside its range, a segment or cover that is not there, two candidates of one segment
/// @par Source     value of information: Straub & Faber 2005, Structural Safety 27, 335-355; one step ahead is not always
///                 enough: Golovin & Krause 2011, J. Artif. Intell. Res. 42, 427-486
/// @par Tested by  tests/inspection/opening_order_test.cpp
[[nodiscard]] OpeningOrder opening_order(const OpeningQuestion& question);

/// What a case says about reaching a segment.
struct Access {
  std::optional<Minutes> minutes;  ///< from the outside, its cover included
  std::string cover_group;         ///< empty: in the open
};

/// The same with the minutes of the covers apart.
struct SharedAccess {
  std::vector<CoverToRemove> covers;              ///< in the order of their first segment, all on
  std::vector<std::optional<std::size_t>> cover;  ///< of each segment
  std::vector<Minutes> minutes;                   ///< of each segment without its cover
};

/// Shares out the stated minutes: a cover takes the model's share of the least minutes of its group, which all of them have
/// in common; where nothing is stated, the model's minutes hold.
/// @throws DomainError  minutes below 0
[[nodiscard]] SharedAccess shared_access(const std::vector<Access>& segments,
                                         const library::ModelConstants::Opening& opening);

/// Chance, by condition, that opening a segment breaks it.
[[nodiscard]] population::ConditionRow break_chances(const library::ModelConstants::Opening& opening);

}  // namespace heatside::inspection
