#pragma once

#include <functional>
#include <optional>
#include <string>

namespace heatside::casefile {

/// The text of a file that lies beside the case, or nothing when there is none. Reading a case opens no files itself.
///
/// @param name  a relative path with forward slashes; `read_case` refuses all others before it asks
using ReadBeside = std::function<std::optional<std::string>(const std::string& name)>;

}  // namespace heatside::casefile
