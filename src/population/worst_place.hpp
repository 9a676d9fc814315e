#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "heatside/ageing/history.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/explanation.hpp"
#include "population/place.hpp"

/// The wires of a segment that are first to crack when handled, and what their life is made of, in the likely case.

namespace heatside::population {

/// What a case stands on: the records, and the zones as the measurements left them. Changing the case changes neither.
struct Ground {
  const library::Library& library;
  std::map<std::string, double> scores;
};

[[nodiscard]] Ground ground_of(const casefile::Case& job, const library::Library& library);

/// Which of the places of a segment is looked at, whatever is changed about the case.
struct Where {
  std::size_t segment{}, stretch{}, group{};
};

/// @param id  of a segment
/// @throws DomainError  the case has no such segment
[[nodiscard]] Where worst_place(const casefile::Case& job, const Ground& ground, const std::string& id);
/// @param clocks  of the same case on the same ground, with conduction
[[nodiscard]] Where worst_place(const casefile::Case& job, const Ground& ground, LikelyPlaces& clocks,
                                const std::string& id);

[[nodiscard]] Place place_at(LikelyPlaces& clocks, const Where& where);

/// Spans since fitting with their hours; a part that was never in service shows its future.
[[nodiscard]] std::vector<AgedSpan> in_service(const casefile::Case& job, LikelyPlaces& clocks, const Place& at);

[[nodiscard]] double hours_of(const std::vector<AgedSpan>& spans);

/// Sum over the spans of what `part` says of each, weighed by hours.
template <class Value, class Part>
[[nodiscard]] Value over_service(const std::vector<AgedSpan>& spans, Value sum, Part part) {
  for (const AgedSpan& span : spans) part(sum, span, span.length.value());
  return sum;
}

/// Mean clock rate since fitting [1/h].
[[nodiscard]] double mean_clock(const casefile::Case& job, LikelyPlaces& clocks, const Where& where);

[[nodiscard]] ageing::ClockRates rates_of(const AgedSpan& span);

/// Life of this wire and of a new one until it cracks when handled.
class Lives {
 public:
  explicit Lives(const library::Library& library) : library_{library} {}

  [[nodiscard]] Years remaining(LikelyPlaces& clocks, const Place& at, const ageing::ClockRates& future) const;
  [[nodiscard]] Years new_wire(const Place& at, const ageing::ClockRates& future) const;

 private:
  [[nodiscard]] Years until(const Place& at, const std::vector<ageing::ClockSpan>& past,
                            const ageing::ClockRates& future) const;

  const library::Library& library_;
};

/// What the use to come does to a wire that is warmer by `by` while the engine runs and in the soak after it. What is
/// parked cold has the temperature of the air outside, whatever is done about the bay.
[[nodiscard]] ChangeEffect when_warmer(std::string change, KelvinRise by, const Lives& lives, LikelyPlaces& clocks,
                                       const Place& at, const AgedSpan& future);

}  // namespace heatside::population
