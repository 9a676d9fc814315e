#pragma once

#include <string>
#include <vector>

#include "heatside/base/error.hpp"
#include "heatside/casefile/case.hpp"

namespace heatside::report {

/// What a check found in one file.
struct CheckedFile {
  std::string file;
  std::string kind;  ///< case or record; empty when the file is neither
  std::vector<Problem> problems;
  std::vector<casefile::Assumption> assumptions;
  std::vector<std::string> unused;
};

/// Every problem, one line each; empty when there is none.
[[nodiscard]] std::string problems_text(const std::vector<CheckedFile>& files);

/// One line a file, and its assumptions.
[[nodiscard]] std::string check_text(const std::vector<CheckedFile>& files);

/// Format "heatside-check" version 1.
[[nodiscard]] std::string check_json(const std::vector<CheckedFile>& files, const std::string& engine);

}  // namespace heatside::report
