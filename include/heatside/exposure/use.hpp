#pragma once

#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/exposure/wire_year.hpp"
#include "heatside/library/library.hpp"

/// From the dates of a case to spans of one kind of use, and from kinds of use to years at a place.

namespace heatside::exposure {

/// A time with one way of use.
struct UseSpan {
  std::chrono::sys_days from{}, to{};
  std::string climate;
  library::Duty duty;  ///< without trips when laid up
  double usage = 0.0;  ///< weeks driven as the duty says; 0 is laid up
  bool sun = false;    ///< parked in the open
};

/// What a loom went through from its making to the inspection, in order of time and without gaps: on the shelf and
/// between service periods it is laid up in the climate of the nearest period (the later one before service).
[[nodiscard]] std::vector<UseSpan> past_use(const casefile::Case& job, const casefile::Loom& loom,
                                            const library::Library& library);

/// What is to come; `from` is the inspection and `to` has no meaning.
[[nodiscard]] UseSpan future_use(const casefile::Case& job, const library::Library& library);

/// What a year at a place depends on.
struct PlaceOfUse {
  std::string zone, climate;
  std::string schedule;  ///< every number of the duty, as text; empty when laid up
  bool sun = false;
  std::string wire;  ///< name of a wire that differs from the air; empty when none does
  friend bool operator<(const PlaceOfUse& a, const PlaceOfUse& b) {
    return std::tie(a.zone, a.climate, a.schedule, a.sun, a.wire) < std::tie(b.zone, b.climate, b.schedule, b.sun, b.wire);
  }
};

/// A wire that differs from the air, under a name that no other wire of the case has.
struct WireOfUse {
  std::string name;
  PlacedWire wire;
};

/// @param wire  null where the insulation has the temperature of the air; a laid-up wire always has
[[nodiscard]] PlaceOfUse place_of_use(const std::string& zone, const UseSpan& span, bool driven, const WireOfUse* wire);

/// The years that were computed so far: an exposure is worked out once, whoever asks for it.
using YearsByPlace = std::map<PlaceOfUse, TemperatureMeasure>;

/// The year of a wire in a zone and a kind of use at the records' likely numbers; driven as the duty says, or laid up.
/// Adds it to `years` when it is not there yet. The reference holds as long as `years` does.
/// @throws DomainError  the wire's current has no steady state
[[nodiscard]] const TemperatureMeasure& likely_year(YearsByPlace& years, const library::Library& library,
                                                    const std::string& zone, const UseSpan& span, bool driven,
                                                    const WireOfUse* wire);

}  // namespace heatside::exposure
