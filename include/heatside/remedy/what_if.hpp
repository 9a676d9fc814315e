#pragma once

#include <optional>
#include <string>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"

/// Changes of route, covering, climate and use from the inspection on, tried out without touching the case.

namespace heatside::remedy {

/// A segment, or one stretch of it.
struct Spot {
  std::string segment;  ///< id
  std::string stretch;  ///< id; empty: all of the segment
};

/// Another covering on a spot.
struct CoverChange {
  Spot at;
  std::string covering;  ///< id of a covering record
};

/// A spot laid into another zone, away from the hot bodies beside it; its length stays.
struct RouteChange {
  Spot at;
  std::string zone;  ///< id of a zone record
};

/// A spot and the id that it is to have.
struct PlacedId {
  Spot at;
  std::string id;
};

/// The covering of a sleeve that names none.
inline constexpr const char* usual_sleeve = "shield-alu";

/// "SEGMENT=ID" or "SEGMENT/STRETCH=ID".
/// @param usual  the id where "=ID" is left out; null where it must be there
/// @return       nothing where the words are of no such form
[[nodiscard]] std::optional<PlacedId> placed_id(const std::string& words, const char* usual);

struct WhatIf {
  std::vector<CoverChange> sleeves;
  std::vector<RouteChange> reroutes;
  KelvinRise ambient{0.0};  ///< on every month of the future climate, -30 to 30
  std::string duty;         ///< id of the future duty, driven as its record says; empty: as in the case

  [[nodiscard]] bool any() const { return !sleeves.empty() || !reroutes.empty() || ambient.value() != 0.0 || !duty.empty(); }
};

/// What is wrong with the changes, all at once, in plain words with the nearest known one: unknown segments, stretches,
/// zones, coverings, duty, a spot that is changed twice, an ambient out of range. Empty where nothing is.
[[nodiscard]] std::vector<std::string> problems_of(const WhatIf& what_if, const casefile::Case& job,
                                                   const library::Library& library);

/// A case and the library that it is read with.
struct Setting {
  casefile::Case job;
  library::Library library;
};

/// The case after the changes; a shifted climate is one more record of its library and serves the future alone. Relative
/// humidity, daily ranges and day-to-day deviations stay as they are.
/// @param what_if  without problems
/// @par Tested by  tests/remedy/compare_what_if_test.cpp
[[nodiscard]] Setting changed_setting(const casefile::Case& job, const library::Library& library, const WhatIf& what_if);

/// The changes in plain words, one each: "zone of to-coil-1 becomes upper-bay".
[[nodiscard]] std::vector<std::string> changes_in_words(const WhatIf& what_if);

/// What the changes assume, and what they cannot show.
[[nodiscard]] std::vector<casefile::Assumption> assumptions_of(const WhatIf& what_if, const casefile::Case& job,
                                                               const library::Library& library);

}  // namespace heatside::remedy
