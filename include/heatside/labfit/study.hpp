#pragma once

#include <optional>
#include <string>
#include <vector>

#include "heatside/labfit/iec60216.hpp"
#include "heatside/labfit/life_fit.hpp"
#include "heatside/labfit/oven_test.hpp"
#include "heatside/labfit/reading_study.hpp"

namespace heatside::labfit {

/// What is asked of the results of an oven test.
struct StudyRequest {
  std::vector<Distribution> distributions{Distribution::log_normal, Distribution::weibull};
  ScaleKind scale = ScaleKind::common;
  double level = 0.95;  ///< of all intervals, inside (0, 1)
  IntervalMethod method = IntervalMethod::profile;
  std::vector<Kelvin> temperatures{};   ///< lives wanted here; empty: at the coolest temperature tested
  std::vector<double> quantiles{};      ///< shares that have failed; empty: 0.5 and 0.1
  Hours index_hours{20000.0};           ///< life that the temperature index is stated for
  std::optional<EndPoint> end_point{};  ///< readings only, and needed for them
};

/// Everything that the results say, and in plain words where they should not be trusted.
struct Study {
  std::optional<LifeTest> lives;  ///< as read, or found from readings of repeated specimens; empty where there are none
  std::vector<LifeModel> models;
  std::optional<std::size_t> preferred;  ///< index of the model of lowest AIC
  std::optional<Iec60216> iec;
  std::string iec_why_not;               ///< why the chain was not run
  std::optional<ReadingStudy> readings;  ///< of a test by readings
  std::vector<std::string> warnings;
};

/// @throws DomainError  the data cannot tell what is asked; the text says why
/// @par Tested by       tests/labfit/study_test.cpp
[[nodiscard]] Study study_of(const OvenTest& test, const StudyRequest& request);

}  // namespace heatside::labfit
