#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/report/fit_report.hpp"
#include "report/fit_words.hpp"
#include "report/svg.hpp"

namespace heatside::report {

namespace {

using namespace labfit;

constexpr double width = 760.0, height = 520.0;
constexpr double left = 84.0, right = 736.0, top = 56.0, bottom = 440.0;
// A thousand marks in one column would be a bar.
constexpr std::size_t most_marks = 40;

// What is drawn at one temperature.
struct Column {
  Kelvin temperature{ice_point_kelvin};
  std::vector<double> failed, alive;               // [h]
  std::vector<std::pair<double, double>> between;  // [h], interval looks or an uncertain crossing
  double first{}, last{};
};

void stretch(Column& column, double hours) {
  column.first = column.first > 0.0 ? std::min(column.first, hours) : hours;
  column.last = std::max(column.last, hours);
}

void add_life(Column& column, const Life& life) {
  const double from = life.from.value();
  if (!life.to) {
    column.alive.push_back(from);
  } else if (life.is_exact()) {
    column.failed.push_back(from);
  } else {
    column.between.emplace_back(from > 0.0 ? from : life.to->value(), life.to->value());
  }
  if (from > 0.0) stretch(column, from);
  if (life.to) stretch(column, life.to->value());
}

std::vector<Column> columns_of(const Study& study) {
  std::vector<Column> columns;
  if (study.lives) {
    for (const Life& life : study.lives->lives) {
      if (columns.empty() || columns.back().temperature != life.temperature)
        columns.push_back({life.temperature, {}, {}, {}});
      add_life(columns.back(), life);
    }
    return columns;
  }
  for (const Crossing& crossing : study.readings->crossings) {
    if (!crossing.hours) continue;
    columns.push_back({crossing.temperature, {crossing.hours->value()}, {}, {}});
    stretch(columns.back(), crossing.hours->value());
    if (!crossing.ln_error) continue;
    const double reach = std::exp(1.96 * *crossing.ln_error);
    columns.back().between.emplace_back(crossing.hours->value() / reach, crossing.hours->value() * reach);
  }
  return columns;
}

const LifeModel* model_of(const Study& study) { return study.preferred ? &study.models[*study.preferred] : nullptr; }

// From data to places on the page: temperature by 1/T, rising to the right; hours by their logarithm.
class Axes {
 public:
  Axes(const Study& study, const std::vector<Column>& columns) {
    double coolest = HUGE_VAL, hottest = -HUGE_VAL, least = HUGE_VAL, most = 0.0;
    const auto take = [&](Kelvin temperature, double hours) {
      coolest = std::min(coolest, temperature.value());
      hottest = std::max(hottest, temperature.value());
      least = std::min(least, hours);
      most = std::max(most, hours);
    };
    for (const Column& column : columns) {
      take(column.temperature, column.first);
      take(column.temperature, column.last);
    }
    if (const LifeModel* model = model_of(study)) {
      for (const LifeEstimate& life : model->lives) {
        take(life.temperature, life.hours.value);
        take(life.temperature, std::min(life.hours.hi.value_or(life.hours.value), 1.0e9));
      }
    }
    const double margin = 0.06 * (hottest - coolest) + 2.0;
    coolest_ = coolest - margin;
    hottest_ = hottest + margin;
    least_ = std::log(least) - 0.25;
    most_ = std::log(most) + 0.25;
  }

  [[nodiscard]] double x(Kelvin temperature) const {
    const double share = (1.0 / coolest_ - 1.0 / temperature.value()) / (1.0 / coolest_ - 1.0 / hottest_);
    return left + share * (right - left);
  }
  [[nodiscard]] double y(double hours) const {
    const double share = (std::log(hours) - least_) / (most_ - least_);
    // Lines run on beyond the page and are clipped; marks are few and lie within it.
    return bottom - std::clamp(share, -3.0, 4.0) * (bottom - top);
  }
  [[nodiscard]] double coolest() const { return coolest_; }
  [[nodiscard]] double hottest() const { return hottest_; }
  [[nodiscard]] bool shows(double hours) const { return std::log(hours) >= least_ && std::log(hours) <= most_; }

