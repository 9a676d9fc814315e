#pragma once

#include <string>
#include <vector>

#include "heatside/casefile/read.hpp"
#include "heatside/library/library.hpp"
#include "heatside/report/estimate_report.hpp"

namespace heatside::app {

/// The records of a run: the built-in ones and those of a folder given by the user, which come later and so win.
struct Records {
  std::vector<std::string> names, texts;  ///< own the user's records
  std::vector<library::RecordText> all;
};

/// @param folder  `--materials`; empty for none
[[nodiscard]] Records gather_records(const std::string& folder);

/// A case as its reader understands it; loggers' files are looked for beside it.
/// @param path  of the case; "-" is standard input
/// @throws InputError  see `casefile::read_case`; a stored prediction was changed
[[nodiscard]] casefile::Case case_of(const std::string& text, const std::string& path, const library::Library& library);

/// A case with the records that it was read with.
struct OpenedCase {
  std::string text;  ///< of its file
  Records records;
  library::Library library;
  casefile::Case job;
};

/// @param path       of the case; "-" is standard input
/// @param materials  `--materials`; empty for none
/// @throws InputError, Stop  as `read_file`, `read_library` and `case_of`
[[nodiscard]] OpenedCase open_case(const std::string& path, const std::string& materials);

/// Name and version of the program, as every output carries it.
[[nodiscard]] std::string engine_name();

/// What an output says about its own making.
[[nodiscard]] report::BirthCertificate certificate_for(const std::string& path, const std::string& text,
                                                       unsigned long long seed, const Records& records);

}  // namespace heatside::app
