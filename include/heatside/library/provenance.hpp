#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace heatside {

/// How far a number can be trusted, from a standard's text down to our own judgement.
enum class Grade { standard, published, measured, catalogue, common_practice, memory, judgement };

inline constexpr std::array<std::string_view, 7> grade_names{"standard",        "published", "measured", "catalogue",
                                                             "common-practice", "memory",    "judgement"};

[[nodiscard]] std::string_view name_of(Grade grade);

/// True for what rests on judgement or memory: every output that uses it must say so.
[[nodiscard]] constexpr bool is_soft(Grade grade) { return grade == Grade::memory || grade == Grade::judgement; }

/// Where a number or a sentence comes from.
struct Provenance {
  std::string source;  ///< id of a Source
  Grade grade{};
  std::string note;  ///< empty when there is nothing to add
};

/// A published or private place that numbers were taken from.
struct Source {
  std::string citation;
  std::string where;  ///< doi, page or clause; may be empty
  std::string read;   ///< how much of it was read: full, abstract, secondary, not read
  std::string note;
};

/// A number of a record with everything that must travel with it. The number stands in the record's own unit.
struct Sourced {
  double value{};
  std::string unit;            ///< UCUM
  std::optional<double> low;   ///< 5 % of belief lies below
  std::optional<double> high;  ///< 5 % of belief lies above
  std::optional<double> sd;    ///< standard deviation
  Provenance from;
};

/// A sentence of a record.
struct SourcedText {
  std::string text;
  Provenance from;
};

}  // namespace heatside
