#include "heatside/population/belief.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>

#include "heatside/base/error.hpp"

namespace heatside::population {

namespace {

constexpr std::size_t conditions = 5;

void expect_draws(std::size_t found, std::size_t wanted) {
  if (found == wanted) return;
  throw DomainError(std::to_string(found) + " values for " + std::to_string(wanted) + " draws");
}

void expect_chance(double chance, const char* what) {
  if (chance >= 0.0 && chance <= 1.0) return;
  throw DomainError(std::string{what} + " " + std::to_string(chance) + " is not within 0 and 1");
}

void expect_row(const ConditionRow& row) {
  for (const double chance : row) expect_chance(chance, "chance of a finding");
}

std::size_t draws_of(const ConditionChances& chances) {
  const std::size_t draws = chances.by_condition[0].size();
  for (const std::vector<double>& list : chances.by_condition) expect_draws(list.size(), draws);
  return draws;
}

// Adds ln of a likelihood to the log weights; returns the largest.
double add_logs(std::vector<double>& logs, const std::vector<double>& likelihood) {
  expect_draws(likelihood.size(), logs.size());
  double largest = -std::numeric_limits<double>::infinity();
  for (std::size_t n = 0; n < logs.size(); ++n) {
    if (!(likelihood[n] >= 0.0 && std::isfinite(likelihood[n]))) {
      throw DomainError("likelihood " + std::to_string(likelihood[n]) + " is not finite and >= 0");
    }
    logs[n] += std::log(likelihood[n]);
    largest = std::max(largest, logs[n]);
  }
  return largest;
}

Learnt normalised(const std::vector<double>& logs, double largest) {
  Learnt learnt;
  learnt.belief.weights.reserve(logs.size());
  double sum = 0.0;
  for (const double log : logs) {
    learnt.belief.weights.push_back(std::exp(log - largest));
    sum += learnt.belief.weights.back();
  }
  for (double& weight : learnt.belief.weights) weight /= sum;
  learnt.ln_evidence = largest + std::log(sum);
  return learnt;
}

}  // namespace

Belief even_belief(std::size_t draws) {
  if (draws == 0) throw DomainError("a belief needs at least one draw");
  return {std::vector<double>(draws, 1.0 / static_cast<double>(draws))};
}

std::vector<double> likelihood(const ConditionRow& row, const ConditionChances& chances) {
  expect_row(row);
  std::vector<double> result(draws_of(chances), 0.0);
  for (std::size_t c = 0; c < conditions; ++c) {
    const std::vector<double>& chance = chances.by_condition[c];
    for (std::size_t n = 0; n < result.size(); ++n) result[n] += row[c] * chance[n];
  }
  return result;
}

ConditionRow perhaps_not_heat(const ConditionRow& row, double heat_share, double otherwise) {
  expect_row(row);
  expect_chance(heat_share, "share of heat");
  expect_chance(otherwise, "chance of a finding");
  ConditionRow mixed{};
  for (std::size_t c = 0; c < conditions; ++c) mixed[c] = heat_share * row[c] + (1.0 - heat_share) * otherwise;
  return mixed;
}

double expected(const Belief& belief, const std::vector<double>& values) {
  expect_draws(values.size(), belief.weights.size());
  double sum = 0.0;
  for (std::size_t n = 0; n < values.size(); ++n) sum += belief.weights[n] * values[n];
  return sum;
}

Learning learn(const Belief& prior, const std::vector<std::vector<double>>& likelihoods) {
  if (likelihoods.empty()) return Learnt{prior, 0.0};
  std::vector<double> logs;
  logs.reserve(prior.weights.size());
  for (const double weight : prior.weights) logs.push_back(std::log(weight));
  double largest = 0.0;
  for (std::size_t finding = 0; finding < likelihoods.size(); ++finding) {
    largest = add_logs(logs, likelihoods[finding]);
    if (!std::isfinite(largest)) return Contradiction{finding};
  }
  return normalised(logs, largest);
}

double effective_sample(const Belief& belief) {
  double squares = 0.0;
  for (const double weight : belief.weights) squares += weight * weight;
  if (!(squares > 0.0)) throw DomainError("no draw has any weight");
  return 1.0 / squares;
}

ConditionRow mean_chances(const Belief& belief, const ConditionChances& chances) {
  ConditionRow mean{};
  for (std::size_t c = 0; c < conditions; ++c) mean[c] = expected(belief, chances.by_condition[c]);
  return mean;
}

ConditionChances after_seeing(const ConditionChances& chances, const ConditionRow& row) {
  const std::vector<double> seen = likelihood(row, chances);
  ConditionChances after = chances;
  for (std::size_t c = 0; c < conditions; ++c) {
    for (std::size_t n = 0; n < seen.size(); ++n) {
      double& chance = after.by_condition[c][n];
      if (seen[n] > 0.0) chance = chance * row[c] / seen[n];  // the product first: it is never above what divides it
    }
  }
  return after;
}

std::variant<Informed, Contradiction> after_findings(Knowledge knowledge, const std::vector<Seen>& findings) {
  std::vector<std::vector<double>> likelihoods;
  likelihoods.reserve(findings.size());
  for (const Seen& finding : findings) {
    if (finding.segment >= knowledge.segments.size()) {
      throw DomainError("finding at segment " + std::to_string(finding.segment) + " of " +
                        std::to_string(knowledge.segments.size()));
    }
    ConditionChances& chances = knowledge.segments[finding.segment];
    likelihoods.push_back(likelihood(finding.row, chances));
    chances = after_seeing(chances, finding.row);
  }
  Learning learning = learn(knowledge.belief, likelihoods);
  if (const auto* contradiction = std::get_if<Contradiction>(&learning)) return *contradiction;
  auto& learnt = std::get<Learnt>(learning);
  knowledge.belief = std::move(learnt.belief);
  return Informed{std::move(knowledge), learnt.ln_evidence};
}

}  // namespace heatside::population
