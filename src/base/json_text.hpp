#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/strict_json.hpp"

/// Changes single places of a JSON text and leaves every other byte as it is.
///
/// Every text must be one that `read_strict_json` accepts; pointers are those of RFC 6901. What is added is laid out as its
/// neighbours are. Taking away what was added last at a place gives the text that was there before.

namespace heatside {

/// The bytes of a value, or nothing where the pointer leads nowhere.
[[nodiscard]] std::optional<std::string_view> value_text(std::string_view text, std::string_view pointer);

/// The text with one more element at the end of an array.
/// @pre  there is an array at `pointer`
[[nodiscard]] std::string with_element(const std::string& text, std::string_view pointer, const Json& value);

/// The text with one more member at the end of an object, which has none of that key. An array of one element is laid out as
/// the first of many.
/// @pre  there is an object at `pointer`
[[nodiscard]] std::string with_member(const std::string& text, std::string_view pointer, std::string_view key,
                                      const Json& value);

/// The text with another value in place of one.
/// @pre  there is a value at `pointer`
[[nodiscard]] std::string with_value(const std::string& text, std::string_view pointer, const Json& value);

/// The text without an element or member.
/// @pre  there is a value at `pointer`, and it is not the document
[[nodiscard]] std::string without(const std::string& text, std::string_view pointer);

}  // namespace heatside
