#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <optional>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "heatside/casefile/read.hpp"
#include "heatside/population/case_story.hpp"
#include "heatside/population/explanation.hpp"
#include "heatside/population/segment_trip.hpp"
#include "heatside/population/topics.hpp"
#include "heatside/report/explanation_report.hpp"
#include "heatside/report/story_report.hpp"
#include "heatside/report/topic_report.hpp"
#include "heatside/report/trip_report.hpp"

namespace heatside::app {

namespace {

struct ExplainOptions {
  std::string file, segment, topic, insulation, plot, materials;
  bool json = false, csv = false, force = false;
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

std::string of_case(const ExplainOptions& options) {
  const auto [text, records, library, job] = open_case(options.file, options.materials);
  const report::BirthCertificate certificate = certificate_for(options.file, text, 0, records);
  if (options.trip_minutes) return trip_answer(options, job, library, certificate);
  if (options.segment.empty()) {
    const population::CaseStory story = population::case_story(job, library);
    return options.json ? report::story_json(story, job, certificate) : report::story_text(story, job, library, certificate);
  }
  const population::Explanation explanation = population::explain_segment(job, library, options.segment);
  return options.json ? report::explanation_json(explanation, job, library, certificate)
                      : report::explanation_text(explanation, job, library, certificate);
}

std::string of_topic(const ExplainOptions& options) {
  const Records records = gather_records(options.materials);
  const population::Topic topic =
      population::topic_of(options.topic, library::read_library(records.all), options.insulation);
  if (!options.plot.empty()) {
    write_file(options.plot, report::topic_plot(topic), options.force);
    write_message(fmt::format("{}: written\n", options.plot));
  }
  if (options.json) return report::topic_json(topic, engine_name());
  return options.csv ? report::topic_csv(topic) : report::topic_text(topic, engine_name());
}

std::string composed(const ExplainOptions& options) {
  if (options.file.empty() == options.topic.empty())
    throw Stop{ExitCode::usage, options.file.empty() ? "a case or --topic is needed; `heatside explain --help` shows how"
                                                     : "--topic takes no case: its experiment is built in"};
  return options.topic.empty() ? of_case(options) : of_topic(options);
}

}  // namespace

Verb add_explain(CLI::App& program) {
  auto options = std::make_shared<ExplainOptions>();
  CLI::App* command = program.add_subcommand("explain", "where ageing comes from: of a case, of one segment, or as a topic");
  command->footer(
      "heatside explain examples/hillside-estate.case.json\n"
      "          heatside explain examples/hillside-estate.case.json --segment to-coil-2\n"
      "          heatside explain --topic life-line --plot life-line.svg");
  command->add_option("FILE", options->file, "the case; - reads standard input");
  CLI::Option* segment = command->add_option("--segment", options->segment, "id of the segment to look at closely");
  CLI::Option* topic =
      command->add_option("--topic", options->topic, "without a case: a small experiment")
          ->excludes(segment)
          ->check(CLI::IsMember(std::vector<std::string>(population::topic_names.begin(), population::topic_names.end())));
  command->add_option("--insulation", options->insulation, "compound of the experiment")->needs(topic);
  CLI::Option* plot =
      command->add_option("--plot", options->plot, "also draw the experiment into this SVG file")->needs(topic);
  command->add_flag("--force", options->force, "replace an existing picture")->needs(plot);
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  CLI::Option* json = command->add_flag("--json", options->json, "one JSON document");
  command->add_flag("--csv", options->csv, "the rows of the experiment")->needs(topic)->excludes(json);
  CLI::Option* trip =
      command->add_option("--trip", options->trip_minutes, "instead: one trip of so many minutes and six hours after")
          ->needs(segment)
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
