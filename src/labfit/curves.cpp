#include "labfit/curves.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"

namespace heatside::labfit {

namespace {

void add(Curve& curve, const Reading& reading) {
  if (curve.points.empty() || curve.points.back().hours != reading.hours.value())
    curve.points.push_back({reading.hours.value(), 0.0, 0.0, 0.0});
  CurvePoint& point = curve.points.back();
  point.count += 1.0;
  const double away = reading.value - point.mean;
  point.mean += away / point.count;
  point.squares += away * (reading.value - point.mean);
}

std::optional<double> mean_when_new(const ReadingTest& test) {
  Curve fresh;
  for (const Reading& reading : test.readings) {
    if (reading.hours.value() == 0.0) add(fresh, reading);
  }
  if (fresh.points.empty()) return std::nullopt;
  return fresh.points.front().mean;
}

double mean_of_earliest(const ReadingTest& test) {
  double sum = 0.0, count = 0.0;
  for (const Curve& curve : curves_of(test, {}, false)) {
    sum += curve.points.front().mean;
    count += 1.0;
  }
  return sum / count;
}

}  // namespace

Ending ending_of(const ReadingTest& test, const EndPoint& end_point) {
  Ending ending;
  ending.initial = end_point.initial ? end_point.initial : mean_when_new(test);
  if (end_point.value.has_value() == end_point.retained.has_value())
    throw DomainError(
        "one end point is needed: a value of the property, or the share of its initial value that is retained");
  if (end_point.retained && !ending.initial) {
    throw DomainError("a retained share needs the initial value: readings at 0 h, or --initial");
  }
  ending.value = end_point.value ? *end_point.value : *end_point.retained * *ending.initial;
  const double early = ending.initial ? *ending.initial : mean_of_earliest(test);
  if (early == ending.value)
    throw DomainError(fmt::format("the end point {} is the value at the start", plain_number(ending.value)));
  ending.falling = early > ending.value;
  return ending;
}

std::vector<Curve> curves_of(const ReadingTest& test, const Ending& ending, bool each_specimen) {
  std::vector<Reading> readings = test.readings;
  if (!each_specimen) {
    std::stable_sort(readings.begin(), readings.end(), [](const Reading& a, const Reading& b) {
      return a.temperature != b.temperature ? a.temperature < b.temperature : a.hours < b.hours;
    });
  }
  std::vector<Curve> curves;
  const Reading* last = nullptr;
  for (const Reading& reading : readings) {
    const bool same = last != nullptr && last->temperature == reading.temperature &&
                      (!each_specimen || last->specimen == reading.specimen);
    if (!same) {
      curves.push_back({reading.temperature, {}, false});
      const bool begins_late = reading.hours.value() > 0.0;
      curves.back().start_given = begins_late && ending.initial.has_value();
      if (curves.back().start_given) curves.back().points.push_back({0.0, *ending.initial, 1.0, 0.0});
    }
    add(curves.back(), reading);
    last = &reading;
  }
  return curves;
}

std::optional<Passage> passage(const Curve& curve, const Ending& ending) {
  for (std::size_t i = 0; i + 1 < curve.points.size(); ++i) {
    const CurvePoint& from = curve.points[i];
    const CurvePoint& to = curve.points[i + 1];
    const double before = ending.left(from.mean), after = ending.left(to.mean);
    if (!(before > 0.0 && after <= 0.0)) continue;
    Passage found{i, from.hours + before / (before - after) * (to.hours - from.hours), false};
    for (std::size_t later = i + 2; later < curve.points.size(); ++later) {
      found.again = found.again || ending.left(curve.points[later].mean) > 0.0;
    }
    return found;
  }
  return std::nullopt;
}

}  // namespace heatside::labfit
