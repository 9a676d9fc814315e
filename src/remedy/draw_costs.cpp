#include <algorithm>
#include <array>
#include <limits>

#include "heatside/base/random.hpp"
#include "remedy/policy.hpp"

/// What remedies cost, draw by draw.

namespace heatside::remedy {

namespace {

std::vector<double> uniforms_of(const Common& common, const std::string& name) {
  return uniform_draws(random_quantity(common.answer.population.normals.seed(), name), common.draws());
}

// Expected loss of a segment by its condition now. Where no draw has the condition: as if it stayed in it.
population::ConditionRow by_condition(const Common& common, const SegmentFaults& faults, double loss) {
  population::ConditionRow sum{}, weight{};
  const std::vector<double>& weights = common.answer.knowledge.belief.weights;
  for (std::size_t n = 0; n < weights.size(); ++n) {
    weight[faults.now[n]] += weights[n];
    sum[faults.now[n]] += weights[n] * faults.discounted[n];
  }
  const FaultRates likely = fault_rates(common.library.model.opening);
  for (std::size_t c = 0; c < sum.size(); ++c) {
    const RateStep stays{0.0, likely[c]};
    sum[c] = weight[c] > 0.0 ? sum[c] / weight[c]
                             : fault_risk({&stays, 1}, common.worth.horizon, common.worth.discount_per_year).discounted;
    sum[c] *= loss;
  }
  return sum;
}

// What the fault of a segment costs at its time, as luck has it.
double cost_of_fault(const Common& common, double stop_luck, double stop_share) {
  return common.worth.mending + (stop_luck < stop_share ? common.worth.stop : 0.0);
}

// The earliest fault of each unit, and the renewal that follows it.
void add_realised_first(const Common& common, const Offered& question, const RemedyDraws& draws, const FirstFaults& first,
                        std::vector<double>& cost) {
  const std::vector<double> never(cost.size(), std::numeric_limits<double>::infinity());
  std::vector<double> earliest = never, at_fault(cost.size(), 0.0);
  for (const std::size_t place : first.unit->places) {
    const SegmentFaults& faults = draws.of(common, question, place);
    const std::size_t segment = question.segments[place];
    const std::vector<double> stops = uniforms_of(common, "stop/" + common.job.segments[segment].id);
    for (std::size_t n = 0; n < cost.size(); ++n) {
      if (faults.at[n] >= earliest[n]) continue;
      earliest[n] = faults.at[n];
      at_fault[n] = cost_of_fault(common, stops[n], common.stops(segment));
    }
  }
  const double horizon = common.worth.horizon.value();
  for (std::size_t n = 0; n < cost.size(); ++n) {
    if (earliest[n] >= horizon) continue;
    const double own = first.unit->fixed[n] + common.worth.stop * first.unit->stops[n];
    cost[n] += discount_factor(earliest[n], common.worth.discount_per_year) *
               (at_fault[n] + first.unit->price[n] + (1.0 - earliest[n] / horizon) * own);
  }
}

}  // namespace

double harm_chance(const library::ModelConstants::Opening& opening, double disturbs, unsigned char condition) {
  const std::array<double, 5> breaks{0.0, opening.break_stiff.value, opening.break_flex_cracks.value,
                                     opening.break_cracked.value, opening.break_crumbling.value};
  return std::min(1.0, disturbs * breaks[condition]);
}

ExpectedDraws expected_draws(const Common& common, const Offered& question, const RemedyDraws& draws) {
  ExpectedDraws expected{draws.parts, std::vector<double>(common.draws(), 0.0)};
  for (std::size_t n = 0; n < common.draws(); ++n) expected.fixed[n] += draws.work[n];
  for (std::size_t i = 0; i < question.segments.size(); ++i) {
    const SegmentFaults& faults = draws.of(common, question, i);
    const double stops = common.stops(question.segments[i]);
    for (std::size_t n = 0; n < common.draws(); ++n) {
      if (draws.one_by_one[i]) {
        expected.fixed[n] += common.worth.mending * faults.discounted[n];
        expected.stops[n] += stops * faults.discounted[n];
      }
      if (draws.disturbed[i])
        expected.fixed[n] += common.worth.mending * harm_chance(common.library.model.opening, draws.disturbs, faults.now[n]);
    }
  }
  for (const FirstFaults& first : draws.first) {
    const Unit& unit = *first.unit;
    for (std::size_t n = 0; n < common.draws(); ++n) {
      expected.fixed[n] += first.discounted[n] * (common.worth.mending + unit.price[n]) + first.left[n] * unit.fixed[n];
      expected.stops[n] += first.stops[n] + first.left[n] * unit.stops[n];
    }
  }
  return expected;
}

std::vector<double> realised_draws(const Common& common, const Offered& question, const RemedyDraws& draws) {
  std::vector<double> cost = draws.parts;
  for (std::size_t n = 0; n < cost.size(); ++n) cost[n] += draws.work[n];
  for (std::size_t i = 0; i < question.segments.size(); ++i) {
    const SegmentFaults& faults = draws.of(common, question, i);
    const std::string& id = common.job.segments[question.segments[i]].id;
    const std::vector<double> stops = uniforms_of(common, "stop/" + id), breaks = uniforms_of(common, "harm/" + id);
    const double share = common.stops(question.segments[i]);
    for (std::size_t n = 0; n < cost.size(); ++n) {
      if (draws.one_by_one[i] && faults.at[n] < common.worth.horizon.value())
        cost[n] += discount_factor(faults.at[n], common.worth.discount_per_year) * cost_of_fault(common, stops[n], share);
      if (draws.disturbed[i] && breaks[n] < harm_chance(common.library.model.opening, draws.disturbs, faults.now[n]))
        cost[n] += common.worth.mending;
    }
  }
  for (const FirstFaults& first : draws.first) add_realised_first(common, question, draws, first, cost);
  return cost;
}

population::Action action_of(const Common& common, const Offered& question, const Offer& offer, const RemedyDraws& draws) {
  population::Action action;
  action.id = offer.remedy.id;
  action.by_draw = draws.parts;
  for (std::size_t n = 0; n < action.by_draw.size(); ++n) action.by_draw[n] += draws.work[n];
  const std::vector<double> shares = policy_shares(common, question, draws);
  for (std::size_t i = 0; i < question.segments.size(); ++i) {
    const SegmentFaults& faults = draws.of(common, question, i);
    const double loss = shares[i] * (common.worth.mending + common.stops(question.segments[i]) * common.worth.stop);
    if (draws.renewed[i]) {
      for (std::size_t n = 0; n < action.by_draw.size(); ++n) action.by_draw[n] += loss * faults.discounted[n];
      continue;
    }
    population::SegmentLoss part{question.segments[i], by_condition(common, faults, loss)};
    if (draws.disturbed[i]) {
      for (std::size_t c = 0; c < part.by_condition.size(); ++c)
        part.by_condition[c] +=
            common.worth.mending * harm_chance(common.library.model.opening, draws.disturbs, static_cast<unsigned char>(c));
    }
    action.segments.push_back(part);
  }
  return action;
}

}  // namespace heatside::remedy
