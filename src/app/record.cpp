#include "heatside/casefile/record.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <memory>

#include "app/clock.hpp"
#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/record_options.hpp"
#include "app/verbs.hpp"
#include "heatside/estimate.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/report/record_report.hpp"

namespace heatside::app {

namespace {

using casefile::Case;
using casefile::Clerk;
using casefile::Recorded;

// What the model says of every segment, in the order of the case.
std::vector<casefile::PredictedSegment> predicted_chances(const Case& job, const library::Library& library) {
  const population::Estimate estimate = population::drawn_estimate(job, library, {});
  std::vector<casefile::PredictedSegment> predicted;
  for (const casefile::Segment& segment : job.segments) {
    const population::SegmentEstimate* found = casefile::find_by_id(estimate.segments, segment.id);
    if (found != nullptr) predicted.push_back({segment.id, found->chance});
  }
  return predicted;
}

Clerk clerk_for(const library::Library& library) {
  return {engine_name(), now_text(), sha256, [&library](const Case& job) { return predicted_chances(job, library); }};
}

// The new text as the reader has it: nothing is written that could not be read again.
// What is wrong with a finding from the command line is said in the words of the command line.
Case checked(const Recorded& recorded, const RecordOptions& options, const library::Library& library) {
  try {
    return case_of(recorded.text, options.file, library);
  } catch (const InputError& error) {
    throw Stop{ExitCode::usage, in_words_of_options(error, recorded.pointer) + "nothing was changed"};
  }
}

std::vector<casefile::Assumption> assumptions_below(const Case& job, const std::string& pointer) {
  std::vector<casefile::Assumption> found;
  for (const casefile::Assumption& assumption : job.assumptions) {
    if (assumption.pointer.rfind(pointer + '/', 0) == 0) found.push_back(assumption);
  }
  return found;
}

const casefile::Finding* finding_at(const Case& job, const std::string& pointer) {
  for (const casefile::Finding& finding : job.findings) {
    if (finding.pointer == pointer) return &finding;
  }
  return nullptr;
}

// A changed case with what there is to say of the change.
struct Outcome {
  std::string text;
  Case job;
  report::RecordAnswer answer;
};

report::RecordAnswer answer_for(report::Deed deed, const Recorded& recorded, const casefile::Finding* finding) {
  report::RecordAnswer answer;
  answer.deed = deed;
  answer.pointer = recorded.pointer;
  answer.predicted = recorded.predicted;
  if (finding != nullptr) answer.finding = *finding;
  return answer;
}

Outcome found(const std::string& text, const Case& job, const RecordOptions& options, const library::Library& library) {
  casefile::FindingWords words = words_of(options);
  const bool day_from_clock = words.on.empty();
  if (day_from_clock) words.on = format_date(today());
  const Recorded recorded = casefile::with_finding(text, job, words, clerk_for(library));
  Outcome outcome{recorded.text, checked(recorded, options, library), {}};
  outcome.answer = answer_for(report::Deed::recorded, recorded, finding_at(outcome.job, recorded.pointer));
  outcome.answer.day_from_clock = day_from_clock;
  outcome.answer.assumptions = assumptions_below(outcome.job, recorded.pointer);
  return outcome;
}

Outcome agreed(const std::string& text, const Case& job, const RecordOptions& options, const library::Library& library) {
  const std::optional<Recorded> recorded = casefile::with_consent(text, clerk_for(library));
  if (!recorded) return {text, job, answer_for(report::Deed::nothing, {"", "/openings/consent", false}, nullptr)};
  return {recorded->text, checked(*recorded, options, library), answer_for(report::Deed::recorded, *recorded, nullptr)};
}

Outcome taken_back(const std::string& text, const Case& job, const RecordOptions& options, const library::Library& library) {
  const Recorded recorded = casefile::without_last(text, options.file, sha256);
  return {recorded.text, case_of(recorded.text, options.file, library),
          answer_for(report::Deed::taken_back, recorded, finding_at(job, recorded.pointer))};
}

Outcome outcome_of(const RecordOptions& options, const library::Library& library) {
  const std::string text = read_file(options.file);
  const Case job = case_of(text, options.file, library);
  Outcome outcome = options.undo      ? taken_back(text, job, options, library)
                    : options.consent ? agreed(text, job, options, library)
                                      : found(text, job, options, library);
  outcome.answer.engine = engine_name();
  outcome.answer.case_name = std::filesystem::path{options.file}.filename().string();
  outcome.answer.case_sha256 = sha256(outcome.text);
  outcome.answer.opened = casefile::opened_segments(outcome.job, library);
  return outcome;
}

int run(const RecordOptions& options) {
  expect_one_deed(options);
  const Records records = gather_records(options.materials);
  const library::Library library = library::read_library(records.all);
  const bool piped = options.file == "-";
  // Two at work on one case would otherwise lose what the first one wrote.
  const FolderLock lock{piped ? "." : options.file};
  const Outcome outcome = outcome_of(options, library);
  if (piped) {
    write_output(outcome.text);
    write_message(report::record_text(outcome.answer, outcome.job, library));
    return static_cast<int>(ExitCode::done);
  }
  if (outcome.answer.deed != report::Deed::nothing) write_file(options.file, outcome.text, true);
  write_output(options.json ? report::record_json(outcome.answer, outcome.job, library)
                            : report::record_text(outcome.answer, outcome.job, library));
  return static_cast<int>(ExitCode::done);
}

}  // namespace

Verb add_record(CLI::App& program) {
  auto options = std::make_shared<RecordOptions>();
  CLI::App* command = program.add_subcommand("record", "add to a case what was found, or take the last entry back");
  command->footer(
      "heatside record estate.case.json --segment to-coil-2 --seen cracked \\\n"
      "              --method look-boot --cause heat");
  add_record_options(*command, *options);
  return {command, [options] { return run(*options); }};
}

}  // namespace heatside::app
