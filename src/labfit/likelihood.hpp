#pragma once

#include <cmath>
#include <vector>

#include "heatside/labfit/distribution.hpp"
#include "heatside/labfit/oven_test.hpp"

/// The log-likelihood of the lives at one temperature with its slopes, in closed form.

namespace heatside::labfit {

/// ln of the upper tail of the standard normal distribution, also where the tail itself is too small for a double.
[[nodiscard]] double ln_normal_survival(double z);

/// The lives at one temperature, sorted by what is known of them; equal ones stand together with their number.
struct TemperatureSample {
  struct Point {
    double y;  ///< ln(h)
    double count;
  };
  struct Span {
    double lo, hi;  ///< ln(h)
    double count;
  };
  Kelvin temperature{ice_point_kelvin};
  double x{};                ///< 1/T [1/K]
  std::vector<Point> exact;  ///< failed at exp(y)
  std::vector<Point> alive;  ///< still good at exp(y)
  std::vector<Point> early;  ///< failed before exp(y), not known when
  std::vector<Span> spans;   ///< failed between the two

  // Of the exact lives: all that a log-normal likelihood needs of them.
  double exact_count = 0.0, exact_mean = 0.0, exact_squares = 0.0;  ///< squares about the mean

  [[nodiscard]] double failures() const;
  [[nodiscard]] double specimens() const;
};

/// One sample a temperature, coolest first.
[[nodiscard]] std::vector<TemperatureSample> samples_of(const LifeTest& test);

/// A log-likelihood and its first and second derivatives by location m and ln scale s.
struct Slopes {
  double value = 0.0, m = 0.0, s = 0.0, mm = 0.0, ms = 0.0, ss = 0.0;
};

/// A scale as it is needed for every sample.
struct Scale {
  double ln{}, inverse{};

  [[nodiscard]] static Scale of_ln(double ln) { return {ln, std::exp(-ln)}; }
};

/// ln of the probability (for exact lives: density by hours) of a sample when
/// z = (ln t - location)/scale - shift is standard normal or standard smallest extreme value.
/// A shift of -z_p makes `location` the p quantile of ln life instead of its location.
[[nodiscard]] Slopes log_likelihood(Distribution distribution, const TemperatureSample& sample, double location,
                                    const Scale& scale, double shift);

}  // namespace heatside::labfit
