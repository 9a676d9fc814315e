#include "heatside/labfit/rate_law.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "labfit/least_squares.hpp"

namespace heatside::labfit {

namespace {

using Eigen::Index;
using Eigen::VectorXd;

// How far a temperature lies from the reference, so that rate = exp(ln_rate + steepness * distance).
double distance(Kelvin temperature, RateLaw law, Kelvin reference) {
  const double gap = (temperature - reference).value();
  return law == RateLaw::exponential_in_cel ? gap : gap / (temperature.value() * reference.value());
}

Residuals residuals_at(const std::vector<DecayPoint>& points, RateLaw law, Kelvin reference, const VectorXd& at) {
  const auto rows = static_cast<Index>(points.size());
  Residuals result{VectorXd(rows), Eigen::MatrixXd(rows, 3)};
  for (Index row = 0; row < rows; ++row) {
    const DecayPoint& point = points[static_cast<std::size_t>(row)];
    const double away = distance(point.temperature, law, reference);
    const double fallen = point.time * std::exp(at(1) + at(2) * away);
    result.value(row) = at(0) - fallen - point.ln_value;
    result.slopes.row(row) << 1.0, -fallen, -fallen * away;
  }
  return result;
}

// Slope of ln value over time at one temperature, about the start common to all; the start of the search.
VectorXd first_guess(const std::vector<DecayPoint>& points, RateLaw law, Kelvin reference, double steepness) {
  double n = 0.0, t = 0.0, y = 0.0, tt = 0.0, ty = 0.0;
  for (const DecayPoint& point : points) {
    const double stretched = point.time * std::exp(steepness * distance(point.temperature, law, reference));
    n += 1.0;
    t += stretched;
    y += point.ln_value;
    tt += stretched * stretched;
    ty += stretched * point.ln_value;
  }
  const double rate = -(n * ty - t * y) / (n * tt - t * t);
  VectorXd guess(3);
  guess << (y + rate * t) / n, std::log(std::max(rate, 1.0e-300)), steepness;
  return guess;
}

void require_a_law(const std::vector<DecayPoint>& points) {
  if (points.size() < 4)
    throw DomainError(fmt::format("a rate law needs at least four readings; there are {}", points.size()));
  const auto [coolest, hottest] = std::minmax_element(
      points.begin(), points.end(), [](const DecayPoint& a, const DecayPoint& b) { return a.temperature < b.temperature; });
  if (coolest->temperature == hottest->temperature)
    throw DomainError("readings at one temperature only: how the rate changes with it cannot be told");
}

}  // namespace

DecayFit fit_decay(const std::vector<DecayPoint>& points, RateLaw law, Kelvin reference) {
  require_a_law(points);
  const auto residuals = [&](const VectorXd& at) { return residuals_at(points, law, reference, at); };
  // For each steepness the best start and rate follow from a straight line; the best of a coarse row begins the search.
  VectorXd best;
  double lowest = HUGE_VAL;
  const double unit = law == RateLaw::arrhenius ? 1000.0 : 0.005;
  for (int i = 1; i <= 40; ++i) {
    const VectorXd guess = first_guess(points, law, reference, unit * i);
    const double sum = residuals(guess).value.squaredNorm();
    if (sum < lowest) {
      lowest = sum;
      best = guess;
    }
  }
  if (best.size() == 0) throw DomainError("the readings do not fall with time: no rate");
  const LeastSquares found = least_squares(residuals, best);
  if (!found.converged || found.inverse.size() == 0 || !found.at.allFinite())
    throw DomainError("no rate law fits the readings: they do not fall faster in a hotter oven");
  const std::size_t degrees = points.size() - 3;
  const double variance = found.sum / static_cast<double>(degrees);
  const auto error = [&](Index i) { return std::sqrt(variance * found.inverse(i, i)); };
  return {found.at(0), found.at(1),         found.at(2), error(0), error(1), error(2), variance * found.inverse(1, 2),
          found.sum,   std::sqrt(variance), degrees};
}

}  // namespace heatside::labfit
