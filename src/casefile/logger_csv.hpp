#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "heatside/casefile/case.hpp"

namespace heatside::casefile {

inline constexpr double least_measured_Cel = -60.0;
inline constexpr double most_measured_Cel = 300.0;  ///< hotter, neither air nor a wire is: more is degF by mistake

/// What a logger's file holds, and everything that is wrong with it.
struct LoggerTable {
  std::vector<LoggedTemperature> rows;
  std::vector<std::string> faults;   ///< "line 12, column 2: ...", with what is allowed; the file cannot be used
  std::vector<std::string> remarks;  ///< what was left out, with its count and first line
};

/// Reads a table of two columns, `time,temperature_Cel` or `minutes,temperature_Cel`.
///
/// A time is `YYYY-MM-DDThh:mm[:ss]` or `h:mm[:ss]`; a time of day that falls back by 12 h or more is the next day. Lines
/// that are empty or begin with # are skipped. Rows without a readable time and temperature are left out and counted; so
/// are gaps longer than 5 times the median step. Faults: a wrong header, a time before the one above, a temperature
/// outside the limits above, fewer than two usable rows.
///
/// @par Tested by  tests/casefile/logger_csv_test.cpp
[[nodiscard]] LoggerTable read_logger_csv(std::string_view text);

/// ", which in degF would be 82 degC; write degC": for a number that looks like degrees Fahrenheit.
[[nodiscard]] std::string fahrenheit_hint(double value);

}  // namespace heatside::casefile
