#pragma once

#include <cstddef>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/belief.hpp"
#include "population/evidence.hpp"
#include "population/factor_candidates.hpp"

/// A place where something was found: what that says of the place itself, within each draw.

namespace heatside::population {

/// Candidates of the factors of a place's stretches, and what other causes than heat did there.
///
/// What was found by heat, and the share of heat in what is unsure, says how fast the place ages: `heat` is for that. The
/// condition is a matter of all that was found, whatever the cause. It is the worse of what heat and what another cause
/// did; the other cause is taken to do each condition as often, before the look (judgement: nothing is known of it), and
/// to have come before everything that was found.
struct LookedPlace {
  bool by_heat = false;                ///< something was found that heat may have done: the factors are known better
  FactorCandidates heat;               ///< weighed by what heat may have done
  std::vector<double> weights;         ///< of the candidates, for the condition
  std::vector<ConditionRow> no_worse;  ///< chance that other causes did no worse than each condition, for each candidate
                                       ///< and draw; empty: nothing but heat
};

[[nodiscard]] bool found_at(const casefile::Case& job, const std::string& segment);

/// @param drawn    after the findings
/// @param by_heat  false: findings by heat are left out, because no draw gives them
/// @par Tested by  tests/population/looked_place_test.cpp
[[nodiscard]] LookedPlace looked_place(const casefile::Case& job, const library::Library& library, std::size_t segment,
                                       DrawnCase& drawn, Normals& normals, const Usual& usual, bool by_heat);

/// Chances of each condition at a time, from the inspection, draw by draw.
[[nodiscard]] ConditionChances chances_of(const LookedPlace& place, const SegmentDraws& segment, Years after,
                                          double stretch_ln_sd);

}  // namespace heatside::population
