#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "base/fields.hpp"
#include "base/text.hpp"
#include "heatside/labfit/oven_test.hpp"
#include "labfit/table.hpp"

namespace heatside::labfit {

namespace {

const std::vector<std::string> headings{"temperature_Cel", "temperature_K", "hours", "status",   "hours_lo",
                                        "hours_hi",        "count",         "group", "specimen", "value"};

// Places in `headings`.
enum class Heading : std::size_t {
  temperature_cel,
  temperature_k,
  hours,
  status,
  hours_lo,
  hours_hi,
  count,
  group,
  specimen,
  value
};

constexpr double coolest = -60.0, hottest = 400.0;  // [Cel]
constexpr double most_hours = 1.0e7, most_count = 1.0e9;

// Where each heading stands; empty where the table has it not.
using Columns = std::map<std::string, std::size_t, std::less<>>;

std::string quoted(std::string_view cell) {
  constexpr std::size_t longest = 40;
  const bool cut = cell.size() > longest;
  return fmt::format("\"{}{}\"", cell.substr(0, longest), cut ? "..." : "");
}

std::string strange_heading(std::string_view cell) {
  const std::string word{cell};
  const bool fahrenheit = word.find("Fahrenheit") != std::string::npos || word.ends_with("_F") || word.ends_with("degF");
  if (fahrenheit) return fmt::format("{}: temperatures are read in degrees Celsius under temperature_Cel", quoted(cell));
  if (word.find(';') != std::string::npos) return fmt::format("{}: columns are separated by commas", quoted(cell));
  return unknown_word("heading", word, headings) + "; allowed: " + join(headings);
}

Columns read_header(Table& table) {
  Columns columns;
  for (std::size_t column = 0; column < table.cells().size(); ++column) {
    const std::string_view cell = table.cells()[column];
    if (std::find(headings.begin(), headings.end(), cell) == headings.end()) {
      table.complain(column, "heading", cell.empty() ? "is empty; every column needs a heading" : strange_heading(cell));
    } else if (const auto [known, added] = columns.emplace(cell, column); !added) {
      table.complain(
          column, "heading",
          fmt::format("{} stands twice, in columns {} and {}; keep one", quoted(cell), known->second + 1, column + 1));
    }
  }
  return columns;
}

// Everything that a good header still lacks, or has too much of.
void check_header(Table& table, const Columns& columns) {
  const auto has = [&](std::string_view heading) { return columns.contains(heading); };
  const std::size_t line = table.line();
  if (has("temperature_Cel") == has("temperature_K"))
    table.complain_line(line, has("temperature_K")
                                  ? "temperature_Cel and temperature_K: keep one"
                                  : "no column temperature_Cel; the first line that is no comment names the columns");
  const bool interval = has("hours_lo") || has("hours_hi");
  if (!interval && !has("hours")) table.complain_line(line, "no column hours, nor hours_lo and hours_hi");
  if (has("hours_lo") != has("hours_hi")) table.complain_line(line, "hours_lo and hours_hi come together");
  if (interval && has("hours")) table.complain_line(line, "hours and hours_lo, hours_hi: keep one of the two ways");
  if (interval && has("status"))
    table.complain_line(line, "status does not go with hours_lo and hours_hi; leave hours_hi empty for still alive");
  if (!has("value")) {
    if (has("specimen")) table.complain_line(line, "specimen needs a column value");
    return;
  }
  for (const char* const heading : {"status", "count", "group", "hours_lo"}) {
    if (has(heading)) table.complain_line(line, fmt::format("{} does not go with readings of a value", heading));
  }
}

// Reads the cells of one row after the other.
class RowReader {
 public:
  RowReader(Table& table, Columns columns, std::size_t width)
      : table_{table}, columns_{std::move(columns)}, width_{width}, kelvin_{columns_.contains("temperature_K")} {
    for (std::size_t i = 0; i < headings.size(); ++i) {
      const auto found = columns_.find(headings[i]);
      at_.push_back(found == columns_.end() ? none : found->second);
    }
  }

  // Whether the row has as many cells as the header.
  bool begin() {
    const std::size_t found = table_.cells().size();
    if (found == width_) return true;
    table_.complain_line(table_.line(), fmt::format("{} cells; the header has {}{}", found, width_,
                                                    found > width_ ? "; a decimal is written with a point" : ""));
    return false;
  }

  [[nodiscard]] bool has(Heading heading) const { return at_[place(heading)] != none; }
  [[nodiscard]] std::string_view cell(Heading heading) const { return table_.cells()[at_[place(heading)]]; }
  void complain(Heading heading, const std::string& message) {
    table_.complain(at_[place(heading)], headings[place(heading)], message);
  }

  std::optional<double> number(Heading heading) {
    if (const auto value = number_of(cell(heading))) return value;
    complain(heading, cell(heading).empty() ? "is empty; a number is needed"
                                            : fmt::format("{} is not a number", quoted(cell(heading))));
    return std::nullopt;
  }

