#include "heatside/inspection/score.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "heatside/base/error.hpp"
#include "inspection/resampling.hpp"
#include "inspection/score_orders.hpp"

namespace heatside::inspection {

namespace {

using Scores = std::array<double, rule_count>;

constexpr std::size_t index_of(Rule rule) { return static_cast<std::size_t>(rule); }

double square(double value) { return value * value; }

double capped(double chance) { return std::clamp(chance, least_scored_chance, 1.0 - least_scored_chance); }

bool is_certain(double chance) { return chance != capped(chance); }

void expect_chances(const Chances& chances) {
  double sum = 0.0;
  for (const double chance : chances) {
    if (!(chance >= 0.0 && chance <= 1.0)) throw DomainError(fmt::format("a chance of {} is not within 0 and 1", chance));
    sum += chance;
  }
  if (std::abs(sum - 1.0) > 1.0e-6) throw DomainError(fmt::format("chances of the conditions sum to {}, not to 1", sum));
}

// Sum over the conditions, and mean over the borders between them.
std::pair<double, double> brier_and_ranked(const Chances& chances, std::size_t seen) {
  double brier = 0.0, ranked = 0.0, up_to = 0.0;
  for (std::size_t i = 0; i < chances.size(); ++i) {
    brier += square(chances[i] - (i == seen ? 1.0 : 0.0));
    up_to += chances[i] - (i == seen ? 1.0 : 0.0);
    if (i + 1 < chances.size()) ranked += square(up_to);
  }
  return {brier, ranked / static_cast<double>(chances.size() - 1)};
}

// How often each condition was seen.
using Counts = std::array<std::size_t, library::condition_count>;

std::size_t total(const Counts& counts) {
  std::size_t sum = 0;
  for (const std::size_t count : counts) sum += count;
  return sum;
}

// Mean scores of who says these shares every time.
Scores base_scores(const Counts& counts) {
  const auto all = static_cast<double>(total(counts));
  Chances rates{};
  for (std::size_t i = 0; i < counts.size(); ++i) rates[i] = static_cast<double>(counts[i]) / all;
  Scores mean{};
  for (std::size_t seen = 0; seen < counts.size(); ++seen) {
    if (counts[seen] == 0) continue;
    const Scores scores = scores_of(rates, static_cast<ageing::Condition>(seen));
    for (std::size_t rule = 0; rule < rule_count; ++rule) mean[rule] += rates[seen] * scores[rule];
  }
  return mean;
}

bool is_about_cracked(std::size_t rule) {
  return rule == index_of(Rule::cracked_brier) || rule == index_of(Rule::cracked_log);
}

// All looks came out alike: nothing can be better than the base rate, which knew that.
bool alike(const Counts& counts, std::size_t rule) {
  const std::size_t all = total(counts);
  if (is_about_cracked(rule)) {
    const std::size_t cracked = counts[3] + counts[4];
    return cracked == 0 || cracked == all;
  }
  return std::any_of(counts.begin(), counts.end(), [all](std::size_t count) { return count == all; });
}

// Looks that are drawn anew, together.
struct Drawn {
  Scores sum{};
  Counts seen{};

