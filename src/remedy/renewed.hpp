#pragma once

#include <cstddef>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/alternative.hpp"

namespace heatside::remedy {

/// A remedy that takes old insulation out.
struct Renewal {
  casefile::Remedy remedy;
  library::RemedyAct act{};
  std::vector<std::size_t> covered;  ///< segments, numbers in the case
};

/// Years of what goes in, for each renewal in the order of its segments. Renewals that share no segment are worked out
/// together, because most of the work is in the temperatures, which they have in common.
[[nodiscard]] std::vector<std::vector<population::ConditionYears>> years_of_renewals(
    const casefile::Case& job, const library::Library& library, const population::Population& population,
    const std::vector<Renewal>& renewals);

}  // namespace heatside::remedy
