#pragma once

#include <vector>

#include "heatside/population/ageing_curves.hpp"
#include "population/place.hpp"

namespace heatside::population {

/// Where the ageing of a place over some spans came from, by bands of 10 K, coldest first; shares are of all of them.
[[nodiscard]] std::vector<HeatBand> bands_over(LikelyPlaces& places, const Place& at, const std::vector<AgedSpan>& spans);

}  // namespace heatside::population
