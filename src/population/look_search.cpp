#include "population/look_search.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace heatside::population {

namespace {

constexpr std::size_t conditions = 5;
constexpr double unlikely = 1.0e-12;  // places less likely than this are not looked beyond

double chance_of(const Standing& standing) { return std::accumulate(standing.weight.begin(), standing.weight.end(), 0.0); }

double product(const ConditionRow& a, const ConditionRow& b) {
  double sum = 0.0;
  for (std::size_t c = 0; c < conditions; ++c) sum += a[c] * b[c];
  return sum;
}

}  // namespace

LookSearch::LookSearch(const LookingProblem& problem, const TreeOptions& options)
    : problem_{problem}, options_{options}, start_{start_of(problem.knowledge, problem.choices)} {
  for (const PricedLook& look : problem.looks) {
    const auto found = std::find(segments_.begin(), segments_.end(), look.look.segment);
    place_of_look_.push_back(static_cast<std::size_t>(found - segments_.begin()));
    if (found == segments_.end()) segments_.push_back(look.look.segment);
  }
  double size = 0.0;
  for (const double sum : sums_of(start_.standing)) size += std::abs(sum);
  margin_ = 1.0e-12 * size;
}

bool LookSearch::open_to(const SearchState& place, std::size_t look) const {
  const std::size_t segment = problem_.looks[look].look.segment;
  for (const Step& step : place.way) {
    if (problem_.looks[step.first].look.segment == segment) return false;
  }
  return !options_.spend_most || spent(place) + price(place, look) <= *options_.spend_most;
}

double LookSearch::price(const SearchState& place, std::size_t look) const {
  const PricedLook& wanted = problem_.looks[look];
  double price = wanted.price;
  if (!wanted.cover) return price;
  const bool off = std::any_of(place.way.begin(), place.way.end(),
                               [&](const Step& step) { return problem_.looks[step.first].cover == wanted.cover; });
  return off ? price : price + problem_.cover_prices[*wanted.cover];
}

double LookSearch::spent(const SearchState& place) const {
  double sum = 0.0;
  SearchState until{{}, {}};
  for (const Step& step : place.way) {
    sum += price(until, step.first);
    until.way.push_back(step);
  }
  return sum;
}

double LookSearch::cost(const SearchState& place, std::size_t look) const {
  const auto& chance = start_.columns.segments[problem_.looks[look].look.segment].by_condition;
  const ConditionRow& harm = problem_.looks[look].harm;
  double sum = price(place, look) * chance_of(place.standing);
  for (std::size_t c = 0; c < conditions; ++c) {
    if (harm[c] == 0.0) continue;
    for (std::size_t n = 0; n < start_.columns.draws; ++n) sum += harm[c] * (place.standing.weight[n] * chance[c][n]);
  }
  return sum;
}

std::optional<SearchState> LookSearch::outcome(const SearchState& place, std::size_t look, std::size_t outcome) const {
  const Look& wanted = problem_.looks[look].look;
  SearchState after{after_outcome(start_.columns, place.standing, wanted.segment, wanted.table.outcomes[outcome]),
                    place.way};
  if (chance_of(after.standing) <= unlikely) return std::nullopt;
  const Step step{look, outcome};
  after.way.insert(std::upper_bound(after.way.begin(), after.way.end(), step), step);
  return after;
}

std::vector<SearchState> LookSearch::outcomes(const SearchState& place, std::size_t look) const {
  std::vector<SearchState> places;
  for (std::size_t y = 0; y < problem_.looks[look].look.table.outcomes.size(); ++y) {
    if (auto after = outcome(place, look, y)) places.push_back(std::move(*after));
  }
  return places;
}

double LookSearch::value_of_stopping(const SearchState& place) const {
  return best_of(start_.columns, sums_of(place.standing)).gain;
}

double LookSearch::value_if_last(const SearchState& place, std::size_t look, const SegmentMoments& moments) const {
  const PricedLook& wanted = problem_.looks[look];
  const double chance = std::accumulate(moments.weight.begin(), moments.weight.end(), 0.0);
  double value = price(place, look) * chance + product(moments.weight, wanted.harm);
  std::vector<double> sums(start_.columns.count, 0.0);
  for (const ConditionRow& row : wanted.look.table.outcomes) {
    for (std::size_t i = 1; i < sums.size(); ++i) {
      const ConditionRow& loss = start_.columns.loss[i][wanted.look.segment];
      sums[i] = 0.0;
      for (std::size_t c = 0; c < conditions; ++c) {
        sums[i] += row[c] * (moments.without[i - 1][c] + loss[c] * moments.weight[c]);
      }
    }
    value += best_of(start_.columns, sums).gain;
  }
  return value;
}

