#include "labfit/two_paths.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/base/constants.hpp"
#include "heatside/labfit/distribution.hpp"
#include "labfit/least_squares.hpp"

namespace heatside::labfit {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

// Factors as points over 1/T, measured from their middle in units of their spread.
struct Points {
  VectorXd u, y;
  double middle, spread;  // of 1/T [1/K]
};

Points points_of(const Superposition& superposition) {
  const auto count = static_cast<Index>(superposition.factors.size());
  Points points{VectorXd(count), VectorXd(count), superposition.line.mean_x, 0.0};
  for (Index i = 0; i < count; ++i) {
    const ShiftFactor& factor = superposition.factors[static_cast<std::size_t>(i)];
    points.u(i) = 1.0 / factor.temperature.value() - points.middle;
    points.y(i) = factor.ln_factor;
  }
  points.spread = points.u.norm() / std::sqrt(static_cast<double>(count));
  points.u /= points.spread;
  return points;
}

struct Bend {
  double curvature;  // of ln factor over u; negative where the cool end is faster than the line says
  double sum;        // of squares left
};

Bend bend_of(const Points& points) {
  MatrixXd design(points.u.size(), 3);
  design.col(0).setOnes();
  design.col(1) = points.u;
  design.col(2) = points.u.cwiseAbs2();
  const VectorXd found = design.colPivHouseholderQr().solve(points.y);
  return {found(2), (design * found - points.y).squaredNorm()};
}

// ln factor = -ln(exp(a + b u) + exp(c + d u)) with b and d the falls of the two rates.
Residuals residuals_at(const Points& points, const VectorXd& at) {
  Residuals result{VectorXd(points.u.size()), MatrixXd(points.u.size(), 4)};
  for (Index i = 0; i < points.u.size(); ++i) {
    const double one = at(0) + at(1) * points.u(i), other = at(2) + at(3) * points.u(i);
    const double larger = std::max(one, other);
    const double sum = larger + std::log(std::exp(one - larger) + std::exp(other - larger));
    const double share = std::exp(one - sum), rest = std::exp(other - sum);
    result.value(i) = -sum - points.y(i);
    result.slopes.row(i) << -share, -share * points.u(i), -rest, -rest * points.u(i);
  }
  return result;
}

std::optional<TwoPaths> two_paths(const Superposition& superposition, const Points& points) {
  const auto residuals = [&](const VectorXd& at) { return residuals_at(points, at); };
  const double fall = -superposition.line.slope * points.spread;
  VectorXd start(4);
  start << std::log(0.5), 0.4 * fall, std::log(0.5), 1.4 * fall;
  start(0) -= superposition.line.level;
  start(2) -= superposition.line.level;
  const LeastSquares found = least_squares(residuals, start);
  if (!found.at.allFinite()) return std::nullopt;
  const bool first_is_low = found.at(1) > found.at(3);
  const Index low = first_is_low ? 0 : 2, high = first_is_low ? 2 : 0;
  const double unit = -1.0e-3 * molar_gas_constant / points.spread;
  const double at_reference = (1.0 / superposition.reference.value() - points.middle) / points.spread;
  const double ln_low = found.at(low) + found.at(low + 1) * at_reference;
  const double ln_high = found.at(high) + found.at(high + 1) * at_reference;
  const TwoPaths paths{unit * found.at(low + 1), unit * found.at(high + 1), 1.0 / (1.0 + std::exp(ln_high - ln_low)),
                       found.sum};
  // A path that runs backwards, or one that hides within the other, is no second path.
  const bool real = paths.low_energy > 0.0 && paths.low_share > 1.0e-3 && paths.low_share < 1.0 - 1.0e-9;
  return real ? std::optional<TwoPaths>{paths} : std::nullopt;
}

// No oven is known to better than some tenths of a kelvin, which is a hundredth of a life (common practice, no source).
constexpr double least_sd = 0.01;

double variance_of_factors(const Superposition& superposition) {
  double sum = 0.0;
  for (const ShiftFactor& factor : superposition.factors) {
    const double error = factor.ln_error.value_or(0.0);
    sum += error * error;
  }
  return sum / static_cast<double>(superposition.factors.size() - 1);
}

std::string words(const Superposition& superposition, const Bend& bend) {
  const double probability = *superposition.curvature_probability;
  const std::string chance = fmt::format("chance alone bends as much with probability {}", plain_number(probability, 2));
  const std::size_t count = superposition.factors.size();
  if (probability > 0.05) {
    return fmt::format(
        "one path describes the factors ({}). With {} temperatures a second path of lower energy, which would "
        "show below the coolest oven, is not excluded",
        chance, count);
  }
  if (bend.curvature > 0.0) {
    return fmt::format(
        "the factors bend ({}), but towards a longer life at the cool end, which two paths side by side cannot "
        "do; look for a transition of the material, or for loss of oxygen in the hot ovens",
        chance);
  }
  if (!superposition.two_paths) return fmt::format("the factors bend ({}), but two paths do not settle on values", chance);
  const TwoPaths& paths = *superposition.two_paths;
  return fmt::format(
      "two paths describe the factors better ({}): {} and {} kJ/mol, the lower one {} % of the rate at {} Cel. A "
      "straight line overstates life at the cool end",
      chance, plain_number(paths.low_energy, 3), plain_number(paths.high_energy, 3),
      plain_number(100.0 * paths.low_share, 2), plain_number(in_celsius(superposition.reference)));
}

}  // namespace

void judge_curvature(Superposition& superposition) {
  const std::size_t count = superposition.factors.size();
  if (count < 4) {
    superposition.verdict = fmt::format(
        "{} temperatures cannot tell two paths from one; a path of lower energy that shows only in cooler ovens is neither "
        "seen nor excluded",
        count);
    return;
  }
  const Points points = points_of(superposition);
  const Bend bend = bend_of(points);
  const auto freedom = static_cast<double>(count - 3);
  const double noise = std::max({bend.sum / freedom, variance_of_factors(superposition), least_sd * least_sd});
  const double ratio = (superposition.line.residual_sum - bend.sum) / noise;
  superposition.curvature_probability = fisher_f_tail(ratio, 1.0, freedom);
  if (count >= 5 && bend.curvature < 0.0) superposition.two_paths = two_paths(superposition, points);
  superposition.verdict = words(superposition, bend);
}

}  // namespace heatside::labfit
