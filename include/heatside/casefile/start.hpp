#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "heatside/base/date.hpp"
#include "heatside/library/library.hpp"

namespace heatside::casefile {

/// How a started case begins to say that its compounds are not known.
inline constexpr std::string_view compounds_unknown = "The compound of every lot is unknown";

/// What somebody knows when a vehicle rolls in. What is left out becomes a listed assumption.
struct Intake {
  std::string template_id;
  std::optional<Date> built;
  std::optional<std::string> region;
  std::optional<std::string> climate;
  std::optional<double> odometer_km;
  std::optional<std::string> parking;  ///< open, shade, garage
  std::optional<std::string> duty;     ///< id of a duty record
  Date inspected;                      ///< day of the inspection
};

/// A complete short case from a template: every default stands in the case's `assumed` list.
///
/// @return  JSON text that `read_case` accepts
/// @throws InputError  unknown template, region, climate, duty or parking; dates or kilometres out of range
[[nodiscard]] std::string start_case(const Intake& intake, const library::Library& library);

/// Checks a template record by starting a case from it.
///
/// @param text  JSON of a record of kind "template", see `materials/schema/template.schema.json`
/// @param file  its name in messages
/// @throws InputError  with all problems that were found
void check_template(std::string_view text, const std::string& file, const library::Library& library);

}  // namespace heatside::casefile
