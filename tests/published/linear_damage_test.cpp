#include <algorithm>
#include <catch2/catch.hpp>
#include <vector>

#include "ageing/compounds.hpp"
#include "heatside/ageing/history.hpp"

/// Miner's rule: shares of life add up to 1 at the end, in any order. Values are mathematics.

using namespace heatside;
using namespace heatside::ageing;
using namespace heatside::tests;
using Catch::Matchers::WithinRel;

namespace {

ClockRates life_of(double hours_of_life) { return {1.0 / hours_of_life, 1.0 / hours_of_life}; }

}  // namespace

TEST_CASE("published: linear damage of three temperatures ends after 2560 h", "[published][damage]") {
  // A quarter of the time at a life of 1000 h, half at 4000 h, a quarter at 16000 h: 0.25/1000 + 0.5/4000 + 0.25/16000 =
  // 3.90625e-4 an hour.
  const auto insulation = GENERATE(gradual_compound(), guarded_compound());
  const Solution solution = GENERATE(Solution::closed_form, Solution::integrated);
  const Kinetics kinetics = likely_kinetics(insulation, model_constants());
  const std::vector<ClockSpan> blocks{{640.0_h, life_of(1000.0)}, {1280.0_h, life_of(4000.0)}, {640.0_h, life_of(16000.0)}};

  SECTION("in one go, in either order") {
    std::vector<ClockSpan> backwards = blocks;
    std::reverse(backwards.begin(), backwards.end());
    CHECK_THAT(in_percent(elongation_after(kinetics, blocks, solution)), WithinRel(50.0, 1e-7));
    CHECK_THAT(in_percent(elongation_after(kinetics, backwards, solution)), WithinRel(50.0, 1e-7));
  }
  SECTION("in twenty short rounds") {
    std::vector<ClockSpan> rounds;
    for (int round = 0; round < 20; ++round) {
      for (const ClockSpan& block : blocks) rounds.push_back({block.length / 20.0, block.rates});
    }
    CHECK_THAT(in_percent(elongation_after(kinetics, rounds, solution)), WithinRel(50.0, 1e-7));
  }
  SECTION("at their mean rate") {
    CHECK_THAT(hours(years_until(kinetics, {}, {3.90625e-4, 3.90625e-4}, 50.0_percent, solution)).value(),
               WithinRel(2560.0, 1e-8));
  }
  SECTION("what is left after half of it") {
    const std::vector<ClockSpan> half{{320.0_h, life_of(1000.0)}, {640.0_h, life_of(4000.0)}, {320.0_h, life_of(16000.0)}};
    CHECK_THAT(hours(years_until(kinetics, half, life_of(4000.0), 50.0_percent, solution)).value(), WithinRel(2000.0, 1e-7));
  }
}
