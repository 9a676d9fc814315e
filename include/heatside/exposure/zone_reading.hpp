#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/exposure/zone_at_score.hpp"
#include "heatside/exposure/zone_trace.hpp"
#include "heatside/library/library.hpp"

/// What a measured temperature says about its zone: at which instant of a drive, and how sure.
///
/// The model's counterpart is the zone's trace at a constant ambient: running warm or so many minutes after a cold start;
/// so many minutes after key-off from a warm city drive; for an indicator the highest of a warm city drive and the soak
/// behind it. A logger's file gives two means, over its rows while driving (once warm) and over those of the soak, and the
/// model is averaged over the same instants: a thousand rows of one drive are not a thousand readings.
///
/// Two kinds of error, both as standard deviations at the likely zone:
///
///     own:   instrument, what is called city or hill, the stated minutes times the slope there, the open bonnet and the
///            shiny surface (their means are taken off the rise, their spread is added), hotter days of an indicator
///     zone:  one day at one place stands for the zone in service: 15 % of the rise plus 2 K, one error for all readings
///            of the zone, so that ten readings of one afternoon do not make it sure
///
/// Left out, and said: a stretch beside a stated hot body, whose reading tells of that body's radiation, which the model
/// adds to the air by itself; parked for an unknown time. Read while wires of the segment carry a current of their own:
/// both errors count double, and that is said too; after key-off there is no current.
///
/// @par Source     judgement; the constants and their grades stand in `materials/model.json` under `measurement`
/// @par Tested by  tests/exposure/zone_scores_test.cpp

namespace heatside::exposure {

/// One reading with its instant.
struct ZoneReading {
  std::size_t measured{};  ///< index in `Case::measured`
  std::string zone;        ///< id of a zone record
  std::string instant;     ///< in words: "20 min after key-off"
  Kelvin temperature{ice_point_kelvin};
  Kelvin ambient{ice_point_kelvin};
  library::RunningState driving{};  ///< in or before that instant
  TraceState state;                 ///< the zone's responses then, mean over the rows of a logger
  double seen_share = 1.0;          ///< of the rise: an open bonnet and a shiny surface take the rest
  KelvinRise own_sd{0.0};           ///< no other reading has this error
  KelvinRise zone_sd{0.0};          ///< all readings of the zone have this error in common
};

struct ZoneReadings {
  std::vector<ZoneReading> readings;              ///< in the order of the case
  std::vector<casefile::Assumption> assumptions;  ///< what was left out or counts less
};

[[nodiscard]] ZoneReadings zone_readings(const casefile::Case& job, const library::Library& library);

/// The numbers of a zone record that a reading is predicted from.
struct ZoneLaw {
  const library::Zone* record{};
  SoakAmplitudes soak_at_likely;
  TraceConstants constants;
};

[[nodiscard]] ZoneLaw zone_law(const library::Zone& zone, const library::ModelConstants& model);

/// What would be read if the zone had the score z. Linear in z on either side of 0 up to the cuts.
[[nodiscard]] Kelvin predicted_reading(const ZoneReading& reading, const ZoneLaw& law, double z);

}  // namespace heatside::exposure
