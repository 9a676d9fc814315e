#include "population/factor_candidates.hpp"

#include <algorithm>
#include <cmath>

#include "heatside/base/random.hpp"

namespace heatside::population {

namespace {

constexpr double wider = 1.3;  // than the factors' own spread: findings may ask for factors far out

// Within a draw as even as can be: the points of all draws are these, turned.
std::vector<std::vector<double>> even_points(const std::string& segment, std::size_t stretches, std::uint64_t seed) {
  const std::size_t spread = std::min(stretches, most_spread_dimensions);
  const RandomQuantity quantity = random_quantity(seed, "candidates/" + segment);
  std::vector<std::vector<double>> points = spread_points(random_word(quantity, 0), spread, FactorCandidates::count);
  for (std::size_t i = spread; i < stretches; ++i)
    points.push_back(uniform_draws(quantity, FactorCandidates::count, 1 + i * FactorCandidates::count));
  return points;
}

double turned(double point, double by) {
  constexpr double least = 0x1p-53;
  double sum = point + by;
  if (sum >= 1.0) sum -= 1.0;
  return std::clamp(sum, least, 1.0 - least);
}

// Weights that sum to 1 in each draw; gives what they summed to.
std::vector<double> normalise(std::vector<double>& weights, std::size_t draws) {
  std::vector<double> sums(draws, 0.0);
  for (std::size_t i = 0; i < weights.size(); ++i) sums[i % draws] += weights[i];
  for (std::size_t i = 0; i < weights.size(); ++i) weights[i] /= sums[i % draws];
  return sums;
}

}  // namespace

FactorCandidates factor_candidates(const casefile::Segment& segment, Normals& normals) {
  FactorCandidates candidates;
  candidates.draws = normals.draws();
  candidates.segment = segment.id;
  const std::size_t all = FactorCandidates::count * candidates.draws;
  candidates.weights.assign(all, 1.0);
  const auto points = even_points(segment.id, segment.stretches.size(), normals.seed());
  for (std::size_t stretch = 0; stretch < segment.stretches.size(); ++stretch) {
    const std::string& id = segment.stretches[stretch].id;
    candidates.stretches.push_back(id);
    std::vector<double> turn;
    for (const double score : normals.of(quantity::stretch(segment.id, id))) turn.push_back(normal_share(score));
    std::vector<double> scores;
    scores.reserve(all);
    for (const double point : points[stretch]) {
      for (const double by : turn) scores.push_back(wider * normal_quantile(turned(point, by)));
    }
    // Density of the factors' own normal over that of the wider one.
    constexpr double narrower = 0.5 * (1.0 - 1.0 / (wider * wider));
    for (std::size_t i = 0; i < all; ++i) candidates.weights[i] *= std::exp(-narrower * scores[i] * scores[i]);
    candidates.scores.push_back(std::move(scores));
  }
  normalise(candidates.weights, candidates.draws);
  return candidates;
}

std::vector<double> for_each_candidate(const FactorCandidates& candidates, SegmentDraws part, double stretch_ln_sd,
                                       const OfFactors& value) {
  const std::vector<std::string>& ids = candidates.stretches;
  std::vector<double> values;
  values.reserve(candidates.weights.size());
  for (std::size_t k = 0; k < FactorCandidates::count; ++k) {
    for (StretchDraws& stretch : part.stretches) {
      const auto number = static_cast<std::size_t>(std::find(ids.begin(), ids.end(), stretch.id) - ids.begin());
      const double* scores = &candidates.scores[number][k * candidates.draws];
      for (std::size_t n = 0; n < candidates.draws; ++n) stretch.factor[n] = std::exp(stretch_ln_sd * scores[n]);
    }
    const std::vector<double> some = value(part);
    values.insert(values.end(), some.begin(), some.end());
  }
  return values;
}

std::vector<double> mean_of_candidates(const FactorCandidates& candidates, const std::vector<double>& values) {
  std::vector<double> mean(candidates.draws, 0.0);
  for (std::size_t i = 0; i < values.size(); ++i) mean[i % candidates.draws] += candidates.weights[i] * values[i];
  return mean;
}

std::vector<double> take_in(FactorCandidates& candidates, const std::vector<double>& chances) {
  std::vector<double> seen = mean_of_candidates(candidates, chances);
  for (std::size_t i = 0; i < chances.size(); ++i) {
    const double of_draw = seen[i % candidates.draws];
    if (of_draw > 0.0) candidates.weights[i] *= chances[i] / of_draw;
  }
  return seen;
}

void settle(const FactorCandidates& candidates, Normals& normals) {
  const std::vector<double> chance =
      uniform_draws(random_quantity(normals.seed(), "settled/" + candidates.segment), candidates.draws);
  std::vector<std::size_t> taken(candidates.draws, FactorCandidates::count);
  std::vector<double> reached(candidates.draws, 0.0);
  for (std::size_t k = 0; k < FactorCandidates::count; ++k) {
    for (std::size_t n = 0; n < candidates.draws; ++n) {
      const double weight = candidates.weights[k * candidates.draws + n];
      reached[n] += weight;
      // The last one of any weight where rounding leaves the sum short of 1.
      if (weight > 0.0 && (taken[n] == FactorCandidates::count || reached[n] - weight <= chance[n])) taken[n] = k;
    }
  }
  for (std::size_t stretch = 0; stretch < candidates.stretches.size(); ++stretch) {
    std::vector<double> column(candidates.draws);
    for (std::size_t n = 0; n < column.size(); ++n) column[n] = candidates.scores[stretch][taken[n] * column.size() + n];
    normals.replace(quantity::stretch(candidates.segment, candidates.stretches[stretch]), std::move(column));
  }
}

}  // namespace heatside::population
