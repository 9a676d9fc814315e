#include "heatside/labfit/study.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "labfit/warnings.hpp"

namespace heatside::labfit {

namespace {

FitRequest request_for(Distribution distribution, const LifeTest& lives, const StudyRequest& request) {
  FitRequest fit{distribution, request.scale, request.level, request.method, request.temperatures, request.quantiles};
  if (fit.temperatures.empty()) fit.temperatures = {temperatures_of(lives).front()};
  if (fit.quantiles.empty()) fit.quantiles = {0.5, 0.1};
  return fit;
}

void run_chain(Study& study, const StudyRequest& request) {
  try {
    study.iec = iec60216(*study.lives, request.index_hours);
  } catch (const DomainError& reason) {
    study.iec_why_not = reason.what();
  }
}

// What one distribution cannot tell another may; when none can, the first reason is the answer.
void fit_all(Study& study, const StudyRequest& request) {
  std::optional<DomainError> first;
  for (const Distribution distribution : request.distributions) {
    try {
      study.models.push_back(fit_life(*study.lives, request_for(distribution, *study.lives, request)));
    } catch (const DomainError& reason) {
      study.warnings.push_back(fmt::format("No {} fit: {}.", name_of(distribution), reason.what()));
      if (!first) first = reason;
    }
  }
  if (study.models.empty() && first && !study.readings) throw *first;
  const auto best = std::min_element(study.models.begin(), study.models.end(),
                                     [](const LifeModel& a, const LifeModel& b) { return a.aic < b.aic; });
  if (best != study.models.end()) study.preferred = static_cast<std::size_t>(best - study.models.begin());
}

void study_readings(Study& study, const ReadingTest& test, const StudyRequest& request) {
  if (!request.end_point) {
    throw DomainError(
        "these are readings of a property: say at which value life ends (--end-point), or at which share of the "
        "initial value (--retained)");
  }
  study.readings = reading_study(test, *request.end_point);
  study.warnings = study.readings->warnings;
  if (study.readings->repeated) {
    study.lives = lives_of(test, *request.end_point);
  } else {
    study.iec_why_not = "each specimen was read once, so none has a life of its own";
  }
}

}  // namespace

Study study_of(const OvenTest& test, const StudyRequest& request) {
  Study study;
  if (const auto* readings = std::get_if<ReadingTest>(&test)) {
    study_readings(study, *readings, request);
  } else {
    study.lives = std::get<LifeTest>(test);
  }
  if (study.lives) {
    run_chain(study, request);
    fit_all(study, request);
    add_warnings(study);
  }
  return study;
}

}  // namespace heatside::labfit
