#pragma once

#include <map>
#include <memory>
#include <string>
#include <tuple>
#include <vector>

#include "heatside/exposure/likely_years.hpp"
#include "heatside/exposure/rate_table.hpp"
#include "heatside/exposure/zone_scores.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/alternative.hpp"
#include "population/heat_correction.hpp"

namespace heatside::population {

/// What a rate table depends on: zone, climate, schedule, sun, drying [J/mol].
using TableKey = std::tuple<std::string, std::string, std::string, bool, double>;

/// Heat that was worked out before, by everything it depends on: cases that are asked about one after the other, wired or
/// laid otherwise, share it. It changes no number, only how often one is worked out.
struct HeatMemory {
  HeatMemory(const library::Library& of, const exposure::ZoneScores& at);
  HeatMemory(const HeatMemory&) = delete;  // its parts refer to the library
  HeatMemory& operator=(const HeatMemory&) = delete;

  const library::Library& library;
  std::string numbers;           ///< of the library and the scores, to know them again
  exposure::LikelyYears likely;  ///< at the mean scores
  HeatCorrections corrections;
  std::map<TableKey, exposure::RateTable> tables;
};

/// The memories of a population, the last asked for first. There is one for each library that its case is asked about in.
struct HeatMemories {
  std::vector<std::shared_ptr<HeatMemory>> latest;
};

/// The memory of a library and scores; begun where there is none.
[[nodiscard]] std::shared_ptr<HeatMemory> heat_memory(HeatMemories& memories, const library::Library& library,
                                                      const exposure::ZoneScores& scores);

/// What is known of the heat from earlier questions to a population.
[[nodiscard]] std::shared_ptr<HeatMemory> memory_of(const Population& population, const library::Library& library);

/// Its years at the mean scores, held for as long as they are used.
[[nodiscard]] std::shared_ptr<exposure::LikelyYears> likely_years_of(const std::shared_ptr<HeatMemory>& memory);

}  // namespace heatside::population
