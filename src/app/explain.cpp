#include <algorithm>
#include <memory>
#include <optional>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "heatside/casefile/read.hpp"
#include "heatside/population/explanation.hpp"
#include "heatside/population/segment_trip.hpp"
#include "heatside/report/explanation_report.hpp"
#include "heatside/report/trip_report.hpp"

namespace heatside::app {

namespace {

struct ExplainOptions {
  std::string file, segment, materials;
  bool json = false;
  std::optional<double> trip_minutes;
  std::string state = "city";
  double ambient = 25.0;
};

std::string trip_answer(const ExplainOptions& options, const casefile::Case& job, const library::Library& library,
                        const report::BirthCertificate& certificate) {
  population::TripOptions trip;
  trip.length = Minutes{*options.trip_minutes};
  trip.ambient = celsius(options.ambient);
  const auto& names = library::running_state_names;
  trip.state = static_cast<library::RunningState>(std::find(names.begin(), names.end(), options.state) - names.begin());
  const population::SegmentTrip answer = population::segment_trip(job, library, options.segment, trip);
  if (!options.json)
    write_message(
        "The trip of the wires by themselves, at likely numbers: no heat along the copper, from a stud or a hotter zone.\n");
  return options.json ? report::trip_json(answer, job.assumptions, certificate) : report::trip_csv(answer.rows);
}

std::string composed(const ExplainOptions& options) {
  const std::string text = read_file(options.file);
  const Records records = gather_records(options.materials);
  const library::Library library = library::read_library(records.all);
  const casefile::Case job = case_of(text, options.file, library);
  const report::BirthCertificate certificate = certificate_for(options.file, text, 0, records);
  if (options.trip_minutes) return trip_answer(options, job, library, certificate);
  const population::Explanation explanation = population::explain_segment(job, library, options.segment);
  return options.json ? report::explanation_json(explanation, job, library, certificate)
                      : report::explanation_text(explanation, job, library, certificate);
}

}  // namespace

Verb add_explain(CLI::App& program) {
  auto options = std::make_shared<ExplainOptions>();
  CLI::App* command =
      program.add_subcommand("explain", "where the ageing of a segment came from, and what a change would do");
  command->footer("heatside explain examples/hillside-estate.case.json --segment to-coil-2");
  command->add_option("FILE", options->file, "the case; - reads standard input")->required();
  command->add_option("--segment", options->segment, "id of the segment")->required();
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  command->add_flag("--json", options->json, "one JSON document");
  CLI::Option* trip =
      command->add_option("--trip", options->trip_minutes, "instead: one trip of so many minutes and six hours after")
          ->check(CLI::Range(1.0, 1440.0));
  command->add_option("--state", options->state, "how the engine runs on that trip")
      ->needs(trip)
      ->check(CLI::IsMember({"cruise", "city", "idle", "hill"}))
      ->capture_default_str();
  command->add_option("--ambient", options->ambient, "outside air on that trip [degC]")
      ->needs(trip)
      ->check(CLI::Range(-60.0, 60.0))
      ->capture_default_str();
  return {command, [options] {
            write_output(composed(*options));
            return static_cast<int>(ExitCode::done);
          }};
}

}  // namespace heatside::app
