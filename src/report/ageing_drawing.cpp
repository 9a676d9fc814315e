#include <fmt/format.h>

#include <algorithm>
#include <chrono>

#include "base/text.hpp"
#include "heatside/report/case_drawings.hpp"
#include "report/condition_ink.hpp"
#include "report/drawing_words.hpp"
#include "report/svg_axes.hpp"

namespace heatside::report {

namespace {

using casefile::Case;
using casefile::Finding;
using population::AgeingCurve;
using population::ElongationAt;
using population::SegmentEstimate;

constexpr double height_of_plot = 230.0;
constexpr double score_of_tenth = 1.2815515655446004;  // standard normal score beyond which a tenth lies

double calendar_year(std::chrono::sys_days day) {
  const std::chrono::year_month_day date{day};
  const auto start = std::chrono::sys_days{date.year() / std::chrono::January / 1};
  return static_cast<double>(static_cast<int>(date.year())) + static_cast<double>((day - start).count()) / days_per_year;
}

struct Plot {
  const AgeingCurve& curve;
  double inspected{};  // calendar year
  svg::Scale x, y;

  [[nodiscard]] std::vector<svg::Point> line_of(Strain population::Quantiles<Strain>::*quantile) const {
    std::vector<svg::Point> points;
    for (const ElongationAt& one : curve.points)
      points.push_back({x.at(inspected + one.after.value()), y.within(in_percent(one.elongation.*quantile))});
    return points;
  }
  // Where a condition lies: its upper and lower end.
  [[nodiscard]] std::pair<double, double> band_of(std::size_t condition) const {
    const std::array<double, 6> ends{y.to,
                                     in_percent(curve.thresholds.stiff),
                                     in_percent(curve.thresholds.flex_cracks),
                                     in_percent(curve.thresholds.cracked),
                                     in_percent(curve.thresholds.crumbling),
                                     y.from};
    return {y.within(ends[condition]), y.within(ends[condition + 1])};
  }
};

Plot plot_of(const AgeingCurve& curve, const Case& job, double top, double width) {
  if (curve.points.size() < 2) throw DomainError("an ageing curve needs at least 2 points");
  const double inspected = calendar_year(job.inspected.day);
  double most = 0.0;
  for (const ElongationAt& one : curve.points) most = std::max(most, in_percent(one.elongation.p90));
  Plot plot{curve, inspected, {}, {}};
  plot.x = {inspected + curve.points.front().after.value(), inspected + curve.points.back().after.value(), 42.0,
            width - 92.0};
  plot.y = {0.17, 1.25 * most, top + height_of_plot, top, svg::Scale::By::logarithm};
  return plot;
}

std::string conditions_drawn(const Plot& plot) {
  std::string drawn;
  double last = -1e9;
  for (std::size_t i = 0; i < ageing::condition_names.size(); ++i) {
    const auto [upper, lower] = plot.band_of(i);
    const double right = plot.x.end;
    drawn += loom_line(fmt::format("M{} {}V{}", svg::number(right + 8.0), svg::number(upper), svg::number(lower)),
                       static_cast<ageing::Condition>(i), 8.0);
    if (i > 0)
      drawn += svg::line({plot.x.start, upper}, {right, upper},
                         fmt::format("stroke=\"{}\" stroke-width=\"0.8\" stroke-dasharray=\"3 3\"", svg::soft_ink));
    // Two thresholds may lie close together: their words then make room for each other.
    last = std::max(0.5 * (upper + lower) + 3.5, last + 12.0);
    drawn += svg::text(right + 17.0, last, ageing::condition_names[i], {.size = 10.5});
  }
  return drawn;
}

std::string axes_drawn(const Plot& plot) {
  std::string drawn;
  for (const double percent : {0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0}) {
    if (!plot.y.holds(percent)) continue;
    const double y = plot.y.at(percent);
    drawn += svg::line({plot.x.start - 4.0, y}, {plot.x.start, y}, fmt::format("stroke=\"{}\"", svg::ink));
    drawn += svg::text(plot.x.start - 6.0, y + 3.5, plain_number(percent, 3) + " %", {.size = 10.0, .anchor = "end"});
  }
  const double step = std::max(1.0, even_step(plot.x.to - plot.x.from, (plot.x.end - plot.x.start) / 42.0));
  for (double year = std::ceil(plot.x.from / step) * step; year <= plot.x.to; year += step) {
    const double x = plot.x.at(year);
    drawn += svg::line({x, plot.y.start}, {x, plot.y.start + 4.0}, fmt::format("stroke=\"{}\"", svg::ink));
    drawn += svg::text(x, plot.y.start + 16.0, fmt::format("{:.0f}", year), {.size = 10.0, .anchor = "middle"});
  }
  return drawn + svg::path(fmt::format("M{} {}V{}H{}", svg::number(plot.x.start), svg::number(plot.y.end),
                                       svg::number(plot.y.start), svg::number(plot.x.end)),
                           fmt::format("fill=\"none\" stroke=\"{}\"", svg::ink));
}

std::string curves_drawn(const Plot& plot) {
  using Strains = population::Quantiles<Strain>;
  const auto upper = plot.line_of(&Strains::p90), lower = plot.line_of(&Strains::p10);
  std::string drawn = svg::path(svg::between(upper, lower), "fill=\"#8d99b3\" fill-opacity=\"0.35\" stroke=\"none\"");
  for (const auto& edge : {upper, lower})
    drawn +=
        svg::path(svg::through(edge),
                  fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"1\" stroke-dasharray=\"5 2\"", svg::soft_ink));
  return drawn +
         svg::path(svg::through(plot.line_of(&Strains::p50)),
                   fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"2.4\" stroke-linejoin=\"round\"", svg::ink));
}

