#pragma once

#include <string>

#include "heatside/base/units.hpp"

/// Numbers as a class reads them.

namespace heatside::report {

/// "71 %"
[[nodiscard]] std::string percent_of(double share);

/// A number rounded to two digits that count: "230", "5.7", "0.6".
[[nodiscard]] std::string two_digits(double value);

/// "54 degC"
[[nodiscard]] std::string degrees(Kelvin temperature);

/// In the unit that people think in: "620 h", "12 a", "over 1000 a".
[[nodiscard]] std::string time_words(Hours hours);

}  // namespace heatside::report
