#pragma once

#include "library/sourced_fields.hpp"

/// One reader a kind of record. Each notes its problems in the run and returns what it could read.

namespace heatside::library {

[[nodiscard]] std::map<std::string, Source> read_sources(Fields& fields, RecordReader& reader);
[[nodiscard]] Insulation read_insulation(Fields& fields, RecordReader& reader);
[[nodiscard]] Covering read_covering(Fields& fields, RecordReader& reader);
[[nodiscard]] Conductors read_conductors(Fields& fields, RecordReader& reader);
[[nodiscard]] Zone read_zone(Fields& fields, RecordReader& reader);
[[nodiscard]] Climate read_climate(Fields& fields, RecordReader& reader);
[[nodiscard]] Duty read_duty(Fields& fields, RecordReader& reader);
[[nodiscard]] Era read_era(Fields& fields, RecordReader& reader);
[[nodiscard]] Method read_method(Fields& fields, RecordReader& reader);
[[nodiscard]] Clue read_clue(Fields& fields, RecordReader& reader);
[[nodiscard]] Consequence read_consequence(Fields& fields, RecordReader& reader);
[[nodiscard]] RemedyKind read_remedy(Fields& fields, RecordReader& reader);
[[nodiscard]] ModelConstants read_model(Fields& fields, RecordReader& reader);

}  // namespace heatside::library
