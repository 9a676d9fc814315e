#include "heatside/labfit/reading_study.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/base/constants.hpp"
#include "heatside/labfit/rate_law.hpp"
#include "labfit/curves.hpp"

namespace heatside::labfit {

namespace {

std::string degrees(Kelvin temperature) { return plain_number(in_celsius(temperature)) + " Cel"; }

// A specimen read at two hours or more has a life of its own; unnamed pieces are all different.
bool is_repeated(const ReadingTest& test) {
  if (test.specimens.size() < 2 && test.specimens.front().empty()) return false;
  for (std::size_t i = 0; i + 1 < test.readings.size(); ++i) {
    const Reading& a = test.readings[i];
    const Reading& b = test.readings[i + 1];
    if (a.temperature == b.temperature && a.specimen == b.specimen && a.hours != b.hours) return true;
  }
  return false;
}

// Scatter of single readings at one hour, all hours and temperatures together.
std::optional<double> variance_of_readings(const std::vector<Curve>& curves) {
  double squares = 0.0, degrees_of_freedom = 0.0;
  for (const Curve& curve : curves) {
    for (const CurvePoint& point : curve.points) {
      squares += point.squares;
      degrees_of_freedom += point.count - 1.0;
    }
  }
  if (!(degrees_of_freedom > 0.0)) return std::nullopt;
  return squares / degrees_of_freedom;
}

// From the uncertain means on both sides of the crossing.
double ln_error(const Curve& curve, const Passage& at, const Ending& ending, double variance) {
  const CurvePoint& from = curve.points[at.before];
  const CurvePoint& to = curve.points[at.before + 1];
  const double fall = std::abs(from.mean - to.mean);
  const double by_from = std::abs(ending.left(to.mean)) / (fall * fall), by_to = ending.left(from.mean) / (fall * fall);
  const double share = variance * (by_from * by_from / from.count + by_to * by_to / to.count);
  return (to.hours - from.hours) * std::sqrt(share) / at.hours;
}

Crossing crossing_of(const Curve& curve, const Ending& ending, std::optional<double> variance) {
  Crossing crossing;
  crossing.temperature = curve.temperature;
  double readings = curve.start_given ? -1.0 : 0.0;
  for (const CurvePoint& point : curve.points) readings += point.count;
  crossing.readings = static_cast<std::size_t>(readings);
  const auto found = passage(curve, ending);
  if (!found) return crossing;
  crossing.hours = Hours{found->hours};
  crossing.crosses_again = found->again;
  if (variance) crossing.ln_error = ln_error(curve, *found, ending, *variance);
  return crossing;
}

// With weights that are inverse variances, the scatter about the line counts where it is more than they explain.
void find_variances(ReadingStudy& study, const std::vector<LinePoint>& points, bool weighed) {
  const StraightLine& line = *study.crossing_line;
  if (!weighed && line.degrees == 0) return;
  const double scatter = line.degrees > 0 ? line.residual_sum / static_cast<double>(line.degrees) : 0.0;
  const double variance = weighed ? std::max(1.0, scatter) : scatter;
  double weight = 0.0, squares = 0.0;
  for (const LinePoint& point : points) {
    weight += point.weight;
    squares += point.weight * (point.x - line.mean_x) * (point.x - line.mean_x);
  }
  study.level_variance = variance / weight;
  study.slope_variance = variance / squares;
}

void fit_crossings(ReadingStudy& study) {
  const bool weighed = std::all_of(study.crossings.begin(), study.crossings.end(), [](const Crossing& crossing) {
    return !crossing.hours || (crossing.ln_error && *crossing.ln_error > 0.0);
  });
  std::vector<LinePoint> points;
  for (const Crossing& crossing : study.crossings) {
    if (!crossing.hours) continue;
    const double weight = weighed ? 1.0 / (*crossing.ln_error * *crossing.ln_error) : 1.0;
    points.push_back({1.0 / crossing.temperature.value(), std::log(crossing.hours->value()), weight});
  }
  if (points.size() < 2) return;
  study.crossing_line = straight_line(points);
  study.crossing_energy = 1.0e-3 * molar_gas_constant * study.crossing_line->slope;
  find_variances(study, points, weighed);
  if (study.slope_variance) study.crossing_energy_error = 1.0e-3 * molar_gas_constant * std::sqrt(*study.slope_variance);
}

void fit_first_order(ReadingStudy& study, const ReadingTest& test) {
  std::vector<DecayPoint> points;
  double mean_x = 0.0;
  for (const Reading& reading : test.readings) {
    if (!(reading.value > 0.0)) return;
    points.push_back({reading.temperature, reading.hours.value(), std::log(reading.value)});
    mean_x += 1.0 / reading.temperature.value() / static_cast<double>(test.readings.size());
  }
  try {
    const DecayFit fit = fit_decay(points, RateLaw::arrhenius, Kelvin{1.0 / mean_x});
    const double unit = 1.0e-3 * molar_gas_constant;
    study.first_order =
        FirstOrder{fit.start, std::exp(fit.ln_rate), unit * fit.steepness, unit * fit.steepness_error, fit.residual_sd};
  } catch (const DomainError&) {
    // One law of several; what does not follow it is not wrong.
  }
}

void lay_over(ReadingStudy& study, const std::vector<Curve>& curves, const Ending& ending) {
  try {
    study.superposition = superpose(curves, ending);
  } catch (const DomainError& reason) {
    study.superposition_why_not = reason.what();
  }
}

void warn(ReadingStudy& study) {
  std::vector<std::string> open, again;
  for (const Crossing& crossing : study.crossings) {
    if (!crossing.hours) open.push_back(degrees(crossing.temperature));
    if (crossing.crosses_again) again.push_back(degrees(crossing.temperature));
  }
  if (!open.empty())
    study.warnings.push_back(fmt::format("The mean does not reach the end point at {} within the test.", join(open)));
  if (!again.empty()) {
    study.warnings.push_back(fmt::format(
        "At {} later means lie on the near side of the end point again; the first crossing was taken.", join(again)));
  }
}

std::optional<Hours> drawn_crossing(const Curve& curve, const Ending& ending) {
  const CurvePoint& start = curve.points.front();
  if (start.hours != 0.0)
    throw DomainError("a line through the start needs the value at 0 h: readings at 0 h, or --initial");
  double product = 0.0, squares = 0.0;
  for (const CurvePoint& point : curve.points) {
    product += point.count * point.hours * (point.mean - start.mean);
    squares += point.count * point.hours * point.hours;
  }
  const double hours = (ending.value - start.mean) * squares / product;
  if (!(hours > 0.0) || !std::isfinite(hours)) return std::nullopt;
  return Hours{hours};
}

// Exact where crossed; failed before the first look where that was too late; else alive.
Life life_of(const Curve& curve, const Ending& ending, CrossingRule rule) {
  Life life;
  life.temperature = curve.temperature;
  const CurvePoint& first = curve.points.front();
  if (rule == CrossingRule::interpolate && ending.left(first.mean) <= 0.0 && first.hours > 0.0) {
    life.to = Hours{first.hours};
    return life;
  }
  std::optional<Hours> crossed;
  if (rule == CrossingRule::through_start) {
    crossed = drawn_crossing(curve, ending);
  } else if (const auto found = passage(curve, ending)) {
    crossed = Hours{found->hours};
  }
  life.from = crossed.value_or(Hours{curve.points.back().hours});
  life.to = crossed;
  return life;
}

}  // namespace

LifeTest lives_of(const ReadingTest& test, const EndPoint& end_point) {
  const Ending ending = ending_of(test, end_point);
  std::vector<Life> lives;
  for (const Curve& curve : curves_of(test, ending, true)) {
    const Life life = life_of(curve, ending, end_point.rule);
    // A piece that was only looked at when new says nothing.
    if (life.from.value() > 0.0 || life.to) lives.push_back(life);
  }
  return life_test(std::move(lives));
}

ReadingStudy reading_study(const ReadingTest& test, const EndPoint& end_point) {
  const Ending ending = ending_of(test, end_point);
  const std::vector<Curve> curves = curves_of(test, ending, false);
  if (curves.size() < 2) {
    throw DomainError(fmt::format("readings at one temperature only ({}): how ageing changes with it cannot be told",
                                  curves.empty() ? "none" : degrees(curves.front().temperature)));
  }
  ReadingStudy study;
  study.end_point = ending.value;
  study.initial = ending.initial;
  study.falling = ending.falling;
  study.repeated = is_repeated(test);
  const std::optional<double> variance = variance_of_readings(curves);
  for (const Curve& curve : curves) study.crossings.push_back(crossing_of(curve, ending, variance));
  fit_crossings(study);
  lay_over(study, curves, ending);
  if (ending.falling) fit_first_order(study, test);
  warn(study);
  return study;
}

}  // namespace heatside::labfit
