#include <fmt/format.h>

#include <algorithm>

#include "base/strict_json.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/trip_report.hpp"
#include "report/json_parts.hpp"

/// One trip for programs and plots: CSV and JSON.

namespace heatside::report {

namespace {

using exposure::TripRow;

std::string_view phase_name(const TripRow& row) { return exposure::trip_phase_names[static_cast<std::size_t>(row.phase)]; }

Json hot_body_json(const TripRow& row) { return row.hot_body ? Json(in_celsius(*row.hot_body)) : Json(nullptr); }

Json row_json(const TripRow& row) {
  return {{"time_min", row.since_key_on.value()},
          {"phase", phase_name(row)},
          {"air_Cel", in_celsius(row.air)},
          {"conductor_Cel", in_celsius(row.conductor)},
          {"insulation_Cel", in_celsius(row.insulation)},
          {"surface_Cel", in_celsius(row.surface)},
          {"hot_body_Cel", hot_body_json(row)}};
}

// The first of the hottest moments; null without rows.
Json hottest_json(const std::vector<TripRow>& rows) {
  const auto cooler = [](const TripRow& a, const TripRow& b) { return a.insulation < b.insulation; };
  const auto hottest = std::max_element(rows.begin(), rows.end(), cooler);
  if (hottest == rows.end()) return nullptr;
  return {{"insulation_Cel", in_celsius(hottest->insulation)},
          {"time_min", hottest->since_key_on.value()},
          {"phase", phase_name(*hottest)}};
}

Json trip_in_json(const exposure::Trip& trip) {
  return {{"state", library::running_state_names[static_cast<std::size_t>(trip.state)]},
          {"length_min", trip.length.value()},
          {"start", trip.start == exposure::TripStart::cold ? "cold" : "week"},
          {"key_on_min_of_week", trip.key_on.value()},
          {"loaded", trip.loaded}};
}

}  // namespace

std::string trip_csv(const std::vector<TripRow>& rows) {
  std::string text = "time_min,phase,air_Cel,conductor_Cel,insulation_Cel,surface_Cel,hot_body_Cel\r\n";
  for (const TripRow& row : rows) {
    text += fmt::format("{},{},{},{},{},{},{}\r\n", row.since_key_on.value(), phase_name(row), in_celsius(row.air),
                        in_celsius(row.conductor), in_celsius(row.insulation), in_celsius(row.surface),
                        row.hot_body ? fmt::format("{}", in_celsius(*row.hot_body)) : "");
  }
  return text;
}

std::string trip_json(const TripAnswer& answer, const std::vector<casefile::Assumption>& assumptions,
                      const BirthCertificate& certificate) {
  Json rows = Json::array();
  for (const TripRow& row : answer.rows) rows.push_back(row_json(row));
  Json document = made_head("heatside-trip", certificate);
  document.update({{"conduction", false},
                   {"draws", 1},
                   {"seed", certificate.seed},
                   {"likely_only", true},
                   {"segment", answer.segment},
                   {"stretch", answer.stretch},
                   {"zone", answer.zone},
                   {"lot", answer.lot},
                   {"trip", trip_in_json(answer.trip)},
                   {"time_constant_min", answer.time_constant.value()},
                   {"hottest", hottest_json(answer.rows)},
                   {"rows", rows},
                   {"assumptions", assumptions_json(assumptions)},
                   {"cautions", cautions()}});
  return document_text(document);
}

}  // namespace heatside::report
