#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace heatside {

/// The word of `known` that takes the fewest edits to become `word` (insert, delete, replace, swap of neighbours);
/// empty when none is near enough to be meant. Ties go to the first in `known`.
[[nodiscard]] std::string nearest_word(std::string_view word, const std::vector<std::string>& known);

/// `a, b, c`
[[nodiscard]] std::string join(const std::vector<std::string>& words, std::string_view separator = ", ");

/// A number as people write it: at most `digits` significant digits, no trailing zeros, always a decimal point.
[[nodiscard]] std::string plain_number(double value, int digits = 6);

}  // namespace heatside
