#pragma once

#include <functional>
#include <optional>

namespace heatside::labfit {

/// Limits of a parameter where twice the fall of its profile ln likelihood reaches the square of `z`.
struct ProfileLimits {
  std::optional<double> lo, hi;  ///< empty: the likelihood never falls that far on this side
};

/// @param profile   ln likelihood at a fixed value of the parameter, all others at their best; called walking away from
///                  `best`, first downwards, then upwards
/// @param best      where the ln likelihood has its maximum `highest`
/// @param error     standard error, the first guess of how far to go
[[nodiscard]] ProfileLimits profile_limits(const std::function<double(double)>& profile, double best, double highest,
                                           double error, double z);

}  // namespace heatside::labfit
