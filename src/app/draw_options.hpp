#pragma once

#include <CLI/App.hpp>
#include <cstddef>

namespace heatside::app {

/// Options of a verb that asks draws.
struct DrawChoice {
  std::size_t draws = 10000;
  unsigned long long seed = 0;
};

/// Adds `--draws` and `--seed`.
void add_draws(CLI::App& command, DrawChoice& choice);

}  // namespace heatside::app
