#pragma once

#include <Eigen/Dense>
#include <functional>

namespace heatside::labfit {

/// Residuals and their derivatives at one place.
struct Residuals {
  Eigen::VectorXd value;
  Eigen::MatrixXd slopes;  ///< one row a residual, one column a parameter
};

struct LeastSquares {
  Eigen::VectorXd at;
  double sum{};             ///< of squares
  Eigen::MatrixXd inverse;  ///< of slopes^T slopes at the end; empty where it is singular
  bool converged{};
};

/// Gauss-Newton steps, damped where they do not lower the sum.
[[nodiscard]] LeastSquares least_squares(const std::function<Residuals(const Eigen::VectorXd&)>& residuals,
                                         Eigen::VectorXd start);

}  // namespace heatside::labfit
