#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"

/// Adds what was found to the text of a case, and takes it back. Only the new parts of the text change: every other byte,
/// key order, notes and layout included, stays as it was, and what is taken back leaves the text as it had been.

namespace heatside::casefile {

/// A finding in the words of the case; see the README for what they mean. Empty and absent parts are left out.
struct FindingWords {
  std::string segment, stretch, lot, seen, method, cause;
  std::vector<std::string> signs, clues;
  std::string on;  ///< YYYY-MM-DD
  std::string altered_on;
  std::optional<double> bend_diameter_mm, bend_temperature_celsius;
  std::optional<bool> cracked;
  std::optional<double> elongation_percent, standard_error_percent;
  std::optional<double> megohms;
  bool both_ends_unplugged = false, control_units_attached = false;
  std::string by, note;
};

/// SHA-256 of bytes in hexadecimal.
using Digest = std::function<std::string(const std::string& bytes)>;

/// Chances of the conditions of every segment, as the case stands.
using Predict = std::function<std::vector<PredictedSegment>(const Case& job)>;

/// What recording needs from outside.
struct Clerk {
  std::string engine;  ///< name and version of the program
  std::string now;     ///< UTC, as YYYY-MM-DDThh:mm:ssZ
  Digest digest;
  Predict predict;  ///< asked once a day, before its first finding
};

/// A changed text of a case.
struct Recorded {
  std::string text;
  std::string pointer;     ///< JSON pointer of what was added or taken back; of where it stood
  bool predicted = false;  ///< a prediction was stored with it, or taken back with it
};

/// The text with a finding at the end of its `findings`. Where it is the first of its day, what the model says of every
/// segment is stored before it.
///
/// The finding is not checked here: read the new text with `read_case` before it replaces the old one.
///
/// @param text  a text that `read_case` accepted
/// @param job   what it read
/// @pre    `words.on` is a day
[[nodiscard]] Recorded with_finding(const std::string& text, const Case& job, const FindingWords& words, const Clerk& clerk);

/// The text with the owner's consent to openings; nothing when it is there already.
/// @param text  a text that `read_case` accepted
[[nodiscard]] std::optional<Recorded> with_consent(const std::string& text, const Clerk& clerk);

/// The text without what `with_finding` or `with_consent` added last.
///
/// @param text  a text that `read_case` accepted
/// @param file  its name in messages
/// @throws InputError  nothing was recorded, or the entry was changed by hand since
[[nodiscard]] Recorded without_last(const std::string& text, const std::string& file, const Digest& digest);

/// What the SHA-256 of a prediction is taken of: everything in it but the SHA-256, as JSON without blanks
/// and with the segments sorted by id.
[[nodiscard]] std::string hashed_text(const Prediction& prediction);

/// Predictions that are not as they were stored.
/// @return  JSON pointers of their hashes
[[nodiscard]] std::vector<std::string> changed_predictions(const Case& job, const Digest& digest);

/// @param file  name of the case in messages
/// @throws InputError  predictions that are not as they were stored
void refuse_changed_predictions(const Case& job, const std::string& file, const Digest& digest);

/// Segments that were opened so far: looked at by a method that takes covering off or cuts. Sorted ids.
[[nodiscard]] std::vector<std::string> opened_segments(const Case& job, const library::Library& library);

}  // namespace heatside::casefile
