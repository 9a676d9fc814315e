#pragma once

#include <array>
#include <cstddef>
#include <string_view>

/// The two distributions of life that a fit can take, and the constants of statistics that a fit is judged by.
///
/// @par Tested by  tests/labfit/statistics_test.cpp

namespace heatside::labfit {

/// How ln life spreads about its location: normal, or smallest extreme value (life is then Weibull, shape 1/scale).
enum class Distribution { log_normal, weibull };

inline constexpr std::array<std::string_view, 2> distribution_names{"log-normal", "weibull"};
[[nodiscard]] std::string_view name_of(Distribution distribution);

/// Quantile of (ln life - location)/scale: z_p for log-normal, ln(-ln(1 - p)) for Weibull.
/// @throws DomainError  p not inside (0, 1)
[[nodiscard]] double standard_quantile(Distribution distribution, double p);

/// Minus the logarithm of the share that outlives a standardised ln life of z: the Cox-Snell residual.
[[nodiscard]] double cumulative_hazard(Distribution distribution, double z);

/// Standard deviation of a Weibull life over its mean: sqrt(Gamma(1 + 2/b)/Gamma(1 + 1/b)^2 - 1), shape b > 0.
[[nodiscard]] double weibull_variation(double shape);

/// Mean of a log-normal life over its median: exp(scale^2/2).
[[nodiscard]] double log_normal_mean_over_median(double scale);

/// Values that a test statistic stays below with probability p; all throw DomainError for p outside (0, 1).
[[nodiscard]] double normal_quantile(double p);
[[nodiscard]] double student_t_quantile(double p, double degrees);
[[nodiscard]] double chi_squared_quantile(double p, double degrees);
[[nodiscard]] double fisher_f_quantile(double p, double upper_degrees, double lower_degrees);

/// Probability of a statistic at least as large as the one found.
[[nodiscard]] double chi_squared_tail(double statistic, double degrees);
[[nodiscard]] double fisher_f_tail(double statistic, double upper_degrees, double lower_degrees);

/// A part of all specimens and how sure one wants to be of it.
struct Coverage {
  double share;       ///< of the specimens, inside (0, 1)
  double confidence;  ///< inside (0, 1)
};

/// k of the limit mean - k sd that with the stated confidence is exceeded by the stated share of a normal population.
/// @param specimens  at least 2
/// @par Source  exact through the noncentral t distribution; NIST/SEMATECH e-Handbook 7.2.6.3
[[nodiscard]] double one_sided_tolerance_factor(std::size_t specimens, Coverage coverage);

/// The approximation of the same in closed form (Natrella 1963), for comparison with older reports.
[[nodiscard]] double natrella_tolerance_factor(std::size_t specimens, Coverage coverage);

/// k of mean +- k sd that encloses the stated share (Howe 1969).
[[nodiscard]] double two_sided_tolerance_factor(std::size_t specimens, Coverage coverage);

}  // namespace heatside::labfit
