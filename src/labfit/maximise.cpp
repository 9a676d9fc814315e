#include "labfit/maximise.hpp"

#include <cmath>
#include <utility>

namespace heatside::labfit {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int most_iterations = 200;

struct Point {
  VectorXd at;
  double value = 0.0;
  VectorXd slope;
  MatrixXd curvature;  // minus the second derivatives
};

Point evaluate(Distribution distribution, const std::vector<TemperatureSample>& samples, const Layout& layout, VectorXd at) {
  const Index betas = layout.design.cols(), size = at.size();
  Point point{std::move(at), 0.0, VectorXd::Zero(size), MatrixXd::Zero(size, size)};
  std::vector<Scale> scales;
  for (Index k = betas; k < size; ++k) scales.push_back(Scale::of_ln(point.at(k)));
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const auto row = static_cast<Index>(i);
    const Index scale = betas + static_cast<Index>(layout.scale_of[i]);
    double location = layout.offset(row);
    for (Index b = 0; b < betas; ++b) location += layout.design(row, b) * point.at(b);
    const Slopes slopes = log_likelihood(distribution, samples[i], location, scales[layout.scale_of[i]], layout.shift);
    point.value += slopes.value;
    point.slope(scale) += slopes.s;
    point.curvature(scale, scale) -= slopes.ss;
    for (Index b = 0; b < betas; ++b) {
      const double x = layout.design(row, b);
      if (x == 0.0) continue;
      point.slope(b) += slopes.m * x;
      point.curvature(b, scale) -= slopes.ms * x;
      point.curvature(scale, b) -= slopes.ms * x;
      for (Index c = 0; c < betas; ++c) point.curvature(b, c) -= slopes.mm * x * layout.design(row, c);
    }
  }
  return point;
}

// The Newton step, turned towards the gradient as far as needed to lead uphill.
struct Step {
  VectorXd by;
  bool damped;
};

Step newton_step(const Point& point) {
  const double size = std::max(point.curvature.diagonal().cwiseAbs().maxCoeff(), 1.0e-300);
  double damping = 0.0;
  for (int attempt = 0; attempt < 60; ++attempt) {
    MatrixXd curvature = point.curvature;
    curvature.diagonal().array() += damping;
    const Eigen::LLT<MatrixXd> factor{curvature};
    if (factor.info() == Eigen::Success) return {factor.solve(point.slope), damping > 0.0};
    damping = damping == 0.0 ? 1.0e-6 * size : 4.0 * damping;
  }
  return {point.slope / size, true};
}

// A scale may change by a factor of e^2 at once, a location by what its neighbours in ln hours allow.
VectorXd limited(VectorXd step) {
  constexpr double furthest = 2.0;
  const double longest = step.cwiseAbs().maxCoeff();
  if (longest > furthest) step *= furthest / longest;
  return step;
}

bool is_sound(const Point& point) {
  return std::isfinite(point.value) && point.slope.allFinite() && point.curvature.allFinite();
}

}  // namespace

Maximum maximise(Distribution distribution, const std::vector<TemperatureSample>& samples, const Layout& layout,
                 VectorXd start) {
  // Once a step promises as little as this, Newton's method doubles the right digits with it.
  constexpr double near = 1.0e-9;
  const auto at = [&](VectorXd place) { return evaluate(distribution, samples, layout, std::move(place)); };
  Point here = at(std::move(start));
  Maximum maximum;
  while (maximum.iterations < most_iterations && is_sound(here)) {
    ++maximum.iterations;
    const Step step = newton_step(here);
    maximum.decrement = here.slope.dot(step.by);
    const bool last = !step.damped && maximum.decrement < near;
    VectorXd by = limited(step.by);
    Point there = at(here.at + by);
    // Rounding of a sum of many terms may hide a small rise.
    const double noise = 1.0e-13 * (1.0 + std::abs(here.value));
    for (int halving = 0; halving < 50 && !(is_sound(there) && there.value >= here.value - noise); ++halving) {
      by *= 0.5;
      there = at(here.at + by);
    }
    if (!is_sound(there)) break;
    here = std::move(there);
    maximum.converged = last;
    if (last) break;
  }
  maximum.at = here.at;
  maximum.log_likelihood = here.value;
  maximum.information = here.curvature;
  maximum.gradient = here.slope.cwiseAbs().maxCoeff();
  return maximum;
}

MatrixXd covariance_of(const Maximum& maximum) {
  const Eigen::LLT<MatrixXd> factor{maximum.information};
  // A direction in which the likelihood hardly bends is one that the data do not decide.
  if (factor.info() != Eigen::Success || factor.rcond() < 1.0e-13) return {};
  return factor.solve(MatrixXd::Identity(maximum.at.size(), maximum.at.size()));
}

}  // namespace heatside::labfit
