#pragma once

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "heatside/library/records.hpp"

namespace heatside::library {

/// All records, by id. Iteration is in the order of the ids, so nothing depends on the order of files.
struct Library {
  std::map<std::string, Source> sources;
  std::map<std::string, Insulation> insulations;
  std::map<std::string, Covering> coverings;
  std::map<std::string, Conductors> conductors;
  std::map<std::string, Zone> zones;
  std::map<std::string, Climate> climates;
  std::map<std::string, Duty> duties;
  std::map<std::string, Era> eras;  ///< by region
  std::map<std::string, Method> methods;
  std::map<std::string, Clue> clues;
  std::map<std::string, Consequence> consequences;  ///< by function
  std::map<std::string, RemedyKind> remedies;       ///< kinds of remedy
  std::map<std::string, std::string> templates;     ///< text of each case template, by id
  ModelConstants model;
};

/// One record as text, with the name that messages use for it.
struct RecordText {
  std::string_view name;  ///< for example "insulations/pvc-std.json"
  std::string_view text;
};

/// The records that the program carries in itself, compiled from `materials/`.
[[nodiscard]] std::vector<RecordText> built_in_records();

/// Reads records into a library. A later record replaces an earlier one of the same kind and id.
///
/// @param records  one JSON text each, see `materials/schema/`
/// @throws InputError  with every problem of every record: wrong shape, number out of range, wrong unit,
///                     unknown source, shares that do not sum to 1, missing model constants
[[nodiscard]] Library read_library(const std::vector<RecordText>& records);

/// A library with one more record, which replaces one of the same kind and id.
/// @throws InputError  with every problem of the record, as `read_library` finds them
[[nodiscard]] Library with_record(Library library, const RecordText& record);

/// The library of the built-in records.
[[nodiscard]] Library built_in_library();

/// A conductor size by its label ("0.5 mm2", "AWG 20") in any table; null when there is none.
[[nodiscard]] const ConductorSize* find_conductor_size(const Library& library, std::string_view label);

/// Every label of every conductor table, in table order.
[[nodiscard]] std::vector<std::string> conductor_labels(const Library& library);

/// Which insulations were fitted in a region and year, with weights that sum to 1; empty when no era covers it.
[[nodiscard]] std::vector<EraCandidate> era_candidates(const Library& library, std::string_view region, int year_made);

/// Running time of a duty over a week.
[[nodiscard]] Minutes weekly_running_time(const Duty& duty);

/// Keys of a map of records, for messages about unknown ids.
template <class Record>
[[nodiscard]] std::vector<std::string> ids_of(const std::map<std::string, Record>& records) {
  std::vector<std::string> ids;
  for (const auto& entry : records) ids.push_back(entry.first);
  return ids;
}

}  // namespace heatside::library
