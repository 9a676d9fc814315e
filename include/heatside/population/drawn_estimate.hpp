#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "heatside/base/date.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/alternative.hpp"
#include "heatside/population/belief.hpp"
#include "heatside/population/estimate.hpp"

namespace heatside::population {

/// How many draws, and what of them is wanted.
struct DrawOptions {
  std::size_t draws = 10000;  ///< at least 100
  std::uint64_t seed = 0;
  bool conduction = true;
  bool histogram = false;   ///< of the likely case
  std::vector<Years> at{};  ///< years after the inspection for which chances are wanted
  std::shared_ptr<HeatMemories>
      memory{};  ///< of an earlier answer by the same library object: its heat is not worked out again
};

/// Every unknown quantity of the case drawn many times: quantiles, chances, and what most of the spread comes from.
///
/// Compound by its candidates' weights; life, activation energies, path shares and elongation of each lot, shared by lots of
/// one make; temperatures of the zones, their soak decay and the use, shared by all; a factor for each stretch, bends and
/// notches. `unknowns` lists them with their laws and sources. A draw depends on the seed, the name of the quantity and its
/// number alone.
///
/// Rates come from tables over score, decay and energy; what own current, hot bodies and conduction add is taken from the
/// likely case as a factor on the rate of each path, as a function of its energy.
///
/// @throws DomainError  fewer than 100 draws, or see `likely_estimate`
/// @par Tested by  tests/population/drawn_estimate_test.cpp: against the integrated likely path draw by draw
[[nodiscard]] Estimate drawn_estimate(const casefile::Case& job, const library::Library& library, DrawOptions options);

/// The estimate with the weighted draws behind it.
struct DrawnAnswer {
  Estimate estimate;
  Knowledge knowledge;  ///< of the case's segments, in their order: chances at the inspection, what was seen there included
  Population population;  ///< the draws, for asking about the case wired otherwise
};

[[nodiscard]] DrawnAnswer drawn_answer(const casefile::Case& job, const library::Library& library,
                                       const DrawOptions& options);

/// A quantity that is not known, and what is believed about it.
struct Unknown {
  std::string name;   ///< of its random numbers
  std::string words;  ///< what it is
  std::string law;    ///< distribution, with numbers
  std::string source;
  Grade grade{};
};

/// Every unknown of a case, in the order of their names.
[[nodiscard]] std::vector<Unknown> unknowns(const casefile::Case& job, const library::Library& library);

}  // namespace heatside::population
