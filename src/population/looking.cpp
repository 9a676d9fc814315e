#include "population/looking.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "heatside/base/error.hpp"

namespace heatside::population {

namespace {

constexpr std::size_t conditions = 5;

// Weightless draws at the end let loops run in steps of four; a chance of 0 for every condition keeps them silent.
void pad(std::vector<double>& values, std::size_t draws) { values.resize(draws, 0.0); }

void expect_finite(double loss) {
  if (!std::isfinite(loss)) throw DomainError("a loss that is not finite cannot be weighed");
}

void expect_action(const Action& action, const Knowledge& knowledge) {
  expect_finite(action.fixed);
  if (!action.by_draw.empty() && action.by_draw.size() != knowledge.belief.weights.size()) {
    throw DomainError("action " + action.id + " has " + std::to_string(action.by_draw.size()) + " losses for " +
                      std::to_string(knowledge.belief.weights.size()) + " draws");
  }
  for (const double loss : action.by_draw) expect_finite(loss);
  for (const SegmentLoss& part : action.segments) {
    if (part.segment >= knowledge.segments.size()) throw DomainError("action " + action.id + " names a missing segment");
    for (const double loss : part.by_condition) expect_finite(loss);
  }
}

// Fills columns one action at a time.
class Filling {
 public:
  Filling(const Knowledge& knowledge, Start& start) : knowledge_{knowledge}, start_{start} {}

  void add_column() {
    start_.columns.loss.emplace_back(knowledge_.segments.size());
    start_.standing.column.emplace_back(start_.columns.draws, 0.0);
  }

  // Adds `sign` times the losses of an action to the last column.
  void add(const Action& action, double sign) {
    std::vector<double>& column = start_.standing.column.back();
    for (std::size_t n = 0; n < knowledge_.belief.weights.size(); ++n) {
      column[n] += sign * (action.fixed + (action.by_draw.empty() ? 0.0 : action.by_draw[n]));
    }
    for (const SegmentLoss& part : action.segments) {
      ConditionRow& loss = start_.columns.loss.back()[part.segment];
      for (std::size_t c = 0; c < conditions; ++c) loss[c] += sign * part.by_condition[c];
    }
  }

  // With the losses by condition complete: their expectations, and the column times the weights.
  void finish(std::size_t index) {
    std::vector<double>& column = start_.standing.column[index];
    auto& expect = start_.columns.expect.emplace_back(knowledge_.segments.size());
    for (std::size_t k = 0; k < expect.size(); ++k) {
      const ConditionRow& loss = start_.columns.loss[index][k];
      if (std::all_of(loss.begin(), loss.end(), [](double part) { return part == 0.0; })) continue;
      expect[k] = expectation(start_.columns.segments[k], loss);
      for (std::size_t n = 0; n < column.size(); ++n) column[n] += expect[k][n];
    }
    for (std::size_t n = 0; n < column.size(); ++n) column[n] *= start_.standing.weight[n];
  }

 private:
  static std::vector<double> expectation(const ConditionChances& chances, const ConditionRow& loss) {
    std::vector<double> sum(chances.by_condition[0].size(), 0.0);
    for (std::size_t c = 0; c < conditions; ++c) {
      for (std::size_t n = 0; n < sum.size(); ++n) sum[n] += chances.by_condition[c][n] * loss[c];
    }
    return sum;
  }

