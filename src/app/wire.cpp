#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <memory>
#include <optional>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "base/fields.hpp"
#include "base/text.hpp"
#include "heatside/report/wire_report.hpp"

namespace heatside::app {

namespace {

// No record holds these; each is named in the output as what the answer rests on.
constexpr double hot_body_emissivity = 0.80;  // oxidised exhaust parts: 0.6 to 0.85 in handbooks, from memory
constexpr double clean_shield_share = 0.10;   // of the radiation that gets through
constexpr double dirty_shield_share = 0.25;
constexpr double unnamed_conductivity = 0.20;  // [W/(m K)], between soft PVC and cross-linked polyolefin
constexpr double unnamed_emissivity = 0.90;

constexpr Range surface_range{-60.0, 1000.0, "Cel"}, diameter_range{1.0, 1000.0, "mm"}, distance_range{1.0, 2000.0, "mm"};
constexpr Range wall_range{0.02, 10.0, "mm"};

// What one place, command line or file, says; in the units of the options.
struct Wanted {
  std::optional<std::string> size, wall, insulation, shield;
  std::optional<double> od, conductor_diameter, resistance, limit, air, current, wires, loaded, speed, altitude;
  std::optional<std::array<double, 3>> hot_body;  // Cel, mm, mm
};

struct NumberOption {
  const char* name;
  std::optional<double> Wanted::*member;
  Range range;
  bool whole;
  const char* help;
};

constexpr std::array<NumberOption, 10> number_options{{
    {"od", &Wanted::od, {0.2, 80.0, "mm"}, false, "outer diameter, mm; overrules the wall"},
    {"conductor-diameter", &Wanted::conductor_diameter, {0.05, 60.0, "mm"}, false, "mm; overrules that of the size"},
    {"resistance", &Wanted::resistance, {0.01, 10000.0, "mOhm/m"}, false, "mOhm/m at 20 Cel; overrules that of the size"},
    {"limit", &Wanted::limit, {20.0, 400.0, "Cel"}, false, "Cel, for the allowed current; else the rating"},
    {"air", &Wanted::air, {-60.0, 300.0, "Cel"}, false, "temperature of air and surroundings, Cel"},
    {"current", &Wanted::current, {0.0, 5000.0, "A"}, false, "A in each loaded wire [0]"},
    {"wires", &Wanted::wires, {1.0, 1000.0, ""}, true, "wires of this kind laid together [1]"},
    {"loaded", &Wanted::loaded, {1.0, 1000.0, ""}, true, "how many carry the current at once [all]"},
    {"speed", &Wanted::speed, {0.0, 60.0, "m/s"}, false, "air speed across the wire, m/s [0]"},
    {"altitude", &Wanted::altitude, {-500.0, 11000.0, "m"}, false, "m above the sea [0]"},
}};

// Takes the name of an option and what is wrong with it.
using Complain = std::function<void(const std::string&, const std::string&)>;

std::optional<double> number_in(const std::string& text) {
  char* end = nullptr;
  const double value = std::strtod(text.c_str(), &end);
  if (text.empty() || *end != '\0' || !std::isfinite(value)) return std::nullopt;
  return value;
}

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

// --- the two places --------------------------------------------------------------------------------------------------

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

template <class Value>
void fill(std::optional<Value>& wanted, const std::optional<Value>& otherwise) {
  if (!wanted) wanted = otherwise;
}

// The command line wins, also over what in the file would overrule it.
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

// --- from wishes to a wire -------------------------------------------------------------------------------------------

// Everything the engine is asked, and what is told of it.
struct Question {
  exposure::WireBuild build;
  exposure::Bundle bundle;
  exposure::WireSetting setting;
  report::WireAnswer answer;
};

// Throws where the options together do not make a wire.
class Composer {
 public:
  Composer(const Wanted& wanted, const library::Library& library, ExitCode code)
      : wanted_{wanted},
        code_{code},
        size_{wanted.size ? library::find_conductor_size(library, *wanted.size) : nullptr},
        insulation_{wanted.insulation ? &library.insulations.at(*wanted.insulation) : nullptr} {}

  Question composed() {
    if (!wanted_.air) incomplete("--air is missing: the temperature of the air in Cel");
    question_.answer.insulation = insulation_;
    take_conductor();
    take_wall();
    take_insulation();
    take_bundle();
    rests("method", "heat-balance",
          "air and cylinders after Morgan, Churchill and Chu, Churchill and Bernstein; grey radiation", Grade::memory);
    take_setting();
    return std::move(question_);
  }

 private:
  [[noreturn]] void incomplete(const std::string& message) const { throw Stop{code_, message}; }

  void rests(const std::string& kind, const std::string& id, const std::string& name, Grade grade) {
    question_.answer.rests_on.push_back({kind, id, name, grade});
  }
  void say(const std::string& text) { question_.answer.question += text; }

