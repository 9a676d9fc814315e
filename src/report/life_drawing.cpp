#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "heatside/report/case_drawings.hpp"
#include "report/drawing_words.hpp"
#include "report/svg_axes.hpp"

namespace heatside::report {

namespace {

using population::LifeAt;
using population::LifeLine;
using population::SegmentEstimate;

constexpr double shortest = 0.01, longest = 1000.0;  // [a] on the page
constexpr double height_of_plot = 240.0;

// What a life in service looks like on this page.
struct Service {
  Kelvin temperature;
  population::Quantiles<Years> life;  // from the making of the loom
};

Service service_of(const casefile::Case& job, const SegmentEstimate& segment) {
  const casefile::Loom* loom = casefile::find_by_id(job.looms, segment.loom);
  if (loom == nullptr) throw DomainError("the case has no loom \"" + segment.loom + "\"");
  const Years age = years_between(loom->made.day, job.inspected.day);
  const auto life = [&](Years remaining) { return Years{std::max(age.value() + remaining.value(), shortest)}; };
  return {segment.equivalent_temperature,
          {life(segment.flex_cracks.p10), life(segment.flex_cracks.p50), life(segment.flex_cracks.p90)}};
}

struct Plot {
  svg::Scale x, y;  // x by absolute temperature
};

Plot plot_of(const LifeLine& line, double top, double width) {
  if (line.points.size() < 2 || !(line.points.front().temperature < line.points.back().temperature))
    throw DomainError("a life line needs at least 2 temperatures, the coolest first");
  return {{line.points.front().temperature.value(), line.points.back().temperature.value(), 66.0, width - 20.0,
           svg::Scale::By::inverse},
          {shortest, longest, top + height_of_plot, top, svg::Scale::By::logarithm}};
}

std::string axes_drawn(const Plot& plot) {
  std::string drawn;
  struct Tick {
    double years;
    const char* words;
  };
  for (const Tick tick : {Tick{0.01, "4 days"},
                          {0.1, "5 weeks"},
                          {1.0, "1 year"},
                          {10.0, "10 years"},
                          {100.0, "100 years"},
                          {1000.0, "1000 years"}}) {
    const double y = plot.y.at(tick.years);
    drawn += svg::line({plot.x.start, y}, {plot.x.end, y}, fmt::format("stroke=\"{}\"", svg::rule));
    drawn += svg::text(plot.x.start - 5.0, y + 3.5, tick.words, {.size = 10.0, .anchor = "end"});
  }
  const double from = in_celsius(Kelvin{plot.x.from}), to = in_celsius(Kelvin{plot.x.to});
  const double step = even_step(to - from, 7.0);
  double last = -1e9;
  for (double degrees = std::ceil(from / step) * step; degrees <= to; degrees += step) {
    const double x = plot.x.at(celsius(degrees).value());
    drawn += svg::line({x, plot.y.start}, {x, plot.y.end}, fmt::format("stroke=\"{}\"", svg::rule));
    if (x - last < 26.0) continue;
    last = x;
    drawn += svg::text(x, plot.y.start + 15.0, fmt::format("{:.0f}", degrees), {.size = 10.0, .anchor = "middle"});
  }
  drawn += svg::text(0.5 * (plot.x.start + plot.x.end), plot.y.start + 29.0, "held at, \u00b0C (spaced by 1/T)",
                     {.size = 10.5, .anchor = "middle"});
  return drawn + svg::path(fmt::format("M{} {}V{}H{}", svg::number(plot.x.start), svg::number(plot.y.end),
                                       svg::number(plot.y.start), svg::number(plot.x.end)),
                           fmt::format("fill=\"none\" stroke=\"{}\"", svg::ink));
}

template <class Life>
std::vector<svg::Point> line_of(const Plot& plot, const LifeLine& line, Life life) {
  std::vector<svg::Point> points;
  for (const LifeAt& one : line.points)
    points.push_back({plot.x.at(one.temperature.value()), plot.y.at(std::clamp(life(one).value(), 1.0e-6, 1.0e9))});
  return points;
}

// Beyond the page the lines are cut off.
std::string lines_drawn(const Plot& plot, const LifeLine& line, const std::string& prefix) {
  const auto upper = line_of(plot, line, [](const LifeAt& one) { return one.life.p90; });
  const auto lower = line_of(plot, line, [](const LifeAt& one) { return one.life.p10; });
  const auto middle = line_of(plot, line, [](const LifeAt& one) { return one.life.p50; });
  const auto straight = line_of(plot, line, [](const LifeAt& one) { return one.straight; });
  std::string drawn = fmt::format("<clipPath id=\"{}-area\">", prefix) +
                      svg::box({plot.x.start, plot.y.end}, plot.x.end - plot.x.start, plot.y.start - plot.y.end, "") +
                      fmt::format("</clipPath>\n<g clip-path=\"url(#{}-area)\">\n", prefix);
  drawn += svg::path(svg::between(upper, lower), "fill=\"#8d99b3\" fill-opacity=\"0.35\" stroke=\"none\"");
  drawn += svg::path(svg::through(straight),
                     fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"1.6\" stroke-dasharray=\"2 3\"", svg::ink));
  drawn += svg::path(svg::through(middle), fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"2.4\"", svg::ink));
  return drawn + "</g>\n";
}

