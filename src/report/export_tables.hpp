#pragma once

#include <vector>

#include "heatside/report/export_report.hpp"
#include "report/tidy_table.hpp"

namespace heatside::report {

/// The tables of an export, without the dictionary.
[[nodiscard]] std::vector<TidyTable> export_tables(const ExportContent& content);

/// Every column of the tables, and its own.
[[nodiscard]] TidyTable dictionary_of(const std::vector<TidyTable>& tables);

}  // namespace heatside::report
