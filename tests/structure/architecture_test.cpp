#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>
#include <vector>

/// The house rules that a compiler does not enforce. Rules of this project, no outside source.

namespace fs = std::filesystem;

namespace {

// The rooms in the order in which data flows through them. A file includes its own room and rooms before it.
constexpr std::array<const char*, 12> rooms{"base",       "library", "casefile",   "exposure", "ageing", "labfit",
                                            "population", "remedy",  "inspection", "report",   "page",   "app"};

const fs::path source_dir{HEATSIDE_SOURCE_DIR};

// Position of a room; past the end for what is none.
std::size_t level(const std::string& room) {
  return static_cast<std::size_t>(std::find(rooms.begin(), rooms.end(), room) - rooms.begin());
}

bool is_room(const std::string& name) { return level(name) < rooms.size(); }

struct SourceFile {
  fs::path path;
  std::string room;  ///< empty for the front door at the top of a root
  std::string code;  ///< without comments
  bool is_public;
};

std::string text_of(const fs::path& path) {
  std::ifstream in{path, std::ios::binary};
  return {std::istreambuf_iterator<char>{in}, {}};
}

// Comments become blanks; texts in quotes stay, because includes are such texts.
std::string without_comments(const std::string& text) {
  std::string code;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text.compare(i, 2, "//") == 0) {
      i = std::min(text.find('\n', i), text.size());
      code += '\n';
    } else if (text.compare(i, 2, "/*") == 0) {
      i = std::min(text.find("*/", i + 2), text.size() - 2) + 1;
      code += ' ';
    } else if (text[i] == '\'' && i + 2 < text.size() && text[i + 1] != '\\' && text[i + 2] == '\'') {
      code += text.substr(i, 3);  // a character, perhaps a quote
      i += 2;
    } else if (text[i] == '"') {
      const std::size_t from = i++;
      while (i < text.size() && text[i] != '"' && text[i] != '\n') i += text[i] == '\\' ? 2u : 1u;
      code += text.substr(from, i - from + 1);
    } else {
      code += text[i];
    }
  }
  return code;
}

std::vector<SourceFile> source_files() {
  std::vector<SourceFile> files;
  for (const fs::path& root : {source_dir / "include" / "heatside", source_dir / "src"}) {
    for (auto at = fs::recursive_directory_iterator{root}; at != fs::recursive_directory_iterator{}; ++at) {
      const fs::directory_entry& entry = *at;
      if (entry.path().filename() == "node_modules") at.disable_recursion_pending();  // what the page's build fetched
      const fs::path extension = entry.path().extension();
      if (extension != ".hpp" && extension != ".cpp") continue;
      const fs::path place = fs::relative(entry.path(), root);
      const bool at_top = std::distance(place.begin(), place.end()) == 1;
      files.push_back({entry.path(), at_top ? std::string{} : place.begin()->string(),
                       without_comments(text_of(entry.path())), root.filename() == "heatside"});
    }
  }
  return files;
}

std::vector<std::string> matches(const std::string& code, const std::regex& pattern) {
  std::vector<std::string> found;
  for (auto it = std::sregex_iterator{code.begin(), code.end(), pattern}; it != std::sregex_iterator{}; ++it) {
    found.push_back((*it)[1].str());
  }
  return found;
}

std::vector<std::string> system_includes(const std::string& code) {
  static const std::regex pattern{R"rx(#\s*include\s*<([^>]+)>)rx"};
  return matches(code, pattern);
}

