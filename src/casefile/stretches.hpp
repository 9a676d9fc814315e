#pragma once

#include <vector>

#include "casefile/reading.hpp"

namespace heatside::casefile {

/// The stretches of a segment; their shares sum to 1, stretches without an id are called a, b, ... by their place.
std::vector<Stretch> read_stretches(Fields& segment, Reading& reading);

}  // namespace heatside::casefile
