#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

namespace heatside {

/// JSON with the keys of an object in the order of the text.
using Json = nlohmann::ordered_json;

/// What a text may hold at most.
struct JsonLimits {
  std::size_t bytes = std::size_t{64} << 20;  ///< size of the text
  std::size_t depth = 64;                     ///< objects and arrays inside each other
};

/// Reads one JSON document (RFC 8259) and nothing else.
///
/// Refused, each with line and column: anything that is not UTF-8, NUL bytes, a key given twice in an object,
/// bytes after the document, numbers beyond the range of double, and more than `limits`.
///
/// @param text  the document
/// @param file  its name in messages
/// @throws InputError
[[nodiscard]] Json read_strict_json(std::string_view text, const std::string& file, JsonLimits limits = {});

/// `pointer` + `/` + `key`, escaped as RFC 6901 asks.
[[nodiscard]] std::string child_pointer(const std::string& pointer, std::string_view key);
[[nodiscard]] std::string child_pointer(const std::string& pointer, std::size_t index);

}  // namespace heatside
