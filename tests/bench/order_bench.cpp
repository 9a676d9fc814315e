#include <benchmark/benchmark.h>

#include <string>
#include <vector>

#include "heatside/inspection/opening_order.hpp"
#include "population/soft_segments.hpp"

/// The whole opening order, three deep: 20 segments, looks of five outcomes, 10 000 draws, one choice or two.

namespace {

using namespace heatside;
using namespace heatside::population;

constexpr std::size_t draws = 10000, segments = 20;

// Conditions of a segment from a shared factor and a spread of its own.
ConditionChances soft_segment(const std::vector<double>& factor, double mean) {
  const std::vector<double> begins{-0.5, 0.0, 0.4, 1.0};
  ConditionChances chances;
  for (const double z : factor) {
    double worse = 1.0;
    for (std::size_t c = 0; c < 5; ++c) {
      const double reached = c < 4 ? soft_segments::normal_share((mean + z - begins[c]) / 0.4) : 0.0;
      chances.by_condition[c].push_back(worse - reached);
      worse = reached;
    }
  }
  return chances;
}

OutcomeTable five_outcomes() {
  OutcomeTable table;
  for (std::size_t y = 0; y < 5; ++y) {
    ConditionRow row{0.05, 0.05, 0.05, 0.05, 0.05};
    row[y] = 0.8;
    table.outcomes.push_back(row);
  }
  return table;
}

inspection::OpeningQuestion question_of(std::size_t looms) {
  inspection::OpeningQuestion question;
  const std::vector<double> factor = normal_draws(random_quantity(1, "factor"), draws);
  question.knowledge.belief = even_belief(draws);
  question.covers = {{"intake", Minutes{30.0}, false}};
  for (std::size_t loom = 0; loom < looms; ++loom) {
    question.choices.push_back({"loom", {{"leave", 0.0, {}, {}}, {"replace", 1500.0, {}, {}}}});
  }
  for (std::size_t k = 0; k < segments; ++k) {
    question.knowledge.segments.push_back(soft_segment(factor, -0.6 + 0.05 * static_cast<double>(k)));
    question.choices[k % looms].actions[0].segments.push_back({k, {0.0, 12.0, 96.0, 360.0, 840.0}});
    inspection::Candidate candidate;
    candidate.id = "segment " + std::to_string(k);
    candidate.segment = k;
    candidate.minutes = Minutes{10.0};
    if (k < 6) candidate.cover = 0;
    candidate.table = five_outcomes();
    candidate.break_chance = {0.0, 0.02, 0.2, 0.4, 0.7};
    candidate.break_cost = 40.0;
    question.candidates.push_back(candidate);
  }
  return question;
}

void opening_order_three_deep(benchmark::State& state) {
  const inspection::OpeningQuestion question = question_of(static_cast<std::size_t>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(inspection::opening_order(question));
}
BENCHMARK(opening_order_three_deep)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond);

}  // namespace
