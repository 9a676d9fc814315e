#include "heatside/labfit/life_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/base/constants.hpp"
#include "labfit/line_problem.hpp"
#include "labfit/profile.hpp"

namespace heatside::labfit {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

double kilojoule_of_slope(double kelvin) { return 1.0e-3 * molar_gas_constant * kelvin; }

LifeModel model_of(const LineProblem& problem, const Maximum& maximum) {
  LifeModel model;
  model.distribution = problem.distribution;
  model.scale_kind = problem.line.scales == 1 ? ScaleKind::common : ScaleKind::per_temperature;
  model.pivot = problem.pivot;
  model.ln_hours = maximum.at(0);
  model.slope = maximum.at(1) / problem.spread;
  for (Index i = 2; i < maximum.at.size(); ++i) model.scales.push_back(std::exp(maximum.at(i)));
  for (const TemperatureSample& sample : problem.samples) model.temperatures.push_back(sample.temperature);
  MatrixXd covariance = covariance_of(maximum);
  covariance.row(1) /= problem.spread;
  covariance.col(1) /= problem.spread;
  for (Index row = 0; row < covariance.rows(); ++row) {
    for (Index column = 0; column < covariance.cols(); ++column) model.covariance.push_back(covariance(row, column));
  }
  model.log_likelihood = maximum.log_likelihood;
  model.parameters = static_cast<std::size_t>(maximum.at.size());
  model.aic = 2.0 * (static_cast<double>(model.parameters) - model.log_likelihood);
  model.iterations = maximum.iterations;
  model.gradient = maximum.gradient;
  return model;
}

double covariance(const LifeModel& model, std::size_t row, std::size_t column) {
  return model.covariance[row * model.parameters + column];
}

double error_of(const LifeModel& model, std::size_t parameter) { return std::sqrt(covariance(model, parameter, parameter)); }

// Profiles over one parameter: each evaluation starts from the best place of the one before.
class Profile {
 public:
  Profile(const LineProblem& problem, VectorXd start) : problem_{problem}, start_{std::move(start)}, last_{start_} {}

  double operator()(const Layout& layout) {
    Maximum maximum = maximise(problem_.distribution, problem_.samples, layout, last_);
    if (!maximum.converged) maximum = maximise(problem_.distribution, problem_.samples, layout, start_);
    last_ = maximum.at;
    return maximum.log_likelihood;
  }

 private:
  const LineProblem& problem_;
  VectorXd start_, last_;
};

WithLimits energy_limits(const LineProblem& problem, const LifeModel& model, const Maximum& maximum, IntervalMethod method) {
  const double z = normal_quantile(0.5 * (1.0 + model.level));
  const double error = error_of(model, 1);
  WithLimits energy{kilojoule_of_slope(model.slope), {}, {}, method};
  if (method == IntervalMethod::wald) {
    energy.lo = kilojoule_of_slope(model.slope - z * error);
    energy.hi = kilojoule_of_slope(model.slope + z * error);
    return energy;
  }
  VectorXd start(maximum.at.size() - 1);
  start << maximum.at(0), maximum.at.tail(maximum.at.size() - 2);
  Profile profile{problem, start};
  const auto at_slope = [&](double slope) { return profile(with_slope(problem, slope)); };
  const ProfileLimits limits = profile_limits(at_slope, model.slope, model.log_likelihood, error, z);
  if (limits.lo) energy.lo = kilojoule_of_slope(*limits.lo);
  if (limits.hi) energy.hi = kilojoule_of_slope(*limits.hi);
  return energy;
}

LifeEstimate life_at(const LineProblem& problem, const LifeModel& model, const Maximum& maximum, Kelvin temperature,
                     double p, IntervalMethod method) {
  const LnLife life = ln_life(model, temperature, p);
  // With a scale a temperature, the quantile of a temperature that was not tested hangs on no single parameter.
  if (model.scale_kind == ScaleKind::per_temperature) method = IntervalMethod::wald;
  LifeEstimate estimate{temperature, p, {std::exp(life.value), {}, {}, method}, life.error};
  const double z = normal_quantile(0.5 * (1.0 + model.level));
  if (method == IntervalMethod::wald) {
    estimate.hours.lo = std::exp(life.value - z * life.error);
    estimate.hours.hi = std::exp(life.value + z * life.error);
    return estimate;
  }
  VectorXd start(2);
  start << maximum.at(1), maximum.at(2);
  Profile profile{problem, start};
  const auto at_quantile = [&](double ln_hours) { return profile(with_quantile(problem, {temperature, p}, ln_hours)); };
  const ProfileLimits limits = profile_limits(at_quantile, life.value, model.log_likelihood, life.error, z);
  if (limits.lo) estimate.hours.lo = std::exp(*limits.lo);
  if (limits.hi) estimate.hours.hi = std::exp(*limits.hi);
  return estimate;
}

// With so many lives a profile takes long and differs from a Wald interval by less than a thousandth of its width.
IntervalMethod method_for(const LineProblem& problem, IntervalMethod wanted) {
  constexpr std::size_t many = 200000;
  std::size_t intervals = 0;
  for (const TemperatureSample& sample : problem.samples) intervals += sample.spans.size() + sample.early.size();
  return intervals > many ? IntervalMethod::wald : wanted;
}

std::size_t scale_index(const LifeModel& model, Kelvin temperature, double p) {
  if (model.scale_kind == ScaleKind::common) return 0;
  const auto found = std::find(model.temperatures.begin(), model.temperatures.end(), temperature);
  if (found == model.temperatures.end()) {
    throw DomainError(
        fmt::format("{} Cel was not tested: with a scale a temperature only the location of life is known "
                    "there, not the quantile {}; use a common scale",
                    plain_number(in_celsius(temperature)), plain_number(p)));
  }
  return static_cast<std::size_t>(found - model.temperatures.begin());
}

}  // namespace

