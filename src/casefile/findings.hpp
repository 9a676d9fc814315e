#pragma once

#include "casefile/reading.hpp"

/// The parts of a case that say what was found, what the owner agreed to, and what had been predicted.

namespace heatside::casefile {

void read_findings(Fields& top, Reading& reading);
void read_openings(Fields& top, Reading& reading);

/// `predictions`, and the trail of what was recorded by the program.
void read_logs(Fields& top, Reading& reading);

/// The method of a finding and what it gave; `seen` has been read.
/// @param segment  where it was found; null when that is not known
void read_evidence(Fields& fields, Finding& finding, const Segment* segment, Reading& reading);

/// True for the five conditions by heat, not for what was not seen or was altered.
[[nodiscard]] bool is_condition(const std::optional<library::Seen>& seen);

/// Texts of a list, each one of `allowed` and none twice.
std::vector<std::string> read_words(Fields& fields, std::string_view key, std::string_view what,
                                    const std::vector<std::string>& allowed, Reading& reading);

/// 64 small hexadecimal digits.
std::string read_sha256(Fields& fields, std::string_view key);

}  // namespace heatside::casefile