std::string service_drawn(const Plot& plot, const Service& service) {
  const double x = plot.x.within(service.temperature.value()), y = plot.y.within(service.life.p50.value());
  const std::string look = fmt::format("stroke=\"{}\" stroke-width=\"2\"", svg::ink);
  std::string drawn =
      svg::line({x, plot.y.within(service.life.p10.value())}, {x, plot.y.within(service.life.p90.value())}, look);
  for (const Years end : {service.life.p10, service.life.p90}) {
    const double at = plot.y.within(end.value());
    drawn += svg::line({x - 5.0, at}, {x + 5.0, at}, look);
  }
  return drawn + svg::circle({x, y}, 6.0, fmt::format("fill=\"{}\" {}", svg::paper, look));
}

std::string service_words(const Service& service) {
  return fmt::format("in service: as if always at {:.0f} \u00b0C; cracks when handled {} years after its making ({} to {})",
                     in_celsius(service.temperature), years_words(service.life.p50.value()),
                     years_words(service.life.p10.value()), years_words(service.life.p90.value()));
}

std::string oven_words(const LifeLine& line) {
  return fmt::format("thermal-life point of its record, {:.0f} h at {:.0f} \u00b0C until {:.0f} % elongation is left",
                     line.oven_hours.value(), in_celsius(line.oven), 100.0 * line.oven_end);
}

std::string description(const LifeLine& line, const Service& service) {
  std::string words = "Life of a new wire until it cracks when handled, over the constant temperature it lies at. ";
  for (std::size_t i = 0; i < line.points.size(); i += std::max<std::size_t>(1, line.points.size() / 8)) {
    const LifeAt& one = line.points[i];
    words += fmt::format("{:.0f} \u00b0C: {} years ({} to {}), by the straight line {}. ", in_celsius(one.temperature),
                         years_words(one.life.p50.value()), years_words(one.life.p10.value()),
                         years_words(one.life.p90.value()), years_words(one.straight.value()));
  }
  return words + "Ring: " + service_words(service) + ". Diamond: " + oven_words(line) + ".";
}

}  // namespace

std::string life_drawing(const LifeLine& line, const casefile::Case& job, const SegmentEstimate& segment,
                         const DrawingPlace& place) {
  require_width(place);
  const Service service = service_of(job, segment);
  const std::string title = "Life of " + line.insulation + " over temperature";
  const svg::Block head =
      svg::heading(title,
                   "Until it cracks when handled, in " + segment_words(segment) +
                       (line.compound_known ? "." : "; the compound is not known, the band holds all candidates."),
                   place.width);
  const Plot plot = plot_of(line, head.height + 8.0, place.width);
  std::string drawn = head.drawn + axes_drawn(plot) + lines_drawn(plot, line, place.prefix);
  const double oven_x = plot.x.at(line.oven.value());
  if (plot.x.holds(line.oven.value()))
    drawn +=
        svg::group(oven_words(line), svg::path(fmt::format("M{} {}l5.5 -5.5l5.5 5.5l-5.5 5.5Z", svg::number(oven_x - 5.5),
                                                           svg::number(plot.y.within(years(line.oven_hours).value()))),
                                               fmt::format("fill=\"{}\" stroke=\"{}\"", svg::ink, svg::paper)));
  drawn += svg::group(service_words(service), service_drawn(plot, service));
  const std::string notes =
      "Line and grey: middle and eight in ten of the draws, dry and always at one temperature. "
      "Dots: a straight line from the ovens. Ring: " +
      service_words(service) + ". Diamond: " + oven_words(line) + ".";
  const svg::Block more =
      svg::paragraph({10.0, plot.y.start + 36.0}, place.width - 20.0, notes, {.size = 10.0, .fill = svg::soft_ink});
  return svg::drawn({place.prefix, title, description(line, service), place.width, plot.y.start + 36.0 + more.height + 8.0},
                    drawn + more.drawn);
}

}  // namespace heatside::report
