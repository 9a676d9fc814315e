#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/population/value_of_information.hpp"
#include "heatside/remedy/rules.hpp"
#include "heatside/remedy/worth_knowing.hpp"

/// What can be done about the looms of a case, side by side.
///
/// Every segment has a hazard of a bare-wire fault by its condition, draw by draw and year by year over the horizon. What is
/// left in keeps the draws that the findings were learnt with; what goes in is drawn as a loom of its own on the same route,
/// use and temperatures. A ruined loom is not mended again and again: at its first fault the owner pays the stop and the
/// mending, and then has the whole loom renewed, by what is offered. Money is in the currency of the case, or in minutes of
/// work where it names none.

namespace heatside::remedy {

/// What money and time are worth.
struct Worth {
  std::string unit;          ///< currency, or "min"
  double per_minute{};       ///< [money/min] of work
  double stop{};             ///< [money] a stop on the road, or a bare-wire fault where functions are not known
  bool rate_stated = false;  ///< by the case; minutes as money are
  bool stop_stated = false;
  double mending{};  ///< [money] of a fault, on top of a stop
  Years horizon{10.0};
  double discount_per_year{};
};

[[nodiscard]] Worth worth_of(const casefile::Case& job, const library::Library& library);

/// A remedy as it is compared: the case's own, or one that stands for what could be had.
struct Offer {
  casefile::Remedy remedy;  ///< segments filled in
  library::RemedyAct act{};
  bool stated = false;  ///< by the case
};

/// Remedies of which one is chosen. Looms that no remedy covers together are questions of their own.
struct Offered {
  std::string id;                     ///< ids of the looms, joined by "+"
  std::vector<std::string> looms;     ///< ids
  std::vector<std::size_t> segments;  ///< of these looms, numbers in the case
  std::vector<Offer> offers;          ///< the first one leaves everything
  bool stated = false;                ///< the case has remedies for them
};

/// Who can choose what. What is taken for granted goes into `assumptions`.
///
/// @param with_built_in  a loom for which the case states nothing gets the built-in kinds: leave; sleeve and tape, and new
///                       branches, for the worst segments; a used part of unknown date; a new part
/// @par Tested by  tests/remedy/remedies_test.cpp
[[nodiscard]] std::vector<Offered> offered(const casefile::Case& job, const library::Library& library,
                                           const population::DrawnAnswer& answer, bool with_built_in,
                                           std::vector<casefile::Assumption>& assumptions);

/// Chance of at least one stop on the road within the horizon, where it can be told.
struct StopChance {
  double chance{};
  std::size_t counted{};   ///< segments whose functions are known
  std::size_t segments{};  ///< of the looms in question
};

/// The segment that goes first once the remedy is done.
struct Weakest {
  std::string segment;                                                           ///< with the earliest middle of the draws
  bool renewed = false;                                                          ///< by the remedy
  population::Quantiles<Years> flex_cracks{Years{0.0}, Years{0.0}, Years{0.0}};  ///< until the first one cracks when handled
};

/// What is done at the first fault of looms in which old insulation was left.
struct AfterFault {
  std::vector<std::string> looms;      ///< ids
  std::optional<std::size_t> renewal;  ///< result: the whole-loom renewal that is then done; absent: mended one by one
  double chance{};                     ///< of that fault within the horizon
  double price{};                      ///< [money], expected parts and work of that renewal, at the prices of today
};

/// One remedy over the horizon.
struct Result {
  Offer offer;
  double parts{}, work{};   ///< [money], expected
  double harm{};            ///< [money], expected: what the work breaks in the brittle neighbours
  double faults{};          ///< [money], expected: faults, stops and what is then renewed over the horizon, discounted
  double own_faults{};      ///< [money], of `faults`: those of what it puts in, mended one by one
  double expected{};        ///< [money], sum of parts, work, harm and faults
  double standard_error{};  ///< [money], of `expected`, as a sample of draws
  double low{}, high{};     ///< [money], 5 % and 95 % of the futures cost no more
  double cheapest{};        ///< chance that it turns out to be the cheapest of the question
  double fault_chance{};    ///< of at least one bare-wire fault
  double fault_count{};     ///< expected
  double stops{};           ///< expected stops (or faults, where functions are not known), discounted
  std::optional<StopChance> stop;
  std::vector<AfterFault> after;   ///< of the looms in which it leaves old insulation
  std::optional<Weakest> left_in;  ///< of the old insulation; absent where none stays
  Weakest weakest;                 ///< of all that is there afterwards
  double minutes{};                ///< of work, expected
  double lead_days{};
  Verdict verdict;

  /// [money] were a stop to cost another amount.
  [[nodiscard]] double expected_at(double stop_cost, const Worth& worth) const {
    return expected + (stop_cost - worth.stop) * stops;
  }
};

/// How old a used part may be to be worth its price, to a year or two, and not to crack within a year in half of the draws.
struct UsedPartLimit {
  std::size_t result{};        ///< of `Question::results`
  std::string compound;        ///< if it is of that
  double price{};              ///< [money] of its parts
  std::optional<Date> oldest;  ///< made then or later it is worth it; absent: at no age
  bool any_age = false;        ///< even as old as any that was asked about, `oldest`
  double instead{};            ///< [money], expected: the best of the others
};

/// What a look at a segment that stays in would be worth before its own cost.
struct LookWorth {
  std::string segment;
  double saving{}, standard_error{};  ///< [money]
};

/// One question with its answer.
struct Question {
  Offered offered;                  ///< its offers are those of `results`
  std::vector<Result> results;      ///< in the order of the offers
  std::vector<std::size_t> order;   ///< results that may be chosen, least expected cost first, then those struck out
  std::optional<std::size_t> best;  ///< least expected cost among those that the rules allow
  std::vector<BreakEven> by_stop;   ///< of those that the rules allow, from a stop that costs nothing on
  std::vector<WorthKnowing> worth;  ///< most worth first
  std::vector<LookWorth> looks;     ///< most worth first
  std::vector<UsedPartLimit> used;
  population::Choice choice;  ///< for the opening order: those that the rules allow, or all where they allow none
};

struct Answer {
  Worth worth;
  std::vector<Question> questions;
  std::vector<casefile::Assumption> assumptions;
};

/// Which parts of the answer are wanted.
struct Wanted {
  bool built_in = true;  ///< also looms for which the case states no remedies
  bool knowing = true;   ///< what would be worth knowing, looks, and how old a used part may be
};

/// @param answer  of the same case
/// @throws DomainError  a kind of remedy that the library does not have, or as `years_to_conditions`
/// @par Source     Raiffa & Schlaifer 1961, Applied Statistical Decision Theory (from memory); hazards: Barlow & Proschan
/// 1965
///                 (from memory)
/// @par Tested by  tests/remedy/remedies_test.cpp, tests/remedy/policy_test.cpp
[[nodiscard]] Answer remedies(const casefile::Case& job, const library::Library& library,
                              const population::DrawnAnswer& answer, Wanted wanted = {});

}  // namespace heatside::remedy
