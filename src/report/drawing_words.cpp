#include "report/drawing_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/text.hpp"
#include "heatside/base/error.hpp"

namespace heatside::report {

void require_width(const DrawingPlace& place) {
  if (!(place.width >= 320.0 && place.width <= 1200.0))
    throw DomainError(fmt::format("a drawing is 320 to 1200 wide, not {}", plain_number(place.width)));
}

std::string chance_words(double chance) {
  const double percent = 100.0 * chance;
  if (percent > 0.0 && percent < 0.5) return "< 1 %";
  if (percent < 100.0 && percent >= 99.5) return "> 99 %";
  return fmt::format("{:.0f} %", percent);
}

std::string segment_words(const population::SegmentEstimate& segment) {
  return segment.name.empty() || segment.name == segment.id ? segment.id : segment.id + ", " + segment.name;
}

std::string years_words(double years) {
  if (years > 1000.0) return "over 1000";
  return years >= 9.95 ? fmt::format("{:.0f}", years) : plain_number(years, 2);
}

double even_step(double span, double most) {
  const double least = span / most;
  double step = std::pow(10.0, std::floor(std::log10(least)));
  for (const double factor : {2.0, 2.5, 2.0}) {
    if (step >= least) break;
    step *= factor;
  }
  return step;
}

}  // namespace heatside::report
