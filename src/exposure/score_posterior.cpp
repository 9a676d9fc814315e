#include "exposure/score_posterior.hpp"

#include <Eigen/Dense>
#include <cmath>
#include <numbers>

namespace heatside::exposure {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double half_root = std::numbers::sqrt2 / 2.0;

// Sums over evenly spaced points are exact to rounding for what is smooth at this scale; 0, where the law has its kink, is
// one of them. No reading is surer than 0.7 K and a score of 1 moves no zone by more than 25 K, so 0.025 is fine enough.
constexpr double reach = 7.0, step_of_zone = 0.025, step_of_common = 0.05;

VectorXd points(double step) {
  const auto half = static_cast<Index>(std::lround(reach / step));
  VectorXd at{2 * half + 1};
  for (Index i = 0; i < at.size(); ++i) at[i] = step * static_cast<double>(i - half);
  return at;
}

// Density of z given the common score: normal with mean sqrt(1/2) c and variance 1/2, rows of sum 1.
MatrixXd density_given_common(const VectorXd& common, const VectorXd& zone) {
  MatrixXd density{common.size(), zone.size()};
  for (Index i = 0; i < common.size(); ++i) {
    density.row(i) = (-(zone.array() - half_root * common[i]).square()).exp().matrix().transpose();
    density.row(i) /= density.row(i).sum();
  }
  return density;
}

MatrixXd likelihoods(const std::vector<LogLikelihood>& seen, const VectorXd& zone) {
  MatrixXd likelihood{zone.size(), static_cast<Index>(seen.size())};
  for (Index k = 0; k < likelihood.cols(); ++k) {
    for (Index i = 0; i < zone.size(); ++i) likelihood(i, k) = seen[static_cast<std::size_t>(k)](zone[i]);
    likelihood.col(k) = (likelihood.col(k).array() - likelihood.col(k).maxCoeff()).exp().matrix();
  }
  return likelihood;
}

VectorXd normalised(const VectorXd& log_weights) {
  const VectorXd weights = (log_weights.array() - log_weights.maxCoeff()).exp().matrix();
  return weights / weights.sum();
}

struct Moments {
  VectorXd mean;
  MatrixXd covariance;
};

// Of (c, z of each zone seen).
Moments moments_of_scores(const std::vector<LogLikelihood>& seen) {
  const VectorXd common = points(step_of_common), zone = points(step_of_zone);
  const MatrixXd density = density_given_common(common, zone);
  const MatrixXd likelihood = likelihoods(seen, zone);
  const MatrixXd chance = density * likelihood;
  const MatrixXd first = density * (likelihood.array().colwise() * zone.array()).matrix();
  const MatrixXd second = density * (likelihood.array().colwise() * zone.array().square()).matrix();

  const VectorXd of_prior = (-0.5 * common.array().square()).matrix();
  const VectorXd weights = normalised(of_prior + chance.array().log().rowwise().sum().matrix());
  MatrixXd values{common.size(), 1 + chance.cols()};  // of c, and of z given c
  values << common, (first.array() / chance.array()).matrix();

  Moments moments;
  moments.mean = values.transpose() * weights;
  const MatrixXd apart = values.rowwise() - moments.mean.transpose();
  moments.covariance = apart.transpose() * weights.asDiagonal() * apart;
  for (Index k = 0; k < chance.cols(); ++k) {
    const auto variance_given_common = second.col(k).array() / chance.col(k).array() - values.col(k + 1).array().square();
    moments.covariance(k + 1, k + 1) += (variance_given_common * weights.array()).sum();
  }
  return moments;
}

// z = sqrt(1/2) (c + own), so own = sqrt(2) z - c.
MatrixXd normals_of_scores(Index seen) {
  MatrixXd change = std::numbers::sqrt2 * MatrixXd::Identity(seen + 1, seen + 1);
  change(0, 0) = 1.0;
  change.col(0).tail(seen).setConstant(-1.0);
  return change;
}

}  // namespace

ScorePosterior score_posterior(const std::vector<LogLikelihood>& seen) {
  if (seen.empty()) return {{0.0}, {1.0}};
  const Moments scores = moments_of_scores(seen);
  const MatrixXd change = normals_of_scores(static_cast<Index>(seen.size()));
  const VectorXd mean = change * scores.mean;
  const Eigen::SelfAdjointEigenSolver<MatrixXd> solver{change * scores.covariance * change.transpose()};
  const VectorXd roots = solver.eigenvalues().cwiseMax(0.0).cwiseSqrt();
  const MatrixXd root = solver.eigenvectors() * roots.asDiagonal() * solver.eigenvectors().transpose();
  return {{mean.data(), mean.data() + mean.size()}, {root.data(), root.data() + root.size()}};
}

}  // namespace heatside::exposure
