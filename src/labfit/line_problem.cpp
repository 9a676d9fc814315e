#include "labfit/line_problem.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"

namespace heatside::labfit {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

std::string degrees(Kelvin temperature) { return plain_number(in_celsius(temperature)) + " Cel"; }

void require_a_line(const std::vector<TemperatureSample>& samples) {
  if (samples.size() < 2) {
    throw DomainError(
        fmt::format("one temperature only ({}): how life changes with temperature cannot be told; at least two, better "
                    "three or more, are needed",
                    samples.empty() ? "none" : degrees(samples.front().temperature)));
  }
  std::vector<const TemperatureSample*> failing;
  for (const TemperatureSample& sample : samples) {
    if (sample.failures() > 0.0) failing.push_back(&sample);
  }
  if (failing.empty())
    throw DomainError(
        "no specimen has failed: the data say that life is longer than the test, not how long; test on, or hotter");
  if (failing.size() == 1) {
    throw DomainError(
        fmt::format("failures at {} only: the slope of the line has a lower bound but no value; wait for failures at a "
                    "second temperature",
                    degrees(failing.front()->temperature)));
  }
}

bool knows_spread(const TemperatureSample& sample) {
  // Two different failures, or one and a specimen that outlived it.
  const bool exact = sample.exact.size() > 1;
  const std::size_t kinds = sample.exact.size() + sample.spans.size() + sample.early.size();
  return exact || kinds > 1 || (kinds == 1 && !sample.alive.empty());
}

// The heights [ln h] between which a line without spread would have to pass at one temperature.
struct Gate {
  double u, lo, hi;
};

Gate gate_of(const TemperatureSample& sample, double u) {
  // Exact lives are met within rounding; an interval must be entered, not touched.
  constexpr double hair = 1.0e-9;
  Gate gate{u, -HUGE_VAL, HUGE_VAL};
  const auto above = [&](double y) { gate.lo = std::max(gate.lo, y); };
  const auto below = [&](double y) { gate.hi = std::min(gate.hi, y); };
  for (const auto& point : sample.exact) {
    above(point.y - hair);
    below(point.y + hair);
  }
  for (const auto& point : sample.alive) above(point.y + hair);
  for (const auto& point : sample.early) below(point.y - hair);
  for (const auto& span : sample.spans) {
    above(span.lo + hair);
    below(span.hi - hair);
  }
  return gate;
}

// A line passes all gates where every two of them leave a slope that the others leave too.
bool a_line_passes(const std::vector<Gate>& gates) {
  double least = -HUGE_VAL, most = HUGE_VAL;
  for (std::size_t i = 0; i < gates.size(); ++i) {
    if (gates[i].lo > gates[i].hi) return false;
    for (std::size_t j = i + 1; j < gates.size(); ++j) {
      const double run = gates[i].u - gates[j].u;
      const double rise_least = (gates[i].lo - gates[j].hi) / run, rise_most = (gates[i].hi - gates[j].lo) / run;
      least = std::max(least, run > 0.0 ? rise_least : rise_most);
      most = std::min(most, run > 0.0 ? rise_most : rise_least);
      if (least > most) return false;
    }
  }
  return true;
}

// Rough location of ln life: the middle of what is known.
double middle_of(const TemperatureSample& sample) {
  double sum = 0.0, count = 0.0;
  const auto take = [&](double y, double n) {
    sum += n * y;
    count += n;
  };
  for (const auto& point : sample.exact) take(point.y, point.count);
  for (const auto& point : sample.alive) take(point.y + 0.3, point.count);
  for (const auto& point : sample.early) take(point.y - 0.3, point.count);
  for (const auto& span : sample.spans) take(0.5 * (span.lo + span.hi), span.count);
  return sum / count;
}

double scaled(const LineProblem& problem, double x) { return (x - problem.pivot) / problem.spread; }

VectorXd start_of_line(const LineProblem& problem) {
  double n = 0.0, mean = 0.0, xx = 0.0, xy = 0.0;
  for (const auto& sample : problem.samples) n += sample.specimens();
  for (const auto& sample : problem.samples) mean += sample.specimens() / n * middle_of(sample);
  for (const auto& sample : problem.samples) {
    const double u = scaled(problem, sample.x);
    xx += sample.specimens() * u * u;
    xy += sample.specimens() * u * (middle_of(sample) - mean);
  }
  VectorXd start = VectorXd::Constant(2 + static_cast<Index>(problem.line.scales), std::log(0.5));
  start(0) = mean;
  start(1) = xy / xx;
  return start;
}

void find_pivot(LineProblem& problem) {
  double n = 0.0;
  for (const auto& sample : problem.samples) n += sample.failures();
  for (const auto& sample : problem.samples) problem.pivot += sample.failures() / n * sample.x;
  double squares = 0.0;
  for (const auto& sample : problem.samples) {
    squares += sample.failures() / n * (sample.x - problem.pivot) * (sample.x - problem.pivot);
  }
  problem.spread = std::sqrt(squares);
}

}  // namespace

