#include <algorithm>

#include "base/strict_json.hpp"
#include "heatside/base/units.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/fit_report.hpp"
#include "report/fit_words.hpp"
#include "report/json_parts.hpp"

namespace heatside::report {

namespace {

using namespace labfit;

// With more rows than this a list of residuals is no help to anybody.
constexpr std::size_t most_residuals = 2000;
constexpr std::size_t most_groups = 1000;

template <class Value>
Json or_null(const std::optional<Value>& value) {
  return value ? Json(*value) : Json();
}
Json or_null(const std::optional<Kelvin>& value) { return value ? Json(in_celsius(*value)) : Json(); }
Json or_null(const std::optional<Hours>& value) { return value ? Json(value->value()) : Json(); }

Json energy_json(const LifeModel& model) {
  const WithLimits& energy = model.activation_energy;
  return {{"value_kJ_mol", energy.value},
          {"lo", or_null(energy.lo)},
          {"hi", or_null(energy.hi)},
          {"level", model.level},
          {"method", name_of(energy.method)}};
}

Json lives_json(const LifeModel& model) {
  Json list = Json::array();
  for (const LifeEstimate& life : model.lives) {
    list.push_back({{"temperature_Cel", in_celsius(life.temperature)},
                    {"p", life.p},
                    {"hours", life.hours.value},
                    {"lo", or_null(life.hours.lo)},
                    {"hi", or_null(life.hours.hi)},
                    {"level", model.level},
                    {"method", name_of(life.hours.method)},
                    {"ln_hours_standard_error", life.ln_error}});
  }
  return list;
}

Json tests_json(const LifeModel& model) {
  Json list = Json::array();
  for (const RatioTest& test : model.tests) {
    Json entry{{"doubted", test.name}, {"statistic", or_null(test.statistic)}};
    if (test.statistic) {
      entry["degrees_of_freedom"] = test.degrees;
      entry["limit_95"] = test.limit;
      entry["probability"] = test.probability;
      entry["holds"] = *test.statistic <= test.limit;
    } else {
      entry["why_not"] = test.why_not;
    }
    list.push_back(entry);
  }
  return list;
}

Json by_temperature_json(const LifeModel& model) {
  Json list = Json::array();
  for (const TemperatureFit& fit : model.by_temperature) {
    list.push_back({{"temperature_Cel", in_celsius(fit.temperature)},
                    {"failed", fit.failed},
                    {"alive", fit.alive},
                    {"location", or_null(fit.location)},
                    {"scale", or_null(fit.scale)},
                    {"log_likelihood", or_null(fit.log_likelihood)}});
  }
  return list;
}

Json residuals_json(const LifeTest& test, const LifeModel& model) {
  if (test.lives.size() > most_residuals) return {};
  Json list = Json::array();
  for (const Residual& residual : residuals(test, model)) {
    list.push_back({{"temperature_Cel", in_celsius(residual.life.temperature)},
                    {"hours_lo", residual.life.from.value()},
                    {"hours_hi", or_null(residual.life.to)},
                    {"count", residual.life.count},
                    {"standardised", residual.standardised},
                    {"standardised_hi", or_null(residual.standardised_to)},
                    {"cox_snell", residual.cox_snell}});
  }
  return list;
}

Json covariance_json(const LifeModel& model) {
  Json rows = Json::array();
  for (std::size_t row = 0; row < model.parameters; ++row) {
    Json cells = Json::array();
    for (std::size_t column = 0; column < model.parameters; ++column) {
      cells.push_back(model.covariance[row * model.parameters + column]);
    }
    rows.push_back(cells);
  }
  return {
      {"pivot_per_K", model.pivot}, {"parameters", "ln hours at the pivot; slope in K; ln of each scale"}, {"matrix", rows}};
}

Json model_json(const LifeTest& test, const LifeModel& model, bool preferred) {
  // With a scale a temperature, the first stands where one number is looked for; all are in `scales`.
  Json entry{{"distribution", name_of(model.distribution)},
             {"offset_K", ice_point_kelvin},
             {"intercept", model.intercept()},
             {"slope_K", model.slope},
             {"scale", model.scales.front()},
             {"standard_error",
              {{"intercept", model.intercept_error()}, {"slope_K", model.slope_error()}, {"scale", model.scale_error(0)}}},
             {"log_likelihood", model.log_likelihood},
             {"aic", model.aic},
             {"lowest_aic", preferred},
             {"activation_energy", energy_json(model)},
             {"life", lives_json(model)},
             {"scale_kind", model.scale_kind == ScaleKind::common ? "common" : "per-temperature"}};
  if (model.scale_kind == ScaleKind::per_temperature) {
    Json scales = Json::array();
    for (std::size_t i = 0; i < model.scales.size(); ++i) {
      scales.push_back({{"temperature_Cel", in_celsius(model.temperatures[i])},
                        {"scale", model.scales[i]},
                        {"standard_error", model.scale_error(i)}});
    }
    entry["scales"] = scales;
  }
  entry["likelihood_ratio_tests"] = tests_json(model);
  entry["by_temperature"] = by_temperature_json(model);
  entry["covariance"] = covariance_json(model);
  entry["convergence"] = {{"converged", true}, {"iterations", model.iterations}, {"largest_gradient", model.gradient}};
  entry["residuals"] = residuals_json(test, model);
  return entry;
}

Json limit_test_json(const std::optional<LimitTest>& test, const char* field) {
  return test ? Json(field == std::string_view{"limit"} ? test->limit : test->statistic) : Json();
}

Json chain_json(const Iec60216& chain) {
  Json groups = Json::array();
  if (chain.groups.size() > most_groups) groups = Json();
  for (const Iec60216::Group& group : chain.groups) {
    if (groups.is_null()) break;
    groups.push_back({{"temperature_Cel", in_celsius(group.temperature)},
                      {"n", group.specimens},
                      {"mean_ln_hours", group.mean_ln},
                      {"variance_ln_hours", or_null(group.variance_ln)}});
  }
  return {{"groups", groups},
          {"mean_x_per_K", chain.mean_x},
          {"mean_ln_hours", chain.mean_ln},
          {"mu2_x", chain.spread_x},
          {"s1_squared", chain.within_variance},
          {"s2_squared", or_null(chain.about_variance)},
          {"F", limit_test_json(chain.linearity, "statistic")},
          {"F_limit", limit_test_json(chain.linearity, "limit")},
          {"linear", chain.linearity ? Json(chain.linearity->accepted()) : Json()},
          {"c", chain.dispersion ? Json(chain.dispersion_correction) : Json()},
          {"chi2", limit_test_json(chain.dispersion, "statistic")},
          {"chi2_limit", limit_test_json(chain.dispersion, "limit")},
          {"equal_spread", chain.dispersion ? Json(chain.dispersion->accepted()) : Json()},
          {"intercept", chain.intercept},
          {"slope_K", chain.slope},
          {"s_squared", chain.variance},
          {"t", chain.student_t},
          {"TI_Cel", or_null(chain.index)},
          {"TC_Cel", or_null(chain.lower_limit)},
          {"HIC_K", chain.halving ? Json(chain.halving->value()) : Json()},
          {"dispersion_in_HIC", or_null(chain.dispersion_ratio)},
          {"TI_adjusted_Cel", or_null(chain.adjusted_index)},
          {"hours", chain.hours.value()}};
}

Json crossings_json(const ReadingStudy& study) {
  Json list = Json::array();
  for (const Crossing& crossing : study.crossings) {
    list.push_back({{"temperature_Cel", in_celsius(crossing.temperature)},
                    {"readings", crossing.readings},
                    {"hours", or_null(crossing.hours)},
                    {"ln_hours_standard_error", or_null(crossing.ln_error)}});
  }
  return list;
}

Json superposition_json(const Superposition& shifted) {
  Json factors = Json::array(), master = Json::array(), paths;
  for (const ShiftFactor& factor : shifted.factors) {
    factors.push_back({{"temperature_Cel", in_celsius(factor.temperature)},
                       {"ln_factor", factor.ln_factor},
                       {"standard_error", or_null(factor.ln_error)}});
  }
  for (std::size_t i = 0; i < shifted.levels.size(); ++i) {
    master.push_back({{"value", shifted.levels[i]}, {"hours", shifted.master[i].value()}});
  }
  if (shifted.two_paths) {
    paths = {{"low_energy_kJ_mol", shifted.two_paths->low_energy},
             {"high_energy_kJ_mol", shifted.two_paths->high_energy},
             {"low_share", shifted.two_paths->low_share},
             {"residual_sum", shifted.two_paths->residual_sum}};
  }
  return {{"reference_Cel", in_celsius(shifted.reference)},
          {"factors", factors},
          {"master", master},
          {"residual_sd", shifted.residual_sd},
          {"activation_energy",
           {{"value_kJ_mol", shifted.energy},
            {"lo", or_null(shifted.energy_lo)},
            {"hi", or_null(shifted.energy_hi)},
            {"level", 0.95},
            {"method", "line through the shift factors"}}},
          {"two_paths", paths},
          {"curvature_probability", or_null(shifted.curvature_probability)},
          {"verdict", shifted.verdict}};
}

Json readings_json(const ReadingStudy& study) {
  Json first_order;
  if (study.first_order) {
    first_order = {{"activation_energy_kJ_mol", study.first_order->energy},
                   {"standard_error_kJ_mol", study.first_order->energy_error},
                   {"ln_start", study.first_order->ln_start},
                   {"rate_per_h", study.first_order->rate},
                   {"residual_sd", study.first_order->residual_sd}};
  }
  return {
      {"end_point", study.end_point},
      {"initial", or_null(study.initial)},
      {"repeated_specimens", study.repeated},
      {"crossings", crossings_json(study)},
      {"crossing_activation_energy",
       {{"value_kJ_mol", or_null(study.crossing_energy)}, {"standard_error_kJ_mol", or_null(study.crossing_energy_error)}}},
      {"superposition", study.superposition ? superposition_json(*study.superposition) : Json()},
      {"first_order", first_order}};
}

Json data_json(const Study& study, const FitHeading& heading) {
  Json data{{"file", heading.data_name}, {"sha256", heading.data_sha256}, {"kind", study.readings ? "readings" : "lives"}};
  if (!study.lives) return data;
  std::size_t failed = 0, alive = 0;
  for (const Life& life : study.lives->lives) (life.to ? failed : alive) += life.count;
  data["specimens"] = failed + alive;
  data["failed"] = failed;
  data["alive"] = alive;
  if (study.lives->groups != std::vector<std::string>{""}) data["groups"] = study.lives->groups;
  return data;
}

}  // namespace

std::string fit_json(const Study& study, const FitHeading& heading) {
  Json models = Json::array();
  for (std::size_t i = 0; i < study.models.size(); ++i) {
    models.push_back(model_json(*study.lives, study.models[i], study.preferred == i));
  }
  const Json document{{"format", "heatside-fit"},
                      {"version", 1},
                      {"engine", heading.engine},
                      {"data", data_json(study, heading)},
                      {"models", models},
                      {"iec60216", study.iec ? chain_json(*study.iec) : Json()},
                      {"iec60216_why_not", study.iec ? Json() : Json(study.iec_why_not)},
                      {"readings", study.readings ? readings_json(*study.readings) : Json()},
                      {"warnings", study.warnings},
                      {"cautions", cautions()}};
  return document_text(document);
}

}  // namespace heatside::report