  void add(const Scores& scores, ageing::Condition condition) {
    for (std::size_t rule = 0; rule < rule_count; ++rule) sum[rule] += scores[rule];
    ++seen[static_cast<std::size_t>(condition)];
  }
  void add(const Drawn& other) {
    for (std::size_t rule = 0; rule < rule_count; ++rule) sum[rule] += other.sum[rule];
    for (std::size_t i = 0; i < seen.size(); ++i) seen[i] += other.seen[i];
  }
};

// A mean and a skill by each rule; no skill where all came out alike.
struct Result {
  Scores mean{};
  std::array<std::optional<double>, rule_count> skill{};
  Scores base{};
};

Result result_of(const Drawn& drawn) {
  Result result;
  result.base = base_scores(drawn.seen);
  const auto count = static_cast<double>(total(drawn.seen));
  for (std::size_t rule = 0; rule < rule_count; ++rule) {
    result.mean[rule] = drawn.sum[rule] / count;
    if (!alike(drawn.seen, rule)) result.skill[rule] = 1.0 - result.mean[rule] / result.base[rule];
  }
  return result;
}

Drawn together(const std::vector<Drawn>& units) {
  Drawn all;
  for (const Drawn& unit : units) all.add(unit);
  return all;
}

// One unit a look, or one a case.
std::vector<Drawn> units_of(const std::vector<Look>& looks, bool by_job) {
  std::map<std::size_t, Drawn> units;
  for (std::size_t i = 0; i < looks.size(); ++i) {
    units[by_job ? looks[i].job : i].add(scores_of(looks[i].chances, looks[i].seen), looks[i].seen);
  }
  std::vector<Drawn> list;
  for (const auto& [key, unit] : units) list.push_back(unit);
  return list;
}

void add_intervals(Score& score, const std::vector<Drawn>& units) {
  const RandomQuantity quantity = random_quantity(score.options.seed, "score: looks drawn anew");
  std::array<std::vector<double>, rule_count> means, skills;
  for (std::size_t resample = 0; resample < score.options.resamples; ++resample) {
    Drawn drawn;
    for (std::size_t i = 0; i < units.size(); ++i) {
      drawn.add(units[resampled_index(quantity, resample * units.size() + i, units.size())]);
    }
    const Result result = result_of(drawn);
    for (std::size_t rule = 0; rule < rule_count; ++rule) {
      means[rule].push_back(result.mean[rule]);
      if (result.skill[rule]) skills[rule].push_back(*result.skill[rule]);
    }
  }
  for (std::size_t rule = 0; rule < rule_count; ++rule) {
    score.rules[rule].mean_interval = middle_of(std::move(means[rule]), score.options.resamples);
    if (!score.rules[rule].skill) continue;
    score.rules[rule].skill_interval = middle_of(std::move(skills[rule]), score.options.resamples);
  }
}

std::array<ChanceGroup, 3> groups_of(const std::vector<Look>& looks) {
  std::array<ChanceGroup, 3> groups{{{0.0, 1.0 / 3.0}, {1.0 / 3.0, 2.0 / 3.0}, {2.0 / 3.0, 1.0}}};
  for (const Look& look : looks) {
    const double chance = chance_cracked(look.chances);
    ChanceGroup& group = groups[chance < groups[0].to ? 0 : chance < groups[1].to ? 1 : 2];
    ++group.looks;
    group.said += chance;
    if (is_cracked(look.seen)) ++group.cracked;
  }
  return groups;
}

void count(Score& score, const Look& look) {
  ++score.looks;
  score.said_cracked += chance_cracked(look.chances);
  if (is_cracked(look.seen)) ++score.cracked;
  if (is_certain(chance_cracked(look.chances)) || is_certain(look.chances[static_cast<std::size_t>(look.seen)])) {
    ++score.certain;
  }
}

}  // namespace

double chance_cracked(const Chances& chances) { return std::min(chances[3] + chances[4], 1.0); }

bool is_cracked(ageing::Condition seen) { return seen >= ageing::Condition::cracked; }

Scores scores_of(const Chances& chances, ageing::Condition seen) {
  expect_chances(chances);
  const double cracked = chance_cracked(chances);
  const double came = is_cracked(seen) ? cracked : 1.0 - cracked;
  const auto index = static_cast<std::size_t>(seen);
  const auto [brier, ranked] = brier_and_ranked(chances, index);
  return {square(1.0 - came), -std::log(capped(came)), brier, -std::log(capped(chances[index])), ranked};
}

Score score_of(const std::vector<Look>& looks, ScoreOptions options) {
  Score score;
  score.options = options;
  for (const Look& look : looks) count(score, look);
  score.groups = groups_of(looks);
  if (looks.empty()) return score;

  const std::size_t jobs = units_of(looks, true).size();
  score.jobs = jobs;
  score.resamples_jobs = jobs >= least_looks;
  const std::vector<Drawn> units = units_of(looks, score.resamples_jobs);
  const Result result = result_of(together(units));
  for (std::size_t rule = 0; rule < rule_count; ++rule) {
    score.rules[rule] = {result.mean[rule], result.base[rule], result.skill[rule], std::nullopt, std::nullopt};
  }
  if (score.enough()) add_intervals(score, units);
  score.orders = compared_orders(looks, options);
  return score;
}

}  // namespace heatside::inspection
