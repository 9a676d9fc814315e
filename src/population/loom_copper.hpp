#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/exposure/conduction.hpp"
#include "heatside/exposure/likely_years.hpp"
#include "heatside/exposure/local_heat.hpp"
#include "heatside/library/library.hpp"

namespace heatside::population {

/// The copper of a whole case as one network: every stretch is one body of all its wires' copper, segments meet at nodes,
/// terminals hold their temperature.
struct LoomCopper {
  std::vector<exposure::FinCell> cells;              ///< segment by segment in the order of their ids; empty without copper
                                                     ///< that could matter: one zone, nothing hot
  std::vector<std::vector<std::size_t>> first_cell;  ///< by segment and stretch; one past the last at the end of each
  std::vector<exposure::LocalHeat> sources;          ///< own temperature of each stretch, then of each terminal; weight 1
  std::vector<std::vector<std::size_t>> source;      ///< by segment and stretch
};

/// What a wire group of a stretch would have without conduction: the air of its zone, or what current and hot parts make.
[[nodiscard]] exposure::LocalHeat own_heat(const casefile::Case& job, const casefile::Segment& segment,
                                           const casefile::Stretch& stretch, const casefile::WireGroup& group,
                                           const library::Library& library);

[[nodiscard]] LoomCopper loom_copper(const casefile::Case& job, const library::Library& library);

/// Says which segments have so much copper that it follows its zone slowly: conduction and current are taken as steady, so
/// that a short peak after key-off counts for more than it is.
[[nodiscard]] std::vector<casefile::Assumption> slow_cables(const casefile::Case& job, const library::Library& library);

/// How hot the sources of the copper are over a year, to rank mixtures of them.
struct SourceHeat {
  std::vector<double> levels;       ///< [K], constant temperature that ages as much, of each source
  exposure::SourceSamples samples;  ///< empty where all sources are air: then levels mix well enough
};

/// A spot of a stretch: where it is and what its copper mixes.
struct CopperSpot {
  Metres from_start{0.0};  ///< from the segment's `from` node
  std::vector<exposure::LocalHeat> parts;
};

/// The hottest spot of a stretch, for the wires whose own temperature is `own`.
///
/// T = own + sum over sources of w (T_source - T_stretch): conduction moves all wires of a bundle alike.
///
/// Mixtures of air are ranked by their sources' levels. A hot part or a current peaks at another time than a zone in soak,
/// so that what is mixed ages less than the mixture of levels says: there, every spot's year is sampled.
///
/// @return        nothing where conduction moves no spot of the stretch by a hundredth of a kelvin
[[nodiscard]] std::optional<CopperSpot> hottest_spot(const LoomCopper& copper, const casefile::Case& job,
                                                     std::size_t segment, std::size_t stretch,
                                                     const exposure::LocalHeat& own, const SourceHeat& heat);

}  // namespace heatside::population
