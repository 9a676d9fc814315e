#include "labfit/warnings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "labfit/likelihood.hpp"

namespace heatside::labfit {

namespace {

// IEC 60216-1, from memory: least life at the coolest oven, least specimens, furthest extrapolation.
constexpr double least_hours_at_coolest = 5000.0;
constexpr double least_specimens = 5.0;
constexpr double furthest_extrapolation = 25.0;  // [K]
constexpr std::size_t few_failures = 10;
// More of a kind would hide the others.
constexpr std::size_t most_named = 6;

std::string degrees(Kelvin temperature) { return plain_number(in_celsius(temperature), 6) + " Cel"; }

std::string named(const std::vector<std::string>& names) {
  if (names.size() <= most_named) return join(names);
  return join({names.begin(), names.begin() + most_named}) + fmt::format(" and {} more", names.size() - most_named);
}

void warn_of_chain(const Iec60216& chain, std::vector<std::string>& warnings) {
  if (chain.linearity && !chain.linearity->accepted()) {
    warnings.push_back(fmt::format(
        "IEC 60216-3: the straight line does not hold (F {} above {}). The group means bend away from it by more "
        "than their scatter explains, so a temperature index or a life outside the ovens tested is not borne "
        "out by these data.",
        plain_number(chain.linearity->statistic, 4), plain_number(chain.linearity->limit, 4)));
  }
  if (chain.dispersion && !chain.dispersion->accepted()) {
    const auto widest = std::max_element(chain.groups.begin(), chain.groups.end(), [](const auto& a, const auto& b) {
      return a.variance_ln.value_or(0.0) < b.variance_ln.value_or(0.0);
    });
    warnings.push_back(
        fmt::format("IEC 60216-3: lives do not scatter equally at all temperatures (chi-squared {} above {}); widest at {}. "
                    "One spread for all then makes early lives and limits too optimistic where the spread is wide; look at "
                    "that oven and its specimens, or fit --scale per-temperature.",
                    plain_number(chain.dispersion->statistic, 4), plain_number(chain.dispersion->limit, 4),
                    degrees(widest->temperature)));
  }
  if (!chain.dispersion_note.empty()) warnings.push_back(fmt::format("IEC 60216-3: {}.", chain.dispersion_note));
  if (!chain.linearity)
    warnings.emplace_back("Two temperatures always lie on a line: whether it is straight cannot be tested.");
  if (!chain.index) {
    warnings.emplace_back("Life does not fall with rising temperature in these data: there is no temperature index.");
  } else if (!chain.lower_limit) {
    warnings.emplace_back("The slope is so uncertain that the temperature index has no lower 95 % limit.");
  } else if (*chain.dispersion_ratio > 1.6) {
    warnings.push_back(fmt::format(
        "The index scatters by {} halving intervals; above 1.6 no index is reported (IEC 60216-3, rule from memory).",
        plain_number(*chain.dispersion_ratio, 3)));
  }
}

void warn_of_groups(const std::vector<TemperatureSample>& samples, std::vector<std::string>& warnings) {
  std::vector<std::string> single, few, without;
  for (const TemperatureSample& sample : samples) {
    if (sample.specimens() < 2.0) {
      single.push_back(degrees(sample.temperature));
    } else if (sample.specimens() < least_specimens) {
      few.push_back(degrees(sample.temperature));
    }
    if (!(sample.failures() > 0.0)) without.push_back(degrees(sample.temperature));
  }
  if (!single.empty())
    warnings.push_back(fmt::format("One specimen only at {}: it says nothing of the scatter there.", named(single)));
  if (!few.empty()) warnings.push_back(fmt::format("Fewer than five specimens at {}.", named(few)));
  if (!without.empty())
    warnings.push_back(fmt::format("No failures at {}: these specimens only set a lower bound.", named(without)));
  double failures = 0.0;
  for (const TemperatureSample& sample : samples) failures += sample.failures();
  if (failures < static_cast<double>(few_failures)) {
    warnings.push_back(
        fmt::format("{} failures in all: the intervals are wide and rest on large-sample theory.", plain_number(failures)));
  }
}

// What the wider models found wanting; the test of all together only where no single one did.
std::vector<std::string> doubts_of(const LifeModel& model) {
  std::vector<std::string> doubts;
  for (const RatioTest& test : model.tests) {
    if (!test.statistic || *test.statistic <= test.limit) continue;
    if (test.name == "common scale" && model.scale_kind == ScaleKind::per_temperature) continue;
    if (test.name == "scale and line together" && !doubts.empty()) continue;
    doubts.push_back(fmt::format("{} (likelihood ratio {} above {})", test.name, plain_number(*test.statistic, 4),
                                 plain_number(test.limit, 4)));
  }
  return doubts;
}

void warn_of_model(const LifeModel& model, std::vector<std::string>& warnings) {
  const std::string name = model.distribution == Distribution::log_normal ? "Log-normal" : "Weibull";
  const std::vector<std::string> doubts = doubts_of(model);
  if (!doubts.empty()) warnings.push_back(fmt::format("{} fit, doubtful: {}.", name, join(doubts, "; ")));
  if (!(model.slope > 0.0))
    warnings.push_back(
        fmt::format("{} fit: life rises with temperature, which no heat ageing explains; look at the data.", name));
  const WithLimits& energy = model.activation_energy;
  if (!energy.lo || !energy.hi)
    warnings.push_back(fmt::format("{} fit: the data set no {} limit to the activation energy.", name,
                                   !energy.lo && !energy.hi ? "upper or lower" : (energy.lo ? "upper" : "lower")));
}

// The same for whichever distribution: what lies beyond the ovens.
void warn_of_extrapolation(const LifeModel& model, std::vector<std::string>& warnings) {
  const Kelvin coolest = model.temperatures.front(), hottest = model.temperatures.back();
  std::vector<std::string> cooler, far;
  for (const LifeEstimate& life : model.lives) {
    const double below = (coolest - life.temperature).value();
    auto& list = below > furthest_extrapolation ? far : cooler;
    const std::string name = degrees(life.temperature);
    if (below > 1.0e-9 && std::find(list.begin(), list.end(), name) == list.end()) list.push_back(name);
  }
  if (!far.empty()) {
    warnings.push_back(fmt::format(
        "{}: more than 25 K below the coolest oven ({}). IEC 60216-1 (from memory) does not go that far. A slower "
        "kind of ageing that ovens do not show takes over at some temperature, and a straight line then "
        "overstates life.",
        named(far), degrees(coolest)));
  }
  if (!cooler.empty()) {
    warnings.push_back(
        fmt::format("{}: below the coolest oven ({}), so it holds only as far as the same kind of ageing goes on there.",
                    named(cooler), degrees(coolest)));
  }
  const bool hotter = std::any_of(model.lives.begin(), model.lives.end(),
                                  [&](const LifeEstimate& life) { return life.temperature > hottest; });
  if (hotter) warnings.push_back(fmt::format("A life above the hottest oven ({}) was asked for.", degrees(hottest)));
}

void warn_of_disagreement(const std::vector<LifeModel>& models, std::vector<std::string>& warnings) {
  if (models.size() != 2 || models[0].lives.size() != models[1].lives.size()) return;
  double worst = 1.0;
  const LifeEstimate* where = nullptr;
  for (std::size_t i = 0; i < models[0].lives.size(); ++i) {
    const double ratio = models[0].lives[i].hours.value / models[1].lives[i].hours.value;
    const double apart = std::max(ratio, 1.0 / ratio);
    if (apart > worst) {
      worst = apart;
      where = &models[0].lives[i];
    }
  }
  constexpr double notable = 1.5;
  if (where == nullptr || worst < notable) return;
  warnings.push_back(fmt::format("The two distributions differ by a factor of {} in the life at {} that {} % do not reach.",
                                 plain_number(worst, 2), degrees(where->temperature), plain_number(100.0 * where->p, 4)));
}

}  // namespace

void add_warnings(Study& study) {
  std::vector<std::string>& warnings = study.warnings;
  const std::vector<TemperatureSample> samples = samples_of(*study.lives);
  if (study.iec) warn_of_chain(*study.iec, warnings);
  warn_of_groups(samples, warnings);
  for (const LifeModel& model : study.models) warn_of_model(model, warnings);
  if (!study.preferred) return;
  const LifeModel& model = study.models[*study.preferred];
  const double at_coolest = std::exp(model.location(model.temperatures.front()));
  if (at_coolest < least_hours_at_coolest) {
    warnings.push_back(fmt::format(
        "Lives at the coolest oven ({}) are about {} h; IEC 60216-1 (from memory) asks for 5000 h before an index "
        "of 20 000 h is read off the line.",
        degrees(model.temperatures.front()), plain_number(at_coolest, 3)));
  }
  warn_of_extrapolation(model, warnings);
  warn_of_disagreement(study.models, warnings);
  if (study.lives->groups.size() > 1) {
    warnings.push_back(fmt::format("{} groups ({}) were fitted as one population; --group takes one of them alone.",
                                   study.lives->groups.size(), named(study.lives->groups)));
  }
}

}  // namespace heatside::labfit
