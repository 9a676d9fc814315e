#pragma once

#include <string>
#include <vector>

/// The only place that touches files and streams.

namespace heatside::app {

/// Makes sure that the numbers of closed standard streams are never given to a file of ours.
void occupy_standard_streams();

/// The bytes of a file, or of standard input for "-".
/// @throws Stop  no_input: missing, a directory, not readable; io_error: reading failed half-way
[[nodiscard]] std::string read_file(const std::string& path);

/// Every *.json below a folder but those in a folder `schema`, sorted by name.
/// @throws Stop  no_input
[[nodiscard]] std::vector<std::string> json_files_below(const std::string& folder);

/// Writes a file as a whole or not at all: temporary file beside it, flushed to disk, then renamed.
/// @param overwrite  an existing file may be replaced
/// @throws Stop  cannot_write
void write_file(const std::string& path, const std::string& text, bool overwrite);

/// Writes a message to standard error; where that is closed or full there is nobody to tell.
void write_message(const std::string& text);

/// Writes to standard output and makes sure it arrived. A reader that went away early is no error.
/// @throws Stop  io_error
void write_output(const std::string& text);

}  // namespace heatside::app
