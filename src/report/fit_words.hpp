#pragma once

#include <string>
#include <vector>

#include "heatside/labfit/study.hpp"

/// Wording that text and drawing of a fit share.

namespace heatside::report {

/// Four significant figures, with blanks between thousands: "11 450".
[[nodiscard]] std::string hours_words(double hours);

/// "190 Cel"
[[nodiscard]] std::string temperature_words(Kelvin temperature);

/// "half", "10 %"
[[nodiscard]] std::string share_words(double p);

/// "56.4 to 68.9", "above 56.4", "below 68.9", "no limits"
[[nodiscard]] std::string limits_words(const labfit::WithLimits& number, std::string (*in_words)(double));

/// What was seen at one temperature.
struct SeenLives {
  Kelvin temperature{ice_point_kelvin};
  std::size_t failed{}, alive{};
  double first{}, last{};  ///< [h], of all that is known
};
[[nodiscard]] std::vector<SeenLives> seen_lives(const labfit::LifeTest& test);

}  // namespace heatside::report
