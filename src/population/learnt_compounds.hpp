#pragma once

#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/belief.hpp"
#include "heatside/population/estimate.hpp"
#include "population/drawn_case.hpp"

/// What lots are made of, where the case does not say: after findings, and in the records that the draws rest on.

namespace heatside::population {

/// The case with every candidate as likely as it is in the weighted draws, heaviest first, ties as they stood.
[[nodiscard]] casefile::Case with_learnt_compounds(const casefile::Case& job, DrawnCase& drawn, Normals& normals,
                                                   const Belief& belief);

/// True where the likeliest compound of some lot is another one.
[[nodiscard]] bool other_likeliest(const casefile::Case& before, const casefile::Case& after);

/// One sentence a lot of which the findings moved a candidate by 3 in 100 or more; lots moved alike share one.
[[nodiscard]] std::vector<std::string> compounds_in_words(const casefile::Case& before, const casefile::Case& after);

/// Takes over what describes the likely case of each segment: compound, worst place, heat, records. The draws stay.
/// @param likely  of the same segments
void describe_as(const Estimate& likely, Estimate& estimate);

/// Adds the records of all candidates with a chance of 1 in 100 or more.
void rely_on_candidates(const casefile::Case& job, const library::Library& library, Estimate& estimate);

}  // namespace heatside::population
