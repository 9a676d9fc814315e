#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "base/sha256.hpp"
#include "heatside/casefile/read.hpp"
#include "heatside/casefile/record.hpp"
#include "heatside/estimate.hpp"
#include "heatside/inspection/score.hpp"
#include "heatside/report/score_report.hpp"

namespace heatside::app {

namespace {

struct ScoreChoices {
  std::vector<std::string> files;
  std::string materials;
  bool json = false;
};

// A changed prediction spoils a case for every other verb; here the others can still be scored.
casefile::Case case_with_changes(const std::string& text, const std::string& path, const library::Library& library) {
  return casefile::read_case(text, path, library, [&](const std::string& name) { return read_file_beside(path, name); });
}

// How hot each segment was, for hottest first. It does not depend on what was found.
std::map<std::string, Kelvin> heat_of(const casefile::Case& job, const library::Library& library) {
  std::map<std::string, Kelvin> heat;
  for (const population::SegmentEstimate& segment : population::likely_estimate(job, library).segments) {
    heat.emplace(segment.id, segment.equivalent_temperature);
  }
  return heat;
}

void warn_of_changes(report::ScoreAnswer& answer, const std::string& name, const inspection::JobToScore& job) {
  for (const std::string& pointer : job.changed) {
    answer.warnings.push_back(fmt::format("{}: {}: the prediction is not as it was stored; it is left out.", name, pointer));
  }
}

void add_case(report::ScoreAnswer& answer, const std::string& file, const library::Library& library,
              const Records& records) {
  const std::string text = read_file(file);
  const report::BirthCertificate certificate = certificate_for(file, text, 0, records);
  const auto same = [&](const report::ScoredCase& other) { return other.sha256 == certificate.case_sha256; };
  if (std::any_of(answer.cases.begin(), answer.cases.end(), same)) {
    answer.warnings.push_back(fmt::format("{}: the same bytes were given before; they count once.", certificate.case_name));
    return;
  }
  inspection::JobToScore job;
  job.job = case_with_changes(text, file, library);
  job.changed = casefile::changed_predictions(job.job, sha256);
  if (!job.job.predictions.empty() && !job.job.findings.empty()) job.heat = heat_of(job.job, library);
  warn_of_changes(answer, certificate.case_name, job);
  answer.cases.push_back({certificate.case_name, certificate.case_sha256});
  answer.jobs.push_back(std::move(job));
  answer.own_records = certificate.own_records;
  answer.own_records_sha256 = certificate.own_records_sha256;
}

int run(const ScoreChoices& choices) {
  const Records records = gather_records(choices.materials);
  const library::Library library = library::read_library(records.all);
  report::ScoreAnswer answer;
  answer.engine = engine_name();
  for (const std::string& file : choices.files) add_case(answer, file, library, records);
  answer.looks = inspection::looks_of(answer.jobs);
  answer.score = inspection::score_of(answer.looks.looks);
  for (const std::string& warning : answer.warnings) write_message("heatside: " + warning + "\n");
  write_output(choices.json ? report::score_json(answer) : report::score_text(answer));
  return static_cast<int>(ExitCode::done);
}

}  // namespace

Verb add_score(CLI::App& program) {
  auto choices = std::make_shared<ScoreChoices>();
  CLI::App* command = program.add_subcommand("score", "how good the stored predictions were, held against what was found");
  command->footer("heatside score estate.case.json van.case.json");
  command->add_option("FILES", choices->files, "cases with findings, pooled; - reads standard input")->required();
  command->add_option("--materials", choices->materials, "folder of records that add to or replace the built-in ones");
  command->add_flag("--json", choices->json, "one JSON document");
  return {command, [choices] { return run(*choices); }};
}

}  // namespace heatside::app
