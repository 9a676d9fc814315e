#pragma once

#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/population/belief.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/population/normals.hpp"

namespace heatside::population {

/// Which unknowns the spread of ln life comes from: main effects by group, largest first, the remainder as "together".
///
/// Each normal's main effect is the part of the variance that Hermite polynomials of it up to degree three explain
/// (first-order index); a compound that is not known counts by the means of its candidates.
///
/// @param ln_life  of the segment, draw by draw
/// @par Source  Sobol 1993, Math. Model. Comput. Exp. 1, 407-414: first-order indices; polynomial chaos: Sudret 2008,
///              Reliab. Eng. Syst. Saf. 93, 964-979 (both from memory)
[[nodiscard]] std::vector<SpreadShare> spread_shares(const casefile::Case& job, const casefile::Segment& segment,
                                                     const Normals& normals, const Belief& belief,
                                                     const std::vector<double>& ln_life);

}  // namespace heatside::population
