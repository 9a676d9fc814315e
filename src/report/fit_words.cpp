#include "report/fit_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"

namespace heatside::report {

std::string hours_words(double hours) {
  constexpr double most = 1.0e9, smallest_whole = 1.0e4;
  if (!(hours < most)) return plain_number(hours, 4);
  const double unit = hours < smallest_whole ? 1.0 : std::pow(10.0, std::floor(std::log10(hours)) - 3.0);
  std::string text = plain_number(hours < smallest_whole ? hours : std::round(hours / unit) * unit, 4);
  if (text.find('e') != std::string::npos) return text;
  for (std::size_t at = std::min(text.find('.'), text.size()); at > 3; at -= 3) text.insert(at - 3, " ");
  return text.front() == ' ' ? text.substr(1) : text;
}

std::string temperature_words(Kelvin temperature) { return plain_number(in_celsius(temperature), 5) + " Cel"; }

std::string share_words(double p) { return p == 0.5 ? "half" : plain_number(100.0 * p, 4) + " %"; }

std::string limits_words(const labfit::WithLimits& number, std::string (*in_words)(double)) {
  if (number.lo && number.hi) return in_words(*number.lo) + " to " + in_words(*number.hi);
  if (number.lo) return "above " + in_words(*number.lo);
  return number.hi ? "below " + in_words(*number.hi) : "no limits";
}

std::vector<SeenLives> seen_lives(const labfit::LifeTest& test) {
  std::vector<SeenLives> list;
  for (const labfit::Life& life : test.lives) {
    const double first = life.from.value() > 0.0 ? life.from.value() : life.to->value();
    const double last = life.to ? life.to->value() : life.from.value();
    if (list.empty() || list.back().temperature != life.temperature) list.push_back({life.temperature, 0, 0, first, last});
    SeenLives& seen = list.back();
    (life.to ? seen.failed : seen.alive) += life.count;
    seen.first = std::min(seen.first, first);
    seen.last = std::max(seen.last, last);
  }
  return list;
}

}  // namespace heatside::report
