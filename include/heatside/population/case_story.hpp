#pragma once

#include <optional>
#include <string>

#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/explanation.hpp"

/// What a case shows about heat: its two ends held against each other, in the likely case.

namespace heatside::population {

/// One end of a loom.
struct LoomEnd {
  Explanation explained;     ///< of the segment that stands for this end
  ChangeEffect ten_hotter;   ///< 10 K more while it runs and in the soak after, from now on
  ChangeEffect ten_cooler;   ///< 10 K less
  KelvinRise halving{0.0};   ///< rise that halves life at the equivalent temperature; dry paths of its compound
  JoulePerMole energy{0.0};  ///< activation energy that they show together there
};

/// What somebody would expect of the cool end who knows the compound of the heat side from its ovens alone.
struct OvenSight {
  bool bends = false;                                           ///< the compound has more than one dry path
  Kelvin coolest{ice_point_kelvin}, hottest{ice_point_kelvin};  ///< of the ovens
  JoulePerMole line_energy{0.0};                                ///< of the straight line through them
  Years by_law{0.0}, by_line{0.0};  ///< until a new wire of that compound cracks when handled at the cool end
};

/// One trip up a hill with a load, held against one in the city of the same length, each with six hours after it.
struct HillTrip {
  Minutes length{0.0};
  Kelvin ambient{ice_point_kelvin};  ///< afternoon of the warmest month of the use to come
  Kelvin city_hottest{ice_point_kelvin}, hill_hottest{ice_point_kelvin};  ///< of the insulation
  Hours city{0.0}, hill{0.0};                                             ///< of ordinary use that ages it as much
};

struct CaseStory {
  LoomEnd heat;                   ///< first to crack when handled
  std::optional<LoomEnd> cool;    ///< last to; absent where the case has one segment
  double pace = 1.0;              ///< how many times as fast the compound of the heat side has aged there as at the cool end
  std::optional<OvenSight> oven;  ///< where there is a cool end
  HillTrip hill;                  ///< at the heat side, wires by themselves: no heat along the copper
};

/// @throws DomainError, NumericsError  see `likely_estimate`
/// @par Tested by  tests/population/case_story_test.cpp
[[nodiscard]] CaseStory case_story(const casefile::Case& job, const library::Library& library);

}  // namespace heatside::population
