#include "casefile/logger_csv.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "base/strict_json.hpp"
#include "base/text.hpp"

namespace heatside::casefile {

namespace {

constexpr double minutes_per_day = 1440.0;

// Calls `each` with the number and text of every line, without its end.
template <class Each>
void each_line(std::string_view text, Each each) {
  std::size_t number = 0;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    std::string_view line = text.substr(0, end);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    each(++number, line);
    text.remove_prefix(std::min(end + 1, text.size()));
  }
}

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::vector<std::string_view> fields_of(std::string_view line) {
  std::vector<std::string_view> fields;
  for (std::size_t comma = line.find(','); comma != std::string_view::npos; comma = line.find(',')) {
    fields.push_back(trimmed(line.substr(0, comma)));
    line.remove_prefix(comma + 1);
  }
  fields.push_back(trimmed(line));
  return fields;
}

// The JSON reader knows decimal numbers whatever the locale.
std::optional<double> number_in(std::string_view text) {
  const Json value = Json::parse(text, nullptr, false);
  return value.is_number() ? std::optional{value.get<double>()} : std::nullopt;
}

// One or two digits up to a limit.
std::optional<int> digits_below(std::string_view text, int limit) {
  if (text.empty() || text.size() > 2) return std::nullopt;
  int value = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    value = 10 * value + (c - '0');
  }
  return value < limit ? std::optional{value} : std::nullopt;
}

// "h:mm" or "h:mm:ss" in minutes after midnight.
std::optional<double> minutes_of_day(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos) return std::nullopt;
  std::string_view rest = text.substr(colon + 1);
  const auto hour = digits_below(text.substr(0, colon), 24);
  const auto minute = digits_below(rest.substr(0, 2), 60);
  std::optional<int> second = 0;
  if (rest.size() > 2) second = rest.size() == 5 && rest[2] == ':' ? digits_below(rest.substr(3), 60) : std::nullopt;
  if (rest.size() < 2 || !hour || !minute || !second) return std::nullopt;
  return 60.0 * *hour + *minute + *second / 60.0;
}

// Times of a file as minutes on one clock. A time of day knows no date, so it runs on over midnight.
class Clock {
 public:
  explicit Clock(bool counts_minutes) : counts_minutes_{counts_minutes} {}
  [[nodiscard]] bool counts_minutes() const { return counts_minutes_; }

  std::optional<double> minutes(std::string_view text) {
    if (counts_minutes_) return number_in(text);
    const std::size_t t = text.find('T');
    if (t == std::string_view::npos) return running_on(minutes_of_day(text));
    const std::optional<Date> date = t == 10 ? parse_date(text.substr(0, t)) : std::nullopt;
    const std::optional<double> time = minutes_of_day(text.substr(t + 1));
    if (!date || !time) return std::nullopt;
    return minutes_per_day * static_cast<double>(date->day.time_since_epoch().count()) + *time;
  }

 private:
  std::optional<double> running_on(std::optional<double> time) {
    if (!time) return time;
    if (*time <= last_of_day_ - 0.5 * minutes_per_day) days_ += 1.0;
    last_of_day_ = *time;
    return *time + days_ * minutes_per_day;
  }

  bool counts_minutes_;
  double last_of_day_ = 0.0, days_ = 0.0;
};

// Things of one kind: how many, and where the first was.
struct Tally {
  std::size_t count = 0, first_line = 0;
  std::string first_text{};

  void add(std::size_t line, std::string text) {
    if (count++ > 0) return;
    first_line = line;
    first_text = std::move(text);
  }
};

bool speaks_of_fahrenheit(std::string_view header) {
  std::string word;
  for (const char c : header) word += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  const auto ends_with = [&](std::string_view end) {
    return word.size() >= end.size() && word.compare(word.size() - end.size(), end.size(), end) == 0;
  };
  return word.find("fahrenheit") != std::string::npos || word.find("degf") != std::string::npos || ends_with("_f") ||
         ends_with("(f)") || ends_with(" f") ||
         ends_with(
             "\xC2\xB0"
             "f");
}

std::string quoted(std::string_view text) {
  constexpr std::size_t most = 40;
  std::string shown;
  for (const char c : text.substr(0, most)) shown += c >= ' ' && c < 127 ? c : '?';
  return '"' + shown + (text.size() > most ? "...\"" : "\"");
}

void check_header(std::size_t line, const std::vector<std::string_view>& header, std::vector<std::string>& faults) {
  constexpr auto allowed = "allowed: \"time,temperature_Cel\" or \"minutes,temperature_Cel\"";
  if (header.size() != 2) {
    faults.push_back(fmt::format("line {}: expected a header of two columns parted by a comma, found {}; {}", line,
                                 header.size(), allowed));
    return;
  }
  if (header[0] != "time" && header[0] != "minutes") {
    faults.push_back(fmt::format("line {}, column 1: unknown header {}; {}", line, quoted(header[0]), allowed));
  }
  if (header[1] == "temperature_Cel") return;
  const bool fahrenheit = speaks_of_fahrenheit(header[1]);
  faults.push_back(
      fmt::format("line {}, column 2: {} {}; {}", line,
                  fahrenheit ? "temperatures in degF are not read, convert them to degC: the header says" : "unknown header",
                  quoted(header[1]), allowed));
}

