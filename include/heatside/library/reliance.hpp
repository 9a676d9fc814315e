#pragma once

#include <string>
#include <vector>

#include "heatside/library/library.hpp"

namespace heatside::library {

/// A record that an answer rests on, and the weakest grade among the numbers of it that the answer used.
struct Reliance {
  std::string
      kind;  ///< insulation, era, conductors, covering, zone, climate, duty, method, clue, consequence, remedy, constants
  std::string id, name;
  Grade weakest{};
};

/// The weakest of the numbers that an estimate takes from a record.
[[nodiscard]] Grade weakest_grade(const Insulation& record);
[[nodiscard]] Grade weakest_grade(const Covering& record);
[[nodiscard]] Grade weakest_grade(const Conductors& record);
[[nodiscard]] Grade weakest_grade(const Era& record);
[[nodiscard]] Grade weakest_grade(const Duty& record);
[[nodiscard]] Grade weakest_grade(const Zone& record);
[[nodiscard]] Grade weakest_grade(const Climate& record);
[[nodiscard]] Grade weakest_grade(const Method& record);
[[nodiscard]] Grade weakest_grade(const Clue& record);
[[nodiscard]] Grade weakest_grade(const Consequence& record);
[[nodiscard]] Grade weakest_grade(const RemedyKind& record);
[[nodiscard]] Grade weakest_grade(const ModelConstants& record);

}  // namespace heatside::library
