#pragma once

#include <optional>
#include <string>
#include <vector>

#include "casefile/reading.hpp"

/// What an insulation may be made of, as lots and remedies state it.

namespace heatside::casefile {

using Candidates = std::vector<InsulationCandidate>;

/// Where and when wires were made: what was fitted there and then is likely.
struct Origin {
  std::string region;  ///< of an era record
  Date made;
};

/// What the era record of a region gives for a year, listed as an assumption at `pointer`; no record is a problem.
Candidates candidates_of_era(const Origin& origin, const std::string& pointer, Reading& reading);

/// The member `insulation`: an id, "unknown" or candidates with weights; heaviest first, and empty when it is wrong.
/// @param origin  serves "unknown"; absent while it is not known to be right, and then nothing is taken from it
Candidates read_insulation(Fields& fields, const std::optional<Origin>& origin, Reading& reading);

}  // namespace heatside::casefile
