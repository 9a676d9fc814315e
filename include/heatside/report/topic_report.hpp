#pragma once

#include <string>

#include "heatside/population/topics.hpp"

/// Small experiments for teaching as text, as tables and as pictures.

namespace heatside::report {

/// What the experiment shows, at most 100 columns wide.
/// @param engine  name and version of the program
[[nodiscard]] std::string topic_text(const population::Topic& topic, const std::string& engine);

/// Format "heatside-topic" version 1: the words of `topic_text` as paragraphs, every column with unit and meaning, the rows.
[[nodiscard]] std::string topic_json(const population::Topic& topic, const std::string& engine);

/// The rows alone, RFC 4180, doubles that read back to the same value.
/// @par Tested by  tests/app/classroom_test.py
[[nodiscard]] std::string topic_csv(const population::Topic& topic);

/// A picture of it, SVG.
[[nodiscard]] std::string topic_plot(const population::Topic& topic);

}  // namespace heatside::report
