#pragma once

#include <CLI/Formatter.hpp>
#include <string>

namespace heatside::app {

/// Help that opens with a worked example: an example is stored as the footer of its command and printed first.
class ExampleFirst : public CLI::Formatter {
 public:
  std::string make_description(const CLI::App* command) const override {
    return "Example:  " + command->get_footer() + "\n\n" + command->get_description() + "\n\n";
  }
  std::string make_footer(const CLI::App*) const override { return ""; }
};

}  // namespace heatside::app
