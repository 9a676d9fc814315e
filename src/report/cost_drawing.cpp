#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/report/case_drawings.hpp"
#include "report/drawing_words.hpp"
#include "report/svg_axes.hpp"

namespace heatside::report {

namespace {

constexpr double row = 38.0, margin = 10.0;

void require_range(const CostRange& range) {
  if (!std::isfinite(range.p5) || !std::isfinite(range.mean) || !std::isfinite(range.p95) || range.p5 > range.p95)
    throw DomainError(fmt::format("the cost of \"{}\" runs from {} to {} about {}: that is no range", range.name,
                                  plain_number(range.p5), plain_number(range.p95), plain_number(range.mean)));
}

// From 0, or from the least where that is below it, to a bit beyond the most.
svg::Scale scale_of(const std::vector<CostRange>& ranges, double width) {
  double least = 0.0, most = 0.0;
  for (const CostRange& range : ranges) {
    least = std::min({least, range.p5, range.mean});
    most = std::max({most, range.p95, range.mean});
  }
  if (!(most > least)) most = least + 1.0;
  return {least, least + 1.04 * (most - least), margin + 4.0, width - margin - 4.0};
}

std::string axis_drawn(const svg::Scale& x, double top, double bottom, const std::string& unit) {
  std::string drawn;
  const double step = even_step(x.to - x.from, 6.0);
  for (double amount = std::ceil(x.from / step) * step; amount <= x.to; amount += step) {
    const double at = x.at(amount);
    drawn += svg::line({at, top}, {at, bottom}, fmt::format("stroke=\"{}\"", amount == 0.0 ? svg::ink : svg::rule));
    const char* anchor = at < x.start + 10.0 ? "start" : at > x.end - 10.0 ? "end" : "middle";
    drawn += svg::text(at, bottom + 13.0, fmt::format("{:.0f}", amount + 0.0), {.size = 10.0, .anchor = anchor});
  }
  return drawn +
         svg::text(0.5 * (x.start + x.end), bottom + 27.0, unit, {.size = 10.5, .anchor = "middle"}, x.end - x.start);
}

std::string range_words(const CostRange& range) {
  return fmt::format("{:.0f} ({:.0f} to {:.0f})", range.mean, range.p5, range.p95);
}

std::string range_drawn(const CostRange& range, const svg::Scale& x, double y) {
  const std::string numbers = range_words(range);
  const double room = x.end - x.start - svg::width_of(numbers, 10.5) - 10.0;
  std::string drawn = svg::text(x.start + 3.0, y + 12.0, range.name, {.bold = true}, room);
  drawn += svg::text(x.end, y + 12.0, numbers, {.size = 10.5, .anchor = "end"});
  const double from = x.at(range.p5), to = x.at(range.p95), mean = x.at(range.mean), middle = y + 24.0;
  drawn += svg::box({from, middle - 5.0}, std::max(to - from, 1.5), 10.0,
                    fmt::format("fill=\"#8d99b3\" stroke=\"{}\" stroke-width=\"1\"", svg::ink));
  return drawn + svg::path(fmt::format("M{} {}l6 -7l6 7l-6 7Z", svg::number(mean - 6.0), svg::number(middle)),
                           fmt::format("fill=\"{}\" stroke=\"{}\" stroke-width=\"1.4\"", svg::paper, svg::ink));
}

}  // namespace

std::string cost_drawing(const std::vector<CostRange>& ranges, const std::string& currency, const DrawingPlace& place) {
  require_width(place);
  for (const CostRange& range : ranges) require_range(range);
  if (ranges.empty()) throw DomainError("no costs to draw");
  const std::string unit = currency.empty() ? "minutes of work" : currency, title = "What each remedy is expected to cost";
  const svg::Block head = svg::heading(title, "Bar: nine in ten of the draws; diamond: their mean.", place.width);
  const svg::Scale x = scale_of(ranges, place.width);
  const double top = head.height + 2.0, bottom = top + row * static_cast<double>(ranges.size()) + 4.0;
  std::string drawn = head.drawn + axis_drawn(x, top, bottom, unit), description = "Mean and 5 to 95 % in " + unit + ". ";
  double y = top;
  for (const CostRange& range : ranges) {
    const std::string words = range.name + ": " + range_words(range);
    drawn += svg::group(words, range_drawn(range, x, y));
    description += words + ". ";
    y += row;
  }
  return svg::drawn({place.prefix, title, description, place.width, bottom + 36.0}, drawn);
}

}  // namespace heatside::report