 private:
  double coolest_{}, hottest_{};  // [K]
  double least_{}, most_{};       // ln(h)
};

std::string stroke(double x1, double y1, double x2, double y2, std::string_view style) {
  return fmt::format("<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" {}/>\n", x1, y1, x2, y2, style);
}

std::string label(double x, double y, std::string_view anchor, const std::string& text) {
  return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>\n", x, y, anchor, svg::escaped(text));
}

double temperature_step(double span) {
  for (const double step : {5.0, 10.0, 20.0, 50.0}) {
    if (span / step <= 9.0) return step;
  }
  return 100.0;
}

std::string axes_drawn(const Axes& axes) {
  std::string svg;
  const double step = temperature_step(axes.hottest() - axes.coolest());
  for (double degrees = std::ceil((axes.coolest() - ice_point_kelvin) / step) * step;
       degrees <= axes.hottest() - ice_point_kelvin; degrees += step) {
    const double x = axes.x(celsius(degrees));
    svg += stroke(x, top, x, bottom, "stroke=\"#e2e2e2\"") + label(x, bottom + 20.0, "middle", plain_number(degrees));
  }
  for (int decade = -2; decade <= 9; ++decade) {
    for (const double digit : {1.0, 2.0, 5.0}) {
      const double hours = digit * std::pow(10.0, decade);
      if (!axes.shows(hours)) continue;
      const double y = axes.y(hours);
      svg += stroke(left, y, right, y, digit == 1.0 ? "stroke=\"#cfcfcf\"" : "stroke=\"#ececec\"");
      svg += label(left - 8.0, y + 4.0, "end", hours_words(hours));
    }
  }
  svg += stroke(left, bottom, right, bottom, "stroke=\"#222\"") + stroke(left, top, left, bottom, "stroke=\"#222\"");
  svg += label(0.5 * (left + right), bottom + 42.0, "middle", "temperature, Cel (spaced by 1/T)");
  return svg + fmt::format("<text transform=\"translate(18 {:.1f}) rotate(-90)\" text-anchor=\"middle\">life, h</text>\n",
                           0.5 * (top + bottom));
}

std::string column_drawn(const Column& column, const Axes& axes) {
  const double x = axes.x(column.temperature);
  std::string svg = stroke(x, axes.y(column.first), x, axes.y(column.last), "stroke=\"#777\" stroke-width=\"1.2\"");
  for (const auto& [from, to] : column.between) {
    svg += stroke(x, axes.y(from), x, axes.y(to), "stroke=\"#9a9a9a\" stroke-width=\"5\" stroke-opacity=\"0.5\"");
    svg += stroke(x - 4.0, axes.y(to), x + 4.0, axes.y(to), "stroke=\"#222\"");
  }
  const auto each = [&](const std::vector<double>& list, auto&& draw) {
    const std::size_t stride = 1 + (list.empty() ? 0 : (list.size() - 1) / most_marks);
    for (std::size_t i = 0; i < list.size(); i += stride) draw(axes.y(list[i]));
  };
  each(column.failed, [&](double y) { svg += stroke(x - 7.0, y, x + 7.0, y, "stroke=\"#111\" stroke-width=\"1.6\""); });
  // Still alive: the life goes on upwards.
  each(column.alive, [&](double y) {
    svg += fmt::format(
        "<path d=\"M{:.1f} {:.1f}V{:.1f}M{:.1f} {:.1f}L{:.1f} {:.1f}L{:.1f} {:.1f}\" fill=\"none\" stroke=\"#111\"/>\n", x,
        y, y - 13.0, x - 4.0, y - 8.0, x, y - 13.0, x + 4.0, y - 8.0);
  });
  return svg;
}

constexpr int line_points = 60;

template <class Life>
std::string path_of(const Axes& axes, Life life) {
  std::string path;
  for (int i = 0; i <= line_points; ++i) {
    const double share = static_cast<double>(i) / line_points;
    const Kelvin temperature{1.0 / ((1.0 - share) / axes.coolest() + share / axes.hottest())};
    path += fmt::format("{}{:.1f} {:.1f}", i == 0 ? "M" : "L", axes.x(temperature), axes.y(std::exp(life(temperature))));
  }
  return path;
}

// The two ends of the band, one there and one back.
std::string band_drawn(const LifeModel& model, const Axes& axes) {
  const double z = normal_quantile(0.5 * (1.0 + model.level));
  const auto edge = [&](double side) {
    return path_of(axes, [&](Kelvin temperature) {
      const LnLife life = ln_life(model, temperature, 0.5);
      return life.value + side * z * life.error;
    });
  };
  std::string back = edge(1.0);
  std::vector<std::string> points;
  for (std::size_t at = 0; at < back.size();) {
    const std::size_t end = std::min(back.find('L', at + 1), back.size());
    points.insert(points.begin(), "L" + back.substr(at + 1, end - at - 1));
    at = end;
  }
  return fmt::format("<path d=\"{}{}Z\" fill=\"#d9d9d9\" fill-opacity=\"0.6\" stroke=\"none\"/>\n", edge(-1.0),
                     join(points, ""));
}

// Between the two hottest ovens, where the falling line leaves room above on its right and below on its left.
Kelvin label_place(const LifeModel& model) {
  const std::size_t last = model.temperatures.size() - 1;
  return Kelvin{2.0 / (1.0 / model.temperatures[last].value() + 1.0 / model.temperatures[last - 1].value())};
}

std::string quantile_drawn(const LifeModel& model, const Axes& axes, double p, std::string_view style) {
  const auto ln_of = [&](Kelvin temperature) { return ln_life(model, temperature, p).value; };
  const Kelvin place = label_place(model);
  const double x = axes.x(place), y = axes.y(std::exp(ln_of(place)));
  const std::string words = share_words(p) + " failed";
  return fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"#111\" {}/>\n", path_of(axes, ln_of), style) +
         (p == 0.5 ? label(x + 8.0, y - 4.0, "start", words) : label(x - 8.0, y + 13.0, "end", words));
}

std::string lines_drawn(const LifeModel& model, const Axes& axes) {
  if (model.scale_kind == ScaleKind::common) {
    return band_drawn(model, axes) + quantile_drawn(model, axes, 0.5, "stroke-width=\"2\"") +
           quantile_drawn(model, axes, 0.1, "stroke-width=\"1.2\" stroke-dasharray=\"7 4\"");
  }
  const std::string path = path_of(axes, [&](Kelvin temperature) { return model.location(temperature); });
  return fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"#111\" stroke-width=\"2\"/>\n", path);
}

// A ring with the interval of the life that was asked for.
std::string asked_drawn(const LifeModel& model, const Axes& axes) {
  std::string svg;
  for (const LifeEstimate& life : model.lives) {
    if (life.p != model.lives.front().p) continue;
    const double x = axes.x(life.temperature), y = axes.y(life.hours.value);
    if (life.hours.lo && life.hours.hi)
      svg += stroke(x, std::min(axes.y(*life.hours.lo), bottom), x, std::max(axes.y(*life.hours.hi), top),
                    "stroke=\"#111\" stroke-width=\"1.2\"");
    svg += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"7\" fill=\"#fff\" stroke=\"#111\" stroke-width=\"2\"/>\n", x,
                       y);
    svg += label(x + 12.0, y - 8.0, "start",
                 fmt::format("{}: {} failed by {} h", temperature_words(life.temperature), share_words(life.p),
                             hours_words(life.hours.value)));
  }
  return svg;
}

