#include "heatside/population/drawn_estimate.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "heatside/population/belief.hpp"
#include "population/drawn_case.hpp"
#include "population/spread.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using library::Library;

constexpr std::size_t fewest_draws = 100;
constexpr double longest_life = 1.0e4;  // [a], where a clock that stands still is cut in ln life

template <class Value, class Make>
Quantiles<Value> quantiles_of(const Belief& belief, const std::vector<double>& values, Make make) {
  const std::vector<double> at = quantiles(belief, values, {0.1, 0.5, 0.9});
  return {make(at[0]), make(at[1]), make(at[2])};
}

Quantiles<Years> years_of(const Belief& belief, const std::vector<double>& values) {
  return quantiles_of<Years>(belief, values, [](double years) { return Years{years}; });
}

// From the making of the loom to flex-cracks.
std::vector<double> ln_lives(const std::vector<double>& years, Years age) {
  std::vector<double> lives;
  lives.reserve(years.size());
  for (const double year : years) lives.push_back(std::log(std::clamp(year + age.value(), 1.0e-3, longest_life)));
  return lives;
}

void add_draws(const Case& job, const casefile::Segment& segment, const SegmentDraws& draws, const Library& library,
               const Belief& belief, const Normals& normals, const DrawOptions& options, SegmentEstimate& estimate) {
  const double spread = library.model.ageing.stretch_ln_sd.value;
  estimate.chance = mean_chances(belief, chances_at(draws, Years{0.0}, spread));
  const auto likeliest = std::max_element(estimate.chance.begin(), estimate.chance.end());
  estimate.most_likely = static_cast<ageing::Condition>(likeliest - estimate.chance.begin());
  estimate.elongation = quantiles_of<Strain>(belief, elongation_left(draws), [](double e) { return Strain{e}; });
  const std::vector<double> flex = years_until(draws, 1);
  estimate.flex_cracks = years_of(belief, flex);
  estimate.cracked = years_of(belief, years_until(draws, 2));
  for (const Years after : options.at)
    estimate.chance_at.push_back({after, mean_chances(belief, chances_at(draws, after, spread))});
  const casefile::Loom& loom = *casefile::find_by_id(job.looms, segment.loom);
  estimate.spread =
      spread_shares(job, segment, normals, belief, ln_lives(flex, years_between(loom.made.day, job.inspected.day)));
}

}  // namespace

Estimate drawn_estimate(const Case& job, const Library& library, DrawOptions options) {
  if (options.draws < fewest_draws)
    throw DomainError(std::to_string(options.draws) + " draws are too few for quantiles; 100 or more are needed");
  Estimate estimate = likely_estimate(
      job, library,
      {.solution = ageing::Solution::closed_form, .histogram = options.histogram, .conduction = options.conduction});
  estimate.draws = options.draws;
  estimate.seed = options.seed;
  estimate.likely_only = false;
  Normals normals{options.seed, options.draws};
  DrawnCase drawn{job, library, estimate.zone_scores, options.conduction};
  const Belief belief = even_belief(options.draws);
  for (SegmentEstimate& one : estimate.segments) {
    const auto segment = std::find_if(job.segments.begin(), job.segments.end(),
                                      [&](const casefile::Segment& other) { return other.id == one.id; });
    const SegmentDraws draws = drawn.segment(static_cast<std::size_t>(segment - job.segments.begin()), normals);
    add_draws(job, *segment, draws, library, belief, normals, options, one);
  }
  std::sort(estimate.segments.begin(), estimate.segments.end(), [](const SegmentEstimate& a, const SegmentEstimate& b) {
    return std::tuple(a.flex_cracks.p50, a.cracked.p50, a.id) < std::tuple(b.flex_cracks.p50, b.cracked.p50, b.id);
  });
  return estimate;
}

}  // namespace heatside::population
