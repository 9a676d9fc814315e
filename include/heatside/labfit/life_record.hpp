#pragma once

#include <optional>
#include <string>
#include <vector>

#include "heatside/labfit/study.hpp"
#include "heatside/library/records.hpp"

namespace heatside::labfit {

/// A life line as a record holds it: a point, an energy and what is known of both together.
struct LifePoint {
  Kelvin temperature{ice_point_kelvin};
  Hours hours{0.0};  ///< until half of the specimens have failed
  JoulePerMole energy{0.0};
  double ln_hours_variance{};  ///< of ln(hours)
  double ln_hours_energy{};    ///< covariance of ln(hours) and the energy [kJ/mol]
  double energy_variance{};    ///< [(kJ/mol)^2]
  std::string found_by;        ///< "log-normal fit by maximum likelihood"
  std::vector<Kelvin> tested;  ///< temperatures, coolest first
};

/// The point of a fitted line at a temperature, with the covariance that belongs to it.
[[nodiscard]] LifePoint life_point(const LifeModel& model, Kelvin temperature);

/// What a record can take of a study: the point of the preferred model, else of the line through the crossings of readings.
/// @throws DomainError  the study has neither, or nothing tells how sure the line is
[[nodiscard]] LifePoint life_point(const Study& study);

/// The whole number of degrees Celsius in the middle of the tested temperatures (by 1/T, weighed by failures): there
/// hours and energy are least entangled.
[[nodiscard]] Kelvin middle_temperature(const LifeModel& model);

/// What a record says that a fit does not know.
struct RecordRequest {
  std::string id;                              ///< kebab-case
  std::string like_text;                       ///< JSON text of the insulation record that gives all the rest
  std::string data_name, data_sha256;          ///< named in the note
  std::optional<std::string> name{};           ///< empty: the name of the other record with "oven test" behind it
  std::optional<std::string> source{};         ///< id of a source that published the data; empty: grade `measured`
  std::optional<double> end_elongation{};      ///< %, that the lives were taken to; empty: that of the other record
  std::optional<double> initial_elongation{};  ///< %, read on new pieces; empty: that of the other record
};

/// An insulation record (JSON text) with the life point, energy and covariance of the fit; every other number with its
/// grade from the other record. Paths become one dry path with the fitted energy; paths in damp stay.
///
/// @throws DomainError  the line does not fall with temperature, or its numbers lie outside what a record may hold
/// @par Tested by       tests/labfit/life_record_test.cpp, tests/labfit/fit_test.py
[[nodiscard]] std::string life_record(const LifePoint& point, const RecordRequest& request);

}  // namespace heatside::labfit
