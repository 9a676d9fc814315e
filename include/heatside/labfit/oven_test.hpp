#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "heatside/base/units.hpp"

/// Results of oven ageing, as read from a table of comma-separated values.

namespace heatside::labfit {

/// When equal specimens at one temperature reached their end point, as far as it is known.
struct Life {
  Kelvin temperature{ice_point_kelvin};
  Hours from{0.0};          ///< still good then; 0 when they were first looked at too late
  std::optional<Hours> to;  ///< failed by then; equal to `from` where the hour is known; empty for still alive
  std::size_t count = 1;    ///< how many specimens say the same
  std::size_t group = 0;    ///< index in LifeTest::groups

  [[nodiscard]] bool is_exact() const { return to && *to == from; }
};

/// Lives of specimens, coolest temperature first; rows that say the same stand together.
struct LifeTest {
  std::vector<Life> lives;
  std::vector<std::string> groups;  ///< labels in the order of the table; one empty label where it names none
  std::size_t specimens{};
};

/// One reading of a property that changes with ageing.
struct Reading {
  Kelvin temperature{ice_point_kelvin};
  Hours hours{0.0};
  double value{};          ///< in the unit of the property
  std::size_t specimen{};  ///< index in ReadingTest::specimens
};

/// Readings by temperature, specimen and hour.
struct ReadingTest {
  std::vector<Reading> readings;
  std::vector<std::string> specimens;  ///< one empty label where the table names none: each reading a piece of its own
};

using OvenTest = std::variant<LifeTest, ReadingTest>;

/// How a table is to be taken.
struct TableRules {
  std::optional<std::string> group;  ///< only the rows of this group
  bool surely_celsius = false;       ///< do not suspect degrees Fahrenheit
};

/// Reads a table with a header line. Lines that begin with # and empty lines are left out; cells are separated by commas.
///
///     temperature_Cel,hours                    every specimen failed at that hour
///     temperature_Cel,hours,status             1 failed, 0 still alive
///     temperature_Cel,hours_lo,hours_hi        failed between; hours_hi empty: still alive; hours_lo empty: failed before
///     temperature_Cel,hours,specimen,value     readings of a property
///
/// `count` (specimens a row stands for) and `group` may come with the first three, `specimen` may be left out of the
/// last; `temperature_K` may take the place of `temperature_Cel`. Columns stand in any order.
/// Temperatures from -60 to 400 Cel, hours above 0 (readings: from 0) to 1e7, at most 64 MiB.
///
/// @param file  name of the table in messages
/// @throws InputError  everything that is wrong, with line and column; or that there are no rows; or temperatures that
///                     look like degrees Fahrenheit
/// @par Tested by  tests/labfit/oven_test_test.cpp
[[nodiscard]] OvenTest read_oven_test(std::string_view text, const std::string& file, const TableRules& rules = {});

/// Puts lives in order and equal ones together.
/// @throws DomainError  an hour that is not above 0 and finite, or an interval that ends before it begins
[[nodiscard]] LifeTest life_test(std::vector<Life> lives, std::vector<std::string> groups = {""});

/// Temperatures of a test, coolest first.
[[nodiscard]] std::vector<Kelvin> temperatures_of(const LifeTest& test);
[[nodiscard]] std::vector<Kelvin> temperatures_of(const ReadingTest& test);

}  // namespace heatside::labfit