std::string inspection_drawn(const Plot& plot) {
  const double x = plot.x.at(plot.inspected);
  return svg::line({x, plot.y.end - 4.0}, {x, plot.y.start}, fmt::format("stroke=\"{}\" stroke-width=\"1\"", svg::ink)) +
         svg::text(x, plot.y.end - 8.0, "inspected", {.size = 10.0, .anchor = "middle"});
}

std::string finding_words(const Finding& finding) {
  std::string words = format_date(finding.on) + ": ";
  if (finding.seen) words += fmt::format("seen {}", library::seen_names[static_cast<std::size_t>(*finding.seen)]);
  if (finding.elongation)
    words += fmt::format("{}elongation at break {} %, standard error {} %", finding.seen ? ", " : "",
                         plain_number(in_percent(finding.elongation->elongation), 3),
                         plain_number(in_percent(finding.elongation->standard_error), 3));
  if (finding.bend)
    words += fmt::format("{}{} round {} mm", finding.seen ? ", " : "", finding.bend->cracked ? "cracked" : "did not crack",
                         plain_number(in_millimetres(finding.bend->diameter), 3));
  if (finding.resistance)
    words += fmt::format("{}{} megohm", finding.seen ? ", " : "", plain_number(finding.resistance->megohms, 3));
  return words + fmt::format(" (cause: {})", casefile::cause_names[static_cast<std::size_t>(finding.cause)]);
}

// A bracket over the condition that was seen, filled where heat made it; what has no place on the scale stands below it.
std::string finding_mark(const Plot& plot, const Finding& finding, double x) {
  const std::string look = fmt::format("stroke=\"{}\" stroke-width=\"1.6\" fill=\"{}\"", svg::ink,
                                       finding.cause == casefile::Cause::heat ? svg::ink : svg::paper);
  if (finding.elongation) {
    const double value = in_percent(finding.elongation->elongation);
    const double reach = score_of_tenth * in_percent(finding.elongation->standard_error);
    const double y = plot.y.within(value);
    return svg::line({x, plot.y.within(value + reach)}, {x, plot.y.within(std::max(value - reach, plot.y.from))}, look) +
           svg::path(fmt::format("M{} {}l5 -5l5 5l-5 5Z", svg::number(x - 5.0), svg::number(y)), look);
  }
  if (finding.seen && static_cast<std::size_t>(*finding.seen) < library::condition_count) {
    const auto [upper, lower] = plot.band_of(static_cast<std::size_t>(*finding.seen));
    const std::string bracket = fmt::format("M{0} {1}h-8M{0} {2}h-8M{3} {1}V{2}", svg::number(x + 4.0),
                                            svg::number(upper + 1.5), svg::number(lower - 1.5), svg::number(x));
    return svg::path(bracket, fmt::format("fill=\"none\" stroke=\"{}\" stroke-width=\"1.6\"", svg::ink)) +
           svg::box({x - 4.0, 0.5 * (upper + lower) - 4.0}, 8.0, 8.0, look);
  }
  return svg::path(fmt::format("M{} {}l4.5 -8h-9Z", svg::number(x), svg::number(plot.y.start - 2.0)), look);
}

