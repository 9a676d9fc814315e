#pragma once

#include <cstddef>
#include <vector>

#include "heatside/population/value_of_information.hpp"

/// The inside of the value of information: losses as columns over the draws, and how a look changes them.
///
/// Column 0 is the loss of taking the first action of every choice. Every other action is a column of differences from the
/// first action of its choice. Columns are kept multiplied by the weight of their draw, so that a look needs no division:
///
///     w'  = w l           l = sum_c P(outcome | c) P(c | draw)
///     v'  = l (v - w e) + w g     e = sum_c P(c | draw) loss_c,   g = sum_c P(outcome | c) P(c | draw) loss_c
///
/// The weights of all outcomes sum to those before, and so do the columns.

namespace heatside::population {

/// Which columns belong to the further actions of a choice.
struct ColumnRange {
  std::size_t first, last;  ///< one past the last
};

/// What is fixed for a question: chances and losses, the draws padded with weightless ones to a multiple of 4.
struct Columns {
  std::size_t draws = 0;  ///< padded
  std::vector<ConditionChances> segments;
  std::vector<ColumnRange> choices;
  std::size_t count = 1;
  std::vector<std::vector<ConditionRow>> loss;           ///< by column and segment
  std::vector<std::vector<std::vector<double>>> expect;  ///< e by column and segment; empty where the loss is 0
};

/// Where one stands after some looks: weights (they sum to the chance of being here) and weighted columns.
struct Standing {
  std::vector<double> weight;
  std::vector<std::vector<double>> column;
};

struct Start {
  Columns columns;
  Standing standing;
};

/// @throws DomainError  as `expected_losses`
[[nodiscard]] Start start_of(const Knowledge& knowledge, const std::vector<Choice>& choices);

/// After an outcome with this row at a segment that was not looked at before.
[[nodiscard]] Standing after_outcome(const Columns& columns, const Standing& before, std::size_t segment,
                                     const ConditionRow& row);

/// Sum over padded draws, in four lanes that do not wait for each other.
[[nodiscard]] double sum_of(const std::vector<double>& values);

/// Sums of the columns: expected losses times the chance of standing here.
[[nodiscard]] std::vector<double> sums_of(const Standing& standing);

/// Best action of each choice given the sums, the first of equals; and by how much it is better than every first action (<=
/// 0).
struct Best {
  std::vector<std::size_t> actions;
  double gain = 0.0;
};
[[nodiscard]] Best best_of(const Columns& columns, const std::vector<double>& sums);

/// @throws DomainError  as `expected_losses`
void expect_question(const Knowledge& knowledge, const std::vector<Choice>& choices);

/// @throws DomainError  as `value_of_look`
void expect_table(const OutcomeTable& table);

}  // namespace heatside::population
