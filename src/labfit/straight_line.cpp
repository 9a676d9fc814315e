#include "heatside/labfit/straight_line.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/text.hpp"
#include "heatside/base/constants.hpp"

namespace heatside::labfit {

namespace {

struct Means {
  double weight = 0.0, x = 0.0, y = 0.0;
};

Means means_of(const std::vector<LinePoint>& points) {
  Means means;
  for (const LinePoint& point : points) means.weight += point.weight;
  for (const LinePoint& point : points) {
    means.x += point.weight / means.weight * point.x;
    means.y += point.weight / means.weight * point.y;
  }
  return means;
}

}  // namespace

StraightLine straight_line(const std::vector<LinePoint>& points) {
  if (points.size() < 2) throw DomainError(fmt::format("a straight line needs two points; there are {}", points.size()));
  const Means means = means_of(points);
  double sxx = 0.0, sxy = 0.0, syy = 0.0;
  for (const LinePoint& point : points) {
    const double dx = point.x - means.x, dy = point.y - means.y;
    sxx += point.weight * dx * dx;
    sxy += point.weight * dx * dy;
    syy += point.weight * dy * dy;
  }
  if (!(sxx > 0.0)) throw DomainError(fmt::format("all points lie at one x, {}: no slope", plain_number(means.x)));

  StraightLine line{};
  line.slope = sxy / sxx;
  line.mean_x = means.x;
  line.level = means.y;
  line.intercept = means.y - line.slope * means.x;
  for (const LinePoint& point : points) {
    const double residual = point.y - means.y - line.slope * (point.x - means.x);
    line.residual_sum += point.weight * residual * residual;
  }
  line.share_explained = syy > 0.0 ? 1.0 - line.residual_sum / syy : 1.0;
  line.degrees = points.size() - 2;
  if (line.degrees == 0) return line;
  const double sd = std::sqrt(line.residual_sum / static_cast<double>(line.degrees));
  line.residual_sd = sd;
  line.slope_error = sd / std::sqrt(sxx);
  line.intercept_error = sd * std::sqrt(1.0 / means.weight + means.x * means.x / sxx);
  return line;
}

JoulePerMole activation_energy_from_slope(KelvinRise slope) { return JoulePerMole{molar_gas_constant * slope.value()}; }

std::vector<double> plotting_positions(std::size_t failures, std::size_t specimens) {
  if (failures > specimens)
    throw DomainError(fmt::format("{} failures of {} specimens: there cannot be more", failures, specimens));
  std::vector<double> positions;
  for (std::size_t i = 1; i <= failures; ++i) {
    positions.push_back((static_cast<double>(i) - 0.3) / (static_cast<double>(specimens) + 0.4));
  }
  return positions;
}

}  // namespace heatside::labfit
