#include <filesystem>
#include <memory>
#include <optional>

#include "app/exit_code.hpp"
#include "app/files.hpp"
#include "app/page_server.hpp"
#include "app/verbs.hpp"

namespace heatside::app {

namespace {

namespace fs = std::filesystem;

struct PageOptions {
  std::optional<std::string> output;
  bool serve = false, force = false;
  PageAddress address{"127.0.0.1", 8317};
};

// Where the page lies once it is built: installed beside the program, or in the build folder that it is made in.
fs::path page_file() {
  std::error_code unknown;
  const fs::path program = fs::read_symlink("/proc/self/exe", unknown);
  for (const char* place : {HEATSIDE_PAGE_FROM_PROGRAM, "../page/heatside.html"}) {
    const fs::path file = (program.parent_path() / place).lexically_normal();
    if (fs::is_regular_file(file, unknown)) return file;
  }
  throw Stop{ExitCode::no_input,
             "the page is not there: `bash src/scripts/page.sh` in the sources builds build/page/heatside.html, and "
             "`cmake --install` puts it beside the program"};
}

int run(const PageOptions& options) {
  if (options.serve == options.output.has_value())
    throw Stop{ExitCode::usage, "either -o FILE writes the page, or --serve shows it to a browser"};
  const std::string page = read_file(page_file().string());
  if (options.serve) {
    serve_page(page, options.address);
  } else if (*options.output == "-") {
    write_output(page);
  } else {
    write_file(*options.output, page, options.force);
    write_message(*options.output + ": written; open it in a browser, it needs no network\n");
  }
  return static_cast<int>(ExitCode::done);
}

}  // namespace

Verb add_page(CLI::App& program) {
  auto options = std::make_shared<PageOptions>();
  CLI::App* command = program.add_subcommand("page", "the whole job in a browser, from one file and without a network");
  command->footer(
      "heatside page -o heatside.html\n"
      "          heatside page --serve");
  command->add_option("-o,--output", options->output, "file for the page; - is standard output");
  command->add_flag("--force", options->force, "replace an existing file");
  CLI::Option* serve = command->add_flag("--serve", options->serve, "show it to a browser of this machine instead");
  command->add_option("--port", options->address.port, "0 takes any that is free")
      ->needs(serve)
      ->check(CLI::Range(0, 65535))
      ->capture_default_str();
  command->add_option("--host", options->address.host, "address to listen at; any but this one lets other machines in")
      ->needs(serve)
      ->capture_default_str();
  return {command, [options] { return run(*options); }};
}

}  // namespace heatside::app
