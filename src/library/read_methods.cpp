#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/text.hpp"
#include "library/read_records.hpp"

/// Methods of inspection and clues to the compound.

namespace heatside::library {

namespace {

SourcedText read_sentence(Fields fields, RecordReader& reader) {
  SourcedText sentence;
  sentence.text = fields.text("text");
  sentence.from = reader.provenance(fields);
  fields.refuse_unknown();
  return sentence;
}

bool are_chances(const Json& list) {
  return list.is_array() && list.size() == condition_count && std::all_of(list.begin(), list.end(), [](const Json& entry) {
           return entry.is_number() && entry.get<double>() >= 0.0 && entry.get<double>() <= 1.0;
         });
}

ChanceRow read_row(Fields& parent, std::string_view key, RecordReader& reader) {
  Fields fields = parent.object(key);
  ChanceRow row;
  if (const Json* list = fields.require("value"); list != nullptr && are_chances(*list)) {
    for (std::size_t i = 0; i < row.chance.size(); ++i) row.chance[i] = (*list)[i].get<double>();
  } else if (list != nullptr) {
    fields.complain("value", "expected five chances of 0 to 1: supple, stiff, flex-cracks, cracked, crumbling");
  }
  if (const std::string unit = fields.text("unit"); !unit.empty() && unit != "1") {
    fields.complain("unit", fmt::format("unit \"{}\" does not fit here; allowed: \"1\"", unit));
  }
  row.from = reader.provenance(fields);
  fields.refuse_unknown();
  return row;
}

void expect_whole(Fields& parent, std::string_view key, const ChanceRow& row) {
  const double sum = std::accumulate(row.chance.begin(), row.chance.end(), 0.0);
  if (sum != 0.0 && std::abs(sum - 1.0) > 1.0e-9) {
    parent.complain(key, fmt::format("the chances sum to {}; they must sum to 1", plain_number(sum, 10)));
  }
}

void finish(Fields& fields) {
  fields.optional_text("note");
  fields.refuse_unknown();
}

LookTable read_look(Fields fields, RecordReader& reader) {
  LookTable table;
  Fields seen = fields.object("seen");
  for (std::size_t i = 0; i < condition_count; ++i) {
    table.seen[i] = read_row(seen, seen_names[i], reader);
    expect_whole(seen, seen_names[i], table.seen[i]);
  }
  finish(seen);
  finish(fields);
  return table;
}

BendTest read_bend(Fields fields, RecordReader& reader) {
  BendTest test;
  test.diameters = reader.number(fields, "diameters", {"1", 0.5, 100.0});
  test.cracks = read_row(fields, "cracks", reader);
  test.strain_ln_sd = reader.number(fields, "strain_ln_sd", {"1", 0.01, 3.0});
  finish(fields);
  return test;
}

ElongationTest read_elongation(Fields fields, RecordReader& reader) {
  ElongationTest test;
  test.error_share = reader.number(fields, "error_share", {"1", 0.0, 1.0});
  test.error_floor = reader.number(fields, "error_floor", {"%", 0.1, 100.0});
  finish(fields);
  return test;
}

ResistanceReading read_resistance(Fields fields, RecordReader& reader) {
  ResistanceReading reading;
  reading.high_from = reader.number(fields, "high_from", {"MOhm", 0.001, 1.0e6});
  reading.high = read_row(fields, "high", reader);
  finish(fields);
  return reading;
}

void read_evidence(Fields& fields, RecordReader& reader, Method& method) {
  std::size_t kinds = 0;
  const auto take = [&](std::string_view key, auto read) {
    if (std::optional<Fields> part = fields.optional_object(key)) {
      method.evidence = read(*part, reader);
      ++kinds;
    }
  };
  take("look", read_look);
  take("bend", read_bend);
  take("elongation", read_elongation);
  take("resistance", read_resistance);
  if (kinds != 1) fields.complain("", "exactly one of \"look\", \"bend\", \"elongation\" and \"resistance\" is needed");
}

void read_likelihood(Fields& fields, RecordReader& reader, Clue& clue) {
  for (Fields entry : fields.objects("likelihood", 1)) {
    const std::string insulation = entry.text("insulation");
    reader.run.mentions.push_back({reader.file, entry.pointer("insulation"), "insulation", insulation});
    const Sourced chance = reader.number(entry, "chance", {"1", 1.0e-6, 1.0});
    if (!clue.chance.emplace(insulation, chance).second) entry.complain("insulation", "is listed twice");
    finish(entry);
  }
}

}  // namespace

Method read_method(Fields& fields, RecordReader& reader) {
  Method method;
  method.head = reader.head(fields);
  method.opens = fields.flag("opens");
  method.how = reader.text(fields, "how");
  for (const Fields& sentence : fields.objects("before", 0)) method.before.push_back(read_sentence(sentence, reader));
  read_evidence(fields, reader, method);
  return method;
}

Clue read_clue(Fields& fields, RecordReader& reader) {
  static const std::vector<std::string> kinds{clue_kind_names.begin(), clue_kind_names.end()};
  Clue clue;
  clue.head = reader.head(fields);
  const std::string kind = fields.choice("found_by", kinds);
  clue.found_by = static_cast<ClueKind>(std::find(kinds.begin(), kinds.end(), kind) - kinds.begin());
  clue.how = reader.text(fields, "how");
  read_likelihood(fields, reader, clue);
  clue.others = reader.number(fields, "others", {"1", 1.0e-6, 1.0});
  return clue;
}

const Sourced& chance_of(const Clue& clue, const std::string& insulation) {
  const auto named = clue.chance.find(insulation);
  return named == clue.chance.end() ? clue.others : named->second;
}

}  // namespace heatside::library
