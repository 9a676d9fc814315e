#include "heatside/base/date.hpp"

namespace heatside {

namespace {

using std::chrono::day;
using std::chrono::days;
using std::chrono::month;
using std::chrono::sys_days;
using std::chrono::year;
using std::chrono::year_month_day;
using std::chrono::year_month_day_last;

// Two or four digits and nothing else; -1 otherwise.
int digits(std::string_view text) {
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return -1;
    value = 10 * value + (c - '0');
  }
  return value;
}

Date spanning(sys_days first, sys_days last) { return {first + (last - first) / 2, first, last}; }

std::string padded(int value, std::size_t width) {
  std::string text = std::to_string(value);
  return std::string(width > text.size() ? width - text.size() : 0, '0') + text;
}

}  // namespace

std::optional<Date> parse_date(std::string_view text) {
  const bool has_month = text.size() >= 7 && text[4] == '-';
  const bool has_day = text.size() == 10 && has_month && text[7] == '-';
  if (text.size() != 4 && !(text.size() == 7 && has_month) && !has_day) return std::nullopt;

  const int y = digits(text.substr(0, 4));
  if (y < 1900 || y > 2200) return std::nullopt;
  if (!has_month) return spanning(sys_days{year{y} / 1 / 1}, sys_days{year{y} / 12 / 31});

  const int m = digits(text.substr(5, 2));
  if (m < 1 || m > 12) return std::nullopt;
  const auto named = year{y} / month{static_cast<unsigned>(m)};
  if (!has_day) return spanning(sys_days{named / 1}, sys_days{year_month_day_last{named / std::chrono::last}});

  const int d = digits(text.substr(8, 2));
  if (d < 1) return std::nullopt;
  const year_month_day date = named / day{static_cast<unsigned>(d)};
  if (!date.ok()) return std::nullopt;
  return exact_date(sys_days{date});
}

Date exact_date(sys_days day) { return {day, day, day}; }

std::string format_date(const Date& date) {
  const year_month_day parts{date.day};
  return padded(static_cast<int>(parts.year()), 4) + '-' +
         padded(static_cast<int>(static_cast<unsigned>(parts.month())), 2) + '-' +
         padded(static_cast<int>(static_cast<unsigned>(parts.day())), 2);
}

std::string format_date_as_known(const Date& date) {
  const std::string day_text = format_date(date);
  if (date.exact()) return day_text;
  return day_text.substr(0, date.last - date.first > days{31} ? 4 : 7);
}

Years years_between(sys_days from, sys_days to) { return Years{static_cast<double>((to - from).count()) / days_per_year}; }

}  // namespace heatside
