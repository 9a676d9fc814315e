#pragma once

#include "heatside/labfit/study.hpp"

namespace heatside::labfit {

/// Adds to `study.warnings` where its lives bear less than its numbers seem to say, in plain words.
void add_warnings(Study& study);

}  // namespace heatside::labfit
