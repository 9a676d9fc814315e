#include "app/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>

#include "app/exit_code.hpp"

namespace heatside::app {

namespace {

// A little more than the reader accepts, so that it can refuse what is too large without all of it in memory.
constexpr std::size_t most_bytes = (std::size_t{64} << 20) + 1;

std::string reason() { return std::strerror(errno); }

// Owns a file descriptor.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_{number} {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  [[nodiscard]] int number() const { return number_; }
  [[nodiscard]] bool close() {
    const int closed = ::close(number_);
    number_ = -1;
    return closed == 0;
  }

 private:
  int number_;
};

std::string read_all(int descriptor, const std::string& name) {
  std::string text;
  std::string chunk(std::size_t{1} << 16, '\0');
  while (text.size() < most_bytes) {
    const ssize_t got = ::read(descriptor, chunk.data(), chunk.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0 && errno == EISDIR)
      throw Stop{ExitCode::no_input, fmt::format("{}: is a directory; a file is needed", name)};
    if (got < 0) throw Stop{ExitCode::io_error, fmt::format("{}: reading failed: {}", name, reason())};
    if (got == 0) break;
    text.append(chunk, 0, static_cast<std::size_t>(got));
  }
  return text;
}

bool write_all(int descriptor, const std::string& text) {
  std::size_t written = 0;
  while (written < text.size()) {
    const ssize_t put = ::write(descriptor, text.data() + written, text.size() - written);
    if (put < 0 && errno == EINTR) continue;
    if (put <= 0) return false;
    written += static_cast<std::size_t>(put);
  }
  return true;
}

[[noreturn]] void cannot_write(const std::string& path, const std::string& why) {
  throw Stop{ExitCode::cannot_write, fmt::format("{}: cannot be written: {}; nothing was changed", path, why)};
}

// The permissions that the user withholds from new files; it can only be read by setting it.
mode_t file_mask() {
  const mode_t mask = ::umask(0);
  (void)::umask(mask);
  return mask;
}

// Puts the new name into the folder's own storage; a file system that cannot do it has done its best.
void flush_folder(const std::string& folder) {
  const Descriptor directory{::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)};
  if (directory.number() >= 0) (void)::fsync(directory.number());
}

}  // namespace

void occupy_standard_streams() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    // Open for reading only: a write to a closed output still fails, as it should.
    if (::fcntl(stream, F_GETFD) == -1 && errno == EBADF) (void)::open("/dev/null", O_RDONLY);
  }
}

std::string read_file(const std::string& path) {
  if (path == "-") return read_all(STDIN_FILENO, "standard input");
  const Descriptor file{::open(path.c_str(), O_RDONLY | O_CLOEXEC)};
  if (file.number() < 0) throw Stop{ExitCode::no_input, fmt::format("{}: cannot be read: {}", path, reason())};
  return read_all(file.number(), path);
}

std::optional<std::string> read_file_beside(const std::string& of, const std::string& name) {
  const std::filesystem::path path = std::filesystem::path{of}.parent_path() / name;
  std::error_code unreadable;
  if (!std::filesystem::is_regular_file(path, unreadable)) return std::nullopt;
  return read_file(path.string());
}

std::vector<std::string> json_files_below(const std::string& folder) {
  namespace fs = std::filesystem;
  std::error_code error;
  std::vector<std::string> files;
  for (auto entry = fs::recursive_directory_iterator{folder, error}; !error && entry != fs::recursive_directory_iterator{};
       entry.increment(error)) {
    if (entry->is_directory() && entry->path().filename() == "schema") entry.disable_recursion_pending();
    if (entry->is_regular_file() && entry->path().extension() == ".json") files.push_back(entry->path().string());
  }
  if (error) throw Stop{ExitCode::no_input, fmt::format("{}: cannot be read: {}", folder, error.message())};
  std::sort(files.begin(), files.end());
  return files;
}

void write_file(const std::string& given, const std::string& text, bool overwrite) {
  // Through a link the file behind it is meant.
  std::error_code unresolved;
  const std::filesystem::path resolved = std::filesystem::canonical(given, unresolved);
  const std::string path = unresolved ? given : resolved.string();
  struct stat existing {};
  const bool exists = ::stat(path.c_str(), &existing) == 0;
  if (exists && !S_ISREG(existing.st_mode)) {
    // A device or pipe cannot be replaced; it is written as it is.
    const Descriptor device{::open(path.c_str(), O_WRONLY | O_CLOEXEC)};
    if (device.number() < 0 || !write_all(device.number(), text)) cannot_write(path, reason());
    return;
  }
  if (exists && !overwrite) cannot_write(path, "it exists already; --force replaces it");

  const std::string folder = std::filesystem::path{path}.parent_path().string();
  std::string temporary = path + ".XXXXXX";
  Descriptor file{::mkostemp(temporary.data(), O_CLOEXEC)};
  if (file.number() < 0) cannot_write(path, reason());
  const mode_t mode = exists ? existing.st_mode & 07777 : 0666 & ~file_mask();
  const bool written = write_all(file.number(), text) && ::fchmod(file.number(), mode) == 0 && ::fsync(file.number()) == 0 &&
                       file.close() && ::rename(temporary.c_str(), path.c_str()) == 0;
  if (!written) {
    const std::string why = reason();
    (void)::unlink(temporary.c_str());
    cannot_write(path, why);
  }
  flush_folder(folder.empty() ? "." : folder);
}

FolderLock::FolderLock(const std::string& path) {
  std::error_code unresolved;
  const std::filesystem::path resolved = std::filesystem::canonical(path, unresolved);
  const std::string folder = (unresolved ? std::filesystem::path{path} : resolved).parent_path().string();
  folder_ = ::open(folder.empty() ? "." : folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  while (folder_ >= 0 && ::flock(folder_, LOCK_EX) != 0 && errno == EINTR) {
  }
}

// The lock goes with the descriptor.
FolderLock::~FolderLock() {
  if (folder_ >= 0) ::close(folder_);
}

void write_message(const std::string& text) { (void)write_all(STDERR_FILENO, text); }

void write_output(const std::string& text) {
  if (write_all(STDOUT_FILENO, text)) return;
  if (errno == EPIPE) return;
  throw Stop{ExitCode::io_error, fmt::format("standard output: writing failed: {}", reason())};
}

}  // namespace heatside::app
