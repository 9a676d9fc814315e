#pragma once

#include <string>

#include "heatside/base/date.hpp"

/// The only place that looks at a clock.

namespace heatside::app {

/// The day it is, UTC.
[[nodiscard]] Date today();

/// The moment it is, UTC, as YYYY-MM-DDThh:mm:ssZ.
[[nodiscard]] std::string now_text();

}  // namespace heatside::app