  // A number of the size's record; its grade counts.
  double from_record(const Sourced& number) {
    record_grade_ = std::max(record_grade_.value_or(number.from.grade), number.from.grade);
    return number.value;
  }

  double conductor_mm() {
    if (wanted_.conductor_diameter) return *wanted_.conductor_diameter;
    if (size_ == nullptr)
      incomplete("--size is missing; without one --conductor-diameter, --resistance and --od are needed");
    if (!size_->diameter) {
      incomplete(fmt::format("no conductor diameter is tabulated for {}; give --conductor-diameter", size_->label));
    }
    return from_record(*size_->diameter);
  }

  void take_conductor() {
    question_.build.conductor_diameter = millimetres(conductor_mm());
    if (!wanted_.resistance && size_ == nullptr) incomplete("--resistance is missing; without --size it is needed");
    question_.build.resistance =
        milliohm_per_metre(wanted_.resistance ? *wanted_.resistance : from_record(size_->resistance));
    say(size_ != nullptr ? size_->label : fmt::format("Conductor of {} mm", plain_number(*wanted_.conductor_diameter)));
  }

  double wall_mm() {
    if (!wanted_.wall) incomplete("the wall is not known: give --wall thin, thick or millimetres, or --od");
    if (const std::optional<double> measure = number_in(*wanted_.wall)) return *measure;
    if (size_ == nullptr)
      incomplete(fmt::format("--wall {} needs a --size; give the wall in millimetres, or --od", *wanted_.wall));
    const std::optional<library::WallSize>& wall = *wanted_.wall == "thin" ? size_->thin : size_->thick;
    if (!wall) {
      incomplete(
          fmt::format("no {} wall is tabulated for {}; give --wall in millimetres, or --od", *wanted_.wall, size_->label));
    }
    return from_record(wall->wall);
  }

  void take_wall() {
    const double conductor = in_millimetres(question_.build.conductor_diameter);
    const double outer = wanted_.od ? *wanted_.od : conductor + 2.0 * wall_mm();
    question_.build.outer_diameter = millimetres(outer);
    const bool by_word = !wanted_.od && !number_in(*wanted_.wall);
    say(by_word ? fmt::format(", {} wall, outer diameter {} mm", *wanted_.wall, plain_number(outer))
                : fmt::format(", outer diameter {} mm", plain_number(outer)));
    if (record_grade_) rests("conductor", size_->label, "copper and walls of the size", *record_grade_);
  }

  void take_insulation() {
    if (insulation_ == nullptr && !wanted_.limit) incomplete("give --insulation, or --limit for the allowed current");
    report::WireAnswer& answer = question_.answer;
    answer.limit = celsius(wanted_.limit ? *wanted_.limit : insulation_->rating.value);
    answer.limit_from = wanted_.limit ? "as given" : "rating of " + insulation_->head.id;
    question_.build.insulation_conductivity =
        WattsPerMetreKelvin{insulation_ != nullptr ? insulation_->thermal_conductivity.value : unnamed_conductivity};
    question_.build.emissivity = insulation_ != nullptr ? insulation_->emissivity.value : unnamed_emissivity;
    if (insulation_ == nullptr) {
      say(", insulation not named");
      rests("assumption", "insulation-values",
            fmt::format("{} W/(m K), emissivity {}", plain_number(unnamed_conductivity), plain_number(unnamed_emissivity)),
            Grade::judgement);
      return;
    }
    say(", " + insulation_->head.id);
    const Grade balance = std::max(insulation_->thermal_conductivity.from.grade, insulation_->emissivity.from.grade);
    const Grade grade = std::max({library::weakest_grade(*insulation_), balance, insulation_->rating.from.grade});
    rests("insulation", insulation_->head.id, insulation_->head.name, grade);
  }

  void take_bundle() {
    const double wires = wanted_.wires.value_or(1.0), loaded = wanted_.loaded.value_or(wires);
    const double current = wanted_.current.value_or(0.0);
    question_.bundle = {static_cast<std::size_t>(wires), static_cast<std::size_t>(loaded)};
    question_.answer.current = Amperes{current};
    if (wires == 1.0 && loaded == 1.0) return say(fmt::format("; {} A.", plain_number(current)));
    say(fmt::format("; {} wires, {} with {} A each.", plain_number(wires),
                    loaded == wires ? "all" : plain_number(loaded) + " of them", plain_number(current)));
    rests("method", "bundle", "one round body of 1.15 d sqrt(n) and 0.20 W/(m K)", Grade::judgement);
  }

  void take_setting() {
    exposure::WireSetting& setting = question_.setting;
    setting.air = celsius(*wanted_.air);
    setting.speed = MetresPerSecond{wanted_.speed.value_or(0.0)};
    setting.altitude = Metres{wanted_.altitude.value_or(0.0)};
    question_.answer.air = setting.air;
    const double speed = setting.speed.value(), altitude = setting.altitude.value();
    say(fmt::format(" Air {} degC, {}", plain_number(*wanted_.air),
                    speed > 0.0 ? plain_number(speed) + " m/s across" : "still"));
    say(altitude == 0.0 ? "." : fmt::format(", {} m above the sea.", plain_number(altitude)));
    const std::string shield = wanted_.shield.value_or("none");
    if (wanted_.hot_body) return take_hot_body(*wanted_.hot_body, shield);
    if (shield != "none") incomplete("--shield needs a --hot-body that it stands before");
  }

