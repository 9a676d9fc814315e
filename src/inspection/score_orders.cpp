#include "inspection/score_orders.hpp"

#include <map>
#include <utility>

#include "heatside/base/error.hpp"

namespace heatside::inspection {

namespace {

using Round = std::vector<const Look*>;

std::size_t hits_in(const Round& round) {
  return static_cast<std::size_t>(
      std::count_if(round.begin(), round.end(), [](const Look* look) { return is_cracked(look->seen); }));
}

// Where all or none are hits, or there is no heat to go by, every order is as good.
bool tells_apart(const Round& round) {
  const std::size_t hits = hits_in(round);
  const bool heat_known = std::all_of(round.begin(), round.end(), [](const Look* look) { return look->heat.has_value(); });
  return heat_known && hits > 0 && hits < round.size();
}

std::vector<Round> rounds_of(const std::vector<Look>& looks) {
  std::map<std::pair<std::size_t, std::size_t>, Round> by_prediction;
  for (const Look& look : looks) by_prediction[{look.job, look.prediction}].push_back(&look);
  std::vector<Round> rounds;
  for (const auto& [key, round] : by_prediction) {
    if (tells_apart(round)) rounds.push_back(round);
  }
  return rounds;
}

template <class RankBy>
OrderScore score_by(const Round& round, RankBy rank_by) {
  std::vector<RankedPlace> places;
  for (const Look* look : round) places.push_back({rank_by(*look), is_cracked(look->seen)});
  return order_score(places);
}

void add(OrderScore& sum, const OrderScore& one) {
  for (std::size_t i = 0; i < counted_looks; ++i) sum.hits[i] += one.hits[i];
  sum.looks_to_first += one.looks_to_first;
}

std::optional<Interval> interval_of_mean(const std::vector<double>& values, const ScoreOptions& options) {
  if (values.size() < least_looks) return std::nullopt;
  const RandomQuantity quantity = random_quantity(options.seed, "score: rounds drawn anew");
  std::vector<double> means;
  for (std::size_t resample = 0; resample < options.resamples; ++resample) {
    double sum = 0.0;
    for (std::size_t i = 0; i < values.size(); ++i) {
      sum += values[resampled_index(quantity, resample * values.size() + i, values.size())];
    }
    means.push_back(sum / static_cast<double>(values.size()));
  }
  return middle_of(std::move(means), options.resamples);
}

}  // namespace

OrderScore order_score(const std::vector<RankedPlace>& places) {
  std::vector<RankedPlace> sorted = places;
  std::sort(sorted.begin(), sorted.end(), [](const RankedPlace& a, const RankedPlace& b) { return a.rank_by > b.rank_by; });
  OrderScore score;
  for (std::size_t begin = 0, end = 0; begin < sorted.size(); begin = end) {
    std::size_t hits = 0;
    for (; end < sorted.size() && sorted[end].rank_by == sorted[begin].rank_by; ++end) hits += sorted[end].hit ? 1u : 0u;
    const auto tied = static_cast<double>(end - begin), found = static_cast<double>(hits);
    for (std::size_t k = begin; k < counted_looks; ++k) {
      score.hits[k] += found * std::min(static_cast<double>(k + 1 - begin) / tied, 1.0);
    }
    // The first of h hits among m places in random order is the (m + 1)/(h + 1)-th on average.
    if (hits > 0 && score.looks_to_first == 0.0) {
      score.looks_to_first = static_cast<double>(begin) + (tied + 1.0) / (found + 1.0);
    }
  }
  if (score.looks_to_first == 0.0) throw DomainError("an order of looks can be scored only where one of them is a hit");
  return score;
}

std::optional<OrderComparison> compared_orders(const std::vector<Look>& looks, const ScoreOptions& options) {
  const std::vector<Round> rounds = rounds_of(looks);
  if (rounds.empty()) return std::nullopt;
  OrderComparison comparison;
  comparison.rounds = rounds.size();
  std::vector<double> saved;
  for (const Round& round : rounds) {
    const OrderScore by_prediction = score_by(round, [](const Look& look) { return chance_cracked(look.chances); });
    const OrderScore hottest_first = score_by(round, [](const Look& look) { return look.heat->value(); });
    comparison.looks += round.size();
    comparison.hits += hits_in(round);
    add(comparison.by_prediction, by_prediction);
    add(comparison.hottest_first, hottest_first);
    add(comparison.at_random, score_by(round, [](const Look&) { return 0.0; }));
    saved.push_back(hottest_first.looks_to_first - by_prediction.looks_to_first);
  }
  const auto count = static_cast<double>(rounds.size());
  for (OrderScore* score : {&comparison.by_prediction, &comparison.hottest_first, &comparison.at_random}) {
    score->looks_to_first /= count;
  }
  comparison.saved = comparison.hottest_first.looks_to_first - comparison.by_prediction.looks_to_first;
  comparison.saved_interval = interval_of_mean(saved, options);
  return comparison;
}

}  // namespace heatside::inspection
