#pragma once

#include <Eigen/Dense>
#include <vector>

#include "labfit/likelihood.hpp"

/// Maximum likelihood of all samples together, by Newton's method with the exact second derivatives.

namespace heatside::labfit {

/// How locations and scales of the samples hang on the parameters (beta first, then the ln scales):
/// location of sample i = offset(i) + design.row(i) beta, scale = exp(parameter of scale_of[i]).
struct Layout {
  Eigen::MatrixXd design;
  Eigen::VectorXd offset;
  std::vector<std::size_t> scale_of;  ///< one a sample
  std::size_t scales = 1;
  double shift = 0.0;  ///< see log_likelihood
};

struct Maximum {
  Eigen::VectorXd at;
  double log_likelihood{};
  Eigen::MatrixXd information;  ///< minus the second derivatives at the maximum
  int iterations{};
  double decrement{};  ///< twice the gain that the last Newton step promised
  double gradient{};   ///< largest slope by a parameter at the maximum
  bool converged{};
};

/// Where each Newton step is too bold, it is damped and halved until the likelihood rises. In the parameters
/// beta/scale and 1/scale the likelihood of one common scale is concave, so there is one maximum only.
[[nodiscard]] Maximum maximise(Distribution distribution, const std::vector<TemperatureSample>& samples,
                               const Layout& layout, Eigen::VectorXd start);

/// Inverse of the information; empty where the data leave a direction open.
[[nodiscard]] Eigen::MatrixXd covariance_of(const Maximum& maximum);

}  // namespace heatside::labfit
