#pragma once

#include <string>

#include "heatside/labfit/study.hpp"

namespace heatside::report {

/// What an output says of a fit beside its numbers.
struct FitHeading {
  std::string engine;       ///< version of the program
  std::string data_name;    ///< file name without folders
  std::string data_sha256;  ///< of the bytes of the file
  std::string note{};       ///< first comment line of the table, such as that its data are invented; may be empty
};

/// The answer for people, at most 100 columns wide.
/// @param steps  every intermediate number of the IEC 60216-3 chain, and the residuals
[[nodiscard]] std::string fit_text(const labfit::Study& study, const FitHeading& heading, bool steps);

/// Format "heatside-fit" version 1; see the README for the fields.
[[nodiscard]] std::string fit_json(const labfit::Study& study, const FitHeading& heading);

/// A drawing (SVG 1.1, nothing outside itself) of lives over temperature: what was seen at each temperature, the fitted
/// line with its band, the lives that were asked for. In greys and line styles only.
[[nodiscard]] std::string fit_plot(const labfit::Study& study, const FitHeading& heading);

}  // namespace heatside::report
