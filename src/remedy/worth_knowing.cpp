#include "heatside/remedy/worth_knowing.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>

#include "heatside/base/error.hpp"

namespace heatside::remedy {

namespace {

using population::Belief;
using Costs = std::vector<std::vector<double>>;

constexpr std::size_t most_products = 4;  // columns of which products are taken; beyond it they would be too many

// Rows of the regression: 1, He1 to He3 of every column, and products of two.
Eigen::MatrixXd polynomials(const std::vector<std::vector<double>>& columns, std::size_t draws) {
  const std::size_t pairs = columns.size() <= most_products ? columns.size() * (columns.size() - 1) / 2 : 0;
  Eigen::MatrixXd rows(draws, 1 + 3 * columns.size() + pairs);
  for (std::size_t n = 0; n < draws; ++n) {
    const auto row = static_cast<Eigen::Index>(n);
    Eigen::Index at = 0;
    rows(row, at++) = 1.0;
    for (const std::vector<double>& column : columns) {
      const double z = column[n];
      rows(row, at++) = z;
      rows(row, at++) = z * z - 1.0;
      rows(row, at++) = z * (z * z - 3.0);
    }
    if (pairs == 0) continue;
    for (std::size_t a = 0; a < columns.size(); ++a) {
      for (std::size_t b = a + 1; b < columns.size(); ++b) rows(row, at++) = columns[a][n] * columns[b][n];
    }
  }
  return rows;
}

Eigen::MatrixXd indicators(const std::vector<double>& column) {
  std::map<double, Eigen::Index> number;
  for (const double value : column) number.emplace(value, 0);
  Eigen::Index next = 0;
  for (auto& [value, at] : number) at = next++;
  Eigen::MatrixXd rows = Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(column.size()), next);
  for (std::size_t n = 0; n < column.size(); ++n) rows(static_cast<Eigen::Index>(n), number.at(column[n])) = 1.0;
  return rows;
}

bool in_half(std::size_t draw, std::size_t half) { return draw % 2 == half; }

// Coefficients of each cost from one half of the draws. What the half does not say stays at its mean.
Eigen::MatrixXd coefficients(const Belief& belief, const Eigen::MatrixXd& rows, const Costs& costs, std::size_t half) {
  const Eigen::Index width = rows.cols(), choices = static_cast<Eigen::Index>(costs.size());
  Eigen::MatrixXd normal = Eigen::MatrixXd::Zero(width, width), right = Eigen::MatrixXd::Zero(width, choices);
  for (std::size_t n = 0; n < belief.weights.size(); ++n) {
    if (!in_half(n, half) || belief.weights[n] == 0.0) continue;
    const auto row = rows.row(static_cast<Eigen::Index>(n));
    normal.noalias() += belief.weights[n] * row.transpose() * row;
    for (Eigen::Index c = 0; c < choices; ++c)
      right.col(c) += belief.weights[n] * costs[static_cast<std::size_t>(c)][n] * row.transpose();
  }
  const double ridge = 1.0e-9 * normal.trace() / static_cast<double>(width);
  normal.diagonal().array() += std::max(ridge, 1.0e-300);
  return normal.ldlt().solve(right);
}

// The choice of each draw by what the other half of the draws says.
std::vector<std::size_t> chosen(const Belief& belief, const Eigen::MatrixXd& rows, const Costs& costs, std::size_t best) {
  std::vector<std::size_t> choice(belief.weights.size(), best);
  for (const std::size_t half : {std::size_t{0}, std::size_t{1}}) {
    const Eigen::MatrixXd from_other = coefficients(belief, rows, costs, 1 - half);
    for (std::size_t n = half; n < choice.size(); n += 2) {
      const Eigen::RowVectorXd expected = rows.row(static_cast<Eigen::Index>(n)) * from_other;
      for (std::size_t c = 0; c < costs.size(); ++c) {
        if (expected[static_cast<Eigen::Index>(c)] < expected[static_cast<Eigen::Index>(choice[n])]) choice[n] = c;
      }
    }
  }
  return choice;
}

void expect_draws(std::size_t draws, const std::vector<std::vector<double>>& lists) {
  for (const std::vector<double>& list : lists) {
    if (list.size() != draws)
      throw DomainError(std::to_string(list.size()) + " numbers for " + std::to_string(draws) + " draws");
  }
}

}  // namespace

std::vector<BreakEven> cheapest_by_stop(const std::vector<CostLine>& lines) {
  if (lines.empty()) throw DomainError("nothing to choose from");
  const auto lower = [&](std::size_t a, std::size_t b) {  // at a stop that costs nothing
    return lines[a].at_nothing != lines[b].at_nothing ? lines[a].at_nothing < lines[b].at_nothing
                                                      : lines[a].stops < lines[b].stops;
  };
  std::size_t now = 0;
  for (std::size_t i = 1; i < lines.size(); ++i) {
    if (lower(i, now)) now = i;
  }
  std::vector<BreakEven> envelope{{0.0, now}};
  for (;;) {
    const BreakEven* last = &envelope.back();
    BreakEven next{0.0, last->line};
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const double fewer = lines[last->line].stops - lines[i].stops;
      if (fewer <= 0.0) continue;
      const double crossing = std::max(last->from_stop, (lines[i].at_nothing - lines[last->line].at_nothing) / fewer);
      const bool first = next.line == last->line;
      if (first || crossing < next.from_stop || (crossing == next.from_stop && lines[i].stops < lines[next.line].stops))
        next = {crossing, i};
    }
    if (next.line == last->line) return envelope;
    envelope.push_back(next);
  }
}

WorthKnowing worth_of_knowing(const Belief& belief, const Costs& costs, std::size_t best, const UnknownGroup& group) {
  if (costs.empty() || best >= costs.size()) throw DomainError("nothing to choose from");
  const std::size_t draws = belief.weights.size();
  expect_draws(draws, costs);
  expect_draws(draws, group.columns);
  WorthKnowing worth{group.words, 0.0, 0.0, 0.0, best};
  if (costs.size() < 2 || group.columns.empty()) return worth;
  const Eigen::MatrixXd rows = group.named ? indicators(group.columns.front()) : polynomials(group.columns, draws);
  const std::vector<std::size_t> choice = chosen(belief, rows, costs, best);
  std::vector<double> became(costs.size(), 0.0);
  double saving = 0.0, square = 0.0;
  for (std::size_t n = 0; n < draws; ++n) {
    const double gain = costs[best][n] - costs[choice[n]][n];
    saving += belief.weights[n] * gain;
    if (choice[n] != best) became[choice[n]] += belief.weights[n];
  }
  for (std::size_t n = 0; n < draws; ++n) {
    const double apart = costs[best][n] - costs[choice[n]][n] - saving;
    square += belief.weights[n] * belief.weights[n] * apart * apart;
  }
  worth.saving = std::max(0.0, saving);
  worth.standard_error = std::sqrt(square);
  for (const double chance : became) worth.changes += chance;
  if (worth.changes > 0.0)
    worth.instead = static_cast<std::size_t>(std::max_element(became.begin(), became.end()) - became.begin());
  return worth;
}

}  // namespace heatside::remedy
