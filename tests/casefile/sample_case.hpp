#pragma once

#include <functional>
#include <string>
#include <vector>

#include "base/strict_json.hpp"
#include "heatside/base/error.hpp"
#include "heatside/casefile/read.hpp"
#include "heatside/library/library.hpp"

namespace heatside::casefile {

/// The built-in records, read once.
inline const library::Library& records() {
  static const library::Library library = library::built_in_library();
  return library;
}

/// An invented case of one loom, one lot and two segments, with everything stated.
inline Json sample_case() {
  return read_strict_json(R"({
    "format": "heatside-case", "version": 1, "title": "Invented sample", "invented": true, "currency": "EUR",
    "vehicle": {"built": "1994-03-10", "entered_service": "1994-05-01", "region": "europe"},
    "inspected": "2026-09-14",
    "service": [{"from": "1994-05-01", "to": "2026-09-14", "climate": "mediterranean", "duty": "family", "km": 150000,
                 "parking": "open"}],
    "future": {"climate": "continental", "duty": "weekend", "running_hours_per_year": 60, "parking": "garage"},
    "looms": [{"id": "top", "name": "top loom", "made": "1994-02-01", "date_code": "05/94", "copper": "tinned"}],
    "lots": [{"id": "signal", "name": "thin wires", "loom": "top", "insulation": "xlpo-125", "size": "0.5 mm2",
              "wall": "thin"}],
    "nodes": [{"id": "box", "name": "unit box"}, {"id": "rail"}],
    "segments": [
      {"id": "S1", "name": "box to rail", "loom": "top", "from": "box", "to": "rail", "length_m": 0.9,
       "route_radius_mm": 30, "cover_group": "trim", "minutes_to_open": 15, "airbag": false, "leaks": [],
       "stretches": [{"zone": "upper-bay", "covering": "tube-pp", "damp": false}],
       "groups": [{"lot": "signal", "count": 12, "function": "sensors"}]},
      {"id": "S2", "loom": "top", "from": "rail", "to": "box", "length_m": 0.4, "route_radius_mm": 20, "airbag": true,
       "leaks": [{"fluid": "oil", "since": "2015-06-01"}],
       "stretches": [{"id": "rear", "zone": "upper-bulkhead", "share": 0.25, "covering": "none", "damp": true},
                     {"id": "front", "zone": "head-cover", "share": 0.75, "covering": "sleeve-glass", "damp": false}],
       "groups": [{"lot": "signal", "count": 6}]}]
  })",
                          "sample");
}

/// The sample after a change.
inline Json changed(const std::function<void(Json&)>& change) {
  Json document = sample_case();
  change(document);
  return document;
}

/// The case as the reader understands it.
inline Case read(const Json& document) { return read_case(document.dump(), "sample", records()); }

/// What the reader has against it, one line each; empty when it is accepted.
inline std::vector<std::string> problems_of(const Json& document) {
  std::vector<std::string> lines;
  try {
    static_cast<void>(read(document));
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems()) lines.push_back(problem.pointer + ": " + problem.message);
  }
  return lines;
}

/// Texts of the assumptions at a pointer.
inline std::vector<std::string> assumptions_at(const Case& result, const std::string& pointer) {
  std::vector<std::string> texts;
  for (const Assumption& assumption : result.assumptions) {
    if (assumption.pointer == pointer) texts.push_back(assumption.text);
  }
  return texts;
}

}  // namespace heatside::casefile
