#pragma once

#include <CLI/App.hpp>
#include <optional>
#include <string>
#include <vector>

#include "heatside/base/error.hpp"
#include "heatside/casefile/record.hpp"

/// The options of `record`, and what is wrong with them in their own words.

namespace heatside::app {

struct RecordOptions {
  std::string file, materials;
  casefile::FindingWords words;
  bool cracked = false, whole = false, no_control_units = false;
  bool consent = false, undo = false, json = false;
};

void add_record_options(CLI::App& command, RecordOptions& options);

/// A finding, the owner's consent, or taking back: exactly one of them.
/// @throws Stop  usage
void expect_one_deed(const RecordOptions& options);

/// The finding that the options state.
/// @throws Stop  usage: a day that is none, a text that is not UTF-8
[[nodiscard]] casefile::FindingWords words_of(const RecordOptions& options);

/// Problems of a case with a new finding, one a line, in which options stand for the members of the finding.
/// @param pointer  JSON pointer of the new finding
[[nodiscard]] std::string in_words_of_options(const InputError& error, const std::string& pointer);

}  // namespace heatside::app