  void take_hot_body(const std::array<double, 3>& body, const std::string& shield) {
    // Wires cannot take less room than their own cross-sections.
    const double wires = static_cast<double>(question_.bundle.wires);
    const double radius = 0.5 * in_millimetres(question_.build.outer_diameter) * std::sqrt(wires);
    const double nearest = 0.5 * body[1] + radius;
    if (!(body[2] > nearest)) {
      throw DomainError(
          fmt::format("a hot body of {} mm with its axis {} mm away lies inside the wire; the axes must be more than "
                      "{} mm apart",
                      plain_number(body[1]), plain_number(body[2]), plain_number(nearest)));
    }
    const double through = shield == "none" ? 1.0 : (shield == "clean" ? clean_shield_share : dirty_shield_share);
    question_.setting.hot_body =
        exposure::HotBodyView{celsius(body[0]), hot_body_emissivity,
                              exposure::view_of_cylinder(millimetres(body[1]), millimetres(body[2])), through};
    say(fmt::format(" Hot body of {} degC and {} mm, its axis {} mm away, {}.", plain_number(body[0]), plain_number(body[1]),
                    plain_number(body[2]), shield == "none" ? "no shield" : shield + " shield"));
    rests("method", "hot-body", fmt::format("long cylinder of emissivity {}", plain_number(hot_body_emissivity)),
          Grade::judgement);
    if (shield == "none") return;
    rests("method", "shield", fmt::format("lets {} of the radiation through", plain_number(through)), Grade::judgement);
  }

  const Wanted& wanted_;
  ExitCode code_;
  const library::ConductorSize* size_;
  const library::Insulation* insulation_;
  std::optional<Grade> record_grade_;
  Question question_;
};

// --- the verb --------------------------------------------------------------------------------------------------------

struct WireOptions {
  Wanted wanted;
  std::optional<std::string> hot_body, from;
  std::string materials;
  bool json = false;
};

std::string composed(WireOptions& options) {
  const Records records = gather_records(options.materials);
  const library::Library library = library::read_library(records.all);
  if (options.hot_body) options.wanted.hot_body = three_numbers(*options.hot_body);
  const Complain refuse = [](const std::string& key, const std::string& message) {
    throw Stop{ExitCode::usage, fmt::format("--{}: {}", key, message)};
  };
  check_numbers(options.wanted, refuse);
  check_texts(options.wanted, library, refuse);
  const Wanted wanted = options.from ? merged(options.wanted, read_wanted(*options.from, library)) : options.wanted;

  Question question = Composer{wanted, library, options.from ? ExitCode::bad_data : ExitCode::usage}.composed();
  report::WireAnswer& answer = question.answer;
  answer.bundle = question.bundle;
  answer.temperatures = exposure::wire_temperatures(question.build, question.bundle, {}, answer.current, question.setting);
  answer.allowed = exposure::allowed_current(question.build, question.bundle, {}, answer.limit, question.setting);
  if (options.json) return report::wire_json(answer, engine_name());
  return report::wire_text(answer, Years{library.model.report.plain_words_cap.value}, engine_name());
}

}  // namespace

Verb add_wire(CLI::App& program) {
  auto options = std::make_shared<WireOptions>();
  Wanted& wanted = options->wanted;
  CLI::App* command = program.add_subcommand("wire", "one wire or bundle: temperatures, allowed current, margin");
  command->footer(
      "heatside wire --size \"2.5 mm2\" --wall thin --insulation pvc-105 --air 80 --current 10 \\\n"
      "              --wires 12 --loaded 2 --hot-body 450,50,120 --shield dirty");
  command->add_option("--size", wanted.size, "\"2.5 mm2\", \"AWG 14\"; a bare number is mm2");
  command->add_option("--wall", wanted.wall, "thin, thick or millimetres");
  command->add_option("--insulation", wanted.insulation, "id of an insulation, see `heatside materials`");
  for (const NumberOption& option : number_options) {
    command->add_option(std::string{"--"} + option.name, wanted.*option.member, option.help);
  }
  command->add_option("--hot-body", options->hot_body, "SURFACE_Cel,DIAMETER_mm,AXIS_DISTANCE_mm");
  command->add_option("--shield", wanted.shield, "before the hot body: none, clean, dirty");
  command->add_option("--from", options->from, "JSON file of options by name; the command line wins");
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  command->add_flag("--json", options->json, "one JSON document");
  return {command, [options] {
            write_output(composed(*options));
            return static_cast<int>(ExitCode::done);
          }};
}

}  // namespace heatside::app
