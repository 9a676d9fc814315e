#pragma once

#include <string>
#include <vector>

#include "heatside/exposure/local_heat.hpp"

/// Names of parts and spots that differ from air, from every number that their temperature depends on: what has one name is
/// equally hot, in whichever case it is.

namespace heatside::population {

[[nodiscard]] std::string numbers_of(const exposure::PlacedWire& wire);
[[nodiscard]] std::string numbers_of(const exposure::HotTerminal& terminal);

/// Of a mixture, whose parts have such names.
[[nodiscard]] std::string numbers_of(const std::vector<exposure::LocalHeat>& parts);

}  // namespace heatside::population
