#pragma once

#include <chrono>
#include <compare>
#include <optional>
#include <string>
#include <string_view>

#include "heatside/base/units.hpp"

namespace heatside {

/// A date as people know it: a day, or only its month or its year.
/// A month or year stands for its middle day, and says so through `exact`.
struct Date {
  std::chrono::sys_days day{};    ///< the day used in computations
  std::chrono::sys_days first{};  ///< first day that the text allows
  std::chrono::sys_days last{};   ///< last day that the text allows

  [[nodiscard]] bool exact() const { return first == last; }
  friend bool operator==(const Date&, const Date&) = default;
};

/// Reads `YYYY-MM-DD`, `YYYY-MM` or `YYYY` of the years 1900 to 2200; empty when the text is none of these.
[[nodiscard]] std::optional<Date> parse_date(std::string_view text);

/// Date of a single day of the proleptic Gregorian calendar.
[[nodiscard]] Date exact_date(std::chrono::sys_days day);

/// `YYYY-MM-DD` of the day used in computations.
[[nodiscard]] std::string format_date(const Date& date);

/// `YYYY-MM-DD`, `YYYY-MM` or `YYYY`: what `parse_date` reads back to the same date.
[[nodiscard]] std::string format_date_as_known(const Date& date);

/// Time from one day to another, days / 365.25; negative when `to` comes first.
[[nodiscard]] Years years_between(std::chrono::sys_days from, std::chrono::sys_days to);

}  // namespace heatside
