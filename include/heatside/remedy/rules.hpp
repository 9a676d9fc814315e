#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"

/// Rules that no price overrides.

namespace heatside::remedy {

/// From this chance of being cracked or worse on, a segment with circuits that are never traded may not be left in; common
/// practice, no source.
inline constexpr double renew_from = 0.5;
/// From this chance on it has to be looked at before it is left in; common practice, no source.
inline constexpr double look_from = 0.1;

/// The functions in a segment that are never traded against money, in plain words: unfused feeds, fuel, brake, steering,
/// airbag. Taken from the circuits that the case lists for it, from functions of its wires that are ids of consequence
/// records, and from its airbag flag. Empty also where the case does not say what runs there.
/// A feed that is usually unfused counts as fused where the case states its fuse.
[[nodiscard]] std::vector<std::string> untraded_functions(const casefile::Case& job, const library::Library& library,
                                                          const casefile::Segment& segment);

/// The first finding of bare conductor at a segment, in words such as "crumbling, 2014-05-12": cracked or crumbling whatever
/// the cause, or green copper. A later finding that the place was altered takes it back.
[[nodiscard]] std::optional<std::string> bare_conductor_seen(const casefile::Case& job, const casefile::Segment& segment);

/// What the rules say about one remedy.
struct Verdict {
  std::vector<std::string> struck;      ///< reasons why it may not be chosen, whatever it costs
  std::vector<std::string> conditions;  ///< what has to be done first where it is chosen
};

/// What the rules are asked.
struct RuleQuestion {
  const casefile::Remedy& remedy;
  library::RemedyAct act;
  bool stated;                                ///< by the case; otherwise it stands for what could be had
  const std::vector<std::size_t>& segments;   ///< of the looms in question
  const std::vector<double>& chance_cracked;  ///< cracked or worse now, by segment of the case
};

/// @par Source     common practice, no source
/// @par Tested by  tests/remedy/rules_test.cpp
[[nodiscard]] Verdict verdict(const casefile::Case& job, const library::Library& library, const RuleQuestion& question);

}  // namespace heatside::remedy
