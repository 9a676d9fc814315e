#include <algorithm>

#include "heatside/base/error.hpp"
#include "heatside/inspection/opening_order.hpp"

namespace heatside::inspection {

SharedAccess shared_access(const std::vector<Access>& segments, const library::ModelConstants::Opening& opening) {
  SharedAccess shared;
  std::vector<Minutes> least;  // of each cover's segments
  for (const Access& segment : segments) {
    const Minutes minutes = segment.minutes.value_or(Minutes{opening.minutes_to_open.value});
    if (!(minutes.value() >= 0.0)) throw DomainError("minutes to open are below 0");
    shared.minutes.push_back(minutes);
    auto& cover = shared.cover.emplace_back();
    if (segment.cover_group.empty()) continue;
    const auto found = std::find_if(shared.covers.begin(), shared.covers.end(),
                                    [&](const CoverToRemove& known) { return known.id == segment.cover_group; });
    cover = static_cast<std::size_t>(found - shared.covers.begin());
    if (found == shared.covers.end()) {
      shared.covers.push_back({segment.cover_group, Minutes{0.0}, false});
      least.push_back(minutes);
    }
    least[*cover] = std::min(least[*cover], minutes);
  }
  for (std::size_t i = 0; i < least.size(); ++i) shared.covers[i].minutes = opening.cover_share.value * least[i];
  for (std::size_t i = 0; i < segments.size(); ++i) {
    if (shared.cover[i]) shared.minutes[i] = shared.minutes[i] - shared.covers[*shared.cover[i]].minutes;
  }
  return shared;
}

population::ConditionRow break_chances(const library::ModelConstants::Opening& opening) {
  return {0.0, opening.break_stiff.value, opening.break_flex_cracks.value, opening.break_cracked.value,
          opening.break_crumbling.value};
}

}  // namespace heatside::inspection
