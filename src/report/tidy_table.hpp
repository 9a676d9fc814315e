#pragma once

#include <string>
#include <variant>
#include <vector>

#include "base/strict_json.hpp"

/// Tables for programs: one row an observation, one column a quantity, every column described.

namespace heatside::report {

/// Types of Table Schema (Data Package standard 2.0).
enum class FieldType { text, number, whole, truth, date };

struct Field {
  std::string name;
  FieldType type{};
  std::string unit;  ///< UCUM; empty for what has none
  std::string meaning;
};

/// A value of a row; the first stands for none.
using Cell = std::variant<std::monostate, std::string, double, long long, bool>;

struct TidyTable {
  std::string name;     ///< of its file, without the ending
  std::string title;    ///< a few words
  std::string meaning;  ///< what a row is, and what must be known to read it
  std::vector<Field> fields;
  std::vector<std::string> key;  ///< names of the fields that tell rows apart
  std::vector<std::vector<Cell>> rows;
};

/// A text as a cell: quoted where it must be.
/// @par Source  RFC 4180
[[nodiscard]] std::string csv_cell(const std::string& text);

/// A header line and a line a row; doubles read back to the same value, nothing for no value.
/// @par Source  RFC 4180
/// @par Tested by  tests/report/tidy_table_test.cpp
[[nodiscard]] std::string csv_of(const TidyTable& table);

/// Table Schema of a table.
/// @par Source  Data Package standard 2.0, Table Schema; `unit` is a property of our own
[[nodiscard]] Json schema_of(const TidyTable& table);

/// One object a row; null for no value.
[[nodiscard]] Json rows_of(const TidyTable& table);

/// Name of a type as Table Schema has it.
[[nodiscard]] std::string name_of(FieldType type);

}  // namespace heatside::report
