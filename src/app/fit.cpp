#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <memory>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "base/fields.hpp"
#include "base/sha256.hpp"
#include "base/strict_json.hpp"
#include "base/text.hpp"
#include "heatside/labfit/life_record.hpp"
#include "heatside/report/fit_report.hpp"

namespace heatside::app {

namespace {

using namespace labfit;

struct FitOptions {
  std::string file, distribution = "both", scale = "common", interval = "profile", crossing = "interpolate";
  std::vector<double> temperatures, quantiles;
  double level = 0.95, hours = 20000.0;
  std::optional<double> end_point, retained, initial, end_elongation;
  std::optional<std::string> group, plot, record, like, output, name, source;
  std::string materials;
  bool elongation = false, celsius = false, steps = false, json = false, force = false;
};

[[noreturn]] void refuse(const std::string& message) { throw Stop{ExitCode::usage, message}; }

// One of a few words.
std::size_t choice(const char* option, const std::string& word, const std::vector<std::string>& allowed) {
  const auto found = std::find(allowed.begin(), allowed.end(), word);
  if (found == allowed.end()) refuse(fmt::format("--{}: {}", option, unknown_word("word", word, allowed)));
  return static_cast<std::size_t>(found - allowed.begin());
}

void require_inside(const char* option, double value, double low, double high) {
  if (value > low && value < high) return;
  refuse(fmt::format("--{}: {} is outside the range; allowed: above {} and below {}", option, plain_number(value, 10),
                     plain_number(low), plain_number(high)));
}

std::optional<EndPoint> end_point_of(const FitOptions& options) {
  const auto rule = static_cast<CrossingRule>(choice("crossing", options.crossing, {"interpolate", "through-start"}));
  if (options.end_point && options.retained) refuse("--end-point and --retained: give one of them");
  if (options.retained) require_inside("retained", *options.retained, 0.0, 1.0);
  if (!options.end_point && !options.retained) return std::nullopt;
  return EndPoint{options.end_point, options.retained, options.initial, rule};
}

StudyRequest request_of(const FitOptions& options) {
  StudyRequest request;
  const std::size_t distribution = choice("distribution", options.distribution, {"both", "log-normal", "weibull"});
  if (distribution > 0) request.distributions = {static_cast<Distribution>(distribution - 1)};
  request.scale = static_cast<ScaleKind>(choice("scale", options.scale, {"common", "per-temperature"}));
  request.method = static_cast<IntervalMethod>(choice("interval", options.interval, {"profile", "wald"}));
  require_inside("level", options.level, 0.0, 1.0);
  require_inside("hours", options.hours, 0.0, 1.0e8);
  request.level = options.level;
  request.index_hours = Hours{options.hours};
  for (const double degrees : options.temperatures) {
    require_inside("at-temperature", degrees, -60.0, 400.5);
    request.temperatures.push_back(heatside::celsius(degrees));
  }
  for (const double p : options.quantiles) require_inside("quantile", p, 0.0, 1.0);
  request.quantiles = options.quantiles;
  request.end_point = end_point_of(options);
  return request;
}

void check_record_options(const FitOptions& options) {
  if (!options.record) {
    if (options.like || options.output) refuse("--like and -o belong to --record ID");
    return;
  }
  if (!options.output) refuse("--record needs -o FILE for the record");
  if (!options.like) {
    refuse(
        "--record needs --like ID: a test of life says nothing of elongation when new, density, copper and all else that a "
        "record holds; these are taken from that insulation of the library, with their grades");
  }
}

// What the user is told first: a comment that says where the data are from.
std::string first_comment(const std::string& text) {
  const std::size_t at = text.find('#');
  const bool leads = at != std::string::npos && text.find_first_not_of(" \t\r\n\xEF\xBB\xBF") == at;
  if (!leads) return "";
  const std::size_t from = text.find_first_not_of("# \t", at);
  const std::size_t end = std::min(text.find('\n', at), text.size());
  constexpr std::size_t longest = 300;
  return from >= end ? "" : text.substr(from, std::min(end - from, longest));
}

std::string like_text(const FitOptions& options, const Records& records, const library::Library& library) {
  if (!library.insulations.contains(*options.like))
    refuse("--like: " + unknown_word("insulation", *options.like, library::ids_of(library.insulations)));
  std::string text;
  for (const library::RecordText& record : records.all) {
    const Json document = read_strict_json(record.text, std::string{record.name});
    if (document.value("kind", "") == "insulation" && document.value("id", "") == *options.like) text = record.text;
  }
  return text;
}

// A file that is known not to be writable is refused before any other is written.
void expect_writable(const std::optional<std::string>& path, bool overwrite) {
  if (!path) return;
  const auto refused = [&](const std::string& why) {
    throw Stop{ExitCode::cannot_write, fmt::format("{}: cannot be written: {}; nothing was changed", *path, why)};
  };
  const std::filesystem::path folder = std::filesystem::path{*path}.parent_path();
  std::error_code unreadable;
  if (!folder.empty() && !std::filesystem::is_directory(folder, unreadable))
    refused("there is no folder " + folder.string());
  if (!overwrite && std::filesystem::is_regular_file(*path, unreadable)) refused("it exists already; --force replaces it");
}

// Where the first line of a table says what its data are, the record says so too.
std::string with_remark(const std::string& record, const std::string& remark) {
  if (remark.empty()) return record;
  Json document = Json::parse(record);
  document["note"] = document.value("note", "") + " The table says: " + remark;
  return document.dump(2) + '\n';
}

// The record that is written, read back once: one that could not be is never written.
std::string record_text(const FitOptions& options, const Study& study, const report::FitHeading& heading) {
  const LifePoint point = life_point(study);
  const Records records = gather_records(options.materials);
  const library::Library library = library::read_library(records.all);
  if (options.source && !library.sources.contains(*options.source))
    refuse("--source: " + unknown_word("source", *options.source, library::ids_of(library.sources)));
  RecordRequest request{*options.record,       like_text(options, records, library),
                        heading.data_name,     heading.data_sha256,
                        options.name,          options.source,
                        options.end_elongation};
  if (options.elongation && study.readings) {
    request.end_elongation = study.readings->end_point;
    request.initial_elongation = study.readings->initial;
  }
  const std::string text = with_remark(life_record(point, request), heading.note);
  (void)library::with_record(library, {*options.output, text});
  return text;
}

void write_record(const FitOptions& options, const Study& study, const std::string& text) {
  write_file(*options.output, text, options.force);
  const std::string folder = std::filesystem::path{*options.output}.parent_path().string();
  write_message(fmt::format("{}: insulation {} written ({}); `heatside materials {} --materials {}` shows it\n",
                            *options.output, *options.record, life_point(study).found_by, *options.record,
                            folder.empty() ? "." : folder));
}

int run(const FitOptions& options) {
  check_record_options(options);
  const StudyRequest request = request_of(options);
  const std::string text = read_file(options.file);
  const std::string name = options.file == "-" ? "standard input" : options.file;
  const Study study = study_of(read_oven_test(text, name, {options.group, options.celsius}), request);
  const report::FitHeading heading{engine_name(), std::filesystem::path{name}.filename().string(), sha256(text),
                                   first_comment(text)};
  std::string record;
  if (options.record) record = record_text(options, study, heading);
  if (options.record) expect_writable(options.output, options.force);
  expect_writable(options.plot, options.force);
  if (options.record) write_record(options, study, record);
  if (options.plot) write_file(*options.plot, report::fit_plot(study, heading), options.force);
  write_output(options.json ? report::fit_json(study, heading) : report::fit_text(study, heading, options.steps));
  return static_cast<int>(ExitCode::done);
}

void add_reading_options(CLI::App& command, FitOptions& options) {
  command.add_option("--end-point", options.end_point, "readings: value of the property at which life ends");
  command.add_option("--retained", options.retained, "readings: share of the initial value at which life ends");
  command.add_option("--initial", options.initial, "readings: value when new; else the mean of the readings at 0 h");
  command.add_flag("--elongation", options.elongation, "readings are elongation at break in %; the record takes them");
  command.add_option("--crossing", options.crossing, "readings of a specimen: interpolate, or a line through-start")
      ->capture_default_str();
}

void add_record_options(CLI::App& command, FitOptions& options) {
  command.add_option("--record", options.record, "id of an insulation record to make of the fit");
  command.add_option("--like", options.like, "id of the insulation that gives the record what the test cannot tell");
  command.add_option("-o,--output", options.output, "file for the record");
  command.add_option("--name", options.name, "name of the record in plain words");
  command.add_option("--source", options.source, "id of a library source that published the data; else grade measured");
  command.add_option("--end-elongation", options.end_elongation, "elongation at break that ended the lives, %");
  command.add_option("--materials", options.materials, "folder of records that add to or replace the built-in ones");
  command.add_flag("--force", options.force, "replace an existing file");
}

}  // namespace

Verb add_fit(CLI::App& program) {
  auto options = std::make_shared<FitOptions>();
  CLI::App* command = program.add_subcommand("fit", "test results of oven ageing to a thermal-life record");
  command->footer(
      "heatside fit examples/oven-test.csv --at-temperature 105 --plot life.svg \\\n"
      "              --record lab-xlpo --like xlpo-125 -o lab-xlpo.json");
  command->add_option("FILE", options->file, "table with a header: temperature_Cel,hours and more; - is stdin")->required();
  command->add_option("--at-temperature", options->temperatures, "Cel, lives wanted there [coolest oven]")->delimiter(',');
  command->add_option("--quantile", options->quantiles, "share that has failed [0.5,0.1]")->delimiter(',');
  command->add_option("--distribution", options->distribution, "log-normal, weibull or both")->capture_default_str();
  command->add_option("--scale", options->scale, "spread of ln life: common or per-temperature")->capture_default_str();
  command->add_option("--level", options->level, "of the intervals")->capture_default_str();
  command->add_option("--interval", options->interval, "profile (likelihood) or wald")->capture_default_str();
  command->add_option("--hours", options->hours, "life that the temperature index is stated for")->capture_default_str();
  command->add_option("--group", options->group, "only the rows of this group");
  command->add_flag("--celsius", options->celsius, "the temperatures are degrees Celsius though they look like Fahrenheit");
  add_reading_options(*command, *options);
  command->add_flag("--steps", options->steps, "every intermediate number of the IEC 60216-3 calculation");
  command->add_option("--plot", options->plot, "file for a drawing (SVG)");
  add_record_options(*command, *options);
  command->add_flag("--json", options->json, "one JSON document");
  return {command, [options] { return run(*options); }};
}

}  // namespace heatside::app
