#include "app/wire_options.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstdlib>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "base/strict_json.hpp"
#include "base/text.hpp"

namespace heatside::app {

namespace {

constexpr Range surface_range{-60.0, 1000.0, "Cel"}, diameter_range{1.0, 1000.0, "mm"}, distance_range{1.0, 2000.0, "mm"};
constexpr Range wall_range{0.02, 10.0, "mm"};

std::string in_unit(double value, std::string_view unit) {
  return plain_number(value, 10) + (unit.empty() ? "" : " " + std::string{unit});
}

void check_range(const std::string& name, double value, Range range, const Complain& complain) {
  if (value >= range.low && value <= range.high) return;
  const bool fahrenheit = name == "air" && value > range.high;
  complain(name, fmt::format("{} is outside the range; allowed: {} to {}{}", in_unit(value, range.unit),
                             plain_number(range.low), in_unit(range.high, range.unit),
                             fahrenheit ? "; were degrees Fahrenheit meant? The unit here is degrees Celsius" : ""));
}

// "AWG 14" and "awg14" are one label.
std::string squeezed(const std::string& label) {
  std::string letters;
  for (const char c : label) {
    if (c != ' ') letters += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  return letters;
}

// Puts the label of the tables in place of another spelling of it.
void check_size(std::string& size, const library::Library& library, const Complain& complain) {
  const std::optional<double> bare = number_in(size);
  if (bare) size = plain_number(*bare) + " mm2";
  const std::vector<std::string> labels = library::conductor_labels(library);
  const auto label = std::find_if(labels.begin(), labels.end(),
                                  [&](const std::string& known) { return squeezed(known) == squeezed(size); });
  if (label != labels.end()) {
    size = *label;
    return;
  }
  const char* hint =
      bare ? "; a bare number is mm2, a gauge is written \"AWG 14\"" : "; `heatside materials` shows the tables";
  complain("size", unknown_word("conductor size", size, labels) + hint);
}

void check_wall(const std::string& wall, const Complain& complain) {
  if (wall == "thin" || wall == "thick") return;
  if (const std::optional<double> measure = number_in(wall)) return check_range("wall", *measure, wall_range, complain);
  complain("wall", unknown_word("wall", wall, {"thin", "thick"}) + ", or millimetres");
}

std::optional<std::string> text_or_number(Fields& fields, const char* key) {
  const Json* member = fields.find(key);
  if (member == nullptr) return std::nullopt;
  if (member->is_number()) return plain_number(member->get<double>(), 10);
  if (member->is_string()) return fields.text(key);
  fields.complain(key, "expected a text or a number, found " + describe_type(*member));
  return std::nullopt;
}

std::optional<std::array<double, 3>> read_hot_body(Fields& fields) {
  const Json* member = fields.find("hot-body");
  if (member == nullptr) return std::nullopt;
  std::array<double, 3> numbers{};
  bool good = member->is_array() && member->size() == numbers.size();
  for (std::size_t i = 0; good && i < numbers.size(); ++i) {
    good = (*member)[i].is_number();
    if (good) numbers[i] = (*member)[i].get<double>();
  }
  if (good) return numbers;
  fields.complain("hot-body", "expected [surface in Cel, diameter in mm, distance of the axes in mm]");
  return std::nullopt;
}

template <class Value>
void fill(std::optional<Value>& wanted, const std::optional<Value>& otherwise) {
  if (!wanted) wanted = otherwise;
}

}  // namespace

std::optional<double> number_in(const std::string& text) {
  char* end = nullptr;
  const double value = std::strtod(text.c_str(), &end);
  if (text.empty() || *end != '\0' || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::array<double, 3> three_numbers(const std::string& text) {
  std::array<double, 3> numbers{};
  std::size_t at = 0;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const std::size_t comma = i + 1 < numbers.size() ? text.find(',', at) : text.size();
    const std::optional<double> number = comma == std::string::npos ? std::nullopt : number_in(text.substr(at, comma - at));
    if (!number) {
      throw Stop{ExitCode::usage,
                 fmt::format("--hot-body: \"{}\" is not SURFACE_Cel,DIAMETER_mm,AXIS_DISTANCE_mm, for example "
                             "450,50,80",
                             text)};
    }
    numbers[i] = *number;
    at = comma + 1;
  }
  return numbers;
}

void check_numbers(const Wanted& wanted, const Complain& complain) {
  for (const NumberOption& option : number_options) {
    const std::optional<double>& value = wanted.*option.member;
    if (!value) continue;
    check_range(option.name, *value, option.range, complain);
    if (option.whole && *value != std::floor(*value)) complain(option.name, in_unit(*value, "") + " is not a whole number");
  }
  if (!wanted.hot_body) return;
  check_range("hot-body", (*wanted.hot_body)[0], surface_range, complain);
  check_range("hot-body", (*wanted.hot_body)[1], diameter_range, complain);
  check_range("hot-body", (*wanted.hot_body)[2], distance_range, complain);
}

void check_texts(Wanted& wanted, const library::Library& library, const Complain& complain) {
  if (wanted.size) check_size(*wanted.size, library, complain);
  if (wanted.wall) check_wall(*wanted.wall, complain);
  if (wanted.insulation && !library.insulations.contains(*wanted.insulation)) {
    complain("insulation", unknown_word("insulation", *wanted.insulation, library::ids_of(library.insulations)));
  }
  const std::vector<std::string> shields{"none", "clean", "dirty"};
  if (wanted.shield && *wanted.shield != "none" && *wanted.shield != "clean" && *wanted.shield != "dirty") {
    complain("shield", unknown_word("shield", *wanted.shield, shields));
  }
}

Wanted read_wanted(const std::string& file, const library::Library& library) {
  std::vector<Problem> problems;
  const Json document = read_strict_json(read_file(file), file);
  Fields fields{document, "", file, problems};
  Wanted wanted;
  wanted.size = text_or_number(fields, "size");
  wanted.wall = text_or_number(fields, "wall");
  wanted.insulation = fields.optional_text("insulation");
  wanted.shield = fields.optional_text("shield");
  for (const NumberOption& option : number_options) {
    const Json* member = fields.find(option.name);
    if (member == nullptr) continue;
    if (member->is_number()) {
      wanted.*option.member = member->get<double>();
    } else {
      fields.complain(option.name, "expected a number, found " + describe_type(*member));
    }
  }
  wanted.hot_body = read_hot_body(fields);
  const Complain complain = [&fields](const std::string& key, const std::string& message) { fields.complain(key, message); };
  check_numbers(wanted, complain);
  check_texts(wanted, library, complain);
  fields.refuse_unknown();
  if (!problems.empty()) throw InputError(std::move(problems));
  return wanted;
}

Wanted merged(Wanted line, Wanted file) {
  if (line.size) file.od = file.conductor_diameter = file.resistance = std::nullopt;
  if (line.wall) file.od = std::nullopt;
  fill(line.size, file.size);
  fill(line.wall, file.wall);
  fill(line.insulation, file.insulation);
  fill(line.shield, file.shield);
  fill(line.hot_body, file.hot_body);
  for (const NumberOption& option : number_options) fill(line.*option.member, file.*option.member);
  return line;
}

std::vector<std::string> missing_options(const Wanted& wanted) {
  std::vector<std::string> missing;
  if (!wanted.size && !wanted.conductor_diameter) {
    missing.emplace_back("--size is missing; without one --conductor-diameter, --resistance and --od are needed");
  } else if (!wanted.size && !wanted.resistance) {
    missing.emplace_back("--resistance is missing; without --size it is needed");
  }
  if (!wanted.wall && !wanted.od) {
    missing.emplace_back("the wall is not known: give --wall thin, thick or millimetres, or --od");
  }
  if (!wanted.insulation && !wanted.limit) missing.emplace_back("give --insulation, or --limit for the allowed current");
  if (!wanted.air) missing.emplace_back("--air is missing: the temperature of the air in Cel");
  return missing;
}

}  // namespace heatside::app
