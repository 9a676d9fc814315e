#pragma once

#include <functional>
#include <vector>

/// From what is seen of some zones to the joint normal of the common score and of these zones' own scores.

namespace heatside::exposure {

/// Mean and root of the covariance of the normals (common, own of each zone seen).
struct ScorePosterior {
  std::vector<double> mean;
  std::vector<double> root;  ///< symmetric, row after row
};

/// Natural logarithm of a zone's likelihood at a score, up to a constant.
using LogLikelihood = std::function<double(double z)>;

/// @param seen  one likelihood for each zone seen; may be empty
[[nodiscard]] ScorePosterior score_posterior(const std::vector<LogLikelihood>& seen);

}  // namespace heatside::exposure
