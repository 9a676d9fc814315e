#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "heatside/base/random.hpp"
#include "heatside/population/value_of_information.hpp"

/// Segments for tests of belief and of the value of information.

namespace soft_segments {

using heatside::population::Choice;
using heatside::population::ConditionChances;
using heatside::population::ConditionRow;
using heatside::population::Knowledge;
using heatside::population::OutcomeTable;

inline double normal_share(double x) { return 0.5 * std::erfc(-x / std::sqrt(2.0)); }

// A segment that is supple or cracked, cracked with this chance in each draw.
inline ConditionChances supple_or_cracked(const std::vector<double>& cracked) {
  ConditionChances chances;
  for (std::vector<double>& list : chances.by_condition) list.assign(cracked.size(), 0.0);
  chances.by_condition[3] = cracked;
  for (std::size_t n = 0; n < cracked.size(); ++n) chances.by_condition[0][n] = 1.0 - cracked[n];
  return chances;
}

// Segments that share one normal factor z: P(cracked | z) = Phi((a + sqrt(rho) z) / sqrt(1 - rho)), on average Phi(a).
inline std::vector<ConditionChances> one_factor(const std::vector<double>& a, double rho, const std::vector<double>& z) {
  std::vector<ConditionChances> segments;
  for (const double mean : a) {
    std::vector<double> cracked;
    for (const double factor : z) {
      cracked.push_back(normal_share((mean + std::sqrt(rho) * factor) / std::sqrt(1.0 - rho)));
    }
    segments.push_back(supple_or_cracked(cracked));
  }
  return segments;
}

// Trapezoid rule for a standard normal factor: 4001 points on [-8, 8].
inline Knowledge one_factor_grid(const std::vector<double>& a, double rho) {
  std::vector<double> z, weight;
  double sum = 0.0;
  for (int i = 0; i <= 4000; ++i) {
    z.push_back(-8.0 + 0.004 * i);
    weight.push_back((i == 0 || i == 4000 ? 0.5 : 1.0) * std::exp(-0.5 * z.back() * z.back()));
    sum += weight.back();
  }
  for (double& part : weight) part /= sum;
  return {{weight}, one_factor(a, rho, z)};
}

// A look that finds cracks with this sensitivity and calls sound what is sound with this specificity: outcome 0 is sound.
inline OutcomeTable yes_or_no(double sensitivity, double specificity) {
  const double alarm = 1.0 - specificity, miss = 1.0 - sensitivity;
  return {{ConditionRow{specificity, specificity, specificity, miss, miss},
           ConditionRow{alarm, alarm, alarm, sensitivity, sensitivity}}};
}

// Numbers in (0, 1) that are the same in every run.
class Numbers {
 public:
  explicit Numbers(std::uint64_t seed) : quantity_{heatside::random_quantity(seed, "numbers of a test")} {}
  double next() { return heatside::uniform_draw(quantity_, count_++); }
  double between(double low, double high) { return low + (high - low) * next(); }

  // Five that sum to 1.
  ConditionRow five() {
    ConditionRow row{};
    double sum = 0.0;
    for (double& part : row) sum += part = -std::log(next());
    for (double& part : row) part /= sum;
    return row;
  }

  Knowledge knowledge(std::size_t draws, std::size_t segments) {
    Knowledge known{{std::vector<double>(draws)}, std::vector<ConditionChances>(segments)};
    double sum = 0.0;
    for (double& weight : known.belief.weights) sum += weight = next();
    for (double& weight : known.belief.weights) weight /= sum;
    for (ConditionChances& segment : known.segments) {
      for (std::size_t n = 0; n < draws; ++n) {
        const ConditionRow row = five();
        for (std::size_t c = 0; c < 5; ++c) segment.by_condition[c].push_back(row[c]);
      }
    }
    return known;
  }

  OutcomeTable table(std::size_t outcomes) {
    OutcomeTable table{std::vector<ConditionRow>(outcomes)};
    for (std::size_t c = 0; c < 5; ++c) {
      double sum = 0.0;
      for (ConditionRow& row : table.outcomes) sum += row[c] = next();
      for (ConditionRow& row : table.outcomes) row[c] /= sum;
    }
    return table;
  }

  // A look that mostly shows the condition, or the group of conditions, that is there.
  OutcomeTable telling_table(std::size_t outcomes) {
    OutcomeTable table{std::vector<ConditionRow>(outcomes)};
    for (std::size_t c = 0; c < 5; ++c) {
      double sum = 0.0;
      for (std::size_t y = 0; y < outcomes; ++y) {
        sum += table.outcomes[y][c] = 0.3 * next() + (y == c * outcomes / 5 ? 2.0 : 0.0);
      }
      for (ConditionRow& row : table.outcomes) row[c] /= sum;
    }
    return table;
  }

  // Actions that cost more the less they leave to chance; about equally dear.
  Choice choice(std::size_t actions, std::size_t draws, std::size_t segments) {
    Choice choice{"choice", {}};
    for (std::size_t a = 0; a < actions; ++a) {
      auto& action = choice.actions.emplace_back();
      action.id = std::to_string(a);
      const double left = 1.0 / static_cast<double>(a + 1);  // of the losses by condition, about 100 a segment
      action.fixed = 100.0 * static_cast<double>(segments) * (1.0 - left);
      for (std::size_t n = 0; n < draws; ++n) action.by_draw.push_back(between(0.0, 20.0));
      for (std::size_t k = 0; k < segments; ++k) {
        ConditionRow loss{};
        for (std::size_t c = 1; c < 5; ++c) loss[c] = loss[c - 1] + between(0.0, 100.0) * left;
        action.segments.push_back({k, loss});
      }
    }
    return choice;
  }

 private:
  heatside::RandomQuantity quantity_;
  std::uint64_t count_ = 0;
};

}  // namespace soft_segments
