#pragma once

#include <string>

#include "heatside/remedy/compare.hpp"

/// The parts of a comparison for people, each a paragraph or a table with its legend. All end in a line break.

namespace heatside::report {

/// All candidates by rank.
[[nodiscard]] std::string candidates_table(const remedy::Comparison& comparison, double cap);
/// Why each candidate that does not serve everywhere fails, zone by zone.
[[nodiscard]] std::string reasons_text(const remedy::Comparison& comparison, double cap);
/// What each zone asks for.
[[nodiscard]] std::string zones_table(const remedy::Comparison& comparison);
/// The lowest class that serves each segment, as one build; empty without one.
[[nodiscard]] std::string mixed_text(const remedy::Comparison& comparison, double cap);
/// The best candidates segment by segment.
[[nodiscard]] std::string segments_tables(const remedy::Comparison& comparison, double cap);
/// Before and after the changes; empty where nothing was changed.
[[nodiscard]] std::string changes_text(const remedy::Comparison& comparison, double cap);

}  // namespace heatside::report