// Findings of one day stand side by side.
double free_place(double x, const std::vector<double>& taken) {
  constexpr double apart = 11.0;
  const auto is_near = [&](double other) { return std::abs(x - other) < apart; };
  while (std::any_of(taken.begin(), taken.end(), is_near) && x > 42.0 + apart) x -= apart;
  return x;
}

std::vector<const Finding*> findings_at(const Case& job, const std::string& segment) {
  std::vector<const Finding*> list;
  for (const Finding& finding : job.findings) {
    if (finding.segment == segment) list.push_back(&finding);
  }
  return list;
}

std::string description(const AgeingCurve& curve, const Case& job, const SegmentEstimate& segment) {
  std::string words = "Elongation at break of the worst wire, on a logarithmic scale, over the years. ";
  for (std::size_t i = 0; i < curve.points.size(); i += std::max<std::size_t>(1, curve.points.size() / 8)) {
    const ElongationAt& one = curve.points[i];
    words += fmt::format("{:.0f}: {} % ({} to {}). ", calendar_year(job.inspected.day) + one.after.value(),
                         plain_number(in_percent(one.elongation.p50), 2), plain_number(in_percent(one.elongation.p10), 2),
                         plain_number(in_percent(one.elongation.p90), 2));
  }
  words += fmt::format(
      "At likely numbers stiff begins below {} %, flex-cracks below {} %, cracked below {} %, crumbling "
      "below {} %. ",
      plain_number(in_percent(curve.thresholds.stiff), 2), plain_number(in_percent(curve.thresholds.flex_cracks), 2),
      plain_number(in_percent(curve.thresholds.cracked), 2), plain_number(in_percent(curve.thresholds.crumbling), 2));
  for (const Finding* finding : findings_at(job, segment.id)) words += finding_words(*finding) + ". ";
  return words + std::string{not_claimed};
}

}  // namespace

std::string ageing_drawing(const AgeingCurve& curve, const Case& job, const SegmentEstimate& segment,
                           const DrawingPlace& place) {
  require_width(place);
  const std::string title = "Elongation left in " + segment_words(segment);
  const auto findings = findings_at(job, segment.id);
  const svg::Block head =
      svg::heading(title,
                   fmt::format("Worst wire, {}{}. Line: middle of the draws; grey: eight in ten of them.",
                               segment.insulation, segment.compound_known ? "" : " (likeliest compound)"),
                   place.width);
  const Plot plot = plot_of(curve, job, head.height + 18.0, place.width);
  std::string drawn = head.drawn + conditions_drawn(plot) + curves_drawn(plot) + axes_drawn(plot) + inspection_drawn(plot);
  std::vector<double> taken;
  for (const Finding* finding : findings) {
    taken.push_back(free_place(plot.x.within(calendar_year(finding->on.day)), taken));
    drawn += svg::group(finding_words(*finding), finding_mark(plot, *finding, taken.back()));
  }
  std::string notes = "Dashed: where conditions begin, at likely numbers. By heat alone, on the use stated to come. ";
  if (!findings.empty())
    notes +=
        "Bracket: condition as seen; diamond: pulled tail with eight in ten of its error; triangle: another finding; white "
        "where heat was not the sure cause. ";
  const svg::Block more = svg::paragraph({10.0, plot.y.start + 24.0}, place.width - 20.0, notes + std::string{not_claimed},
                                         {.size = 10.0, .fill = svg::soft_ink});
  return svg::drawn(
      {place.prefix, title, description(curve, job, segment), place.width, plot.y.start + 24.0 + more.height + 8.0},
      drawn + more.drawn);
}

}  // namespace heatside::report
