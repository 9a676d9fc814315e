#include "heatside/population/alternative.hpp"

#include <optional>
#include <string>
#include <utility>

#include "heatside/base/error.hpp"
#include "population/drawn_case.hpp"

namespace heatside::population {

namespace {

constexpr std::size_t flex_cracks = 1, cracked = 2;  // in PlaceDraws::limit

void expect_there(const casefile::Case& job, std::size_t number) {
  if (number >= job.segments.size())
    throw DomainError("segment " + std::to_string(number) + " of " + std::to_string(job.segments.size()));
}

// The past of one case with the future of another.
void take_future(SegmentDraws& past, SegmentDraws to_come, const std::string& id) {
  bool alike = past.stretches.size() == to_come.stretches.size();
  for (std::size_t i = 0; alike && i < past.stretches.size(); ++i) {
    StretchDraws& stretch = past.stretches[i];
    alike = stretch.id == to_come.stretches[i].id && stretch.groups.size() == to_come.stretches[i].groups.size();
    for (std::size_t k = 0; alike && k < stretch.groups.size(); ++k)
      stretch.groups[k].future_rate = std::move(to_come.stretches[i].groups[k].future_rate);
  }
  if (!alike) throw DomainError("segment \"" + id + "\" has other stretches or wires after the change");
}

SegmentYears years_of(SegmentDraws draws) {
  SegmentYears years;
  for (StretchDraws& stretch : draws.stretches) {
    SegmentDraws alone;
    alone.stretches.push_back(std::move(stretch));
    years.push_back({years_until(alone, flex_cracks), years_until(alone, cracked)});
  }
  return years;
}

}  // namespace

std::vector<ConditionYears> years_to_conditions(const casefile::Case& job, const library::Library& library,
                                                const Population& population, const std::vector<std::size_t>& segments) {
  Normals normals = population.normals;
  DrawnCase drawn{job, library, population.zone_scores, population.conduction, memory_of(population, library)};
  std::vector<ConditionYears> years;
  for (const std::size_t number : segments) {
    expect_there(job, number);
    const SegmentDraws draws = drawn.segment(number, normals);
    ConditionYears one;
    for (std::size_t limit = 0; limit < one.until.size(); ++limit) one.until[limit] = years_until(draws, limit);
    years.push_back(std::move(one));
  }
  return years;
}

std::vector<SegmentYears> years_by_stretch(const casefile::Case& past, const casefile::Case& to_come,
                                           const library::Library& library, const Population& population,
                                           const std::vector<std::size_t>& segments) {
  Normals normals = population.normals;
  const std::shared_ptr<HeatMemory> memory = memory_of(population, library);
  DrawnCase before{past, library, population.zone_scores, population.conduction, memory};
  std::optional<DrawnCase> after;
  if (&past != &to_come) after.emplace(to_come, library, population.zone_scores, population.conduction, memory);
  std::vector<SegmentYears> years;
  for (const std::size_t number : segments) {
    expect_there(past, number);
    expect_there(to_come, number);
    SegmentDraws draws = before.segment(number, normals);
    if (after) take_future(draws, after->segment(number, normals), past.segments[number].id);
    years.push_back(years_of(std::move(draws)));
  }
  return years;
}

}  // namespace heatside::population
