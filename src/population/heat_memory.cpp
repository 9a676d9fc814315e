#include "population/heat_memory.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "population/place.hpp"

namespace heatside::population {

namespace {

class Numbers {
 public:
  void add(double number) { text_ += fmt::format("{:a} ", number); }
  void add(const Sourced& number) {
    add(number.value);
    add(number.low.value_or(number.value));
    add(number.high.value_or(number.value));
  }
  template <class Several>
  void add_each(const Several& numbers) {
    for (const auto& number : numbers) add(number);
  }
  [[nodiscard]] std::string text() && { return std::move(text_); }

 private:
  std::string text_;
};

void add_zone(const library::Zone& zone, Numbers& numbers) {
  numbers.add(zone.ambient_following);
  numbers.add_each(zone.rise);
  for (const Sourced* number : {&zone.soak_peak, &zone.tau_warm, &zone.tau_soak_rise, &zone.tau_soak_decay, &zone.sun_share})
    numbers.add(*number);
}

void add_climate(const library::Climate& climate, Numbers& numbers) {
  numbers.add_each(climate.monthly_mean);
  numbers.add_each(climate.daily_range);
  numbers.add_each(climate.deviation_sd);
  numbers.add(climate.sun_rise);
  numbers.add(climate.sun_hours);
}

void add_trace(const library::ModelConstants::Trace& trace, Numbers& numbers) {
  for (const Sourced* number : {&trace.engine_warm_time, &trace.exhaust_warm_time, &trace.exhaust_decay_time,
                                &trace.engine_excess, &trace.slow_decay_from, &trace.running_response_share,
                                &trace.soak_threshold, &trace.anchor_ambient, &trace.hottest_hour, &trace.sun_centre_hour})
    numbers.add(*number);
}

std::string numbers_of(const library::Library& library, const exposure::ZoneScores& scores) {
  Numbers numbers;
  for (const auto& [id, zone] : library.zones) add_zone(zone, numbers);
  for (const auto& [id, climate] : library.climates) add_climate(climate, numbers);
  add_trace(library.model.trace, numbers);
  numbers.add(scores.residuals.empty() ? 0.0 : 1.0);
  for (const exposure::ZoneScore& score : scores.scores) numbers.add(score.mean);
  return std::move(numbers).text();
}

}  // namespace

HeatMemory::HeatMemory(const library::Library& of, const exposure::ZoneScores& at)
    : library{of}, numbers{numbers_of(of, at)}, likely{of, 1.0, mean_scores(at), {}, {}, {}}, corrections{of, at} {}

std::shared_ptr<HeatMemory> heat_memory(HeatMemories& memories, const library::Library& library,
                                        const exposure::ZoneScores& scores) {
  constexpr std::size_t most = 3;
  std::vector<std::shared_ptr<HeatMemory>>& latest = memories.latest;
  // A library of other numbers may come to lie where one was before.
  const std::string numbers = numbers_of(library, scores);
  const auto known = std::find_if(latest.begin(), latest.end(), [&](const std::shared_ptr<HeatMemory>& one) {
    return &one->library == &library && one->numbers == numbers;
  });
  if (known != latest.end()) {
    std::rotate(latest.begin(), known, known + 1);
    return latest.front();
  }
  latest.insert(latest.begin(), std::make_shared<HeatMemory>(library, scores));
  if (latest.size() > most) latest.pop_back();
  return latest.front();
}

std::shared_ptr<HeatMemory> memory_of(const Population& population, const library::Library& library) {
  if (population.memory) return heat_memory(*population.memory, library, population.zone_scores);
  return std::make_shared<HeatMemory>(library, population.zone_scores);
}

std::shared_ptr<exposure::LikelyYears> likely_years_of(const std::shared_ptr<HeatMemory>& memory) {
  return {memory, &memory->likely};
}

}  // namespace heatside::population
