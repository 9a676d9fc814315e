#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/fields.hpp"
#include "heatside/library/library.hpp"

/// Reading of what every record is made of: sourced numbers, sourced texts, heads.

namespace heatside::library {

/// What the value of a record's number may be.
struct NumberRule {
  std::string_view unit;  ///< UCUM, spelled exactly so
  double low;
  double high;
};

/// Small letters, digits and single hyphens between them.
[[nodiscard]] bool is_kebab_case(std::string_view id);
[[nodiscard]] std::string read_kebab_id(Fields& fields, std::string_view key);

/// Where the records of one reading run leave their problems and the ids of other records that they named.
struct ReadingRun {
  std::vector<Problem> problems;
  struct Mention {
    std::string file, pointer;
    std::string what;  ///< source, insulation or zone
    std::string id;
  };
  std::vector<Mention> mentions;
};

/// One record being read.
struct RecordReader {
  ReadingRun& run;
  std::string file;

  [[nodiscard]] RecordHead head(Fields& fields);
  /// `source`, `grade` and `note` of an object that holds a number, a text or a list.
  [[nodiscard]] Provenance provenance(Fields& fields);
  [[nodiscard]] Sourced number(Fields& parent, std::string_view key, NumberRule rule);
  [[nodiscard]] SourcedText text(Fields& parent, std::string_view key);
  /// One value or twelve; one stands for every month.
  [[nodiscard]] std::array<double, 12> months(Fields& parent, std::string_view key, NumberRule rule, Provenance& from);
};

}  // namespace heatside::library
