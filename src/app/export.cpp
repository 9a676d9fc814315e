#include <fmt/format.h>

#include <filesystem>
#include <memory>
#include <numeric>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "base/sha256.hpp"
#include "heatside/population/ageing_curves.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/population/explanation.hpp"
#include "heatside/report/export_report.hpp"

namespace heatside::app {

namespace {

struct ExportOptions {
  std::string file, folder, materials;
  std::size_t draws = 10000, kept = 1000;
  unsigned long long seed = 0;
  bool json = false;
};

[[noreturn]] void refuse(const std::string& folder, const std::string& why) {
  throw Stop{ExitCode::cannot_write, fmt::format("{}: {}; nothing was changed", folder, why)};
}

// A folder that is not there, empty, or holds a former export may be written to. Anything else in a former export stays.
void expect_room(const std::string& folder) {
  namespace fs = std::filesystem;
  std::error_code error;
  const fs::file_status status = fs::status(folder, error);
  if (status.type() == fs::file_type::not_found) return;
  if (status.type() != fs::file_type::directory) refuse(folder, "is not a folder");
  const bool empty = fs::is_empty(folder, error);
  if (error) refuse(folder, "cannot be read: " + error.message());
  const std::string descriptor = (fs::path{folder} / report::descriptor_name).string();
  if (empty) return;
  if (!fs::is_regular_file(descriptor, error) || !report::is_export_descriptor(read_file(descriptor)))
    refuse(folder, "holds other files and no former export; choose a new or an empty folder");
}

void make_folder(const std::string& folder) {
  std::error_code error;
  std::filesystem::create_directories(folder, error);
  if (error) refuse(folder, "cannot be made: " + error.message());
}

std::vector<report::ExportedFile> exported(const ExportOptions& options) {
  const auto [text, records, library, job] = open_case(options.file, options.materials);
  const population::DrawnAnswer answer =
      population::drawn_answer(job, library, {.draws = options.draws, .seed = options.seed, .histogram = true});
  std::vector<std::size_t> all(job.segments.size());
  std::iota(all.begin(), all.end(), std::size_t{0});
  report::ExportContent content{job, library, answer, {}, {}, {}, options.kept};
  content.draws = population::years_to_conditions(job, library, answer.population, all);
  content.likely = population::explain_heat(job, library);
  const Years ahead{library.model.report.plain_words_cap.value};
  std::vector<population::SegmentEstimate> segments;
  for (const casefile::Segment& segment : job.segments)
    segments.push_back(*casefile::find_by_id(answer.estimate.segments, segment.id));
  content.curves = population::ageing_curves(job, library, answer.population, segments, ahead);
  return report::export_files(content, certificate_for(options.file, text, options.seed, records), sha256);
}

int run(const ExportOptions& options) {
  expect_room(options.folder);
  const std::vector<report::ExportedFile> files = exported(options);
  make_folder(options.folder);
  for (const report::ExportedFile& file : files)
    write_file((std::filesystem::path{options.folder} / file.name).string(), file.text, true);
  write_message(
      fmt::format("{}: {} files written; {} describes them\n", options.folder, files.size(), report::descriptor_name));
  if (options.json) write_output(files.back().text);
  return static_cast<int>(ExitCode::done);
}

}  // namespace

Verb add_export(CLI::App& program) {
  auto options = std::make_shared<ExportOptions>();
  CLI::App* command = program.add_subcommand("export", "tables for notebooks: tidy CSV files and a descriptor of them");
  command->footer("heatside export examples/hillside-estate.case.json -o estate-tables");
  command->add_option("FILE", options->file, "the case; - reads standard input")->required();
  command->add_option("-o,--output", options->folder, "folder to write: new, empty, or of a former export")->required();
  command->add_option("--draws", options->draws, "number of draws of everything that is not known")
      ->check(CLI::Range(std::size_t{100}, std::size_t{1000000}))
      ->capture_default_str();
  command->add_option("--keep-draws", options->kept, "the table of draws holds the first so many")
      ->check(CLI::Range(std::size_t{0}, std::size_t{1000000}))
      ->capture_default_str();
  command->add_option("--seed", options->seed, "seed of the draws")->capture_default_str();
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  command->add_flag("--json", options->json, "also print the descriptor");
  return {command, [options] { return run(*options); }};
}

}  // namespace heatside::app
