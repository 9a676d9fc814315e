#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "heatside/population/belief.hpp"
#include "heatside/population/normals.hpp"
#include "population/drawn_case.hpp"
#include "population/evidence.hpp"

namespace heatside::population {

/// Draws after the findings, and how that went.
struct LearntDraws {
  Normals normals;
  Belief belief;
  double effective_sample{};              ///< independent draws that would tell as much: by weight, or after moves
                                          ///< that of the quantity that they moved least
  double prior_sample{};                  ///< what weighting alone would have left
  double ln_evidence{};                   ///< ln of the chance of the findings before they were
                                          ///< made, looks alone
  int stages = 0;                         ///< of tempering; 0: weights alone
  std::vector<std::size_t> contradicted;  ///< findings that hardly any draw
                                          ///< gives: indices in `Case::findings`
  bool impossible = false;                ///< no draw gives them all: the draws are those
                                          ///< before the findings
  Usual usual;                            ///< of the findings, for weighing them again
  bool unfinished = false;                ///< tempering came to its last stage before all of
                                          ///< the evidence was let in
};

/// Weighs the draws by the findings. Where fewer than a tenth of them would
/// count, the findings are let in step by step: draws are resampled and moved
/// at each step, so that hard evidence still leaves many different draws.
///
/// Moves propose x' = r x + sqrt(1 - r^2) times a fresh normal for all
/// quantities at once, which leaves what was believed before unchanged, and
/// accept by the ratio of the (tempered) likelihoods. Everything is keyed by
/// seed, step, quantity and draw: the same bytes every time.
///
/// Draws that come from one and the same draw of an earlier step are alike as far
/// as their moves since left them so. Two of one family count together, for each
/// quantity, by the squared correlation between its values before and after those
/// moves: N draws are worth N^2 / sum over all pairs, themselves included, of that
/// likeness. The smallest of all quantities that segments share is
/// the effective sample.
///
/// @param may_move  false: weights alone, however few draws count
/// @par Source  sequential Monte Carlo samplers: Del Moral, Doucet & Jasra
/// 2006, J. R. Statist. Soc. B 68, 411-436; moves:
///              Cotter, Roberts, Stuart & White 2013, Statist. Sci. 28, 424-446
///              (both from memory)
/// @par Tested by  tests/population/learning_test.cpp: against weights of many
/// more draws, a long Metropolis run, and by calibration
[[nodiscard]] LearntDraws learn_from(const Evidence& evidence, DrawnCase& drawn, Normals prior, bool may_move);

}  // namespace heatside::population
