#pragma once

#include <optional>
#include <string>
#include <vector>

/// The only place that touches files and streams.

namespace heatside::app {

/// Makes sure that the numbers of closed standard streams are never given to a file of ours.
void occupy_standard_streams();

/// The bytes of a file, or of standard input for "-".
/// @throws Stop  no_input: missing, a directory, not readable; io_error: reading failed half-way
[[nodiscard]] std::string read_file(const std::string& path);

/// The text of a file that lies in the folder of another or below it, or nothing when there is no such file.
/// Beside standard input lies what is in the working directory.
/// @param of    path of the other file
/// @param name  relative path
/// @throws Stop  no_input, io_error: the file is there but cannot be read
[[nodiscard]] std::optional<std::string> read_file_beside(const std::string& of, const std::string& name);

/// Every *.json below a folder but those in a folder `schema`, sorted by name.
/// @throws Stop  no_input
[[nodiscard]] std::vector<std::string> json_files_below(const std::string& folder);

/// Writes a file as a whole or not at all: temporary file beside it, flushed to disk, then renamed.
/// @param overwrite  an existing file may be replaced
/// @throws Stop  cannot_write
void write_file(const std::string& path, const std::string& text, bool overwrite);

/// While it lives, other runs of the program wait with their changes to files of the same folder.
/// Where the file system knows no locks, nobody waits.
class FolderLock {
 public:
  /// @param path  of a file in the folder
  explicit FolderLock(const std::string& path);
  FolderLock(const FolderLock&) = delete;
  FolderLock& operator=(const FolderLock&) = delete;
  ~FolderLock();

 private:
  int folder_;
};

/// Writes a message to standard error; where that is closed or full there is nobody to tell.
void write_message(const std::string& text);

/// Writes to standard output and makes sure it arrived. A reader that went away early is no error.
/// @throws Stop  io_error
void write_output(const std::string& text);

}  // namespace heatside::app
