#pragma once

#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/population/segment_trip.hpp"
#include "heatside/report/estimate_report.hpp"

namespace heatside::report {

using TripAnswer = population::SegmentTrip;

/// One row a time, RFC 4180, doubles that read back to the same value. Columns `time_min` (since key-on), `phase`,
/// `air_Cel`, `conductor_Cel`, `insulation_Cel`, `surface_Cel`, `hot_body_Cel` (empty where there is none).
/// @par Tested by  tests/report/trip_report_test.cpp
[[nodiscard]] std::string trip_csv(const std::vector<exposure::TripRow>& rows);

/// Format "heatside-trip" version 1: the place, the trip, the hottest moment of the insulation, and `rows` with the
/// columns of `trip_csv` (`hot_body_Cel` null where there is none). The numbers of the records are the likely ones.
[[nodiscard]] std::string trip_json(const TripAnswer& answer, const std::vector<casefile::Assumption>& assumptions,
                                    const BirthCertificate& certificate);

}  // namespace heatside::report
