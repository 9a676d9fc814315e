#pragma once

#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/estimate.hpp"

namespace heatside::report {

/// What an output says about its own making.
struct BirthCertificate {
  std::string engine;       ///< version of the program
  std::string case_sha256;  ///< of the bytes of the case file; empty when there was no file
  std::string case_name;    ///< file name without folders
  unsigned long long seed = 0;
  std::vector<std::string> own_records{};  ///< file names of records that the user added or replaced built-in ones with
  std::string own_records_sha256{};        ///< of their bytes one after the other; empty when there are none
};

/// Remaining life in words: "in about 12 years", "reached about 8 years ago", "over 40 years by heat alone".
[[nodiscard]] std::string remaining_in_words(Years remaining, const library::ModelConstants& model);

/// The answer for people, at most 100 columns wide: cautions, table weakest first, what was assumed, what it rests on.
[[nodiscard]] std::string estimate_text(const population::Estimate& estimate, const casefile::Case& job,
                                        const library::Library& library, const BirthCertificate& certificate);

/// Format "heatside-estimate" version 1; see the README for the fields.
[[nodiscard]] std::string estimate_json(const population::Estimate& estimate, const casefile::Case& job,
                                        const library::Library& library, const BirthCertificate& certificate,
                                        bool histogram);

/// Cautions, assumptions and what the answer rests on, for whoever reads the table of `estimate_csv`.
[[nodiscard]] std::string notes_for_table(const population::Estimate& estimate);

/// One row a segment, RFC 4180, doubles that read back to the same value.
[[nodiscard]] std::string estimate_csv(const population::Estimate& estimate);

}  // namespace heatside::report
