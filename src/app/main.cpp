#include <fmt/format.h>
#include <CLI/CLI.hpp>
#include <csignal>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/help.hpp"
#include "app/inputs.hpp"
#include "app/verbs.hpp"
#include "heatside/base/error.hpp"

namespace {

using heatside::app::ExitCode;

int fail(ExitCode code, const std::string& message) {
  heatside::app::write_message("heatside: " + message + "\n");
  return static_cast<int>(code);
}

int parse_and_run(CLI::App& program, const std::vector<heatside::app::Verb>& verbs, int argc, char** argv) {
  try {
    program.parse(argc, argv);
  } catch (const CLI::Success&) {
    // Help or version was asked for: they go out like any result, so that a full disk is noticed.
    const auto given = program.get_subcommands();
    const bool version = program.count("--version") > 0;
    heatside::app::write_output(version ? heatside::app::engine_name() + "\n"
                                        : (given.empty() ? program.help() : given.front()->help(program.get_name())));
    return static_cast<int>(ExitCode::done);
  } catch (const CLI::ParseError& error) {
    return fail(ExitCode::usage, std::string{error.what()} + "; `heatside --help` shows how it is used");
  }
  for (const heatside::app::Verb& verb : verbs) {
    if (verb.command->parsed()) return verb.run();
  }
  return fail(ExitCode::usage, "no verb given; `heatside --help` lists them");
}

}  // namespace

// Every exception of the program ends here.
int main(int argc, char** argv) {
  heatside::app::occupy_standard_streams();
  // A reader that closes the pipe early shows as a write error, which write_output takes for the end of interest.
  // A file that grows beyond its limit shows as a write error too.
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  try {
    CLI::App program{
        "How far heat has aged the wire insulation of an engine-bay loom, segment by segment.\n"
        "`heatside VERB --help` starts with an example of each verb.",
        "heatside"};
    program.footer("heatside estimate examples/hillside-estate.case.json --likely");
    program.formatter(std::make_shared<heatside::app::ExampleFirst>());
    program.set_version_flag("--version", heatside::app::engine_name(), "name and version");
    program.require_subcommand(0, 1);
    const std::vector<heatside::app::Verb> verbs{
        heatside::app::add_start(program),    heatside::app::add_check(program),   heatside::app::add_estimate(program),
        heatside::app::add_explain(program),  heatside::app::add_compare(program), heatside::app::add_order(program),
        heatside::app::add_remedies(program), heatside::app::add_record(program),  heatside::app::add_materials(program),
        heatside::app::add_wire(program),     heatside::app::add_fit(program),     heatside::app::add_score(program),
        heatside::app::add_report(program),   heatside::app::add_export(program),  heatside::app::add_page(program)};
    return parse_and_run(program, verbs, argc, argv);
  } catch (const heatside::app::Stop& stop) {
    return fail(stop.code, stop.what());
  } catch (const heatside::InputError& error) {
    heatside::app::write_message(std::string{error.what()} + "\nNothing was changed.\n");
    return static_cast<int>(ExitCode::bad_data);
  } catch (const heatside::DomainError& error) {
    return fail(ExitCode::bad_data, error.what());
  } catch (const std::exception& error) {
    return fail(ExitCode::bug, fmt::format("this is a bug in heatside: {}", error.what()));
  }
}
