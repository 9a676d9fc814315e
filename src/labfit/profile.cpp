#include "labfit/profile.hpp"

#include <algorithm>
#include <cmath>

namespace heatside::labfit {

namespace {

// One side: the root of the profile's fall in units of standard deviations, a nearly straight function of the distance.
std::optional<double> distance_to(const std::function<double(double)>& fall, double error, double z) {
  constexpr double close = 1.0e-8;
  double near = 0.0, near_fall = 0.0, far = z * error, far_fall = fall(far);
  for (int widening = 0; far_fall < z; ++widening) {
    if (widening == 40) return std::nullopt;
    // As far as a straight line says, within reason; a flat profile is left by doubling.
    const double slope = (far_fall - near_fall) / (far - near);
    const double guess = slope > 0.0 ? 1.02 * (z - far_fall) / slope : far;
    near = far;
    near_fall = far_fall;
    far += std::clamp(guess, 0.002 * far, 2.0 * far);
    far_fall = fall(far);
  }
  for (int step = 0; step < 60 && far_fall - z > close && far - near > 1.0e-13 * far; ++step) {
    double middle = near + (z - near_fall) * (far - near) / (far_fall - near_fall);
    // A chord that lands at an end over and over is stepped over.
    if (step % 4 == 3) middle = 0.5 * (near + far);
    const double middle_fall = fall(middle);
    if (std::abs(middle_fall - z) <= close) return middle;
    (middle_fall < z ? near : far) = middle;
    (middle_fall < z ? near_fall : far_fall) = middle_fall;
  }
  return far;
}

}  // namespace

ProfileLimits profile_limits(const std::function<double(double)>& profile, double best, double highest, double error,
                             double z) {
  const auto side = [&](double sign) {
    const auto fall = [&](double distance) {
      return std::sqrt(std::max(0.0, 2.0 * (highest - profile(best + sign * distance))));
    };
    const std::optional<double> distance = distance_to(fall, error, z);
    return distance ? std::optional<double>{best + sign * *distance} : std::nullopt;
  };
  ProfileLimits limits;
  limits.lo = side(-1.0);
  limits.hi = side(1.0);
  return limits;
}

}  // namespace heatside::labfit
