#pragma once

#include <string>
#include <vector>

namespace heatside::report {

/// What must be read before anybody acts on a result, worst harm first, one sentence or two each.
/// Shown before the first list, in every report and in the `cautions` of every JSON output.
[[nodiscard]] const std::vector<std::string>& cautions();

}  // namespace heatside::report
