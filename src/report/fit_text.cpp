#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/report/fit_report.hpp"
#include "report/fit_words.hpp"
#include "report/layout.hpp"

namespace heatside::report {

namespace {

using namespace labfit;

constexpr std::size_t label_width = 26;
// More rows would not be read.
constexpr std::size_t most_rows = 30;

std::string line(std::string_view label, std::string_view value) { return wrapped(value, fitted(label, label_width)); }

std::string three(double value) { return plain_number(value, 3); }
std::string six(double value) { return plain_number(value, 6); }

std::string counted(std::size_t number, std::string_view what) {
  return fmt::format("{} {}{}", number, what, number == 1 ? "" : "s");
}

std::string capital(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z')
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
  return text;
}

std::string headline(const Study& study, const FitHeading& heading) {
  std::string text = heading.data_name;
  if (study.lives) {
    const std::vector<SeenLives> seen = seen_lives(*study.lives);
    std::size_t failed = 0, alive = 0;
    for (const SeenLives& at : seen) {
      failed += at.failed;
      alive += at.alive;
    }
    text += fmt::format(": {} at {}, {} failed, {} still alive.", counted(failed + alive, "specimen"),
                        counted(seen.size(), "temperature"), failed, alive);
  } else {
    text += fmt::format(": readings at {}.", counted(study.readings->crossings.size(), "temperature"));
  }
  return wrapped(text, "") + (heading.note.empty() ? "" : wrapped(heading.note, ""));
}

std::string seen_table(const Study& study) {
  if (!study.lives) return "";
  std::vector<std::vector<std::string>> rows;
  for (const SeenLives& at : seen_lives(*study.lives)) {
    if (rows.size() == most_rows) break;
    std::string fitted_life = "-";
    if (study.preferred)
      fitted_life = hours_words(std::exp(ln_life(study.models[*study.preferred], at.temperature, 0.5).value));
    rows.push_back({temperature_words(at.temperature), std::to_string(at.failed), std::to_string(at.alive),
                    hours_words(at.first), hours_words(at.last), fitted_life});
  }
  return '\n' + table({"oven", "failed", "alive", "from h", "to h", "line: half failed, h"}, rows);
}

std::string life_words(const LifeModel& model, const LifeEstimate& life) {
  return fmt::format("{} failed by {} h, {} ({} %, {})", share_words(life.p), hours_words(life.hours.value),
                     limits_words(life.hours, hours_words), plain_number(100.0 * model.level, 4),
                     name_of(life.hours.method));
}

std::string spread_words(const LifeModel& model) {
  if (model.scales.size() > 1) {
    std::vector<std::string> words;
    for (std::size_t i = 0; i < std::min(model.scales.size(), most_rows); ++i) {
      words.push_back(fmt::format("{} at {}", six(model.scales[i]), temperature_words(model.temperatures[i])));
    }
    return join(words);
  }
  const double scale = model.scales.front();
  const std::string text = fmt::format("{} (standard error {})", six(scale), three(model.scale_error(0)));
  if (model.distribution == Distribution::weibull) {
    return text +
           fmt::format("; shape {}, sd over mean of lives {}", three(1.0 / scale), three(weibull_variation(1.0 / scale)));
  }
  return text + fmt::format("; mean life {} of the median", three(log_normal_mean_over_median(scale)));
}

std::string test_words(const RatioTest& test) {
  if (!test.statistic) return "not tested: " + test.why_not;
  return fmt::format("{}: likelihood ratio {} with {} of freedom, limit {}, probability {}",
                     *test.statistic <= test.limit ? "holds" : "doubtful", plain_number(*test.statistic, 4),
                     counted(test.degrees, "degree"), plain_number(test.limit, 4), three(test.probability));
}

std::string model_text(const LifeModel& model) {
  std::string text = fmt::format(
      "\n{} life, {}, maximum likelihood\n", capital(std::string{name_of(model.distribution)}),
      model.scale_kind == ScaleKind::common ? "one spread for all temperatures" : "a spread for each temperature");
  text += line("ln(life/h)",
               fmt::format("{} {} {} K/T (standard errors {}, {} K)", six(model.intercept()), model.slope < 0.0 ? "-" : "+",
                           six(std::abs(model.slope)), three(model.intercept_error()), three(model.slope_error())));
  text += line("spread of ln life", spread_words(model));
  text +=
      line("activation energy", fmt::format("{} kJ/mol, {} ({} %, {})", three(model.activation_energy.value),
                                            limits_words(model.activation_energy, three),
                                            plain_number(100.0 * model.level, 4), name_of(model.activation_energy.method)));
  for (const LifeEstimate& life : model.lives) {
    text += line("life at " + temperature_words(life.temperature), life_words(model, life));
  }
  for (const RatioTest& test : model.tests) text += line(test.name, test_words(test));
  text += line("ln likelihood",
               fmt::format("{}, AIC {}; found in {} steps, largest slope left {}", plain_number(model.log_likelihood, 9),
                           plain_number(model.aic, 7), model.iterations, plain_number(model.gradient, 2)));
  return text;
}

std::string comparison_text(const Study& study) {
  if (study.models.size() < 2) return "";
  const LifeModel& best = study.models[*study.preferred];
  const LifeModel& other = study.models[1 - *study.preferred];
  const double apart = other.aic - best.aic;
  // Burnham and Anderson 2002 (from memory): up to 2 no preference to speak of, above 10 hardly any support.
  const std::string words = apart < 2.0    ? "the data hardly tell them apart"
                            : apart < 10.0 ? "the data lean to it"
                                           : "the data speak clearly for it";
  return '\n' + wrapped(fmt::format("Of the two, {} has the lower AIC, by {}: {}.", name_of(best.distribution), three(apart),
                                    words),
                        "");
}

std::string reporting_form(const Iec60216& chain) {
  const std::string index = six(in_celsius(*chain.index));
  if (chain.hours.value() != 20000.0) return fmt::format("{} Cel for {} h", index, hours_words(chain.hours.value()));
  const auto whole = [](double value) { return fmt::format("{:.0f}", value); };
  const std::string interval = fmt::format("{:.1f}", chain.halving->value());
  if (!chain.dispersion_ratio) return "no lower limit: nothing to report";
  if (*chain.dispersion_ratio <= 0.6) return fmt::format("TI (HIC): {} ({})", whole(in_celsius(*chain.index)), interval);
  if (chain.adjusted_index)
    return fmt::format("TIa = TC + 0.6 HIC (HIC): {} ({})", whole(in_celsius(*chain.adjusted_index)), interval);
  return "scatters too much to be reported as an index";
}

std::string limit_words(const std::optional<LimitTest>& test, std::string_view name, std::string_view good,
                        std::string_view bad) {
  if (!test) return "not tested";
  return fmt::format("{}: {} {}, 95 % limit {}, probability {}", test->accepted() ? good : bad, name,
                     plain_number(test->statistic, 6), plain_number(test->limit, 6), three(test->probability));
}

std::string steps_text(const Iec60216& chain) {
  std::vector<std::vector<std::string>> rows;
  for (const Iec60216::Group& group : chain.groups) {
    if (rows.size() == most_rows) break;
    const bool spread = group.variance_ln.has_value();
    std::string nine = "-";
    if (spread) {
      const double k = one_sided_tolerance_factor(group.specimens, {0.9, 0.95});
      nine = hours_words(std::exp(group.mean_ln - k * std::sqrt(*group.variance_ln)));
    }
    rows.push_back({temperature_words(group.temperature), std::to_string(group.specimens), plain_number(group.mean_ln, 9),
                    spread ? plain_number(*group.variance_ln, 7) : "-", hours_words(std::exp(group.mean_ln)), nine});
  }
  std::string text = table({"oven", "n", "mean of ln h", "variance", "mean life, h", "nine in ten beyond, h"}, rows);
  text +=
      wrapped("nine in ten beyond: with 95 % confidence, from this oven's specimens alone (one-sided tolerance limit).", "");
  const auto number = [&](const char* label, double value, const char* unit = "") {
    text += line(label, plain_number(value, 10) + unit);
  };
  number("N", static_cast<double>(chain.specimens));
  number("mean of x = 1/T", chain.mean_x, " 1/K");
  number("mean of ln h", chain.mean_ln);
  number("mu2(x)", chain.spread_x, " 1/K2");
  number("b", chain.slope, " K");
  number("a = mean ln h - b mean x", chain.intercept);
  number("s1^2 within ovens", chain.within_variance);
  if (chain.about_variance) number("s2^2 about the line", *chain.about_variance);
  if (chain.dispersion) number("c of the spread test", chain.dispersion_correction);
  number("s^2 pooled", chain.variance);
  number("t 0.95, N - 2", chain.student_t);
  return text;
}

std::string chain_text(const Study& study, bool steps) {
  if (!study.iec)
    return study.iec_why_not.empty() ? "" : '\n' + wrapped("IEC 60216-3 not computed: " + study.iec_why_not + ".", "");
  const Iec60216& chain = *study.iec;
  std::string text = "\nIEC 60216-3, complete data (formulas and rules from memory of the standard)\n";
  if (steps) text += steps_text(chain);
  text += line("equal spread", limit_words(chain.dispersion, "chi-squared", "holds", "fails"));
  text += line("straight line", limit_words(chain.linearity, "F", "holds", "fails"));
  if (!chain.index) return text + line("temperature index", "none");
  text += line("temperature index",
               fmt::format("{} Cel for {} h", six(in_celsius(*chain.index)), hours_words(chain.hours.value())));
  if (chain.lower_limit) text += line("lower 95 % limit", six(in_celsius(*chain.lower_limit)) + " Cel");
  if (chain.halving) text += line("halving interval", plain_number(chain.halving->value(), 4) + " K, from there upwards");
  if (chain.dispersion_ratio) text += line("(TI - TC)/HIC", plain_number(*chain.dispersion_ratio, 4));
  return text + line("to be reported as", reporting_form(chain));
}

std::string residual_text(const Study& study) {
  if (!study.preferred) return "";
  std::vector<Residual> list = residuals(*study.lives, study.models[*study.preferred]);
  std::stable_sort(list.begin(), list.end(),
                   [](const Residual& a, const Residual& b) { return std::abs(a.standardised) > std::abs(b.standardised); });
  constexpr std::size_t shown = 10;
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < std::min(shown, list.size()); ++i) {
    const Life& life = list[i].life;
    rows.push_back({temperature_words(life.temperature), hours_words(life.from.value()),
                    life.to ? hours_words(life.to->value()) : "alive", std::to_string(life.count),
                    fmt::format("{:.2f}", list[i].standardised), three(list[i].cox_snell)});
  }
  return fmt::format("\nFurthest from the {} line ({} of {} rows)\n", name_of(study.models[*study.preferred].distribution),
                     rows.size(), list.size()) +
         table({"oven", "from h", "to h", "specimens", "standardised", "Cox-Snell"}, rows);
}

std::string crossing_table(const ReadingStudy& study) {
  std::vector<std::vector<std::string>> rows;
  for (const Crossing& crossing : study.crossings) {
    rows.push_back({temperature_words(crossing.temperature), std::to_string(crossing.readings),
                    crossing.hours ? hours_words(crossing.hours->value()) : "not reached",
                    crossing.ln_error ? plain_number(100.0 * *crossing.ln_error, 2) + " %" : "-"});
  }
  return table({"oven", "readings", "end point at h", "standard error"}, rows);
}

std::string superposition_text(const Superposition& shifted) {
  std::vector<std::vector<std::string>> rows;
  for (const ShiftFactor& factor : shifted.factors) {
    rows.push_back({temperature_words(factor.temperature), plain_number(std::exp(factor.ln_factor), 4),
                    factor.ln_error ? plain_number(*factor.ln_error, 2) : "-"});
  }
  std::string text = "\nAll curves laid over that of " + temperature_words(shifted.reference) + " by stretching time\n" +
                     table({"oven", "times as long", "standard error of ln"}, rows);
  std::string limits;
  if (shifted.energy_lo && shifted.energy_hi)
    limits =
        fmt::format(", {} to {} (95 %, line through the factors)", three(*shifted.energy_lo), three(*shifted.energy_hi));
  text += line("activation energy", three(shifted.energy) + " kJ/mol" + limits);
  text += line("fit of the curves",
               fmt::format("they lie within {} of ln time (standard deviation)", three(shifted.residual_sd)));
  return text + line("one path or two", shifted.verdict);
}

std::string readings_text(const Study& study) {
  if (!study.readings) return "";
  const ReadingStudy& readings = *study.readings;
  std::string text =
      fmt::format("\nReadings {} to the end point {}{}\n", readings.falling ? "fall" : "rise", six(readings.end_point),
                  readings.initial ? ", from " + six(*readings.initial) + " when new" : "");
  text += crossing_table(readings);
  if (readings.crossing_energy) {
    const std::string error =
        readings.crossing_energy_error ? fmt::format(" (standard error {})", three(*readings.crossing_energy_error)) : "";
    text += line("activation energy", three(*readings.crossing_energy) + " kJ/mol from the crossings" + error);
  }
  if (readings.superposition) {
    text += superposition_text(*readings.superposition);
  } else {
    text += wrapped("Curves not laid over each other: " + readings.superposition_why_not + ".", "");
  }
  if (readings.first_order) {
    text +=
        line("first-order law",
             fmt::format("{} kJ/mol (standard error {}), all readings at once, ln value in proportion to time; they scatter "
                         "by {}",
                         three(readings.first_order->energy), three(readings.first_order->energy_error),
                         three(readings.first_order->residual_sd)));
  }
  return text;
}

}  // namespace

std::string fit_text(const Study& study, const FitHeading& heading, bool steps) {
  std::string text = headline(study, heading) + seen_table(study) + readings_text(study);
  for (const LifeModel& model : study.models) text += model_text(model);
  text += comparison_text(study) + chain_text(study, steps);
  if (steps) text += residual_text(study);
  if (!study.warnings.empty()) text += '\n';
  for (const std::string& warning : study.warnings) text += wrapped(warning, "! ");
  text +=
      '\n' +
      wrapped("Lives in a dry oven to the end point of the test; a loom also sees damp, fluids, copper and movement.", "");
  return text + fmt::format("\n{}, data sha256 {}\n", heading.engine, heading.data_sha256.substr(0, 16));
}

}  // namespace heatside::report
