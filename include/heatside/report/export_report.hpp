#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/casefile/record.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/ageing_curves.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/population/explanation.hpp"
#include "heatside/report/estimate_report.hpp"

/// A case as tables for notebooks, with a descriptor that programs read.

namespace heatside::report {

/// What an export is made of. Lists have one entry a segment, in the order of the case.
struct ExportContent {
  const casefile::Case& job;
  const library::Library& library;
  const population::DrawnAnswer& answer;          ///< with the hours at temperature
  std::vector<population::ConditionYears> draws;  ///< of `answer`
  std::vector<population::AgeingCurve> curves;    ///< of `answer`
  std::vector<population::Explanation> likely;    ///< the likely case
  std::size_t kept_draws{};                       ///< the table of draws holds the first so many
};

/// A file of an export.
struct ExportedFile {
  std::string name;  ///< without folders
  std::string text;
};

/// Name of the descriptor among the files; it comes last.
inline constexpr std::string_view descriptor_name = "datapackage.json";

/// CSV tables, `dictionary.csv` with every column of them, `README.md` with what must be read with the numbers, and the
/// descriptor. Numbers are those of `estimate_json` and `explanation_json`; years are cut as there.
///
/// @param digest  SHA-256 of bytes
/// @par Source  Data Package standard 2.0 (datapackage.org, June 2024); RFC 4180; units in UCUM
/// @par Tested by  tests/report/export_report_test.cpp, tests/app/export_test.py
[[nodiscard]] std::vector<ExportedFile> export_files(const ExportContent& content, const BirthCertificate& certificate,
                                                     const casefile::Digest& digest);

/// Whether a text is the descriptor of an export.
[[nodiscard]] bool is_export_descriptor(std::string_view text);

}  // namespace heatside::report
