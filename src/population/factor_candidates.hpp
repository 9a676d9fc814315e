#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/population/belief.hpp"
#include "heatside/population/normals.hpp"
#include "population/drawn_case.hpp"

namespace heatside::population {

/// Several readings of the factors of a segment's stretches within each draw, and how well each fits what was found there.
///
/// In each draw the candidates are spread evenly over a normal somewhat wider than the factors' own, turned by the draw's
/// own scores: so every candidate is as random as the draw, the mean over them of the chance of a finding is that chance
/// without bias, and one that is taken by its weight is a draw of the factors after the finding.
///
/// Numbers of a candidate k and draw n stand at [k * draws + n].
///
/// @par Source  a likelihood without bias in the place of the exact one: Andrieu & Roberts 2009, Ann. Statist. 37, 697-725;
///              turned lattices: Cranley & Patterson 1976, SIAM J. Numer. Anal. 13, 904-914 (both from memory)
/// @par Tested by  tests/population/looked_place_test.cpp: against integration of one segment
struct FactorCandidates {
  static constexpr std::size_t count = 32;

  std::size_t draws = 0;
  std::string segment;                      ///< id
  std::vector<std::string> stretches;       ///< ids
  std::vector<std::vector<double>> scores;  ///< by stretch; a factor is exp(spread * score)
  std::vector<double> weights;              ///< within a draw they sum to 1
};

/// Candidates before anything was found at the segment.
[[nodiscard]] FactorCandidates factor_candidates(const casefile::Segment& segment, Normals& normals);

/// Something that depends on the factors, one number a draw.
using OfFactors = std::function<std::vector<double>(const SegmentDraws&)>;

/// Its value for each candidate and draw.
/// @param part  stretches of the segment, all or some of them
[[nodiscard]] std::vector<double> for_each_candidate(const FactorCandidates& candidates, SegmentDraws part,
                                                     double stretch_ln_sd, const OfFactors& value);

/// Mean of a value over the candidates of each draw, by their weights.
[[nodiscard]] std::vector<double> mean_of_candidates(const FactorCandidates& candidates, const std::vector<double>& values);

/// Lets the weights know of a finding. A draw that cannot give it keeps its weights.
/// @param chances  of the finding, for each candidate and draw
/// @return its chance in each draw
std::vector<double> take_in(FactorCandidates& candidates, const std::vector<double>& chances);

/// Puts one candidate of each draw, taken by its weight, in the place of the factors.
void settle(const FactorCandidates& candidates, Normals& normals);

}  // namespace heatside::population