std::string_view name_of(IntervalMethod method) { return interval_method_names[static_cast<std::size_t>(method)]; }

double LifeModel::slope_error() const { return error_of(*this, 1); }

double LifeModel::intercept_error() const {
  return std::sqrt(heatside::labfit::covariance(*this, 0, 0) - 2.0 * pivot * heatside::labfit::covariance(*this, 0, 1) +
                   pivot * pivot * heatside::labfit::covariance(*this, 1, 1));
}

double LifeModel::scale_error(std::size_t index) const { return scales[index] * error_of(*this, 2 + index); }

double LifeModel::location(Kelvin temperature) const { return ln_hours + slope * (1.0 / temperature.value() - pivot); }

LnLife ln_life(const LifeModel& model, Kelvin temperature, double p) {
  const double z = standard_quantile(model.distribution, p);
  const double x = 1.0 / temperature.value() - model.pivot;
  const auto c = [&](std::size_t row, std::size_t column) { return covariance(model, row, column); };
  if (z == 0.0) return {model.location(temperature), std::sqrt(c(0, 0) + 2.0 * x * c(0, 1) + x * x * c(1, 1))};
  const std::size_t index = scale_index(model, temperature, p);
  const double scale = model.scales[index], by_scale = z * scale;  // d ln life / d ln scale
  const std::size_t s = 2 + index;
  const double variance = c(0, 0) + x * x * c(1, 1) + by_scale * by_scale * c(s, s) +
                          2.0 * (x * c(0, 1) + by_scale * c(0, s) + x * by_scale * c(1, s));
  return {model.location(temperature) + by_scale, std::sqrt(variance)};
}

LifeModel fit_life(const LifeTest& test, const FitRequest& request) {
  const LineProblem problem = line_problem(test, request.distribution, request.scale);
  const Maximum maximum = fitted_line(problem);
  const IntervalMethod method = method_for(problem, request.method);
  LifeModel model = model_of(problem, maximum);
  model.level = request.level;
  model.activation_energy = energy_limits(problem, model, maximum, method);
  for (const Kelvin temperature : request.temperatures) {
    for (const double p : request.quantiles) {
      model.lives.push_back(life_at(problem, model, maximum, temperature, p, method));
    }
  }
  model.by_temperature = fits_by_temperature(problem);
  model.tests = ratio_tests(problem, test);
  return model;
}

std::vector<Residual> residuals(const LifeTest& test, const LifeModel& model) {
  std::vector<Residual> list;
  for (const Life& life : test.lives) {
    const double scale =
        model.scales.size() == 1 ? model.scales.front() : model.scales[scale_index(model, life.temperature, 0.0)];
    const auto standardised = [&](Hours hours) {
      return (std::log(hours.value()) - model.location(life.temperature)) / scale;
    };
    const bool early = life.from.value() <= 0.0;
    Residual residual{life, standardised(early ? *life.to : life.from), {}, 0.0};
    if (!early && life.to && !life.is_exact()) residual.standardised_to = standardised(*life.to);
    residual.cox_snell = cumulative_hazard(model.distribution, residual.standardised);
    list.push_back(residual);
  }
  return list;
}

SingleFit fit_single_temperature(const LifeTest& test, Distribution distribution) {
  const std::vector<TemperatureSample> samples = samples_of(test);
  const std::optional<Maximum> maximum =
      samples.size() == 1 ? fit_alone(samples.front(), distribution) : std::optional<Maximum>{};
  if (!maximum) throw DomainError("one temperature with two or more different failures is needed");
  const MatrixXd covariance = covariance_of(*maximum);
  return {maximum->at(0), std::exp(maximum->at(1)), std::sqrt(covariance(0, 0)), std::sqrt(covariance(1, 1)),
          maximum->log_likelihood};
}

}  // namespace heatside::labfit
