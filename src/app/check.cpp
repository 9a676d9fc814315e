#include <fmt/format.h>

#include <memory>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "base/strict_json.hpp"
#include "heatside/casefile/read.hpp"
#include "heatside/casefile/start.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/report/check_report.hpp"

namespace heatside::app {

namespace {

struct CheckOptions {
  std::vector<std::string> files;
  std::string materials;
  bool json = false;
};

bool is_record(const Json& document) {
  return document.is_object() && document.contains("format") && document["format"] == "heatside-record";
}

void check_record(const Json& document, const std::string& file, const std::string& text, const library::Library& library) {
  if (document.contains("kind") && document["kind"] == "template") {
    casefile::check_template(text, file, library);
  } else {
    (void)library::with_record(library, {file, text});
  }
}

report::CheckedFile checked(const std::string& file, const std::string& text, const library::Library& library) {
  report::CheckedFile result;
  result.file = file;
  try {
    const Json document = read_strict_json(text, file);
    if (is_record(document)) {
      result.kind = "record";
      check_record(document, file, text, library);
      return result;
    }
    result.kind = "case";
    const casefile::Case job = case_of(text, file, library);
    result.assumptions = population::assumptions_of(job, library);
    result.unused = job.unused;
  } catch (const InputError& error) {
    result.problems = error.problems();
  }
  return result;
}

int run(const CheckOptions& options) {
  const Records records = gather_records(options.materials);
  const library::Library library = library::read_library(records.all);
  std::vector<report::CheckedFile> results;
  auto code = ExitCode::done;
  for (const std::string& file : options.files) {
    try {
      results.push_back(checked(file, read_file(file), library));
      if (!results.back().problems.empty()) code = ExitCode::bad_data;
    } catch (const Stop& stop) {
      write_message(fmt::format("heatside: {}\n", stop.what()));
      if (code == ExitCode::done) code = stop.code;
    }
  }
  if (options.json) {
    write_output(report::check_json(results, engine_name()));
  } else {
    write_message(report::problems_text(results));
    write_output(report::check_text(results));
  }
  return static_cast<int>(code);
}

}  // namespace

Verb add_check(CLI::App& program) {
  auto options = std::make_shared<CheckOptions>();
  CLI::App* command = program.add_subcommand("check", "every error and every assumption of case and record files");
  command->footer("heatside check examples/hillside-estate.case.json");
  command->add_option("FILE", options->files, "cases or records; - reads standard input")->required();
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  command->add_flag("--json", options->json, "one JSON document");
  return {command, [options] { return run(*options); }};
}

}  // namespace heatside::app
