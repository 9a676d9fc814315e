#pragma once

#include <array>
#include <string>
#include <string_view>

#include "heatside/base/units.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/report/drawing.hpp"

/// Words and rules that several drawings share.

namespace heatside::report {

/// @throws DomainError  the width is not within 320 to 1200
void require_width(const DrawingPlace& place);

/// "71 %", "< 1 %", "> 99 %"
[[nodiscard]] std::string chance_words(double chance);

/// What stands on every drawing of an estimate.
inline constexpr std::string_view not_claimed =
    "Shows where heat damage is more likely, not that any wire is sound. What was not opened is not claimed.";

/// "segment to-coil-2, branch to coil 2"
[[nodiscard]] std::string segment_words(const population::SegmentEstimate& segment);

/// "12", "0.5", "over 1000"
[[nodiscard]] std::string years_words(double years);

/// A step of 1, 2 or 5 times a power of ten that goes into `span` at most `most` times.
[[nodiscard]] double even_step(double span, double most);

}  // namespace heatside::report
