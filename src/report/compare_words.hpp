#pragma once

#include <string>
#include <string_view>

#include "heatside/population/estimate.hpp"
#include "heatside/remedy/compare.hpp"

/// Words and cells that the tables of a comparison share.

namespace heatside::report {

/// "running", "soak", "parked"
[[nodiscard]] std::string_view name_of(remedy::HotMoment moment);
/// "while running", "after key-off", "while parked"
[[nodiscard]] std::string_view words_of(remedy::HotMoment moment);
/// "xlpo-125", or "as fitted"
[[nodiscard]] std::string name_of(const remedy::Candidate& candidate);
/// "C", or "below A"
[[nodiscard]] std::string class_of(const remedy::Candidate& candidate);
[[nodiscard]] std::string needed_class(const std::optional<remedy::TemperatureClass>& needed);
/// "12", "now", "> 40", "< -40"
[[nodiscard]] std::string years_in_column(Years years, double cap);
/// "after 12 years", "3 years ago", "after more than 40 years"
[[nodiscard]] std::string after_in_words(Years years, double cap);
/// "72 %", "under 1 %", "over 99 %"
[[nodiscard]] std::string chance_in_column(double chance);
/// "72 of 100 draws", "under 1 of 100 draws"
[[nodiscard]] std::string chance_in_words(double chance);
/// "-10 (-25 to 4)"
[[nodiscard]] std::string margin_in_column(const population::Quantiles<KelvinRise>& margin);
/// "132 (118 to 150)", degrees Celsius
[[nodiscard]] std::string heat_in_column(const population::Quantiles<Kelvin>& hottest);
/// The zone that comes nearest to its class, or is furthest over it.
[[nodiscard]] const remedy::ZoneOutcome& tightest_zone(const remedy::Candidate& candidate);

}  // namespace heatside::report
