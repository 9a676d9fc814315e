#include "heatside/labfit/iec60216.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/labfit/distribution.hpp"
#include "labfit/likelihood.hpp"

namespace heatside::labfit {

namespace {

constexpr double confidence = 0.95;

double count_of(const Iec60216::Group& group) { return static_cast<double>(group.specimens); }

std::vector<Iec60216::Group> groups_of(const LifeTest& test) {
  std::vector<Iec60216::Group> groups;
  for (const TemperatureSample& sample : samples_of(test)) {
    Iec60216::Group group;
    group.temperature = sample.temperature;
    group.specimens = static_cast<std::size_t>(sample.exact_count);
    group.mean_ln = sample.exact_mean;
    if (group.specimens > 1) group.variance_ln = sample.exact_squares / (sample.exact_count - 1.0);
    groups.push_back(group);
  }
  return groups;
}

void regress(Iec60216& chain) {
  const auto n = static_cast<double>(chain.specimens);
  for (const auto& group : chain.groups) {
    chain.mean_x += count_of(group) / n / group.temperature.value();
    chain.mean_ln += count_of(group) / n * group.mean_ln;
  }
  double product = 0.0;
  for (const auto& group : chain.groups) {
    const double x = 1.0 / group.temperature.value() - chain.mean_x;
    chain.spread_x += count_of(group) * x * x / n;
    product += count_of(group) * x * (group.mean_ln - chain.mean_ln);
  }
  chain.slope = product / (n * chain.spread_x);
  chain.intercept = chain.mean_ln - chain.slope * chain.mean_x;
}

// N - k and k - 2.
struct Degrees {
  double within, about;
};

Degrees degrees_of(const Iec60216& chain) {
  const auto groups = static_cast<double>(chain.groups.size());
  return {static_cast<double>(chain.specimens) - groups, groups - 2.0};
}

void find_variances(Iec60216& chain) {
  const Degrees degrees = degrees_of(chain);
  double within = 0.0, about = 0.0;
  for (const auto& group : chain.groups) {
    within += (count_of(group) - 1.0) * group.variance_ln.value_or(0.0);
    const double off = group.mean_ln - chain.mean_ln - chain.slope * (1.0 / group.temperature.value() - chain.mean_x);
    about += count_of(group) * off * off;
  }
  chain.within_variance = within / degrees.within;
  if (degrees.about > 0.0) chain.about_variance = about / degrees.about;
}

// A few names stand for many.
std::string first_of(const std::vector<std::string>& names) {
  constexpr std::size_t most = 6;
  if (names.size() <= most) return join(names);
  return join({names.begin(), names.begin() + most}) + fmt::format(" and {} more", names.size() - most);
}

// Bartlett's test over the groups that have a spread of their own.
void test_dispersion(Iec60216& chain) {
  double groups = 0.0, degrees = 0.0, inverse = 0.0, pooled = 0.0, logs = 0.0;
  std::vector<std::string> single, equal;
  for (const auto& group : chain.groups) {
    const std::string name = plain_number(in_celsius(group.temperature)) + " Cel";
    if (!group.variance_ln) {
      single.push_back(name);
    } else if (!(*group.variance_ln > 0.0)) {
      equal.push_back(name);
    } else {
      const double own = count_of(group) - 1.0;
      groups += 1.0;
      degrees += own;
      inverse += 1.0 / own;
      pooled += own * *group.variance_ln;
      logs += own * std::log(*group.variance_ln);
    }
  }
  if (!single.empty())
    chain.dispersion_note = fmt::format("one specimen only at {}: left out of the test of spread", first_of(single));
  if (!equal.empty() || groups < 2.0) {
    chain.dispersion_note = !equal.empty()
                                ? fmt::format("all lives equal at {}: the spread cannot be tested", first_of(equal))
                                : "fewer than two groups of two or more specimens: the spread cannot be tested";
    return;
  }
  chain.dispersion_correction = 1.0 + (inverse - 1.0 / degrees) / (3.0 * (groups - 1.0));
  const double statistic = (degrees * std::log(pooled / degrees) - logs) / chain.dispersion_correction;
  chain.dispersion = {statistic, chi_squared_quantile(confidence, groups - 1.0), chi_squared_tail(statistic, groups - 1.0)};
}

void test_linearity(Iec60216& chain) {
  const Degrees degrees = degrees_of(chain);
  double within = chain.within_variance;
  if (chain.about_variance) {
    const double ratio = *chain.about_variance / within;
    chain.linearity = {ratio, fisher_f_quantile(confidence, degrees.about, degrees.within),
                       fisher_f_tail(ratio, degrees.about, degrees.within)};
    if (!chain.linearity->accepted()) within *= ratio / chain.linearity->limit;
  }
  chain.variance =
      (degrees.within * within + degrees.about * chain.about_variance.value_or(0.0)) / (degrees.within + degrees.about);
  chain.student_t = student_t_quantile(confidence, degrees.within + degrees.about);
}

std::optional<Kelvin> temperature_at(double x) {
  if (!(x > 0.0) || !std::isfinite(1.0 / x)) return std::nullopt;
  return Kelvin{1.0 / x};
}

// Lower limit of the temperature: where the lower limit of the life line reaches the hours.
std::optional<Kelvin> lower_limit(const Iec60216& chain, double x) {
  const auto n = static_cast<double>(chain.specimens);
  const double t = chain.student_t, b = chain.slope, mu2 = chain.spread_x;
  const double reduced = b - t * t * chain.variance / (n * mu2 * b);
  if (!(reduced > 0.0)) return std::nullopt;
  const double away = x - chain.mean_x;
  const double sd = std::sqrt(chain.variance * (reduced / (b * n) + away * away / (n * mu2)));
  return temperature_at(chain.mean_x + (std::log(chain.hours.value()) - chain.mean_ln) / reduced + t * sd / reduced);
}

void find_index(Iec60216& chain) {
  if (!(chain.slope > 0.0)) return;
  const auto x_of = [&](double life) { return chain.mean_x + (std::log(life) - chain.mean_ln) / chain.slope; };
  chain.index = temperature_at(x_of(chain.hours.value()));
  const std::optional<Kelvin> half = temperature_at(x_of(0.5 * chain.hours.value()));
  if (!chain.index || !half) return;
  chain.halving = *half - *chain.index;
  chain.lower_limit = lower_limit(chain, x_of(chain.hours.value()));
  if (!chain.lower_limit) return;
  chain.dispersion_ratio = (*chain.index - *chain.lower_limit) / *chain.halving;
  constexpr double best = 0.6, worst = 1.6;
  if (*chain.dispersion_ratio > best && *chain.dispersion_ratio <= worst)
    chain.adjusted_index = *chain.lower_limit + best * *chain.halving;
}

}  // namespace

bool is_complete(const LifeTest& test) {
  return std::all_of(test.lives.begin(), test.lives.end(), [](const Life& life) { return life.is_exact(); });
}

double lower_limit_ln(const Iec60216& chain, Kelvin temperature) {
  const auto n = static_cast<double>(chain.specimens);
  const double away = 1.0 / temperature.value() - chain.mean_x;
  const double variance = chain.variance * (1.0 / n + away * away / (n * chain.spread_x));
  return chain.mean_ln + chain.slope * away - chain.student_t * std::sqrt(variance);
}

Iec60216 iec60216(const LifeTest& test, Hours hours) {
  if (!is_complete(test)) throw DomainError("complete data are needed: every life known to the hour");
  if (!(hours.value() > 0.0))
    throw DomainError(fmt::format("{} h is no life for a temperature index", plain_number(hours.value())));
  Iec60216 chain;
  chain.hours = hours;
  chain.groups = groups_of(test);
  chain.specimens = test.specimens;
  if (chain.groups.size() < 2) throw DomainError("at least two temperatures are needed");
  if (chain.specimens == chain.groups.size())
    throw DomainError("every temperature has one specimen only: the spread of lives is not known");
  regress(chain);
  find_variances(chain);
  if (!(chain.within_variance > 0.0))
    throw DomainError("all lives at each temperature are equal: their spread is not known");
  test_dispersion(chain);
  test_linearity(chain);
  find_index(chain);
  return chain;
}

}  // namespace heatside::labfit
