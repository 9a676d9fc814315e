#include "report/classroom_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/text.hpp"

namespace heatside::report {

std::string percent_of(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

std::string two_digits(double value) {
  if (value == 0.0 || !std::isfinite(value)) return plain_number(value, 2);
  const double unit = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 1.0);
  return plain_number(std::round(value / unit) * unit, 2);
}

std::string degrees(Kelvin temperature) { return fmt::format("{:.0f} degC", in_celsius(temperature)); }

std::string time_words(Hours hours) {
  constexpr double beyond_caring = 1000.0;  // [a]
  const double years = hours.value() / hours_per_year;
  if (years > beyond_caring) return fmt::format("over {:.0f} a", beyond_caring);
  return years < 0.5 ? two_digits(hours.value()) + " h" : two_digits(years) + " a";
}

}  // namespace heatside::report