  const Knowledge& knowledge_;
  Start& start_;
};

}  // namespace

void expect_question(const Knowledge& knowledge, const std::vector<Choice>& choices) {
  if (knowledge.belief.weights.empty()) throw DomainError("a belief needs at least one draw");
  for (const ConditionChances& segment : knowledge.segments) {
    for (const std::vector<double>& chance : segment.by_condition) {
      if (chance.size() != knowledge.belief.weights.size()) throw DomainError("a segment has another number of draws");
    }
  }
  for (const Choice& choice : choices) {
    if (choice.actions.empty()) throw DomainError("choice " + choice.id + " has no actions");
    for (const Action& action : choice.actions) expect_action(action, knowledge);
  }
}

Start start_of(const Knowledge& knowledge, const std::vector<Choice>& choices) {
  expect_question(knowledge, choices);
  Start start;
  start.columns.draws = (knowledge.belief.weights.size() + 3) / 4 * 4;
  start.columns.segments = knowledge.segments;
  for (ConditionChances& segment : start.columns.segments) {
    for (std::vector<double>& chance : segment.by_condition) pad(chance, start.columns.draws);
  }
  start.standing.weight = knowledge.belief.weights;
  pad(start.standing.weight, start.columns.draws);

  Filling filling{knowledge, start};
  filling.add_column();
  for (const Choice& choice : choices) filling.add(choice.actions[0], 1.0);
  for (const Choice& choice : choices) {
    const std::size_t first = start.standing.column.size();
    for (std::size_t a = 1; a < choice.actions.size(); ++a) {
      filling.add_column();
      filling.add(choice.actions[a], 1.0);
      filling.add(choice.actions[0], -1.0);
    }
    start.columns.choices.push_back({first, start.standing.column.size()});
  }
  start.columns.count = start.standing.column.size();
  for (std::size_t i = 0; i < start.columns.count; ++i) filling.finish(i);
  return start;
}

Standing after_outcome(const Columns& columns, const Standing& before, std::size_t segment, const ConditionRow& row) {
  const auto& chance = columns.segments[segment].by_condition;
  const std::size_t draws = columns.draws;
  std::vector<double> seen(draws, 0.0);
  for (std::size_t c = 0; c < conditions; ++c) {
    for (std::size_t n = 0; n < draws; ++n) seen[n] += row[c] * chance[c][n];
  }
  Standing after{std::vector<double>(draws), std::vector<std::vector<double>>(columns.count, std::vector<double>(draws))};
  for (std::size_t n = 0; n < draws; ++n) after.weight[n] = before.weight[n] * seen[n];
  for (std::size_t i = 0; i < columns.count; ++i) {
    const std::vector<double>& old = before.column[i];
    std::vector<double>& fresh = after.column[i];
    for (std::size_t n = 0; n < draws; ++n) fresh[n] = seen[n] * old[n];
    const std::vector<double>& expect = columns.expect[i][segment];
    if (expect.empty()) continue;
    for (std::size_t n = 0; n < draws; ++n) fresh[n] -= after.weight[n] * expect[n];
    for (std::size_t c = 0; c < conditions; ++c) {
      const double part = row[c] * columns.loss[i][segment][c];
      if (part == 0.0) continue;
      for (std::size_t n = 0; n < draws; ++n) fresh[n] += before.weight[n] * (part * chance[c][n]);
    }
  }
  return after;
}

double sum_of(const std::vector<double>& values) {
  std::array<double, 4> sums{};
  for (std::size_t n = 0; n < values.size(); n += 4) {
    for (std::size_t lane = 0; lane < 4; ++lane) sums[lane] += values[n + lane];
  }
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

std::vector<double> sums_of(const Standing& standing) {
  std::vector<double> sums;
  sums.reserve(standing.column.size());
  for (const std::vector<double>& column : standing.column) sums.push_back(sum_of(column));
  return sums;
}

Best best_of(const Columns& columns, const std::vector<double>& sums) {
  Best best;
  for (const ColumnRange& range : columns.choices) {
    std::size_t action = 0;
    double least = 0.0;
    for (std::size_t i = range.first; i < range.last; ++i) {
      if (sums[i] >= least) continue;
      least = sums[i];
      action = i - range.first + 1;
    }
    best.actions.push_back(action);
    best.gain += least;
  }
  return best;
}

void expect_table(const OutcomeTable& table) {
  if (table.outcomes.empty()) throw DomainError("a look without outcomes shows nothing");
  for (std::size_t c = 0; c < conditions; ++c) {
    double sum = 0.0;
    for (const ConditionRow& row : table.outcomes) {
      if (!(row[c] >= 0.0 && row[c] <= 1.0)) throw DomainError("an outcome's chance is not within 0 and 1");
      sum += row[c];
    }
    if (std::abs(sum - 1.0) > 1.0e-9) {
      throw DomainError("the outcomes of a look sum to " + std::to_string(sum) + " for a condition instead of 1");
    }
  }
}

}  // namespace heatside::population
