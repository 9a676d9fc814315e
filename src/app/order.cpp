#include <memory>

#include "app/draw_options.hpp"
#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "heatside/inspection/case_order.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/report/order_report.hpp"

namespace heatside::app {

namespace {

struct OrderOptions {
  std::string file, materials, by = "value";
  bool json = false;
  std::size_t depth = 3;
  DrawChoice drawn;
};

std::string composed(const OrderOptions& options) {
  const auto [text, records, library, job] = open_case(options.file, options.materials);
  const population::DrawnAnswer answer =
      population::drawn_answer(job, library, {.draws = options.drawn.draws, .seed = options.drawn.seed});
  const inspection::CaseOrder order = inspection::case_order(job, library, answer, {options.depth});
  const report::BirthCertificate certificate = certificate_for(options.file, text, options.drawn.seed, records);
  return options.json ? report::order_json(order, answer.estimate, job, certificate)
                      : report::order_text(order, answer.estimate, job, options.by == "chance", certificate);
}

}  // namespace

Verb add_order(CLI::App& program) {
  auto options = std::make_shared<OrderOptions>();
  CLI::App* command = program.add_subcommand("order", "where to open first, what then, and when to stop");
  command->footer("heatside order examples/hillside-estate.case.json");
  command->add_option("FILE", options->file, "the case; - reads standard input")->required();
  command->add_option("--by", options->by, "value; or chance: also the plain order by chance")
      ->check(CLI::IsMember({"value", "chance"}))
      ->capture_default_str();
  command->add_option("--depth", options->depth, "openings that are looked ahead")
      ->check(CLI::Range(1, 4))
      ->capture_default_str();
  add_draws(*command, options->drawn);
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  command->add_flag("--json", options->json, "one JSON document");
  return {command, [options] {
            write_output(composed(*options));
            return static_cast<int>(ExitCode::done);
          }};
}

}  // namespace heatside::app
