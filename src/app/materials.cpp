#include <fmt/format.h>

#include <memory>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "base/fields.hpp"
#include "heatside/report/library_report.hpp"

namespace heatside::app {

namespace {

struct MaterialsOptions {
  std::string id;
  std::string materials;
  bool json = false;
};

std::string composed(const MaterialsOptions& options) {
  const Records records = gather_records(options.materials);
  const library::Library library = library::read_library(records.all);
  const std::vector<std::string> ids = report::record_ids(library);
  if (!options.id.empty() && std::find(ids.begin(), ids.end(), options.id) == ids.end()) {
    throw Stop{ExitCode::usage, unknown_word("record", options.id, ids) + "; `heatside materials` lists them all"};
  }
  if (options.json) return report::records_json(records.all, options.id, engine_name());
  if (options.id.empty()) return report::library_text(library);
  return *report::record_text(library, options.id);
}

}  // namespace

Verb add_materials(CLI::App& program) {
  auto options = std::make_shared<MaterialsOptions>();
  CLI::App* command =
      program.add_subcommand("materials", "the library: every number of a record with range, grade and source");
  command->footer("heatside materials xlpo-125");
  command->add_option("ID", options->id, "id of a record: an insulation, covering, zone, climate, duty, era ...");
  command->add_option("--materials", options->materials, "folder of records that add to or replace the built-in ones");
  command->add_flag("--json", options->json, "the records as JSON");
  return {command, [options] {
            write_output(composed(*options));
            return static_cast<int>(ExitCode::done);
          }};
}

}  // namespace heatside::app
