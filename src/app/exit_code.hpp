#pragma once

#include <stdexcept>
#include <string>

namespace heatside::app {

/// How the program ends; part of its interface. The numbers are those of sysexits.h.
enum class ExitCode { done = 0, usage = 64, bad_data = 65, no_input = 66, bug = 70, cannot_write = 73, io_error = 74 };

/// Ends the run with a code and one sentence on stderr.
class Stop : public std::runtime_error {
 public:
  Stop(ExitCode exit_code, const std::string& message) : std::runtime_error(message), code{exit_code} {}
  ExitCode code;
};

}  // namespace heatside::app
