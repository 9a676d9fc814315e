#pragma once

#include <array>
#include <string>

#include "heatside/ageing/condition.hpp"
#include "report/svg.hpp"

/// How conditions look in drawings.

namespace heatside::report {

/// One condition: a colour and a pattern of dashes along a line.
struct ConditionInk {
  const char* colour;
  const char* dash_colour;  ///< null: plain
  const char* dash;         ///< stroke-dasharray
  double dash_width;        ///< share of the line's width
};

/// From good to bad: pale straw to deep blue, lightness L* of CIELAB 93, 76, 57, 38, 18, so that they keep their order in
/// grey and for every kind of colour vision; the dashes tell them apart without any colour.
inline constexpr std::array<ConditionInk, 5> condition_inks{{{"#feeaa5", nullptr, "", 0.0},
                                                             {"#d2b97e", svg::ink, "1.5 8", 1.0},
                                                             {"#958678", svg::ink, "1.5 3", 1.0},
                                                             {"#4e5a73", svg::paper, "2 5", 1.0},
                                                             {"#002b5e", svg::paper, "2 2.5", 0.45}}};

[[nodiscard]] inline const ConditionInk& ink_of(ageing::Condition condition) {
  return condition_inks[static_cast<std::size_t>(condition)];
}

/// A path drawn as a loom of a condition: dark outline, colour, dashes.
[[nodiscard]] std::string loom_line(std::string_view data, ageing::Condition condition, double width = 8.0);

/// The chances of all conditions side by side, from good to bad; its length is chance 1.
[[nodiscard]] std::string chance_bar(svg::Point corner, double length, double height, const std::array<double, 5>& chance);

}  // namespace heatside::report
