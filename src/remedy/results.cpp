#include "remedy/results.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "heatside/remedy/wired.hpp"
#include "remedy/kinds.hpp"

namespace heatside::remedy {

namespace {

population::Quantiles<Years> years_of(const Common& common, const std::vector<double>& values) {
  const std::vector<double> at = population::quantiles(common.answer.knowledge.belief, values, {0.1, 0.5, 0.9});
  return {Years{at[0]}, Years{at[1]}, Years{at[2]}};
}

enum class Taken { all, old, renewed };

// The weakest of some segments of the question; nothing where there are none.
std::optional<Weakest> weakest_of(const Common& common, const Offered& question, const RemedyDraws& draws, Taken taken) {
  std::vector<double> first(common.draws(), std::numeric_limits<double>::infinity());
  std::optional<Weakest> weakest;
  double earliest = 0.0;
  for (std::size_t i = 0; i < question.segments.size(); ++i) {
    if (taken != Taken::all && draws.renewed[i] != (taken == Taken::renewed)) continue;
    const std::vector<double>& flex = draws.of(common, question, i).flex();
    for (std::size_t n = 0; n < first.size(); ++n) first[n] = std::min(first[n], flex[n]);
    const double middle = years_of(common, flex).p50.value();
    if (weakest && middle >= earliest) continue;
    earliest = middle;
    weakest = Weakest{common.job.segments[question.segments[i]].id, draws.renewed[i]};
  }
  if (weakest) weakest->flex_cracks = years_of(common, first);
  return weakest;
}

double expected_harm(const Common& common, const Offered& question, const RemedyDraws& draws) {
  double harm = 0.0;
  for (std::size_t i = 0; i < question.segments.size(); ++i) {
    if (!draws.disturbed[i]) continue;
    std::vector<double> broken;
    for (const unsigned char now : draws.of(common, question, i).now)
      broken.push_back(harm_chance(common.library.model.opening, draws.disturbs, now));
    harm += common.worth.mending * common.mean(broken);
  }
  return harm;
}

// Chances of the segments whose faults are mended one by one, and of the first faults of all others.
void add_chances(const Common& common, const Offered& question, const RemedyDraws& draws, Result& result) {
  std::vector<double> none(common.draws(), 1.0), no_stop = none;
  StopChance stop;
  stop.segments = question.segments.size();
  for (std::size_t i = 0; i < question.segments.size(); ++i) {
    const SegmentFaults& faults = draws.of(common, question, i);
    const std::optional<double>& share = common.stop_share[question.segments[i]];
    stop.counted += share ? 1u : 0u;
    if (!draws.one_by_one[i]) continue;
    result.fault_count += common.mean(faults.chance);
    for (std::size_t n = 0; n < none.size(); ++n) {
      none[n] *= 1.0 - faults.chance[n];
      if (share) no_stop[n] *= 1.0 - *share * faults.chance[n];
    }
  }
  for (const FirstFaults& first : draws.first) {
    result.fault_count += common.mean(first.chance);
    for (std::size_t n = 0; n < none.size(); ++n) {
      none[n] *= 1.0 - first.chance[n];
      no_stop[n] *= 1.0 - first.stop_chance[n];
    }
  }
  result.fault_chance = std::max(0.0, 1.0 - common.mean(none));
  stop.chance = std::max(0.0, 1.0 - common.mean(no_stop));
  if (stop.counted > 0) result.stop = stop;
}

double standard_error(const Common& common, const std::vector<double>& cost, double mean) {
  double sum = 0.0;
  const std::vector<double>& weights = common.answer.knowledge.belief.weights;
  for (std::size_t n = 0; n < cost.size(); ++n) sum += weights[n] * weights[n] * (cost[n] - mean) * (cost[n] - mean);
  return std::sqrt(sum);
}

// What is itself about to crack mends nothing, whatever it costs.
void strike_no_repair(const Common& common, const Offered& question, const RemedyDraws& draws, Verdict& verdict) {
  const std::optional<Weakest> weakest = weakest_of(common, question, draws, Taken::renewed);
  if (!weakest) return;
  const double chance = chance_of_cracking_soon(common, question, draws);
  if (chance < no_repair_from) return;
  verdict.struck.push_back(
      fmt::format("no repair: in {:.0f} of 100 draws what goes in cracks when handled within a year "
                  "itself, {} first",
                  100.0 * chance, weakest->segment));
}

}  // namespace

double chance_of_cracking_soon(const Common& common, const Offered& question, const RemedyDraws& draws) {
  std::vector<double> soon(common.draws(), 0.0);
  for (std::size_t i = 0; i < question.segments.size(); ++i) {
    if (!draws.renewed[i]) continue;
    const std::vector<double>& flex = draws.of(common, question, i).flex();
    for (std::size_t n = 0; n < soon.size(); ++n) {
      if (flex[n] < no_repair_years) soon[n] = 1.0;
    }
  }
  return common.mean(soon);
}

std::vector<double> cost_by_draw(const Common& common, const ExpectedDraws& expected) {
  std::vector<double> cost = expected.fixed;
  for (std::size_t n = 0; n < cost.size(); ++n) cost[n] += common.worth.stop * expected.stops[n];
  return cost;
}

Result judged(const Common& common, const Offered& question, const Offer& offer, const RemedyDraws& draws,
              const std::vector<double>& chance_cracked) {
  Result result;
  result.offer = offer;
  result.parts = common.mean(draws.parts);
  result.work = common.mean(draws.work);
  result.minutes = result.work / common.worth.per_minute;
  const library::RemedyKind& kind = kind_of(common.library, offer.remedy.kind);
  result.lead_days = offer.remedy.lead_days.value_or(kind.lead_days.value);
  result.left_in = weakest_of(common, question, draws, Taken::old);
  result.weakest = *weakest_of(common, question, draws, Taken::all);
  result.verdict =
      verdict(common.job, common.library, {result.offer.remedy, offer.act, offer.stated, question.segments, chance_cracked});
  strike_no_repair(common, question, draws, result.verdict);
  return result;
}

void add_costs(const Common& common, const Offered& question, const std::vector<Unit>& units, const RemedyDraws& draws,
               Result& result) {
  const ExpectedDraws expected = expected_draws(common, question, draws);
  const std::vector<double> cost = cost_by_draw(common, expected);
  result.harm = expected_harm(common, question, draws);
  result.expected = common.mean(cost);
  result.faults = result.expected - result.parts - result.work - result.harm;
  result.standard_error = standard_error(common, cost, result.expected);
  result.stops = common.mean(expected.stops);
  for (std::size_t i = 0; i < question.segments.size(); ++i) {
    if (draws.renewed[i])
      result.own_faults += (common.worth.mending + common.stops(question.segments[i]) * common.worth.stop) *
                           common.mean(draws.of(common, question, i).discounted);
  }
  result.after = after_faults(common, question, units, draws);
  add_chances(common, question, draws, result);
}

void add_futures(const Common& common, const Offered& question, const std::vector<RemedyDraws>& draws,
                 std::vector<Result>& results) {
  std::vector<double> least(common.draws(), std::numeric_limits<double>::infinity());
  std::vector<std::size_t> winner(common.draws(), 0);
  const population::Belief& belief = common.answer.knowledge.belief;
  for (std::size_t i = 0; i < results.size(); ++i) {
    const std::vector<double> cost = realised_draws(common, question, draws[i]);
    const std::vector<double> ends = population::quantiles(belief, cost, {0.05, 0.95});
    results[i].low = ends[0];
    results[i].high = ends[1];
    for (std::size_t n = 0; n < cost.size(); ++n) {
      if (cost[n] >= least[n]) continue;
      least[n] = cost[n];
      winner[n] = i;
    }
  }
  for (std::size_t n = 0; n < winner.size(); ++n) results[winner[n]].cheapest += belief.weights[n];
}

}  // namespace heatside::remedy
