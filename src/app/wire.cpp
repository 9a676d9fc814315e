#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <optional>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "app/wire_options.hpp"
#include "base/text.hpp"
#include "heatside/report/wire_report.hpp"

namespace heatside::app {

namespace {

// No record holds these; each is named in the output as what the answer rests on.
constexpr double unnamed_conductivity = 0.20;  // [W/(m K)], between soft PVC and cross-linked polyolefin
constexpr double unnamed_emissivity = 0.90;

// Everything the engine is asked, and what is told of it.
struct Question {
  exposure::WireBuild build;
  exposure::Bundle bundle;
  exposure::WireSetting setting;
  std::optional<library::Insulation> at_this_wall;  // the record, its life point moved to the wall asked for
  report::WireAnswer answer;
};

// Throws where the options together do not make a wire.
class Composer {
 public:
  Composer(const Wanted& wanted, const library::Library& library, ExitCode code)
      : wanted_{wanted},
        code_{code},
        hot_body_{library.model.hot_body},
        size_{wanted.size ? library::find_conductor_size(library, *wanted.size) : nullptr},
        insulation_{wanted.insulation ? &library.insulations.at(*wanted.insulation) : nullptr} {}

  Question composed() {
    const std::vector<std::string> missing = missing_options(wanted_);
    if (!missing.empty()) incomplete(join(missing, "\n"));
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
    if (!size_->diameter) {
      incomplete(fmt::format("no conductor diameter is tabulated for {}; give --conductor-diameter", size_->label));
    }
    return from_record(*size_->diameter);
  }

  void take_conductor() {
    question_.build.conductor_diameter = millimetres(conductor_mm());
    question_.build.resistance =
        milliohm_per_metre(wanted_.resistance ? *wanted_.resistance : from_record(size_->resistance));
    say(size_ != nullptr ? size_->label : fmt::format("Conductor of {} mm", plain_number(*wanted_.conductor_diameter)));
  }

  double wall_mm() {
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
    take_life();
  }

  // Plasticiser leaves a thin wall sooner: its paths run faster by reference wall / wall, as in an estimate.
  void take_life() {
    question_.at_this_wall = *insulation_;
    const double wall = in_millimetres(0.5 * (question_.build.outer_diameter - question_.build.conductor_diameter));
    for (library::AgeingPath& path : question_.at_this_wall->paths) {
      if (!path.reference_wall) continue;
      const double thin = path.reference_wall->value / wall;
      path.share.value *= thin;
      rests("method", "wall",
            fmt::format("plasticiser leaves a wall of {} mm {} times as fast as one of {} mm", plain_number(wall, 3),
                        plain_number(thin, 3), plain_number(path.reference_wall->value)),
            path.reference_wall->from.grade);
    }
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
    const Sourced& shielded = shield == "clean" ? hot_body_.shield_clean : hot_body_.shield_dirty;
    const double through = shield == "none" ? 1.0 : shielded.value;
    question_.setting.hot_body =
        exposure::HotBodyView{celsius(body[0]), hot_body_.emissivity.value,
                              exposure::view_of_cylinder(millimetres(body[1]), millimetres(body[2])), through};
    say(fmt::format(" Hot body of {} degC and {} mm, its axis {} mm away, {}.", plain_number(body[0]), plain_number(body[1]),
                    plain_number(body[2]), shield == "none" ? "no shield" : shield + " shield"));
    rests("method", "hot-body", fmt::format("long cylinder of emissivity {}", plain_number(hot_body_.emissivity.value)),
          Grade::judgement);
    if (shield == "none") return;
    rests("method", "shield", fmt::format("lets {} of the radiation through", plain_number(through)), Grade::judgement);
  }

  const Wanted& wanted_;
  ExitCode code_;
  const library::ModelConstants::HotBody& hot_body_;
  const library::ConductorSize* size_;
  const library::Insulation* insulation_;
  std::optional<Grade> record_grade_;
  Question question_;
};

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
  if (question.at_this_wall) answer.insulation = &*question.at_this_wall;
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
