#pragma once

#include <CLI/App.hpp>
#include <functional>

/// The verbs of the command line. Each function adds its verb to the program and says what to do when it was given.

namespace heatside::app {

/// Called after a successful parse when the verb was given; returns the exit code.
using Action = std::function<int()>;

/// A verb of the command line.
struct Verb {
  CLI::App* command;
  Action run;
};

[[nodiscard]] Verb add_start(CLI::App& program);
[[nodiscard]] Verb add_check(CLI::App& program);
[[nodiscard]] Verb add_compare(CLI::App& program);
[[nodiscard]] Verb add_estimate(CLI::App& program);
[[nodiscard]] Verb add_explain(CLI::App& program);
[[nodiscard]] Verb add_export(CLI::App& program);
[[nodiscard]] Verb add_order(CLI::App& program);
[[nodiscard]] Verb add_remedies(CLI::App& program);
[[nodiscard]] Verb add_page(CLI::App& program);
[[nodiscard]] Verb add_report(CLI::App& program);
[[nodiscard]] Verb add_record(CLI::App& program);
[[nodiscard]] Verb add_materials(CLI::App& program);
[[nodiscard]] Verb add_wire(CLI::App& program);
[[nodiscard]] Verb add_fit(CLI::App& program);
[[nodiscard]] Verb add_score(CLI::App& program);

}  // namespace heatside::app