std::string times(std::size_t count, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

// Reads one line after another into a table.
class TableReader {
 public:
  void read(std::size_t number, std::string_view line) {
    if (trimmed(line).empty() || trimmed(line).front() == '#') return;
    const std::vector<std::string_view> fields = fields_of(line);
    if (clock_) {
      read_row(number, line, fields);
      return;
    }
    if (!table_.faults.empty()) return;
    check_header(number, fields, table_.faults);
    if (table_.faults.empty()) clock_.emplace(fields[0] == "minutes");
  }

  LoggerTable finish() {
    if (!clock_) {
      if (table_.faults.empty()) {
        table_.faults.emplace_back("the file is empty; expected the header \"time,temperature_Cel\" and a row a reading");
      }
      return std::move(table_);
    }
    note_rows();
    note_gaps();
    start_at_first_row();
    return std::move(table_);
  }

 private:
  void read_row(std::size_t number, std::string_view line, const std::vector<std::string_view>& fields) {
    const auto at = fields.size() == 2 ? clock_->minutes(fields[0]) : std::nullopt;
    const auto temperature = fields.size() == 2 ? number_in(fields[1]) : std::nullopt;
    if (!at || !temperature) {
      unreadable_.add(number, quoted(line));
      return;
    }
    if (last_ && *at < *last_) backwards_.add(number, quoted(fields[0]));
    last_ = at;
    if (*temperature < least_measured_Cel || *temperature > most_measured_Cel) {
      outside_.add(number, fmt::format("{} degC is outside the range; allowed: {} to {} degC{}", plain_number(*temperature),
                                       plain_number(least_measured_Cel), plain_number(most_measured_Cel),
                                       fahrenheit_hint(*temperature)));
      return;
    }
    table_.rows.push_back({Minutes{*at}, celsius(*temperature)});
    lines_.push_back(number);
  }

  void note_rows() {
    if (unreadable_.count > 0) {
      table_.remarks.push_back(fmt::format("{} cannot be read and left out, the first in line {}: {}",
                                           times(unreadable_.count, "row", "rows"), unreadable_.first_line,
                                           unreadable_.first_text));
    }
    if (backwards_.count > 0) {
      table_.faults.push_back(
          fmt::format("line {}, column 1: the time {} comes before that of the row above; allowed: rows "
                      "in order of time ({})",
                      backwards_.first_line, backwards_.first_text, times(backwards_.count, "such row", "such rows")));
    }
    if (outside_.count > 0) {
      table_.faults.push_back(fmt::format("line {}, column 2: {} ({})", outside_.first_line, outside_.first_text,
                                          times(outside_.count, "such row", "such rows")));
    }
    if (table_.rows.size() < 2 && outside_.count == 0) {
      const std::string first = unreadable_.count == 0 ? ""
                                                       : fmt::format("; line {} cannot be read: {}", unreadable_.first_line,
                                                                     unreadable_.first_text);
      table_.faults.push_back(fmt::format("{} with a time and a temperature in degC; at least 2 are needed{}",
                                          times(table_.rows.size(), "row", "rows"), first));
    }
  }

  void note_gaps() {
    std::vector<double> steps;
    for (std::size_t i = 1; i < table_.rows.size(); ++i) {
      steps.push_back((table_.rows[i].at - table_.rows[i - 1].at).value());
    }
    if (!table_.faults.empty() || steps.empty()) return;
    std::vector<double> sorted = steps;
    const auto middle = sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2);
    std::nth_element(sorted.begin(), middle, sorted.end());
    constexpr double steps_of_gap = 5.0;
    Tally gaps;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      if (*middle > 0.0 && steps[i] > steps_of_gap * *middle) gaps.add(lines_[i + 1], plain_number(steps[i], 3));
    }
    if (gaps.count == 0) return;
    table_.remarks.push_back(
        fmt::format("{} longer than 5 times the usual step of {} min, the first of {} min before "
                    "line {}; nothing is filled in",
                    times(gaps.count, "gap", "gaps"), plain_number(*middle, 3), gaps.first_text, gaps.first_line));
  }

  void start_at_first_row() {
    if (clock_->counts_minutes() || table_.rows.empty()) return;
    const Minutes first = table_.rows.front().at;
    for (LoggedTemperature& row : table_.rows) row.at = row.at - first;
  }

  LoggerTable table_;
  std::optional<Clock> clock_;
  std::optional<double> last_;
  std::vector<std::size_t> lines_;  // of the rows
  Tally unreadable_, backwards_, outside_;
};

}  // namespace

std::string fahrenheit_hint(double value) {
  const double converted = (value - 32.0) / 1.8;
  if (!(value > 0.0) || !(converted <= most_measured_Cel)) return {};
  return fmt::format("; if that is degF, it is {} degC", plain_number(converted, 3));
}

LoggerTable read_logger_csv(std::string_view text) {
  // Spreadsheets put a mark of the encoding in front.
  if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
  TableReader reader;
  each_line(text, [&](std::size_t number, std::string_view line) { reader.read(number, line); });
  return reader.finish();
}

}  // namespace heatside::casefile
