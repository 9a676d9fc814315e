#include "base/strict_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <vector>

#include "heatside/base/error.hpp"

namespace heatside {

namespace {

struct Place {
  std::size_t line;
  std::size_t column;
};

Place place_of(std::string_view text, std::size_t byte) {
  const std::string_view before = text.substr(0, std::min(byte, text.size()));
  const auto line = static_cast<std::size_t>(std::count(before.begin(), before.end(), '\n')) + 1;
  const std::size_t newline = before.rfind('\n');
  return {line, before.size() - (newline == std::string_view::npos ? 0 : newline + 1) + 1};
}

[[noreturn]] void refuse(const std::string& file, const std::string& message, const std::string& pointer = "") {
  throw InputError({{file, pointer, message}});
}

// Builds the document while it watches depth and repeated keys, which the parser itself lets through.
// The parser names its interface, so the names below are not ours to choose.
class DocumentBuilder {
 public:
  using number_integer_t = Json::number_integer_t;
  using number_unsigned_t = Json::number_unsigned_t;
  using number_float_t = Json::number_float_t;
  using string_t = Json::string_t;
  using binary_t = Json::binary_t;

  DocumentBuilder(std::string_view text, const std::string& file, JsonLimits limits)
      : text_{text}, file_{file}, limits_{limits} {}

  bool null() { return add(nullptr); }
  bool boolean(bool value) { return add(value); }
  bool number_integer(number_integer_t value) { return add(value); }
  bool number_unsigned(number_unsigned_t value) { return add(value); }
  bool number_float(number_float_t value, const string_t&) { return add(value); }
  bool string(string_t& value) { return add(std::move(value)); }
  bool binary(binary_t&) { return false; }

  bool start_object(std::size_t) { return open(Json::object()); }
  bool end_object() { return close(); }
  bool start_array(std::size_t) { return open(Json::array()); }
  bool end_array() { return close(); }

  bool key(string_t& name) {
    Level& level = open_.back();
    if (!level.keys.insert(name).second) {
      refuse(file_, fmt::format("key \"{}\" is given twice in the same object; keep one", name), pointer());
    }
    level.key = std::move(name);
    return true;
  }

  bool parse_error(std::size_t byte, const std::string&, const nlohmann::detail::exception& error) {
    const Place place = place_of(text_, byte == 0 ? 0 : byte - 1);
    const bool out_of_range = error.id == 406;
    refuse(file_, fmt::format("line {}, column {}: {}", place.line, place.column,
                              out_of_range ? "number outside the range of double (about +-1.8e308)"
                                           : "not valid JSON (RFC 8259, UTF-8) from here on"));
  }

  Json take() { return std::move(document_); }

 private:
  struct Level {
    Json value;
    std::set<std::string> keys;
    std::string key;
  };

  bool add(Json value) {
    if (open_.empty()) {
      document_ = std::move(value);
    } else if (open_.back().value.is_array()) {
      open_.back().value.push_back(std::move(value));
    } else {
      // A key is new here, so it can be appended without looking for it.
      open_.back().value.get_ref<Json::object_t&>().push_back({std::move(open_.back().key), std::move(value)});
    }
    return true;
  }

  bool open(Json value) {
    if (open_.size() >= limits_.depth) {
      refuse(file_, fmt::format("nested deeper than {} levels", limits_.depth), pointer());
    }
    open_.push_back({std::move(value), {}, {}});
    return true;
  }

  bool close() {
    Json value = std::move(open_.back().value);
    open_.pop_back();
    return add(std::move(value));
  }

  std::string pointer() const {
    std::string text;
    for (std::size_t i = 0; i + 1 < open_.size(); ++i) {
      const Level& level = open_[i];
      text = level.value.is_array() ? child_pointer(text, level.value.size()) : child_pointer(text, level.key);
    }
    return text;
  }

  std::string_view text_;
  const std::string& file_;
  JsonLimits limits_;
  std::vector<Level> open_;
  Json document_;
};

}  // namespace

Json read_strict_json(std::string_view text, const std::string& file, JsonLimits limits) {
  if (text.size() > limits.bytes) {
    refuse(file, fmt::format("{} bytes are too many; at most {} are read", text.size(), limits.bytes));
  }
  // The parser takes a NUL for the end of the text and would not look behind it.
  if (const std::size_t nul = text.find('\0'); nul != std::string_view::npos) {
    const Place place = place_of(text, nul);
    refuse(file, fmt::format("line {}, column {}: NUL byte; only UTF-8 text is read", place.line, place.column));
  }
  DocumentBuilder builder{text, file, limits};
  Json::sax_parse(text.begin(), text.end(), &builder);
  return builder.take();
}

std::string child_pointer(const std::string& pointer, std::string_view key) {
  std::string text = pointer + '/';
  for (const char c : key) {
    if (c == '~') {
      text += "~0";
    } else if (c == '/') {
      text += "~1";
    } else {
      text += c;
    }
  }
  return text;
}

std::string child_pointer(const std::string& pointer, std::size_t index) { return pointer + '/' + std::to_string(index); }

}  // namespace heatside
