#pragma once

#include "heatside/casefile/case.hpp"
#include "heatside/exposure/wire_year.hpp"
#include "heatside/library/library.hpp"

namespace heatside::population {

/// The zone whose air a stretch takes: beside a stated hot body it is the air zone without that radiation, so that nothing
/// counts twice.
[[nodiscard]] const std::string& zone_of_air(const casefile::Stretch& stretch, const library::Library& library);

/// A wire group in a stretch as the heat balance sees it: the whole bundle of the segment, the covering, what stands beside.
/// @throws DomainError  hot bodies that fill more than all the wire sees, or a pipe that the bundle would lie in: names the
///                      stretch
[[nodiscard]] exposure::PlacedWire placed_wire(const casefile::Segment& segment, const casefile::Stretch& stretch,
                                               const casefile::WireGroup& group, const library::Insulation& insulation,
                                               const library::Library& library);

}  // namespace heatside::population
