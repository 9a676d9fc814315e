#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace heatside::report {

/// Columns that a text for people may take.
inline constexpr std::size_t page_width = 100;

/// `text` in lines of at most `width` columns; the first begins with `first`, the others with as many blanks.
[[nodiscard]] std::string wrapped(std::string_view text, std::string_view first, std::size_t width = page_width);

/// Columns that UTF-8 text takes, one a code point.
[[nodiscard]] std::size_t columns(std::string_view text);

/// `text` cut or filled to exactly `width` columns; a cut ends in a dot.
[[nodiscard]] std::string fitted(std::string_view text, std::size_t width);

/// Rows under a heading line; every column as wide as its widest cell, two blanks between.
[[nodiscard]] std::string table(const std::vector<std::string>& heading, const std::vector<std::vector<std::string>>& rows);

}  // namespace heatside::report
