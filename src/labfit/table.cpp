#include "labfit/table.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <utility>

namespace heatside::labfit {

namespace {

// More would bury the first ones.
constexpr std::size_t most_problems = 100;

std::string_view trimmed(std::string_view cell) {
  const std::size_t first = cell.find_first_not_of(" \t\r");
  if (first == std::string_view::npos) return {};
  return cell.substr(first, cell.find_last_not_of(" \t\r") - first + 1);
}

std::string_view unquoted(std::string_view cell) {
  const bool quoted = cell.size() >= 2 && cell.front() == '"' && cell.back() == '"';
  return quoted ? trimmed(cell.substr(1, cell.size() - 2)) : cell;
}

void split(std::string_view line, std::vector<std::string_view>& cells) {
  cells.clear();
  bool quoted = false;
  std::size_t from = 0;
  for (std::size_t at = 0; at <= line.size(); ++at) {
    if (at < line.size() && line[at] == '"') quoted = !quoted;
    if (at < line.size() && (line[at] != ',' || quoted)) continue;
    cells.push_back(unquoted(trimmed(line.substr(from, at - from))));
    from = at + 1;
  }
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Digits, point and exponent of a decimal number, and whether there is nothing else.
struct Decimal {
  std::uint64_t digits = 0;
  int count = 0;     // significant digits
  int exponent = 0;  // of ten
  bool negative = false, complete = false;
};

void take_digits(std::string_view cell, std::size_t& at, Decimal& decimal, int exponent_step, bool& any) {
  for (; at < cell.size() && is_digit(cell[at]); ++at) {
    any = true;
    if (decimal.count < 19) decimal.digits = decimal.digits * 10 + static_cast<std::uint64_t>(cell[at] - '0');
    if (decimal.digits != 0) ++decimal.count;
    decimal.exponent += exponent_step;
  }
}

bool take_exponent(std::string_view cell, std::size_t& at, Decimal& decimal) {
  if (at == cell.size() || (cell[at] != 'e' && cell[at] != 'E')) return true;
  ++at;
  const bool negative = at < cell.size() && cell[at] == '-';
  if (at < cell.size() && (cell[at] == '-' || cell[at] == '+')) ++at;
  int exponent = 0;
  const std::size_t first = at;
  for (; at < cell.size() && is_digit(cell[at]) && at - first < 4; ++at) exponent = exponent * 10 + (cell[at] - '0');
  decimal.exponent += negative ? -exponent : exponent;
  return at > first;
}

Decimal decimal_of(std::string_view cell) {
  Decimal decimal;
  std::size_t at = 0;
  bool any = false;
  if (at < cell.size() && (cell[at] == '-' || cell[at] == '+')) decimal.negative = cell[at++] == '-';
  take_digits(cell, at, decimal, 0, any);
  if (at < cell.size() && cell[at] == '.') take_digits(cell, ++at, decimal, -1, any);
  decimal.complete = any && take_exponent(cell, at, decimal) && at == cell.size();
  return decimal;
}

}  // namespace

std::optional<double> number_of(std::string_view cell) {
  constexpr std::array<double, 23> powers{1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
                                          1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
  const Decimal decimal = decimal_of(cell);
  if (!decimal.complete) return std::nullopt;
  const auto power = static_cast<std::size_t>(std::abs(decimal.exponent));
  // Both the digits and the power of ten are exact, so one division or product rounds rightly.
  if (decimal.count <= 15 && power < powers.size()) {
    const auto digits = static_cast<double>(decimal.digits);
    const double value = decimal.exponent < 0 ? digits / powers[power] : digits * powers[power];
    return decimal.negative ? -value : value;
  }
  const double value = std::strtod(std::string{cell}.c_str(), nullptr);
  if (!std::isfinite(value)) return std::nullopt;
  return value;
}

Table::Table(std::string_view text, std::string file) : text_{text}, file_{std::move(file)} {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  if (text_.starts_with(byte_order_mark)) text_.remove_prefix(byte_order_mark.size());
}

bool Table::next() {
  while (at_ < text_.size()) {
    const std::size_t end = std::min(text_.find('\n', at_), text_.size());
    const std::string_view line = trimmed(text_.substr(at_, end - at_));
    at_ = end + 1;
    ++line_;
    if (line.empty() || line.front() == '#') continue;
    split(line, cells_);
    return true;
  }
  return false;
}

void Table::note(std::string message) {
  if (problems_.size() < most_problems) {
    problems_.push_back({file_, "", std::move(message)});
  } else {
    ++left_out_;
  }
}

void Table::complain_at(std::size_t line, std::size_t column, std::string_view name, const std::string& message) {
  note(fmt::format("line {}, column {} ({}): {}", line, column + 1, name, message));
}

void Table::complain_line(std::size_t line, const std::string& message) {
  note(line == 0 ? message : fmt::format("line {}: {}", line, message));
}

void Table::throw_problems() {
  if (problems_.empty()) return;
  if (left_out_ > 0) problems_.push_back({file_, "", fmt::format("and {} more problems like these", left_out_)});
  throw InputError(std::move(problems_));
}

}  // namespace heatside::labfit
