#pragma once

#include "casefile/reading.hpp"
#include "heatside/casefile/beside.hpp"

namespace heatside::casefile {

/// Reads the temperatures that were measured. The segments must have been read before.
void read_measured(Fields& top, Reading& reading, const ReadBeside& read_beside);

}  // namespace heatside::casefile
