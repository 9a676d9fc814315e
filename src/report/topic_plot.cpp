#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/report/topic_report.hpp"
#include "report/drawing_words.hpp"
#include "report/svg.hpp"
#include "report/topic_tables.hpp"

/// The experiments as pictures: lines told apart by their dashes, so that they read in grey.

namespace heatside::report {

namespace {

using namespace population;

constexpr double width = 720.0, height = 460.0;
constexpr double left = 74.0, right = 700.0, top = 74.0, bottom = 396.0;

struct Tick {
  double at{};
  std::string words;
};

struct Axis {
  std::string words;
  double low{}, high{};
  std::vector<Tick> ticks;
};

// A line, or marks where `marks` says so.
struct Series {
  std::string name;
  std::vector<svg::Point> points;
  std::string dash{};
  bool marks = false;
  std::vector<std::pair<double, double>> bars{};  // from and to, one for each point; empty: none
};

struct Chart {
  std::string description;
  Axis x, y;
  std::vector<Series> series;
};

class Page {
 public:
  explicit Page(const Chart& chart) : x_{chart.x}, y_{chart.y} {}
  [[nodiscard]] double x(double value) const { return left + (value - x_.low) / (x_.high - x_.low) * (right - left); }
  [[nodiscard]] double y(double value) const { return bottom - (value - y_.low) / (y_.high - y_.low) * (bottom - top); }
  [[nodiscard]] svg::Point at(svg::Point point) const { return {x(point.x), y(point.y)}; }

