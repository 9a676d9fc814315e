#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "heatside/ageing/condition.hpp"
#include "heatside/base/date.hpp"
#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"

/// How good stored predictions were, held against what was found. Low scores are good. Every score here is proper: on
/// average nobody does better than by saying what he believes.

namespace heatside::inspection {

/// Chances of the conditions, from supple to crumbling; they sum to 1.
using Chances = std::array<double, library::condition_count>;

// --- one prediction and what came -------------------------------------------------------------------------------------

/// The logarithm is taken of chances brought within [this, 1 - this]: one that was certain and wrong costs 13.8, not
/// infinitely much.
inline constexpr double least_scored_chance = 1.0e-6;

/// Chance of "cracked or worse".
[[nodiscard]] double chance_cracked(const Chances& chances);
[[nodiscard]] bool is_cracked(ageing::Condition seen);

/// What is scored.
enum class Rule { cracked_brier, cracked_log, conditions_brier, conditions_log, conditions_ranked };
inline constexpr std::size_t rule_count = 5;

/// A score by each rule, in the order of Rule:
///
///     cracked_brier      (p - y)^2                          p: chance of cracked or worse, y: 1 where it was, else 0
///     cracked_log        -ln p where it was, -ln(1 - p) where it was not
///     conditions_brier   sum over the conditions of (p_j - y_j)^2, 0 to 2
///     conditions_log     -ln of the chance of the condition that was seen
///     conditions_ranked  mean over the four borders between conditions of (P_k - Y_k)^2, P and Y summed up to the border
///
/// The logarithms are capped, see `least_scored_chance`. The last knows that stiff is nearer to supple than crumbling is.
///
/// @throws DomainError  a chance outside [0, 1]; a sum that is not 1 to 1e-6
/// @par Source     Brier 1950, Mon. Weather Rev. 78, 1-3; Good 1952, J. R. Stat. Soc. B 14, 107-114; Epstein 1969, J. Appl.
///                 Meteorol. 8, 985-987, turned so that 0 is best (all from memory)
/// @par Tested by  tests/inspection/score_test.cpp
[[nodiscard]] std::array<double, rule_count> scores_of(const Chances& chances, ageing::Condition seen);

// --- looks and their predictions --------------------------------------------------------------------------------------

/// A case to score.
struct JobToScore {
  casefile::Case job;
  std::vector<std::string> changed;    ///< `casefile::changed_predictions` of it: they are left out
  std::map<std::string, Kelvin> heat;  ///< by id of the segment: the constant temperature that does as much; may be empty
};

/// What was seen at a segment, and what had been said of it.
struct Look {
  std::size_t job{};         ///< index of its case
  std::size_t prediction{};  ///< index in the predictions of the case
  std::string segment;       ///< id
  Date on;                   ///< day of the look
  ageing::Condition seen{};
  Chances chances{};           ///< as stored
  std::optional<Kelvin> heat;  ///< of the segment
  bool part = false;           ///< one stretch or one lot was looked at; the chances are for the worst of the segment
  bool seen_before = false;    ///< the program knew an earlier look at the segment when it made the prediction
  bool late = false;           ///< stored two days after the look or later, though before it was recorded
};

/// Findings that are not scored, and why.
struct LeftOut {
  std::size_t no_condition{};   ///< not-seen, altered, a test of a tail, clues
  std::size_t other_cause{};    ///< neither heat nor unsure
  std::size_t no_prediction{};  ///< none was stored in time, or only changed ones
  std::size_t merged{};         ///< at a segment where a worse one, or an equal one, is scored already
};

struct Looks {
  std::vector<Look> looks;  ///< by case, then in the order of the findings
  LeftOut left_out;
};

/// Pairs findings with the latest prediction of their day or before that has the segment. Two findings at one segment under
/// one prediction are one look, the worse: the prediction speaks of the worst place of the segment.
/// @throws DomainError  see `scores_of`
[[nodiscard]] Looks looks_of(const std::vector<JobToScore>& jobs);

// --- where to look first ----------------------------------------------------------------------------------------------

/// A place in an order: the higher comes first.
struct RankedPlace {
  double rank_by{};
  bool hit{};  ///< cracked or worse
};

inline constexpr std::size_t counted_looks = 3;

/// How soon an order finds something; places that tie are taken in any order, and the mean over those is given.
struct OrderScore {
  std::array<double, counted_looks> hits{};  ///< in the first 1, 2, 3 looks, at most as many as there are places
  double looks_to_first{};                   ///< up to and with the first hit
};

/// @throws DomainError  no place is a hit
[[nodiscard]] OrderScore order_score(const std::vector<RankedPlace>& places);

// --- all of them ------------------------------------------------------------------------------------------------------

/// Below so many looks, or so many rounds, nothing is concluded and no interval is given.
inline constexpr std::size_t least_looks = 10;

/// From the 5th to the 95th of a hundred resamples.
struct Interval {
  double low{}, high{};
};

/// Mean score of all looks by one rule.
struct RuleScore {
  double mean{};
  double base{};                           ///< of who always says how often each came about among these looks
  std::optional<double> skill;             ///< 1 - mean / base; absent where all looks came out alike
  std::optional<Interval> mean_interval;   ///< both absent with fewer than `least_looks`, and where resamples
  std::optional<Interval> skill_interval;  ///< came out alike too often
};

/// Looks whose chance of "cracked or worse" was within [from, to), the last with its end.
struct ChanceGroup {
  double from{}, to{};
  std::size_t looks{}, cracked{};
  double said{};  ///< sum of the chances
};

/// Orders over the rounds that can tell them apart: looks of one prediction, some of them hits and some not.
/// Hits are summed over the rounds, looks to the first hit are their mean.
struct OrderComparison {
  std::size_t rounds{}, looks{}, hits{};
  OrderScore by_prediction, hottest_first, at_random;
  double saved{};                          ///< mean looks to the first hit, hottest first less by prediction
  std::optional<Interval> saved_interval;  ///< absent with fewer than `least_looks` rounds
};

struct ScoreOptions {
  std::uint64_t seed = 0;
  std::size_t resamples = 2000;
};

struct Score {
  std::size_t looks{}, cracked{};
  double said_cracked{};  ///< how many the chances had led to expect
  std::size_t certain{};  ///< looks at which the logarithm was capped: something had the chance 0 or 1, or nearly
  std::size_t jobs{};     ///< cases with a look
  bool resamples_jobs{};  ///< whole cases are drawn anew, not looks: there are `least_looks` cases
  ScoreOptions options;
  std::array<RuleScore, rule_count> rules{};  ///< in the order of Rule; all 0 where there are no looks
  std::array<ChanceGroup, 3> groups{};
  std::optional<OrderComparison> orders;  ///< absent where no round can tell orders apart

  [[nodiscard]] bool enough() const { return looks >= least_looks; }
};

/// The base rate is pooled over the same looks: it knows them, so it is a hard yardstick, the harder the fewer there are.
///
/// Intervals by bootstrap. Looks at one loom hang together; with ten cases or more whole cases are drawn anew, which allows
/// for that, with fewer single looks are, and the intervals are too narrow.
///
/// @throws DomainError  see `scores_of`
/// @par Source     percentile bootstrap: Efron 1979, Ann. Stat. 7, 1-26 (from memory)
/// @par Tested by  tests/inspection/score_test.cpp
[[nodiscard]] Score score_of(const std::vector<Look>& looks, ScoreOptions options = {});

}  // namespace heatside::inspection
