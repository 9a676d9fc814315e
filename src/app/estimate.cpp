#include <memory>
#include <optional>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "heatside/base/date.hpp"
#include "heatside/estimate.hpp"
#include "heatside/population/drawn_estimate.hpp"

namespace heatside::app {

namespace {

struct EstimateOptions {
  std::string file;
  std::string materials;
  bool likely = false, json = false, csv = false, histogram = false, without_conduction = false;
  std::size_t draws = 10000;
  unsigned long long seed = 0;
  std::vector<std::string> at;
};

// Years from the inspection to each date that was asked for.
std::vector<Years> times_after(const std::vector<std::string>& dates, const casefile::Case& job) {
  std::vector<Years> times;
  for (const std::string& text : dates) {
    const std::optional<Date> date = parse_date(text);
    if (!date) throw Stop{ExitCode::usage, "--at takes dates such as 2030 or 2030-06-01, not \"" + text + "\""};
    times.push_back(years_between(job.inspected.day, date->day));
  }
  return times;
}

population::Estimate computed(const EstimateOptions& options, const casefile::Case& job, const library::Library& library) {
  if (options.likely || options.draws == 1) {
    return population::likely_estimate(job, library,
                                       {.histogram = options.histogram, .conduction = !options.without_conduction});
  }
  return population::drawn_estimate(job, library,
                                    {.draws = options.draws,
                                     .seed = options.seed,
                                     .conduction = !options.without_conduction,
                                     .histogram = options.histogram,
                                     .at = times_after(options.at, job)});
}

std::string composed(const EstimateOptions& options) {
  const auto [text, records, library, job] = open_case(options.file, options.materials);
  const population::Estimate estimate = computed(options, job, library);
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
  command->add_flag("--likely", options->likely, "the single likely case: every quantity at its likely value");
  command->add_option("--draws", options->draws, "number of draws of everything that is not known; 1 is the likely case")
      ->check(CLI::Validator{[](const std::string& text) {
                               const bool digits = !text.empty() && text.size() < 8 &&
                                                   text.find_first_not_of("0123456789") == std::string::npos;
                               const unsigned long count = digits ? std::stoul(text) : 0;
                               return count == 1 || (count >= 100 && count <= 1000000)
                                          ? ""
                                          : "draws are 1, the likely case, or 100 to 1000000";
                             },
                             "DRAWS"})
      ->capture_default_str();
  command->add_option("--seed", options->seed, "seed of the draws; without effect on the likely case")
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
  command->add_flag("--without-conduction", options->without_conduction,
                    "every stretch by itself: no heat flows along the copper");
  command->add_option("--at", options->at, "also chances at these dates, such as 2030,2035")->delimiter(',');
  CLI::Option* json = command->add_flag("--json", options->json, "one JSON document");
  command->add_flag("--csv", options->csv, "one row a segment")->excludes(json);
  command->add_flag("--histogram", options->histogram, "with --json: hours of a year at each degree")->needs(json);
  return {command, [options] {
            write_output(composed(*options));
            return static_cast<int>(ExitCode::done);
          }};
}

}  // namespace heatside::app
