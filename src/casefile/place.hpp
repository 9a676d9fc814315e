#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "base/strict_json.hpp"

/// JSON pointers (RFC 6901) against the document they point into.

namespace heatside::casefile {

/// True when `pointer` names a value of the document, or a member that one of its objects could have.
[[nodiscard]] bool has_place(const Json& document, std::string_view pointer);

/// True when `pointer` names a value of the document.
[[nodiscard]] bool has_value(const Json& document, std::string_view pointer);

/// Where a value stands in the text, as its ordinal on every level: compares as the text reads.
/// A pointer that leads nowhere stands where its last existing part does.
[[nodiscard]] std::vector<std::size_t> order_in_text(const Json& document, std::string_view pointer);

}  // namespace heatside::casefile