std::vector<std::string> own_includes(const std::string& code) {
  static const std::regex pattern{R"rx(#\s*include\s*"([^"]+)")rx"};
  return matches(code, pattern);
}

// The room that an include of the project names: "heatside/room/x.hpp" or "room/x.hpp"; empty for the front door.
std::string room_of(const std::string& include) {
  static const std::string prefix = "heatside/";
  const std::string place = include.starts_with(prefix) ? include.substr(prefix.size()) : include;
  const std::size_t slash = place.find('/');
  return slash == std::string::npos ? std::string{} : place.substr(0, slash);
}

}  // namespace

TEST_CASE("architecture: the source tree has only the rooms of the house", "[architecture]") {
  for (const fs::path& root : {source_dir / "include" / "heatside", source_dir / "src"}) {
    for (const auto& entry : fs::directory_iterator{root}) {
      const std::string name = entry.path().filename().string();
      CAPTURE(entry.path().string());
      if (entry.is_directory()) {
        if (fs::is_empty(entry.path())) continue;  // not in the repository
        // src/package holds what is installed beside the library, src/scripts what builds and tests it; neither holds code.
        CHECK((is_room(name) || (root.filename() == "src" && (name == "package" || name == "scripts"))));
      } else {
        CHECK((name == "estimate.hpp" || name == "estimate.cpp" || name == "CMakeLists.txt"));
      }
    }
  }
  for (const SourceFile& file : source_files()) {
    CAPTURE(file.path.string());
    CHECK((file.room.empty() || is_room(file.room)));
  }
}

TEST_CASE("architecture: includes point to the own room or to rooms before it", "[architecture]") {
  const auto files = source_files();
  REQUIRE(files.size() > 50);
  for (const SourceFile& file : files) {
    for (const std::string& include : own_includes(file.code)) {
      CAPTURE(file.path.string(), include);
      const std::string room = room_of(include);
      if (room.empty()) {
        // Only the program and the front door itself use the front door.
        CHECK((include == "heatside/estimate.hpp" && (file.room.empty() || file.room == "app")));
        continue;
      }
      REQUIRE(is_room(room));
      if (file.room.empty()) {
        CHECK(room != "app");
      } else {
        CHECK(level(room) <= level(file.room));
      }
    }
  }
}

TEST_CASE("architecture: test results are read without cases and exposures", "[architecture]") {
  for (const SourceFile& file : source_files()) {
    if (file.room != "labfit") continue;
    for (const std::string& include : own_includes(file.code)) {
      CAPTURE(file.path.string(), include);
      const std::string room = room_of(include);
      CHECK((room == "base" || room == "library" || room == "ageing" || room == "labfit"));
    }
  }
  SUCCEED("a house without this room keeps the rule");
}

TEST_CASE("architecture: public headers include public headers only", "[architecture]") {
  for (const SourceFile& file : source_files()) {
    if (!file.is_public) continue;
    for (const std::string& include : own_includes(file.code)) {
      CAPTURE(file.path.string(), include);
      CHECK(include.starts_with("heatside/"));
      CHECK(fs::exists(source_dir / "include" / include));
    }
    // A user of the library needs the standard library alone.
    for (const std::string& include : system_includes(file.code)) {
      CAPTURE(file.path.string(), include);
      CHECK(include.find_first_of("/.") == std::string::npos);
    }
  }
}

TEST_CASE("architecture: only the program touches files, streams, threads and clocks", "[architecture]") {
  static const std::set<std::string> outside{"fstream", "iostream", "filesystem", "unistd.h", "thread",
                                             "fcntl.h", "cstdio",   "stdio.h",    "future",   "mutex",
                                             "csignal", "ctime",    "sys/stat.h"};
  static const std::regex clock{R"rx(\b(system_clock|steady_clock|high_resolution_clock|getenv|fopen|std::time)\b)rx"};
  for (const SourceFile& file : source_files()) {
    if (file.room == "app") continue;
    CAPTURE(file.path.string());
    for (const std::string& include : system_includes(file.code)) {
      CAPTURE(include);
      CHECK(outside.count(include) == 0);
    }
    CHECK(matches(file.code, clock).empty());
  }
}

TEST_CASE("architecture: below the program nothing that the page's compiler lacks", "[architecture]") {
  // libc++ 13, as shipped with Emscripten 3.1.6, has no or only part of these.
  static const std::set<std::string> lacking{"format", "ranges", "source_location", "charconv"};
  static const std::regex used{R"rx(\b(std::ranges|std::views|std::format|std::to_chars|std::from_chars)\b)rx"};
  for (const SourceFile& file : source_files()) {
    if (file.room == "app") continue;
    CAPTURE(file.path.string());
    for (const std::string& include : system_includes(file.code)) {
      CAPTURE(include);
      CHECK(lacking.count(include) == 0);
    }
    CHECK(matches(file.code, used).empty());
  }
}

TEST_CASE("architecture: values instead of hierarchies", "[architecture]") {
  static const std::regex keyword{R"rx(\b(virtual)\b)rx"};
  for (const SourceFile& file : source_files()) {
    CAPTURE(file.path.string());
    CHECK(matches(file.code, keyword).empty());
  }
}

TEST_CASE("architecture: every header is guarded and every file ends its namespace in the project's", "[architecture]") {
  for (const SourceFile& file : source_files()) {
    CAPTURE(file.path.string());
    if (file.path.extension() == ".hpp") CHECK(file.code.find("#pragma once") != std::string::npos);
    CHECK(file.code.find("using namespace std") == std::string::npos);
    const bool is_main = file.path.filename() == "main.cpp";
    const bool is_front_door = file.room.empty();
    if (!is_main && !is_front_door) CHECK(file.code.find("namespace heatside") != std::string::npos);
  }
}

TEST_CASE("architecture: the top of the repository holds what belongs there", "[architecture]") {
  static const std::set<std::string> allowed{"CMakeLists.txt", "README.md", "DEVELOPERS.md",    "src",
                                             "include",        "tests",     "materials",        "notebooks-data",
                                             "examples",       "LICENSE",   "CMakePresets.json"};
  static const std::set<std::string> needed{"CMakeLists.txt", "README.md", "src",    "include",
                                            "tests",          "materials", "LICENSE"};
  for (const auto& entry : fs::directory_iterator{source_dir}) {
    const std::string name = entry.path().filename().string();
    CAPTURE(name);
    CHECK((name.starts_with(".") || name == "build" || allowed.count(name) == 1));
  }
  for (const std::string& name : needed) {
    CAPTURE(name);
    CHECK(fs::exists(source_dir / name));
  }
}

TEST_CASE("architecture: comments are told from code", "[architecture]") {
  // The checks above rest on this.
  CHECK(without_comments("a // virtual\nb") == "a \nb");
  CHECK(without_comments("a /* virtual */ b") == "a   b");
  CHECK(without_comments("\"// no comment\" c") == "\"// no comment\" c");
  CHECK(without_comments("\"a\\\"//b\" // c\n") == "\"a\\\"//b\" \n");
  CHECK(without_comments("c == '\"' // virtual\n\"") == "c == '\"' \n\"");
  CHECK(room_of("heatside/base/units.hpp") == "base");
  CHECK(room_of("casefile/reading.hpp") == "casefile");
  CHECK(room_of("heatside/estimate.hpp").empty());
  CHECK(own_includes("#include \"base/text.hpp\"\n#  include <vector>\n") == std::vector<std::string>{"base/text.hpp"});
  CHECK(system_includes("#include \"base/text.hpp\"\n#  include <vector>\n") == std::vector<std::string>{"vector"});
}
