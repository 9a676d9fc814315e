#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "heatside/casefile/read.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/report/estimate_report.hpp"

/// Cases as JSON text, read the way that a user's file is read. All of them are invented.

namespace heatside::population::testing {

using Json = nlohmann::json;

inline const library::Library& records() {
  static const library::Library library = library::built_in_library();
  return library;
}

/// A segment that lies in one zone, named after it, between two nodes of its own: no copper joins it to another zone.
inline Json segment_in(const std::string& zone, const std::string& lot = "signal", const std::string& loom = "top") {
  return {{"id", zone},
          {"loom", loom},
          {"from", zone + "-here"},
          {"to", zone + "-there"},
          {"length_m", 0.5},
          {"route_radius_mm", 30},
          {"stretches", {{{"id", "a"}, {"zone", zone}, {"covering", "none"}, {"damp", false}}}},
          {"groups", {{{"lot", lot}, {"count", 4}}}},
          {"leaks", Json::array()},
          {"airbag", false}};
}

inline Json lot_of(const std::string& insulation, const std::string& id = "signal", const std::string& loom = "top") {
  return {{"id", id}, {"loom", loom}, {"insulation", insulation}, {"size", "0.5 mm2"}, {"wall", "thin"}};
}

/// A loom of thin 0.5 mm2 wires on bare copper, no covering, that lives in a garage; in service from its making on.
struct Scene {
  std::string insulation = "short-lived-1990s";
  std::string climate = "mediterranean";
  std::string duty = "family";
  std::string in_service = "1994-01-01";
  std::string inspected = "2014-01-01";
  std::vector<std::string> zones{"head-cover", "upper-bulkhead", "cabin-bulkhead"};
};

inline Json case_of(const Scene& scene) {
  Json segments = Json::array();
  for (const std::string& zone : scene.zones) segments.push_back(segment_in(zone));
  Json nodes = Json::array();
  for (const auto& [zone, record] : records().zones) {
    nodes.push_back({{"id", zone + "-here"}});
    nodes.push_back({{"id", zone + "-there"}});
  }
  return {{"format", "heatside-case"},
          {"version", 1},
          {"title", "Invented case of a test"},
          {"invented", true},
          {"vehicle", {{"built", scene.in_service}, {"entered_service", scene.in_service}, {"region", "europe"}}},
          {"inspected", scene.inspected},
          {"service",
           {{{"from", scene.in_service},
             {"to", scene.inspected},
             {"climate", scene.climate},
             {"duty", scene.duty},
             {"parking", "garage"}}}},
          {"future", {{"climate", scene.climate}, {"duty", scene.duty}, {"parking", "garage"}}},
          {"looms", {{{"id", "top"}, {"made", scene.in_service}, {"copper", "bare"}, {"region", "europe"}}}},
          {"lots", {lot_of(scene.insulation)}},
          {"nodes", nodes},
          {"segments", segments}};
}

inline casefile::Case read(const Json& document, const library::Library& library = records()) {
  return casefile::read_case(document.dump(), "invented.case.json", library);
}

inline Estimate estimate_of(const Json& document, LikelyOptions options = {}, const library::Library& library = records()) {
  return likely_estimate(read(document, library), library, options);
}

inline std::string json_of(const Json& document, const library::Library& library = records()) {
  const casefile::Case job = read(document, library);
  const Estimate estimate = likely_estimate(job, library, {.histogram = true});
  return report::estimate_json(estimate, job, library, {"test", "", "invented.case.json", 0}, true);
}

inline const SegmentEstimate& segment(const Estimate& estimate, const std::string& id) {
  for (const SegmentEstimate& one : estimate.segments) {
    if (one.id == id) return one;
  }
  throw std::runtime_error("no segment " + id);
}

}  // namespace heatside::population::testing