  std::optional<Kelvin> temperature() {
    const Heading heading = kelvin_ ? Heading::temperature_k : Heading::temperature_cel;
    const auto number_read = number(heading);
    if (!number_read) return std::nullopt;
    const double degrees = kelvin_ ? *number_read - ice_point_kelvin : *number_read;
    if (degrees >= coolest && degrees <= hottest) return kelvin_ ? Kelvin{*number_read} : celsius(degrees);
    complain(heading, fmt::format("{} Cel is outside the range; allowed: {} to {} Cel{}", plain_number(degrees, 10),
                                  plain_number(coolest), plain_number(hottest),
                                  !kelvin_ && degrees > hottest ? "; were degrees Fahrenheit or kelvin meant?" : ""));
    return std::nullopt;
  }

  std::optional<Hours> time(Heading heading, bool zero_allowed) {
    const auto value = number(heading);
    if (!value) return std::nullopt;
    if (*value <= most_hours && (*value > 0.0 || (zero_allowed && *value == 0.0))) return Hours{*value};
    complain(heading, fmt::format("{} h is outside the range; allowed: {} 0 to {} h", plain_number(*value, 10),
                                  zero_allowed ? "from" : "above", plain_number(most_hours)));
    return std::nullopt;
  }

  std::optional<std::size_t> count() {
    if (!has(Heading::count)) return 1;
    const auto value = number(Heading::count);
    if (!value) return std::nullopt;
    if (*value >= 1.0 && *value <= most_count && *value == std::floor(*value)) return static_cast<std::size_t>(*value);
    complain(Heading::count,
             fmt::format("{} is not a whole number from 1 to {}", plain_number(*value, 10), plain_number(most_count)));
    return std::nullopt;
  }

  std::optional<bool> failed() {
    if (!has(Heading::status)) return true;
    if (cell(Heading::status) == "1") return true;
    if (cell(Heading::status) == "0") return false;
    complain(Heading::status,
             fmt::format("{} is no status; allowed: 1 failed, 0 still alive", quoted(cell(Heading::status))));
    return std::nullopt;
  }

  // Index of the label in a cell; a new label is added to the list.
  std::optional<std::size_t> label(Heading heading, std::vector<std::string>& labels) {
    const std::string_view text = cell(heading);
    const bool bad = std::any_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < ' '; });
    if (text.empty() || bad) {
      complain(heading, text.empty() ? "is empty; a name is needed" : "holds a control character");
      return std::nullopt;
    }
    const auto found = known_.find(text);
    if (found != known_.end()) return found->second;
    labels.emplace_back(text);
    known_.emplace(text, labels.size() - 1);
    return labels.size() - 1;
  }

 private:
  static constexpr auto none = static_cast<std::size_t>(-1);
  static std::size_t place(Heading heading) { return static_cast<std::size_t>(heading); }

  Table& table_;
  Columns columns_;
  std::size_t width_;
  bool kelvin_;
  std::vector<std::size_t> at_;
  std::map<std::string, std::size_t, std::less<>> known_;
};

std::optional<Life> interval(RowReader& row, Life life) {
  const bool open_below = row.cell(Heading::hours_lo).empty(), alive = row.cell(Heading::hours_hi).empty();
  if (open_below && alive) {
    row.complain(Heading::hours_lo, "hours_lo and hours_hi are both empty: nothing is known of these specimens");
    return std::nullopt;
  }
  const std::optional<Hours> from = open_below ? Hours{0.0} : row.time(Heading::hours_lo, !alive);
  const std::optional<Hours> to = alive ? std::nullopt : row.time(Heading::hours_hi, false);
  if (!from || (!alive && !to)) return std::nullopt;
  if (to && *to < *from) {
    row.complain(Heading::hours_hi, fmt::format("{} h lies before hours_lo, {} h", plain_number(to->value(), 10),
                                                plain_number(from->value(), 10)));
    return std::nullopt;
  }
  life.from = *from;
  life.to = to;
  return life;
}

std::optional<Life> read_life(RowReader& row, std::vector<std::string>& groups) {
  Life life;
  const auto temperature = row.temperature();
  const auto count = row.count();
  const auto group = row.has(Heading::group) ? row.label(Heading::group, groups) : std::size_t{0};
  std::optional<Life> known;
  if (row.has(Heading::hours_lo)) {
    known = interval(row, life);
  } else {
    const auto time = row.time(Heading::hours, false);
    const auto failed = row.failed();
    if (time && failed) {
      life.from = *time;
      if (*failed) life.to = *time;
      known = life;
    }
  }
  if (!temperature || !count || !group || !known) return std::nullopt;
  known->temperature = *temperature;
  known->count = *count;
  known->group = *group;
  return known;
}