std::string description(const Study& study, const LifeModel* model) {
  std::string text =
      "Hours to the end point over oven temperature, hours on a logarithmic axis, temperature spaced by its inverse. ";
  text += "Short bars are failures, arrows specimens still alive, broad grey bars intervals. ";
  if (model == nullptr) return text + "No line of lives was fitted.";
  text += fmt::format("The full line is the {} fit with its {} % band, activation energy {} kJ/mol.",
                      name_of(model->distribution), plain_number(100.0 * model->level, 4),
                      plain_number(model->activation_energy.value, 3));
  for (const LifeEstimate& life : model->lives) {
    text += fmt::format(" At {} {} have failed by {} h ({}).", temperature_words(life.temperature), share_words(life.p),
                        hours_words(life.hours.value), limits_words(life.hours, hours_words));
  }
  for (const SeenLives& seen : seen_lives(*study.lives)) {
    text += fmt::format(" {}: {} failed, {} alive, {} to {} h.", temperature_words(seen.temperature), seen.failed,
                        seen.alive, hours_words(seen.first), hours_words(seen.last));
  }
  return text;
}

std::string crossing_line_drawn(const Study& study, const Axes& axes) {
  if (!study.readings || !study.readings->crossing_line) return "";
  const StraightLine& line = *study.readings->crossing_line;
  const std::string path =
      path_of(axes, [&](Kelvin temperature) { return line.level + line.slope * (1.0 / temperature.value() - line.mean_x); });
  return fmt::format("<path d=\"{}\" fill=\"none\" stroke=\"#111\" stroke-width=\"2\"/>\n", path);
}

}  // namespace

std::string fit_plot(const Study& study, const FitHeading& heading) {
  const std::vector<Column> columns = columns_of(study);
  if (columns.empty()) throw DomainError("nothing to draw: no temperature has reached its end point");
  const LifeModel* model = model_of(study);
  const Axes axes{study, columns};
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.0f} {1:.0f}\" width=\"{0:.0f}\" height=\"{1:.0f}\" "
      "role=\"img\" "
      "aria-labelledby=\"fit-title fit-desc\" font-family=\"sans-serif\" font-size=\"12\" fill=\"#111\">\n",
      width, height);
  svg += fmt::format("<title id=\"fit-title\">Life over temperature, {}</title>\n", svg::escaped(heading.data_name));
  svg += fmt::format("<desc id=\"fit-desc\">{}</desc>\n", svg::escaped(description(study, model)));
  svg += fmt::format("<rect width=\"{:.0f}\" height=\"{:.0f}\" fill=\"#fff\"/>\n", width, height);
  svg += fmt::format("<text x=\"{:.1f}\" y=\"28\" font-size=\"15\">Life over temperature, {}</text>\n", left,
                     svg::escaped(heading.data_name));
  svg += axes_drawn(axes);
  svg += fmt::format("<clipPath id=\"fit-area\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/></clipPath>\n", left,
                     top, right - left, bottom - top);
  svg += "<g clip-path=\"url(#fit-area)\">\n";
  svg += model != nullptr ? lines_drawn(*model, axes) : crossing_line_drawn(study, axes);
  svg += "</g>\n";
  for (const Column& column : columns) svg += column_drawn(column, axes);
  if (model != nullptr) svg += asked_drawn(*model, axes);
  std::string caption = heading.note;
  if (model != nullptr) {
    caption = fmt::format("Grey: {} % band of the line, point by point. Ring: life asked for. {}",
                          plain_number(100.0 * model->level, 4), heading.note);
  }
  svg += label(left, height - 14.0, "start", svg::shortened(caption, right - left, 12.0));
  return svg + "</svg>\n";
}

}  // namespace heatside::report
