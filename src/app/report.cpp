#include <memory>
#include <optional>

#include "app/draw_options.hpp"
#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "base/sha256.hpp"
#include "heatside/inspection/case_order.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/remedy/remedies.hpp"
#include "heatside/report/case_pictures.hpp"
#include "heatside/report/owner_report.hpp"

namespace heatside::app {

namespace {

struct ReportOptions {
  std::string file, materials;
  std::optional<std::string> output;
  bool markdown = false, json = false, force = false;
  DrawChoice drawn;
};

std::string composed(const ReportOptions& options) {
  const auto [text, records, library, job] = open_case(options.file, options.materials);
  const population::DrawnAnswer answer =
      population::drawn_answer(job, library, {.draws = options.drawn.draws, .seed = options.drawn.seed});
  const remedy::Answer remedies = remedy::remedies(job, library, answer);
  const inspection::CaseOrder order = inspection::case_order(job, library, answer, {});
  const report::ReportPictures pictures = report::case_pictures(job, library, answer, order, remedies);
  const report::BirthCertificate certificate = certificate_for(options.file, text, options.drawn.seed, records);
  const report::Document document =
      report::owner_report({job, library, answer.estimate, order, remedies, pictures, certificate});
  if (options.json) {
    return report::document_json(document, certificate, answer.estimate.draws, answer.estimate.assumptions);
  }
  if (options.markdown) return report::markdown_text(document);
  return report::html_text(document, base64(sha256_bytes(report::document_style())));
}

int run(const ReportOptions& options) {
  const std::string text = composed(options);
  if (options.output && *options.output != "-") {
    write_file(*options.output, text, options.force);
    write_message(*options.output + ": written; it needs nothing outside itself\n");
  } else {
    write_output(text);
  }
  return static_cast<int>(ExitCode::done);
}

}  // namespace

Verb add_report(CLI::App& program) {
  auto options = std::make_shared<ReportOptions>();
  CLI::App* command = program.add_subcommand("report", "a page for the owner, and the technical annex");
  command->footer("heatside report examples/hillside-estate.case.json -o report.html");
  command->add_option("FILE", options->file, "the case; - reads standard input")->required();
  command->add_option("-o,--output", options->output, "file for the report; - or nothing is standard output");
  CLI::Option* markdown = command->add_flag("--markdown", options->markdown, "as Markdown instead of HTML");
  command->add_flag("--json", options->json, "the blocks of the report as one JSON document")->excludes(markdown);
  add_draws(*command, options->drawn);
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  command->add_flag("--force", options->force, "replace an existing file");
  return {command, [options] { return run(*options); }};
}

}  // namespace heatside::app
