#include "labfit/least_squares.hpp"

#include <cmath>

namespace heatside::labfit {

namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

VectorXd damped_step(const Residuals& here, double damping) {
  MatrixXd normal = here.slopes.transpose() * here.slopes;
  if (damping == 0.0) return here.slopes.colPivHouseholderQr().solve(-here.value);
  normal.diagonal() *= 1.0 + damping;
  return normal.ldlt().solve(-(here.slopes.transpose() * here.value));
}

bool is_sound(const Residuals& point) { return point.value.allFinite() && point.slopes.allFinite(); }

MatrixXd inverse_of(const MatrixXd& slopes) {
  // By the triangular factor of the slopes themselves: their product would lose half the digits.
  const Eigen::ColPivHouseholderQR<MatrixXd> factor{slopes};
  if (factor.rank() < slopes.cols()) return {};
  const MatrixXd root = factor.matrixR()
                            .topRows(slopes.cols())
                            .triangularView<Eigen::Upper>()
                            .solve(MatrixXd::Identity(slopes.cols(), slopes.cols()));
  return factor.colsPermutation() * (root * root.transpose()) * factor.colsPermutation().transpose();
}

}  // namespace

LeastSquares least_squares(const std::function<Residuals(const VectorXd&)>& residuals, VectorXd start) {
  constexpr int most_steps = 500;
  constexpr double settled = 1.0e-13;  // of the parameters' own size
  LeastSquares result{std::move(start), 0.0, {}, false};
  Residuals here = residuals(result.at);
  double damping = 0.0;
  for (int step = 0; step < most_steps && is_sound(here) && !result.converged; ++step) {
    const VectorXd by = damped_step(here, damping);
    const Residuals there = residuals(result.at + by);
    const double before = here.value.squaredNorm();
    const bool better = by.allFinite() && is_sound(there) && there.value.squaredNorm() <= before * (1.0 + 1.0e-15);
    const bool small = by.norm() <= settled * (1.0 + result.at.norm());
    if (better) {
      result.at += by;
      here = there;
      damping = damping < 1.0e-6 ? 0.0 : 0.1 * damping;
    } else {
      damping = damping == 0.0 ? 1.0e-4 : 8.0 * damping;
      if (damping > 1.0e15) break;
    }
    result.converged = small;
  }
  result.sum = here.value.squaredNorm();
  if (is_sound(here)) result.inverse = inverse_of(here.slopes);
  return result;
}

}  // namespace heatside::labfit
