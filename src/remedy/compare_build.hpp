#pragma once

#include <functional>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"

namespace heatside::remedy {

/// Which insulation a segment gets.
using InsulationOf = std::function<const std::string&(const casefile::Segment&)>;

/// The case on the day that some of its looms are new: without a past, every lot of them split by the insulation of its
/// segments. A lot of one insulation has the same name in every build, so that its draws are common to all of them.
[[nodiscard]] casefile::Case rewired(const casefile::Case& job, const std::vector<std::string>& looms, const Date& made,
                                     const InsulationOf& insulation_of);

/// Insulation of one segment [kg].
[[nodiscard]] double insulation_mass(const casefile::Segment& segment, const library::Insulation& insulation);

[[nodiscard]] bool contains(const std::vector<std::string>& words, const std::string& word);

}  // namespace heatside::remedy
