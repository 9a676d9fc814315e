#include <memory>
#include <optional>

#include "app/draw_options.hpp"
#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/remedy/plan.hpp"
#include "heatside/remedy/remedies.hpp"
#include "heatside/report/remedies_report.hpp"

namespace heatside::app {

namespace {

struct RemedyOptions {
  std::string file, materials, plan;
  std::optional<double> stop, years;
  bool json = false;
  DrawChoice drawn;
};

std::string composed(const RemedyOptions& options) {
  auto [text, records, library, job] = open_case(options.file, options.materials);
  if (options.stop) job.costs.stop = options.stop;
  if (options.years) job.costs.horizon = Years{*options.years};
  const population::DrawnAnswer answer =
      population::drawn_answer(job, library, {.draws = options.drawn.draws, .seed = options.drawn.seed});
  const remedy::Answer remedies = remedy::remedies(job, library, answer, {.knowing = options.plan.empty() || options.json});
  std::optional<remedy::Plan> plan;
  if (!options.plan.empty()) plan = remedy::plan_of(job, library, remedies, options.plan);
  const report::BirthCertificate certificate = certificate_for(options.file, text, options.drawn.seed, records);
  if (options.json) return report::remedies_json(remedies, answer.estimate, job, library, plan, certificate);
  return plan ? report::plan_text(*plan, remedies, job, certificate)
              : report::remedies_text(remedies, answer.estimate, job, library, certificate);
}

}  // namespace

Verb add_remedies(CLI::App& program) {
  auto options = std::make_shared<RemedyOptions>();
  CLI::App* command = program.add_subcommand("remedies", "what can be done, side by side, and what it costs over the years");
  command->footer("heatside remedies examples/hillside-estate.case.json");
  command->add_option("FILE", options->file, "the case; - reads standard input")->required();
  command->add_option("--plan", options->plan, "id of a remedy: its work as a list to print");
  command->add_option("--stop", options->stop, "cost of a stop on the road, instead of the case's")
      ->check(CLI::Range(0.0, 1.0e9));
  command->add_option("--years", options->years, "how far to look ahead, instead of the case's")
      ->check(CLI::Range(1.0, 50.0));
  add_draws(*command, options->drawn);
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  command->add_flag("--json", options->json, "one JSON document");
  return {command, [options] {
            write_output(composed(*options));
            return static_cast<int>(ExitCode::done);
          }};
}

}  // namespace heatside::app
