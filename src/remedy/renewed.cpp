#include "remedy/renewed.hpp"

#include <algorithm>

#include "heatside/remedy/wired.hpp"

namespace heatside::remedy {

namespace {

bool share_a_segment(const Renewal& one, const Renewal& other) {
  return std::find_first_of(one.covered.begin(), one.covered.end(), other.covered.begin(), other.covered.end()) !=
         one.covered.end();
}

// Numbers of renewals that are done side by side.
std::vector<std::vector<std::size_t>> side_by_side(const std::vector<Renewal>& renewals) {
  std::vector<std::vector<std::size_t>> batches;
  for (std::size_t i = 0; i < renewals.size(); ++i) {
    const auto fits = std::find_if(batches.begin(), batches.end(), [&](const std::vector<std::size_t>& batch) {
      return std::none_of(batch.begin(), batch.end(),
                          [&](std::size_t k) { return share_a_segment(renewals[i], renewals[k]); });
    });
    if (fits == batches.end()) {
      batches.push_back({i});
    } else {
      fits->push_back(i);
    }
  }
  return batches;
}

}  // namespace

std::vector<std::vector<population::ConditionYears>> years_of_renewals(const casefile::Case& job,
                                                                       const library::Library& library,
                                                                       const population::Population& population,
                                                                       const std::vector<Renewal>& renewals) {
  std::vector<std::vector<population::ConditionYears>> years(renewals.size());
  for (const std::vector<std::size_t>& batch : side_by_side(renewals)) {
    casefile::Case changed = job;
    std::vector<std::size_t> segments;
    for (const std::size_t i : batch) {
      changed = wired(changed, renewals[i].remedy, renewals[i].act);
      segments.insert(segments.end(), renewals[i].covered.begin(), renewals[i].covered.end());
    }
    auto all = population::years_to_conditions(changed, library, population, segments);
    std::size_t at = 0;
    for (const std::size_t i : batch) {
      for (std::size_t k = 0; k < renewals[i].covered.size(); ++k) years[i].push_back(std::move(all[at++]));
    }
  }
  return years;
}

}  // namespace heatside::remedy
