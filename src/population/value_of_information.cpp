#include "heatside/population/value_of_information.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

#include "heatside/base/error.hpp"
#include "population/looking.hpp"

namespace heatside::population {

namespace {

constexpr std::size_t most_outcomes = 4096;

// Walks through all outcomes of a set of looks and collects what each leads to.
class Walk {
 public:
  Walk(const Start& start, const std::vector<Look>& looks)
      : start_{start},
        looks_{looks},
        now_{best_of(start.columns, sums_of(start.standing))},
        gain_{loss_of(start.standing, now_.actions)} {}

  LookValue value() {
    step(start_.standing, 0);
    value_.standard_error = standard_error();
    if (!value_.changes_a_choice) value_.saving = 0.0;
    return std::move(value_);
  }

 private:
  void step(const Standing& standing, std::size_t depth) {
    if (depth == looks_.size()) return arrive(standing);
    const Look& look = looks_[depth];
    for (const ConditionRow& row : look.table.outcomes) {
      step(after_outcome(start_.columns, standing, look.segment, row), depth + 1);
    }
  }

  void arrive(const Standing& standing) {
    const std::vector<double> sums = sums_of(standing);
    Best best = best_of(start_.columns, sums);
    // What staying with today's actions would cost more, all of it for certain >= 0.
    const double better = gain_of(sums, now_.actions) - best.gain;
    if (better <= rounding_of(sums)) best.actions = now_.actions;
    if (best.actions != now_.actions) {
      value_.saving += better;
      value_.changes_a_choice = true;
    }
    const std::vector<double> loss = loss_of(standing, best.actions);
    for (std::size_t n = 0; n < gain_.size(); ++n) gain_[n] -= loss[n];
    value_.outcomes.push_back({sum_of(standing.weight), best.actions});
  }

  // Sum over the choices of the difference columns of these actions.
  double gain_of(const std::vector<double>& sums, const std::vector<std::size_t>& actions) const {
    double gain = 0.0;
    for (std::size_t i = 0; i < actions.size(); ++i) {
      if (actions[i] > 0) gain += sums[start_.columns.choices[i].first + actions[i] - 1];
    }
    return gain;
  }

  // Sums of N terms carry an error of about this size.
  static double rounding_of(const std::vector<double>& sums) {
    double size = 0.0;
    for (const double sum : sums) size += std::abs(sum);
    return 1.0e-13 * size;
  }

  // Weighted loss of each draw under these actions.
  std::vector<double> loss_of(const Standing& standing, const std::vector<std::size_t>& actions) const {
    std::vector<double> loss = standing.column[0];
    for (std::size_t i = 0; i < actions.size(); ++i) {
      if (actions[i] == 0) continue;
      const std::vector<double>& further = standing.column[start_.columns.choices[i].first + actions[i] - 1];
      for (std::size_t n = 0; n < loss.size(); ++n) loss[n] += further[n];
    }
    return loss;
  }

  double standard_error() const {
    const std::vector<double>& weight = start_.standing.weight;
    double sum = 0.0;
    for (std::size_t n = 0; n < gain_.size(); ++n) {
      const double apart = gain_[n] - weight[n] * value_.saving;
      sum += apart * apart;
    }
    return std::sqrt(sum);
  }

  const Start& start_;
  const std::vector<Look>& looks_;
  Best now_;
  std::vector<double> gain_;  // weighted, by draw
  LookValue value_;
};

void expect_looks(const Knowledge& knowledge, const std::vector<Look>& looks) {
  std::size_t outcomes = 1;
  std::vector<bool> seen(knowledge.segments.size(), false);
  for (const Look& look : looks) {
    if (look.segment >= seen.size()) throw DomainError("a look at a segment that is not there");
    if (seen[look.segment]) throw DomainError("two looks at segment " + std::to_string(look.segment));
    seen[look.segment] = true;
    expect_table(look.table);
    outcomes *= look.table.outcomes.size();
    if (outcomes > most_outcomes) throw DomainError("looks with more than 4096 outcomes together");
  }
}

double loss_of(const Action& action, const Belief& belief, const std::vector<ConditionRow>& chances) {
  double loss = action.fixed + (action.by_draw.empty() ? 0.0 : expected(belief, action.by_draw));
  for (const SegmentLoss& part : action.segments) {
    for (std::size_t c = 0; c < part.by_condition.size(); ++c) loss += chances[part.segment][c] * part.by_condition[c];
  }
  return loss;
}

}  // namespace

ExpectedLosses expected_losses(const Knowledge& knowledge, const std::vector<Choice>& choices) {
  expect_question(knowledge, choices);
  std::vector<ConditionRow> chances;
  for (const ConditionChances& segment : knowledge.segments) chances.push_back(mean_chances(knowledge.belief, segment));
  ExpectedLosses losses;
  for (const Choice& choice : choices) {
    std::vector<double>& list = losses.by_action.emplace_back();
    for (const Action& action : choice.actions) list.push_back(loss_of(action, knowledge.belief, chances));
    const auto least = std::min_element(list.begin(), list.end());
    losses.best.push_back(static_cast<std::size_t>(least - list.begin()));
    losses.least += *least;
  }
  return losses;
}

LookValue value_of_look(const Knowledge& knowledge, const std::vector<Choice>& choices, const Look& look) {
  return value_of_looks(knowledge, choices, {look});
}

std::vector<LookValue> value_of_each_look(const Knowledge& knowledge, const std::vector<Choice>& choices,
                                          const std::vector<Look>& looks) {
  const Start start = start_of(knowledge, choices);
  std::vector<LookValue> values;
  for (const Look& look : looks) {
    const std::vector<Look> alone{look};
    expect_looks(knowledge, alone);
    values.push_back(Walk{start, alone}.value());
  }
  return values;
}

LookValue value_of_looks(const Knowledge& knowledge, const std::vector<Choice>& choices, const std::vector<Look>& looks) {
  expect_looks(knowledge, looks);
  const Start start = start_of(knowledge, choices);
  return Walk{start, looks}.value();
}

}  // namespace heatside::population
