#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "heatside/base/error.hpp"

namespace heatside::labfit {

/// Goes through a table of comma-separated values line by line and writes down what is wrong with it.
class Table {
 public:
  /// @param text  must outlive the table
  Table(std::string_view text, std::string file);

  /// Moves to the next line with cells in it; false at the end.
  bool next();

  [[nodiscard]] const std::vector<std::string_view>& cells() const { return cells_; }
  [[nodiscard]] std::size_t line() const { return line_; }

  /// Notes a problem of this line, in the cell at `column` (from 0) under the heading `name`.
  void complain(std::size_t column, std::string_view name, const std::string& message) {
    complain_at(line_, column, name, message);
  }
  void complain_at(std::size_t line, std::size_t column, std::string_view name, const std::string& message);
  /// Notes a problem of a line or, for line 0, of the whole table.
  void complain_line(std::size_t line, const std::string& message);

  [[nodiscard]] bool is_good() const { return problems_.empty(); }
  /// @throws InputError  when something was noted
  void throw_problems();

 private:
  void note(std::string message);

  std::string_view text_;
  std::string file_;
  std::size_t at_ = 0, line_ = 0;
  std::vector<std::string_view> cells_;
  std::vector<Problem> problems_;
  std::size_t left_out_ = 0;
};

/// The whole cell as a finite decimal number, or nothing. No words, no hexadecimal, no decimal comma.
[[nodiscard]] std::optional<double> number_of(std::string_view cell);

}  // namespace heatside::labfit
