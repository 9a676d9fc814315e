#include "app/draw_options.hpp"

#include <CLI/CLI.hpp>

namespace heatside::app {

void add_draws(CLI::App& command, DrawChoice& choice) {
  command.add_option("--draws", choice.draws, "number of draws of everything that is not known")
      ->check(CLI::Range(100, 100000))
      ->capture_default_str();
  command.add_option("--seed", choice.seed, "seed of the draws")->check(CLI::NonNegativeNumber)->capture_default_str();
}

}  // namespace heatside::app
