#include <fmt/format.h>

#include <cmath>

#include "labfit/line_problem.hpp"

/// The life line against wider models: does it leave something out that the data show?

namespace heatside::labfit {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;

// With more, the wider models would be tables rather than models, and slow ones.
constexpr std::size_t most_temperatures = 60;

RatioTest untested(const char* name, std::string why_not) { return {name, {}, 0, 0.0, 1.0, std::move(why_not)}; }

RatioTest tested(const char* name, double narrow, double wide, std::size_t degrees) {
  const double statistic = 2.0 * (wide - narrow), freedom = static_cast<double>(degrees);
  return {name, statistic, degrees, chi_squared_quantile(0.95, freedom), chi_squared_tail(statistic, freedom), ""};
}

std::optional<double> log_likelihood_of(const LineProblem& problem) {
  try {
    return fitted_line(problem).log_likelihood;
  } catch (const DomainError&) {
    return std::nullopt;
  }
}

RatioTest test_common_scale(const LineProblem& problem, const LifeTest& test, double narrow) {
  constexpr const char* name = "common scale";
  try {
    const LineProblem wide = line_problem(test, problem.distribution, ScaleKind::per_temperature);
    if (const auto highest = log_likelihood_of(wide)) return tested(name, narrow, *highest, problem.samples.size() - 1);
    return untested(name, "the data do not tell a scale for each temperature");
  } catch (const DomainError& reason) {
    return untested(name, reason.what());
  }
}

// A location for each temperature, one scale.
RatioTest test_line(const LineProblem& problem, double narrow) {
  constexpr const char* name = "straight line";
  const std::size_t count = problem.samples.size();
  if (count < 3) return untested(name, "two temperatures always lie on a line");
  Layout layout = problem.line;
  layout.design = MatrixXd::Identity(static_cast<Index>(count), static_cast<Index>(count));
  Eigen::VectorXd start = Eigen::VectorXd::Zero(static_cast<Index>(count) + 1);
  for (std::size_t i = 0; i < count; ++i) {
    if (!(problem.samples[i].failures() > 0.0)) return untested(name, "a temperature has no failures");
  }
  // From the line itself, so that the search begins near the end.
  const Maximum line = fitted_line(problem);
  start.head(static_cast<Index>(count)) = problem.line.design * line.at.head(2);
  start(static_cast<Index>(count)) = line.at(2);
  const Maximum wide = maximise(problem.distribution, problem.samples, layout, start);
  if (!wide.converged) return untested(name, "the data do not tell a location for each temperature");
  return tested(name, narrow, wide.log_likelihood, count - 2);
}

RatioTest test_both(const LineProblem& problem, double narrow) {
  constexpr const char* name = "scale and line together";
  double wide = 0.0;
  for (const TemperatureSample& sample : problem.samples) {
    const std::optional<Maximum> alone = fit_alone(sample, problem.distribution);
    if (!alone) return untested(name, "a temperature by itself has too few different failures");
    wide += alone->log_likelihood;
  }
  const std::size_t degrees = 2 * problem.samples.size() - 3;
  return tested(name, narrow, wide, degrees);
}

RatioTest test_groups(const LineProblem& problem, const LifeTest& test, double narrow) {
  constexpr const char* name = "one line for all groups";
  double wide = 0.0;
  for (std::size_t group = 0; group < test.groups.size(); ++group) {
    LifeTest own;
    own.groups = {test.groups[group]};
    for (const Life& life : test.lives) {
      if (life.group == group) own.lives.push_back(life);
    }
    try {
      wide += fitted_line(line_problem(own, problem.distribution, ScaleKind::common)).log_likelihood;
    } catch (const DomainError& reason) {
      return untested(name, fmt::format("group {} by itself: {}", test.groups[group], reason.what()));
    }
  }
  return tested(name, narrow, wide, 3 * (test.groups.size() - 1));
}

}  // namespace

std::vector<TemperatureFit> fits_by_temperature(const LineProblem& problem) {
  std::vector<TemperatureFit> fits;
  if (problem.samples.size() > most_temperatures) return fits;
  for (const TemperatureSample& sample : problem.samples) {
    TemperatureFit fit{sample.temperature, sample.failures(), sample.specimens() - sample.failures(), {}, {}, {}};
    if (const auto alone = fit_alone(sample, problem.distribution)) {
      fit.location = alone->at(0);
      fit.scale = std::exp(alone->at(1));
      fit.log_likelihood = alone->log_likelihood;
    }
    fits.push_back(fit);
  }
  return fits;
}

std::vector<RatioTest> ratio_tests(const LineProblem& given, const LifeTest& test) {
  if (given.samples.size() > most_temperatures)
    return {untested("scale and line together", fmt::format("more than {} temperatures", most_temperatures))};
  const bool common = given.line.scales == 1;
  const LineProblem problem = common ? given : line_problem(test, given.distribution, ScaleKind::common);
  const std::optional<double> narrow = log_likelihood_of(problem);
  if (!narrow) return {untested("scale and line together", "no line of common scale can be fitted")};
  std::vector<RatioTest> tests{test_common_scale(problem, test, *narrow), test_line(problem, *narrow)};
  // Of two temperatures it would be the first test once more.
  if (problem.samples.size() > 2) tests.push_back(test_both(problem, *narrow));
  constexpr std::size_t most_groups = 20;
  if (test.groups.size() > 1 && test.groups.size() <= most_groups) tests.push_back(test_groups(problem, test, *narrow));
  return tests;
}

}  // namespace heatside::labfit
