#include <fmt/format.h>

#include <memory>

#include "app/clock.hpp"
#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "heatside/casefile/read.hpp"
#include "heatside/casefile/start.hpp"

namespace heatside::app {

namespace {

struct StartOptions {
  casefile::Intake intake;
  std::string built, inspected;
  std::string output = "-";
  std::string materials;
  bool force = false, json = false;
};

Date date_option(const char* name, const std::string& text) {
  const std::optional<Date> date = parse_date(text);
  if (!date)
    throw Stop{ExitCode::usage, fmt::format("{}: \"{}\" is not a date; allowed: YYYY-MM-DD, YYYY-MM, YYYY", name, text)};
  return *date;
}

int run(StartOptions& options) {
  if (options.built.empty()) {
    throw Stop{ExitCode::usage, "--built is missing: the year decides which insulations can be there, so it is not assumed"};
  }
  options.intake.built = date_option("--built", options.built);
  options.intake.inspected = options.inspected.empty() ? today() : date_option("--inspected", options.inspected);
  const Records records = gather_records(options.materials);
  const library::Library library = library::read_library(records.all);
  const std::string text = casefile::start_case(options.intake, library);
  if (options.output == "-") {
    write_output(text);
    return static_cast<int>(ExitCode::done);
  }
  write_file(options.output, text, options.force);
  const casefile::Case job = casefile::read_case(text, options.output, library);
  write_message(fmt::format("{}: written, {} segments, {} assumptions; `heatside check {}` lists them\n", options.output,
                            job.segments.size(), job.assumptions.size(), options.output));
  return static_cast<int>(ExitCode::done);
}

}  // namespace

Verb add_start(CLI::App& program) {
  auto options = std::make_shared<StartOptions>();
  CLI::App* command = program.add_subcommand("start", "a complete short case; what you leave out becomes an assumption");
  command->footer(
      "heatside start --template inline-engine-top --built 1994 --region europe \\\n"
      "              --climate mediterranean --odometer 268000 --parking open -o estate.case.json");
  command->add_option("--template", options->intake.template_id, "layout to start from, see `heatside materials`")
      ->required();
  command->add_option("--built", options->built, "when the vehicle was built: YYYY, YYYY-MM or YYYY-MM-DD; needed");
  command->add_option("--region", options->intake.region, "where it was made: europe, north-america, japan");
  command->add_option("--climate", options->intake.climate, "id of a climate record");
  command->add_option("--odometer", options->intake.odometer_km, "kilometres");
  command->add_option("--parking", options->intake.parking, "open, shade or garage");
  command->add_option("--duty", options->intake.duty, "id of a duty record");
  command->add_option("--inspected", options->inspected, "day of the inspection; today when left out");
  command->add_option("-o,--output", options->output, "file to write; - is standard output")->capture_default_str();
  command->add_flag("--force", options->force, "replace an existing file");
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  command->add_flag("--json", options->json, "the case is JSON in any event");
  return {command, [options] { return run(*options); }};
}

}  // namespace heatside::app