std::optional<Reading> read_reading(RowReader& row, std::vector<std::string>& specimens) {
  const auto temperature = row.temperature();
  const auto time = row.time(Heading::hours, true);
  const auto value = row.number(Heading::value);
  const auto specimen = row.has(Heading::specimen) ? row.label(Heading::specimen, specimens) : std::size_t{0};
  if (!temperature || !time || !value || !specimen) return std::nullopt;
  return Reading{*temperature, *time, *value, *specimen};
}

bool is_multiple(double value, double step) {
  const double steps = value / step;
  return std::abs(steps - std::round(steps)) < 1.0e-9;
}

// Ovens are set to whole fives of their own scale: 302, 338, 374 are 150, 170, 190 degrees Celsius.
bool look_like_fahrenheit(const std::vector<Kelvin>& temperatures) {
  if (temperatures.size() < 2) return false;
  bool odd = false;
  for (const Kelvin temperature : temperatures) {
    const double degrees = in_celsius(temperature);
    if (!is_multiple((degrees - 32.0) / 1.8, 5.0)) return false;
    odd = odd || !is_multiple(std::round(degrees * 1.0e6) / 1.0e6, 5.0);
  }
  return odd;
}

void refuse_fahrenheit(Table& table, const std::vector<Kelvin>& temperatures) {
  if (!look_like_fahrenheit(temperatures)) return;
  std::vector<std::string> found, meant;
  for (const Kelvin temperature : temperatures) {
    found.push_back(plain_number(in_celsius(temperature)));
    meant.push_back(plain_number((in_celsius(temperature) - 32.0) / 1.8));
  }
  table.complain_line(0, fmt::format("temperatures {} look like degrees Fahrenheit ({} Cel); convert them, or say that "
                                     "they are degrees Celsius with --celsius",
                                     join(found), join(meant)));
}

// Only the rows of one group.
void keep_group(Table& table, LifeTest& test, const std::string& wanted) {
  const auto found = std::find(test.groups.begin(), test.groups.end(), wanted);
  if (found == test.groups.end()) {
    const bool none = test.groups == std::vector<std::string>{""};
    table.complain_line(
        0, none ? "a group was asked for, but the table has no column group" : unknown_word("group", wanted, test.groups));
    return;
  }
  const auto index = static_cast<std::size_t>(found - test.groups.begin());
  std::erase_if(test.lives, [&](const Life& life) { return life.group != index; });
  for (Life& life : test.lives) life.group = 0;
  test.groups = {wanted};
}

LifeTest read_lives(Table& table, RowReader& row, const TableRules& rules) {
  LifeTest test;
  if (!row.has(Heading::group)) test.groups = {""};
  while (table.next()) {
    if (!row.begin()) continue;
    if (const auto life = read_life(row, test.groups)) test.lives.push_back(*life);
  }
  if (table.is_good() && rules.group) keep_group(table, test, *rules.group);
  if (!table.is_good()) return test;
  return life_test(std::move(test.lives), std::move(test.groups));
}

bool comes_before(const Reading& a, const Reading& b) {
  return std::tuple{a.temperature.value(), a.specimen, a.hours.value()} <
         std::tuple{b.temperature.value(), b.specimen, b.hours.value()};
}

ReadingTest read_readings(Table& table, RowReader& row, const TableRules& rules) {
  ReadingTest test;
  if (!row.has(Heading::specimen)) test.specimens = {""};
  if (rules.group) table.complain_line(0, "a group was asked for, but the table has no column group");
  while (table.next()) {
    if (!row.begin()) continue;
    if (const auto reading = read_reading(row, test.specimens)) test.readings.push_back(*reading);
  }
  std::stable_sort(test.readings.begin(), test.readings.end(), comes_before);
  return test;
}

}  // namespace

OvenTest read_oven_test(std::string_view text, const std::string& file, const TableRules& rules) {
  constexpr std::size_t most_bytes = std::size_t{64} << 20;
  Table table{text, file};
  if (text.size() > most_bytes) {
    table.complain_line(0, fmt::format("more than {} bytes are not read", most_bytes));
    table.throw_problems();
  }
  if (!table.next()) {
    table.complain_line(0, "no header line and no rows: the table is empty");
    table.throw_problems();
  }
  Columns columns = read_header(table);
  if (table.is_good()) check_header(table, columns);
  // Without the columns nothing else can be checked.
  table.throw_problems();
  const bool readings = columns.contains("value");
  RowReader row{table, std::move(columns), table.cells().size()};
  OvenTest test;
  std::vector<Kelvin> temperatures;
  if (readings) {
    test = read_readings(table, row, rules);
    temperatures = temperatures_of(std::get<ReadingTest>(test));
  } else {
    test = read_lives(table, row, rules);
    temperatures = temperatures_of(std::get<LifeTest>(test));
  }
  if (table.is_good() && temperatures.empty()) table.complain_line(0, "there are no rows below the header");
  if (table.is_good() && !rules.surely_celsius) refuse_fahrenheit(table, temperatures);
  table.throw_problems();
  return test;
}

}  // namespace heatside::labfit
