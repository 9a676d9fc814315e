#include <memory>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "heatside/estimate.hpp"

namespace heatside::app {

namespace {

struct EstimateOptions {
  std::string file;
  std::string materials;
  bool likely = false, json = false, csv = false, histogram = false;
  std::size_t draws = 1;
  unsigned long long seed = 0;
};

std::string composed(const EstimateOptions& options) {
  const std::string text = read_file(options.file);
  const Records records = gather_records(options.materials);
  const library::Library library = library::read_library(records.all);
  const casefile::Case job = casefile::read_case(text, options.file, library);
  const population::Estimate estimate = population::likely_estimate(job, library, {.histogram = options.histogram});
  const report::BirthCertificate certificate = certificate_for(options.file, text, options.seed, records);
  if (options.json) return report::estimate_json(estimate, job, library, certificate, options.histogram);
  if (options.csv) {
    // A table of numbers has no room for what must be read with it.
    write_message(report::notes_for_table(estimate));
    return report::estimate_csv(estimate);
  }
  return report::estimate_text(estimate, job, library, certificate);
}

}  // namespace

Verb add_estimate(CLI::App& program) {
  auto options = std::make_shared<EstimateOptions>();
  CLI::App* command = program.add_subcommand("estimate", "condition now and remaining life of every segment, weakest first");
  command->footer("heatside estimate examples/hillside-estate.case.json --likely");
  command->add_option("FILE", options->file, "the case; - reads standard input")->required();
  command->add_flag("--likely", options->likely, "the likely case (the default in this version)");
  command->add_option("--draws", options->draws, "number of draws; this version computes one, the likely case")
      ->check(CLI::Range(1, 1))
      ->capture_default_str();
  command->add_option("--seed", options->seed, "seed of the draws; echoed, and without effect on the likely case")
      ->check(CLI::Validator{[](const std::string& text) {
                               const std::string largest = "18446744073709551615";
                               const bool digits =
                                   !text.empty() && text.find_first_not_of("0123456789") == std::string::npos;
                               const bool fits =
                                   text.size() < largest.size() || (text.size() == largest.size() && text <= largest);
                               return digits && fits ? "" : "a seed is a whole number from 0 to " + largest;
                             },
                             "SEED"})
      ->capture_default_str();
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  CLI::Option* json = command->add_flag("--json", options->json, "one JSON document");
  command->add_flag("--csv", options->csv, "one row a segment")->excludes(json);
  command->add_flag("--histogram", options->histogram, "with --json: hours of a year at each degree")->needs(json);
  return {command, [options] {
            write_output(composed(*options));
            return static_cast<int>(ExitCode::done);
          }};
}

}  // namespace heatside::app
