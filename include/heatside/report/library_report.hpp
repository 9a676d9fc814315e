#pragma once

#include <optional>
#include <string>
#include <vector>

#include "heatside/library/library.hpp"

namespace heatside::report {

/// Every record by kind, one line each.
[[nodiscard]] std::string library_text(const library::Library& library);

/// One record with every number, its range, grade and source; empty when no record has that id.
[[nodiscard]] std::optional<std::string> record_text(const library::Library& library, const std::string& id);

/// Records as JSON, format "heatside-materials" version 1: the last one of each kind and id, and every sources record.
/// @param id  only records of that id and the sources; empty for all
[[nodiscard]] std::string records_json(const std::vector<library::RecordText>& records, const std::string& id,
                                       const std::string& engine);

/// Ids of all records, for messages about unknown ones.
[[nodiscard]] std::vector<std::string> record_ids(const library::Library& library);

}  // namespace heatside::report