 private:
  const Axis &x_, &y_;
};

std::string look(const char* colour, double wide, const std::string& dash = "") {
  return fmt::format("stroke=\"{}\" stroke-width=\"{}\"{}", colour, wide,
                     dash.empty() ? "" : fmt::format(" stroke-dasharray=\"{}\"", dash));
}

std::string axes_drawn(const Chart& chart, const Page& page) {
  std::string drawing;
  for (const Tick& tick : chart.x.ticks) {
    drawing += svg::line({page.x(tick.at), top}, {page.x(tick.at), bottom}, look(svg::rule, 1.0));
    drawing += svg::text(page.x(tick.at), bottom + 18.0, tick.words, {.anchor = "middle"});
  }
  for (const Tick& tick : chart.y.ticks) {
    drawing += svg::line({left, page.y(tick.at)}, {right, page.y(tick.at)}, look(svg::rule, 1.0));
    drawing += svg::text(left - 8.0, page.y(tick.at) + 4.0, tick.words, {.anchor = "end"});
  }
  drawing += svg::line({left, bottom}, {right, bottom}, look(svg::ink, 1.0));
  drawing += svg::line({left, top}, {left, bottom}, look(svg::ink, 1.0));
  drawing += svg::text(0.5 * (left + right), bottom + 38.0, chart.x.words, {.anchor = "middle"});
  return drawing + svg::text(left - 64.0, top - 12.0, chart.y.words);
}

std::string series_drawn(const Series& series, const Page& page) {
  std::string drawing;
  for (std::size_t i = 0; i < series.bars.size(); ++i) {
    const double x = page.x(series.points[i].x);
    drawing += svg::line({x, page.y(series.bars[i].first)}, {x, page.y(series.bars[i].second)}, look(svg::soft_ink, 1.0));
  }
  std::vector<svg::Point> points;
  for (const svg::Point& point : series.points) points.push_back(page.at(point));
  if (!series.marks) return drawing + svg::path(svg::through(points), "fill=\"none\" " + look(svg::ink, 1.8, series.dash));
  for (const svg::Point& point : points)
    drawing += svg::circle(point, 4.0, fmt::format("fill=\"{}\" {}", svg::paper, look(svg::ink, 1.6)));
  return drawing;
}

// A sample of each line with its name, below the axes.
std::string legend_drawn(const std::vector<Series>& series) {
  std::string drawing;
  double x = left;
  for (const Series& one : series) {
    const double y = bottom + 56.0;
    drawing += one.marks
                   ? svg::circle({x + 14.0, y - 4.0}, 4.0, fmt::format("fill=\"{}\" {}", svg::paper, look(svg::ink, 1.6)))
                   : svg::line({x, y - 4.0}, {x + 28.0, y - 4.0}, look(svg::ink, 1.8, one.dash));
    drawing += svg::text(x + 34.0, y, one.name);
    x += 34.0 + svg::width_of(one.name, 11.0) + 24.0;
  }
  return drawing;
}

Axis even_axis(std::string words, double low, double high) {
  Axis axis{std::move(words), low, high, {}};
  const double step = even_step(high - low, 8.0);
  for (double at = std::ceil(low / step) * step; at <= high + 1.0e-9 * step; at += step)
    axis.ticks.push_back({at, plain_number(at + 0.0, 4)});
  return axis;
}

std::string hours_tick(int decade) {
  constexpr int thousand = 3;
  if (decade < thousand) return fmt::format("{:.0f} h", std::pow(10.0, decade));
  return fmt::format("1e{} h", decade);
}

Chart chart_of(const OvenLine& line) {
  Chart chart{"Life over temperature: full line by the law of the compound, dashed by the straight line through the ovens.",
              {},
              {},
              {}};
  Series law{"by the law", {}}, straight{"straight line through the ovens", {}, "7 4"}, ovens{"ovens", {}, "", true};
  const auto inverse = [](Kelvin at) { return -1.0e3 / at.value(); };
  for (const OvenLinePoint& point : line.points) {
    const double x = inverse(point.temperature);
    law.points.push_back({x, std::log10(point.by_law.value())});
    straight.points.push_back({x, std::log10(point.by_line.value())});
    if (point.oven) ovens.points.push_back(law.points.back());
  }
  chart.x = {"temperature, degC (spaced by 1/T)", law.points.front().x, law.points.back().x, {}};
  for (int degrees = -200; degrees <= 400; degrees += 20) {
    const double x = inverse(celsius(degrees));
    if (x >= chart.x.low && x <= chart.x.high) chart.x.ticks.push_back({x, fmt::format("{}", degrees)});
  }
  const double highest = std::max(law.points.front().y, straight.points.front().y);
  chart.y = {"life", std::floor(law.points.back().y), std::ceil(highest), {}};
  for (int decade = static_cast<int>(chart.y.low); decade <= static_cast<int>(chart.y.high); ++decade)
    chart.y.ticks.push_back({static_cast<double>(decade), hours_tick(decade)});
  chart.series = {law, straight, ovens};
  return chart;
}

Chart chart_of(const SoakTopic& topic) {
  Chart chart{
      "Temperature of the insulation over minutes since key-on; the engine is stopped at the end of the trip.", {}, {}, {}};
  constexpr const char* dashes[] = {"", "7 4", "2 3"};
  double highest = 0.0, last = 0.0;
  for (const SoakPiece& piece : topic.pieces) {
    Series series{fmt::format("{} ({})", piece.segment, piece.zone), {}, dashes[chart.series.size() % 3]};
    for (const SoakMinute& minute : piece.minutes) {
      series.points.push_back({minute.since_key_on.value(), in_celsius(minute.insulation)});
      highest = std::max(highest, series.points.back().y);
      last = series.points.back().x;
    }
    chart.series.push_back(std::move(series));
  }
  chart.x = even_axis(fmt::format("minutes since key-on; key-off at {:.0f}", topic.length.value()), 0.0, last);
  chart.y = even_axis("insulation, degC", 0.0, 10.0 * std::ceil(0.1 * highest + 0.2));
  return chart;
}

Chart chart_of(const PathsTopic& topic) {
  Chart chart{"Share of each way of ageing over a constant temperature.", {}, {}, {}};
  constexpr const char* dashes[] = {"", "7 4", "2 3"};
  for (std::size_t path = 0; path < topic.paths.size(); ++path) {
    Series series{topic.paths[path], {}, dashes[path % 3]};
    for (const PathsPoint& point : topic.points)
      series.points.push_back({in_celsius(point.temperature), 100.0 * point.share[path]});
    chart.series.push_back(std::move(series));
  }
  chart.x = even_axis("temperature, degC", in_celsius(topic.points.front().temperature),
                      in_celsius(topic.points.back().temperature));
  chart.y = even_axis("share of the ageing, %", 0.0, 100.0);
  return chart;
}

Chart chart_of(const DrawsTopic& topic) {
  Chart chart{
      "Middle of the draws, one mark a run, with the range of eight draws in ten, over the number of draws.", {}, {}, {}};
  Series runs{"middle of one run, with eight in ten of its draws", {}, "", true};
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (const DrawsRun& run : topic.runs) {
    const double beside = 0.025 * (static_cast<double>(run.seed) - 3.5);
    runs.points.push_back({std::log10(static_cast<double>(run.draws)) + beside, run.years.p50.value()});
    runs.bars.emplace_back(run.years.p10.value(), run.years.p90.value());
    low = std::min(low, run.years.p10.value());
    high = std::max(high, run.years.p90.value());
    const Tick tick{std::log10(static_cast<double>(run.draws)), fmt::format("{}", run.draws)};
    if (chart.x.ticks.empty() || chart.x.ticks.back().at != tick.at) chart.x.ticks.push_back(tick);
  }
  chart.x.words = "draws";
  chart.x.low = chart.x.ticks.front().at - 0.2;
  chart.x.high = chart.x.ticks.back().at + 0.2;
  chart.y = even_axis("years until it cracks when handled", std::floor(0.1 * low) * 10.0, std::ceil(0.1 * high) * 10.0);
  const double likely = topic.likely.value();
  chart.series = {runs, {"every quantity at its likely value", {{chart.x.low, likely}, {chart.x.high, likely}}, "7 4"}};
  return chart;
}

Chart chart_of(const FindingsTopic& topic) {
  Chart chart{"Chance that each piece is cracked or worse, by what was seen at the hot one.", {}, {}, {}};
  constexpr const char* dashes[] = {"", "7 4", "2 3"};
  Series before{"before any look", {}, "", true};
  for (std::size_t piece = 0; piece < 3; ++piece) {
    Series series{topic.rows[piece].segment + " piece", {}, dashes[piece]};
    for (std::size_t i = piece; i < topic.rows.size(); i += 3) {
      const auto x = static_cast<double>(i / 3);
      Series& where = i < 3 ? before : series;
      where.points.push_back({x, 100.0 * (topic.rows[i].chance[3] + topic.rows[i].chance[4])});
      if (piece == 0) chart.x.ticks.push_back({x, topic.rows[i].seen});
    }
    chart.series.push_back(std::move(series));
  }
  chart.series.push_back(std::move(before));
  chart.x.words = "seen at the hot piece";
  chart.x.low = -0.5;
  chart.x.high = static_cast<double>(chart.x.ticks.size()) - 0.5;
  chart.y = even_axis("cracked or worse, %", 0.0, 100.0);
  return chart;
}

}  // namespace

std::string topic_plot(const Topic& topic) {
  const Chart chart = std::visit([](const auto& one) { return chart_of(one); }, topic);
  const std::string title = topic_words(topic).title;
  const Page page{chart};
  std::string inside = svg::text(left - 64.0, 26.0, title, {.size = 15.0, .bold = true}, width - 20.0);
  inside += svg::text(left - 64.0, 44.0, "A model experiment with likely numbers; the loom in it is invented.",
                      {.fill = svg::soft_ink});
  inside += axes_drawn(chart, page);
  for (const Series& series : chart.series) inside += series_drawn(series, page);
  inside += legend_drawn(chart.series);
  return svg::drawn({fmt::format("topic-{}", topic_names[topic.index()]), title, chart.description, width, height}, inside);
}

}  // namespace heatside::report
