#pragma once

#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/library/reliance.hpp"

namespace heatside::population {

/// Every record that an estimate of the case rests on, by kind, with the weakest grade of its numbers.
[[nodiscard]] std::vector<library::Reliance> reliances(const casefile::Case& job, const library::Library& library);

}  // namespace heatside::population