double LookSearch::value_with_last(const SearchState& place, const std::vector<SegmentMoments>& moments,
                                   std::optional<std::size_t>& best) const {
  double value = value_of_stopping(place);
  for (std::size_t look = 0; look < problem_.looks.size(); ++look) {
    if (!open_to(place, look)) continue;
    const double found = value_if_last(place, look, moments[place_of_look_[look]]);
    if (found >= value - margin_) continue;
    value = found;
    best = look;
  }
  return value;
}

std::vector<SegmentMoments> LookSearch::moments(const SearchState& place) const {
  return moments_of(start_.columns, {&place.standing}, segments_)[0];
}

std::vector<std::vector<SegmentMoments>> LookSearch::moments(const std::vector<SearchState>& places) const {
  std::vector<const Standing*> standings;
  for (const SearchState& place : places) standings.push_back(&place.standing);
  return moments_of(start_.columns, standings, segments_);
}

double LookSearch::value(const SearchState& place, std::size_t depth) {
  if (depth == 0) return value_of_stopping(place);
  return search(place, moments(place), depth);
}

std::optional<std::size_t> LookSearch::advice(const SearchState& place, std::size_t depth) const {
  if (depth == 0) return std::nullopt;
  const auto found = found_.find({depth, place.way});
  return found == found_.end() ? std::nullopt : found->second.look;
}

std::vector<LookSearch::Ranked> LookSearch::ranked(const SearchState& place,
                                                   const std::vector<SegmentMoments>& moments) const {
  std::vector<Ranked> looks;
  for (std::size_t look = 0; look < problem_.looks.size(); ++look) {
    if (open_to(place, look)) looks.push_back({value_if_last(place, look, moments[place_of_look_[look]]), look});
  }
  return looks;
}

double LookSearch::search(const SearchState& place, const std::vector<SegmentMoments>& moments, std::size_t depth) {
  const std::pair key{depth, place.way};
  if (const auto known = found_.find(key); known != found_.end()) return known->second.value;
  Found found{value_of_stopping(place), std::nullopt};
  if (depth == 1) {
    found.value = value_with_last(place, moments, found.look);
    found_.emplace(key, found);
    return found.value;
  }
  std::vector<Ranked> looks = ranked(place, moments);
  if (depth > 2 && place.way.empty() && looks.size() > options_.keep) {
    for (Ranked& look : looks) look.value = value_of_looking(place, look.look, 1);
  }
  std::stable_sort(looks.begin(), looks.end(), [](const Ranked& a, const Ranked& b) { return a.value < b.value; });
  if (looks.size() > options_.keep) {
    looks.resize(options_.keep);
    all_kept_ = false;
  }
  for (const Ranked& look : looks) {
    const double value = value_of_looking(place, look.look, depth - 1);
    if (value >= found.value - margin_) continue;
    found = {value, look.look};
  }
  found_.emplace(key, found);
  return found.value;
}

double LookSearch::value_of_looking(const SearchState& place, std::size_t look, std::size_t depth) {
  double value = cost(place, look);
  std::vector<SearchState> fresh;
  for (SearchState& after : outcomes(place, look)) {
    const auto known = found_.find({depth, after.way});
    if (known == found_.end()) {
      fresh.push_back(std::move(after));
    } else {
      value += known->second.value;
    }
  }
  const auto sums = moments(fresh);
  for (std::size_t i = 0; i < fresh.size(); ++i) value += search(fresh[i], sums[i], depth);
  return value;
}

std::vector<std::vector<std::optional<double>>> LookSearch::pair_values() const {
  const std::size_t count = problem_.looks.size();
  std::vector values(count, std::vector<std::optional<double>>(count));
  const SearchState start = root();
  for (std::size_t first = 0; first < count; ++first) {
    if (!open_to(start, first)) continue;
    const std::vector<SearchState> places = outcomes(start, first);
    const auto sums = moments(places);
    const double price = cost(start, first);
    for (std::size_t i = 0; i < places.size(); ++i) {
      const double stop = value_of_stopping(places[i]);
      for (std::size_t second = 0; second < count; ++second) {
        if (!open_to(places[i], second)) continue;
        std::optional<double>& value = values[first][second];
        const double last = value_if_last(places[i], second, sums[i][place_of_look_[second]]);
        value = value.value_or(price) + std::min(stop, last);
      }
    }
  }
  return values;
}

}  // namespace heatside::population
