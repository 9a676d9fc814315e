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
#include "base/sha256.hpp"
#include "heatside/estimate.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/population/predicted.hpp"
#include "heatside/report/record_report.hpp"

namespace heatside::app {

namespace {

using casefile::Case;
using casefile::Clerk;
using casefile::Recorded;

Clerk clerk_for(const library::Library& library) {
  return {engine_name(), now_text(), sha256, [&library](const Case& job) {
            return population::predicted_segments(population::drawn_estimate(job, library, {}), job);
          }};
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

// A changed case with what there is to say of the change.
struct Outcome {
  std::string text;
  Case job;
  report::RecordAnswer answer;
};

Outcome found(const std::string& text, const Case& job, const RecordOptions& options, const library::Library& library) {
  casefile::FindingWords words = words_of(options);
  const bool day_from_clock = words.on.empty();
  if (day_from_clock) words.on = format_date(today());
  const Recorded recorded = casefile::with_finding(text, job, words, clerk_for(library));
  Outcome outcome{recorded.text, checked(recorded, options, library), {}};
  outcome.answer = report::record_answer(report::Deed::recorded, recorded, outcome.job);
  outcome.answer.day_from_clock = day_from_clock;
  return outcome;
}

Outcome agreed(const std::string& text, const Case& job, const RecordOptions& options, const library::Library& library) {
  const std::optional<Recorded> recorded = casefile::with_consent(text, clerk_for(library));
  if (!recorded) return {text, job, report::record_answer(report::Deed::nothing, {"", "/openings/consent", false}, job)};
  Case agreed = checked(*recorded, options, library);
  report::RecordAnswer answer = report::record_answer(report::Deed::recorded, *recorded, agreed);
  return {recorded->text, std::move(agreed), std::move(answer)};
}

Outcome taken_back(const std::string& text, const Case& job, const RecordOptions& options, const library::Library& library) {
  const Recorded recorded = casefile::without_last(text, options.file, sha256);
  return {recorded.text, case_of(recorded.text, options.file, library),
          report::record_answer(report::Deed::taken_back, recorded, job)};
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
