#pragma once

#include <string>
#include <vector>

#include "heatside/inspection/score.hpp"

namespace heatside::report {

/// A case that was scored.
struct ScoredCase {
  std::string name;    ///< file name without folders
  std::string sha256;  ///< of its bytes
};

/// How good the predictions were, with what it was worked out from.
struct ScoreAnswer {
  std::string engine;             ///< name and version of the program
  std::vector<ScoredCase> cases;  ///< one for each of `jobs`
  std::vector<inspection::JobToScore> jobs;
  inspection::Looks looks;
  inspection::Score score;
  std::vector<std::string> warnings;       ///< plain words: changed predictions, a case given twice
  std::vector<std::string> own_records{};  ///< file names of records that the user added
  std::string own_records_sha256{};        ///< of their bytes; empty when there are none
};

/// For people, at most 100 columns wide.
[[nodiscard]] std::string score_text(const ScoreAnswer& answer);

/// Format "heatside-score" version 1; see the README for the fields.
[[nodiscard]] std::string score_json(const ScoreAnswer& answer);

}  // namespace heatside::report