LineProblem line_problem(const LifeTest& test, Distribution distribution, ScaleKind scale) {
  LineProblem problem;
  problem.distribution = distribution;
  problem.samples = samples_of(test);
  require_a_line(problem.samples);
  find_pivot(problem);
  const auto rows = static_cast<Index>(problem.samples.size());
  problem.line.design = MatrixXd::Ones(rows, 2);
  problem.line.offset = VectorXd::Zero(rows);
  const bool common = scale == ScaleKind::common;
  problem.line.scales = common ? 1 : problem.samples.size();
  for (std::size_t i = 0; i < problem.samples.size(); ++i) {
    const TemperatureSample& sample = problem.samples[i];
    problem.line.design(static_cast<Index>(i), 1) = scaled(problem, sample.x);
    problem.line.scale_of.push_back(common ? 0 : i);
    if (!common && !knows_spread(sample)) {
      throw DomainError(
          fmt::format("a scale a temperature needs different failures at each; {} has none", degrees(sample.temperature)));
    }
  }
  return problem;
}

Maximum fitted_line(const LineProblem& problem) {
  // Many temperatures that one line passes without spread are no real test; some hundred of them show whether it can.
  constexpr std::size_t most_gates = 500;
  const std::size_t stride = 1 + problem.samples.size() / most_gates;
  std::vector<Gate> gates;
  for (std::size_t i = 0; i < problem.samples.size(); i += stride) {
    gates.push_back(gate_of(problem.samples[i], scaled(problem, problem.samples[i].x)));
  }
  if (a_line_passes(gates)) {
    throw DomainError(
        "a line can be laid through all lives without any spread: how lives scatter about it cannot be told; more "
        "specimens, or looks in closer succession, are needed");
  }
  const Maximum maximum = maximise(problem.distribution, problem.samples, problem.line, start_of_line(problem));
  if (!maximum.converged || covariance_of(maximum).size() == 0) {
    throw DomainError(
        fmt::format("the likelihood has no single best place (given up after {} steps): the data set no "
                    "bound to the slope or to the spread; failures at more temperatures are needed",
                    maximum.iterations));
  }
  return maximum;
}

Layout with_slope(const LineProblem& problem, double slope) {
  Layout layout = problem.line;
  layout.offset = slope * problem.spread * problem.line.design.col(1);
  layout.design = problem.line.design.leftCols(1);
  return layout;
}

Layout with_quantile(const LineProblem& problem, QuantilePlace place, double ln_hours) {
  Layout layout = problem.line;
  layout.offset.setConstant(ln_hours);
  layout.design = problem.line.design.rightCols(1).array() - scaled(problem, 1.0 / place.temperature.value());
  layout.shift = -standard_quantile(problem.distribution, place.p);
  return layout;
}

std::optional<Maximum> fit_alone(const TemperatureSample& sample, Distribution distribution) {
  if (!(sample.failures() > 0.0) || !knows_spread(sample)) return std::nullopt;
  Layout layout{MatrixXd::Ones(1, 1), VectorXd::Zero(1), {0}, 1, 0.0};
  VectorXd start(2);
  start << middle_of(sample), std::log(0.5);
  Maximum maximum = maximise(distribution, {sample}, layout, start);
  if (!maximum.converged || covariance_of(maximum).size() == 0) return std::nullopt;
  return maximum;
}

}  // namespace heatside::labfit
