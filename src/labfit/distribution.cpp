#include "heatside/labfit/distribution.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "base/text.hpp"
#include "heatside/base/error.hpp"
#include "labfit/likelihood.hpp"

namespace heatside::labfit {

namespace {

void require_probability(double p) {
  if (!(p > 0.0 && p < 1.0))
    throw DomainError(fmt::format("probability {} is not inside the range 0 to 1", plain_number(p)));
}

}  // namespace

std::string_view name_of(Distribution distribution) { return distribution_names[static_cast<std::size_t>(distribution)]; }

double normal_quantile(double p) {
  require_probability(p);
  return boost::math::quantile(boost::math::normal{}, p);
}

double student_t_quantile(double p, double degrees) {
  require_probability(p);
  return boost::math::quantile(boost::math::students_t{degrees}, p);
}

double chi_squared_quantile(double p, double degrees) {
  require_probability(p);
  return boost::math::quantile(boost::math::chi_squared{degrees}, p);
}

double fisher_f_quantile(double p, double upper_degrees, double lower_degrees) {
  require_probability(p);
  return boost::math::quantile(boost::math::fisher_f{upper_degrees, lower_degrees}, p);
}

double chi_squared_tail(double statistic, double degrees) {
  const boost::math::chi_squared distribution{degrees};
  // Rounding may leave the statistic of two equal fits a little below 0.
  return boost::math::cdf(boost::math::complement(distribution, std::max(statistic, 0.0)));
}

double fisher_f_tail(double statistic, double upper_degrees, double lower_degrees) {
  const boost::math::fisher_f distribution{upper_degrees, lower_degrees};
  return boost::math::cdf(boost::math::complement(distribution, std::max(statistic, 0.0)));
}

double standard_quantile(Distribution distribution, double p) {
  require_probability(p);
  return distribution == Distribution::log_normal ? normal_quantile(p) : std::log(-std::log1p(-p));
}

double cumulative_hazard(Distribution distribution, double z) {
  return distribution == Distribution::log_normal ? -ln_normal_survival(z) : std::exp(z);
}

double weibull_variation(double shape) {
  if (!(shape > 0.0)) throw DomainError(fmt::format("Weibull shape {} is not above 0", plain_number(shape)));
  return std::sqrt(std::expm1(std::lgamma(1.0 + 2.0 / shape) - 2.0 * std::lgamma(1.0 + 1.0 / shape)));
}

double log_normal_mean_over_median(double scale) { return std::exp(0.5 * scale * scale); }

double one_sided_tolerance_factor(std::size_t specimens, Coverage coverage) {
  const auto n = static_cast<double>(specimens);
  const double offset = normal_quantile(coverage.share) * std::sqrt(n);
  require_probability(coverage.confidence);
  const boost::math::non_central_t shifted{n - 1.0, offset};
  return boost::math::quantile(shifted, coverage.confidence) / std::sqrt(n);
}

double natrella_tolerance_factor(std::size_t specimens, Coverage coverage) {
  const auto n = static_cast<double>(specimens);
  const double share = normal_quantile(coverage.share), sure = normal_quantile(coverage.confidence);
  const double a = 1.0 - sure * sure / (2.0 * (n - 1.0));
  const double b = share * share - sure * sure / n;
  return (share + std::sqrt(share * share - a * b)) / a;
}

double two_sided_tolerance_factor(std::size_t specimens, Coverage coverage) {
  const auto n = static_cast<double>(specimens);
  const double z = normal_quantile(0.5 * (1.0 + coverage.share));
  return z * std::sqrt((n - 1.0) * (1.0 + 1.0 / n) / chi_squared_quantile(1.0 - coverage.confidence, n - 1.0));
}

}  // namespace heatside::labfit
