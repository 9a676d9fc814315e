#pragma once

#include <optional>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/casefile/record.hpp"
#include "heatside/library/library.hpp"

namespace heatside::report {

/// What became of a case.
enum class Deed { recorded, taken_back, nothing };

/// What was written into a case, or taken out of it.
struct RecordAnswer {
  std::string engine;       ///< name and version of the program
  std::string case_name;    ///< file name without folders
  std::string case_sha256;  ///< of the case as it is now
  Deed deed{};
  std::string pointer;                       ///< JSON pointer of what was added, or of where it stood
  std::optional<casefile::Finding> finding;  ///< without it the owner's consent was recorded or taken back
  bool day_from_clock = false;
  bool predicted = false;           ///< the chances of every segment were stored before it, or taken back with it
  std::vector<std::string> opened;  ///< segments opened so far
  std::vector<casefile::Assumption> assumptions;  ///< that came with it
};

/// What a change of a case says of itself; engine, name and hash of the case, and what was opened so far are left to fill
/// in.
/// @param holder  the case that holds what was added, or that held what was taken back
[[nodiscard]] RecordAnswer record_answer(Deed deed, const casefile::Recorded& recorded, const casefile::Case& holder);

/// True for what disturbs the loom, so that cautions come with it.
[[nodiscard]] bool needs_cautions(const casefile::Finding& finding, const library::Library& library);

/// For people, at most 100 columns wide.
/// @param job  the case as it is now
/// @par Tested by  tests/report/record_report_test.cpp
[[nodiscard]] std::string record_text(const RecordAnswer& answer, const casefile::Case& job,
                                      const library::Library& library);

/// Format "heatside-recorded" version 1; see the README for the fields.
[[nodiscard]] std::string record_json(const RecordAnswer& answer, const casefile::Case& job,
                                      const library::Library& library);

}  // namespace heatside::report
