#include "heatside/population/oven_line.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "base/text.hpp"
#include "heatside/ageing/arrhenius.hpp"
#include "heatside/base/constants.hpp"
#include "heatside/labfit/straight_line.hpp"

namespace heatside::population {

namespace {

using library::AgeingPath;
using library::Insulation;

constexpr int coldest = -10, step = 5, above_ovens = 15;  // [Cel], [K]
constexpr Hours index_hours{20000.0};

bool is_dry(const AgeingPath& path) { return path.kind != library::PathKind::hydrolysis; }

// Share of a dry path of the reference rate, times how much faster it runs than there.
double pace_of(const Insulation& insulation, const AgeingPath& path, Kelvin temperature) {
  return path.share.value * ageing::acceleration_factor({celsius(insulation.life_temperature.value), temperature},
                                                        kilojoule_per_mole(path.activation_energy.value));
}

template <class Weight>
double over_dry_paths(const Insulation& insulation, Kelvin temperature, Weight weight) {
  double sum = 0.0;
  for (const AgeingPath& path : insulation.paths) {
    if (is_dry(path)) sum += weight(path) * pace_of(insulation, path, temperature);
  }
  return sum;
}

double pace_at(const Insulation& insulation, Kelvin temperature) {
  return over_dry_paths(insulation, temperature, [](const AgeingPath&) { return 1.0; });
}

labfit::StraightLine line_through_ovens(const Insulation& insulation) {
  std::vector<labfit::LinePoint> points;
  for (const Kelvin oven : oven_temperatures(insulation))
    points.push_back({1.0 / oven.value(), std::log(life_at(insulation, oven).value())});
  return labfit::straight_line(points);
}

// Life falls with temperature, so halving the interval finds it.
Kelvin index_of(const Insulation& insulation) {
  double low = 200.0, high = 800.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (life_at(insulation, Kelvin{middle}) > index_hours ? low : high) = middle;
  }
  return Kelvin{0.5 * (low + high)};
}

}  // namespace

Hours life_at(const Insulation& insulation, Kelvin temperature) {
  return Hours{insulation.lot_median.value * insulation.life_hours.value / pace_at(insulation, temperature)};
}

JoulePerMole energy_at(const Insulation& insulation, Kelvin temperature) {
  const double weighed =
      over_dry_paths(insulation, temperature, [](const AgeingPath& path) { return path.activation_energy.value; });
  return kilojoule_per_mole(weighed / pace_at(insulation, temperature));
}

std::vector<Kelvin> oven_temperatures(const Insulation& insulation) {
  constexpr double long_test = 5000.0;                 // [h]
  constexpr int hottest = 400, ovens = 4, apart = 15;  // [Cel], [K]
  const auto far_from = [&](int degrees) {
    return std::abs(std::log(life_at(insulation, celsius(degrees)).value() / long_test));
  };
  int coolest = 0;
  for (int degrees = step; degrees <= hottest; degrees += step) {
    if (far_from(degrees) < far_from(coolest)) coolest = degrees;
  }
  std::vector<Kelvin> temperatures;
  for (int oven = 0; oven < ovens; ++oven) temperatures.push_back(celsius(coolest + apart * oven));
  return temperatures;
}

Insulation as_ovens_show(const Insulation& insulation) {
  const labfit::StraightLine line = line_through_ovens(insulation);
  Insulation straight = insulation;
  std::erase_if(straight.paths, is_dry);
  AgeingPath path = *std::find_if(insulation.paths.begin(), insulation.paths.end(), is_dry);
  path.id = "line";
  path.kind = library::PathKind::oxidation;
  path.activation_energy.value = 1.0e-3 * labfit::activation_energy_from_slope(KelvinRise{line.slope}).value();
  path.share.value = 1.0;
  straight.paths.insert(straight.paths.begin(), path);
  straight.guard_paths.clear();
  const double at_reference =
      line.level + line.slope * (1.0 / celsius(insulation.life_temperature.value).value() - line.mean_x);
  straight.life_hours.value = std::exp(at_reference) / insulation.lot_median.value;
  return straight;
}

const Insulation& insulation_of(const library::Library& library, const std::string& id) {
  const auto found = library.insulations.find(id);
  if (found != library.insulations.end()) return found->second;
  const std::string nearest = nearest_word(id, library::ids_of(library.insulations));
  throw DomainError(fmt::format("there is no insulation \"{}\"{}; `heatside materials` lists them", id,
                                nearest.empty() ? "" : fmt::format("; did you mean \"{}\"?", nearest)));
}

OvenLine oven_line(const library::Library& library, const std::string& id) {
  const Insulation& insulation = insulation_of(library, id);
  const Insulation straight = as_ovens_show(insulation);
  OvenLine line;
  line.insulation = id;
  line.name = insulation.head.name;
  line.bends = std::count_if(insulation.paths.begin(), insulation.paths.end(), is_dry) > 1;
  line.line_energy = kilojoule_per_mole(straight.paths.front().activation_energy.value);
  line.index_by_law = index_of(insulation);
  line.index_by_line = index_of(straight);
  const std::vector<Kelvin> ovens = oven_temperatures(insulation);
  const int hottest = static_cast<int>(std::lround(in_celsius(ovens.back()))) + above_ovens;
  for (int degrees = coldest; degrees <= hottest; degrees += step) {
    const Kelvin at = celsius(degrees);
    const bool oven =
        std::any_of(ovens.begin(), ovens.end(), [&](Kelvin one) { return std::abs(one.value() - at.value()) < 0.5; });
    line.points.push_back({at, life_at(insulation, at), life_at(straight, at),
                           pace_at(insulation, at + KelvinRise{10.0}) / pace_at(insulation, at), oven});
  }
  return line;
}

}  // namespace heatside::population
