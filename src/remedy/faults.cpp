#include "heatside/remedy/faults.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "heatside/base/error.hpp"

namespace heatside::remedy {

namespace {

constexpr double score_of_ends = 1.6448536269514722;  // standard normal score beyond which 5 % lie
constexpr double most_likely_fault = 0.999;           // a chance of 1 would have no hazard

// From a time on the hazards of all segments change by this much.
struct Change {
  double at{}, hazard{}, stopping{}, told{};
};

std::vector<Change> changes_of(std::span<const RunningRisk> segments, double horizon) {
  std::vector<Change> changes;
  for (const RunningRisk& segment : segments) {
    double before = 0.0;
    for (std::size_t i = 0; i < segment.steps.size(); ++i) {
      // A step that is over before the inspection leaves nothing behind.
      if (i + 1 < segment.steps.size() && segment.steps[i + 1].from <= 0.0) continue;
      const double at = std::max(0.0, segment.steps[i].from), more = segment.steps[i].per_year - before;
      if (at >= horizon) break;
      if (more != 0.0) changes.push_back({at, more, segment.stops * more, segment.told_stops * more});
      before = segment.steps[i].per_year;
    }
  }
  std::sort(changes.begin(), changes.end(), [](const Change& a, const Change& b) { return a.at < b.at; });
  return changes;
}

// int_0^length s exp(-k s) ds, without cancellation where k s is small.
double first_moment(double k, double length) {
  constexpr double small = 1.0e-3;
  const double x = k * length;
  if (x < small) return length * length * (0.5 - x / 3.0 + x * x / 8.0);
  return (-std::expm1(-x) - x * std::exp(-x)) / (k * k);
}

double moved_chance(const Sourced& chance, double score) {
  const double end = score > 0.0 ? chance.high.value_or(chance.value) : chance.low.value_or(chance.value);
  return std::clamp(chance.value + (end - chance.value) * std::abs(score) / score_of_ends, 0.0, most_likely_fault);
}

}  // namespace

FaultRates fault_rates(const library::ModelConstants::Opening& opening, double score) {
  const double years = opening.fault_years.value;
  if (!(years > 0.0)) throw DomainError("chances of a fault over " + std::to_string(years) + " years");
  FaultRates rates{};
  const std::array<const Sourced*, 4> chances{&opening.fault_stiff, &opening.fault_flex_cracks, &opening.fault_cracked,
                                              &opening.fault_crumbling};
  for (std::size_t i = 0; i < chances.size(); ++i) {
    if (!(chances[i]->value < 1.0)) throw DomainError("a chance of a fault of " + std::to_string(chances[i]->value));
    rates[i + 1] = -std::log1p(-moved_chance(*chances[i], score)) / years;
  }
  return rates;
}

FaultRisk fault_risk(std::span<const RateStep> steps, Years horizon, double discount_per_year) {
  const double end = horizon.value(), discount = std::log1p(discount_per_year);
  FaultRisk risk;
  double survival = 1.0, at = 0.0;
  for (std::size_t i = 0; i < steps.size() && at < end; ++i) {
    const double from = std::clamp(steps[i].from, at, end);
    const double to = i + 1 < steps.size() ? std::clamp(steps[i + 1].from, from, end) : end;
    risk.years_without += survival * (from - at);
    at = to;
    const double length = to - from, hazard = steps[i].per_year;
    if (length <= 0.0) continue;
    const double lost = -std::expm1(-hazard * length), both = hazard + discount;
    risk.years_without += survival * (hazard > 0.0 ? lost / hazard : length);
    if (hazard > 0.0) risk.discounted += survival * std::exp(-discount * from) * hazard / both * -std::expm1(-both * length);
    survival *= 1.0 - lost;
  }
  risk.years_without += survival * (end - at);
  risk.chance = 1.0 - survival;
  return risk;
}

std::array<RateStep, 4> steps_of(const std::array<double, 4>& until, const FaultRates& rates) {
  return {RateStep{until[0], rates[1]}, RateStep{until[1], rates[2]}, RateStep{until[2], rates[3]},
          RateStep{until[3], rates[4]}};
}

double fault_time(std::span<const RateStep> steps, double exponential) {
  double at = 0.0, left = exponential;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const double from = std::max(at, steps[i].from);
    const double to = i + 1 < steps.size() ? std::max(from, steps[i + 1].from) : std::numeric_limits<double>::infinity();
    const double hazard = steps[i].per_year;
    if (hazard > 0.0 && from < std::numeric_limits<double>::infinity() && hazard * (to - from) >= left)
      return from + left / hazard;
    if (hazard > 0.0 && to > from) left -= hazard * (to - from);
    at = to;
  }
  return std::numeric_limits<double>::infinity();
}

FirstFault first_fault(std::span<const RunningRisk> segments, Years horizon, double discount_per_year) {
  const double end = horizon.value(), discount = std::log1p(discount_per_year);
  const std::vector<Change> changes = changes_of(segments, end);
  FirstFault first;
  double survival = 1.0, hazard = 0.0, stopping = 0.0, told = 0.0;
  for (std::size_t i = 0; i < changes.size(); ++i) {
    hazard += changes[i].hazard;
    stopping += changes[i].stopping;
    told += changes[i].told;
    const double from = changes[i].at, length = (i + 1 < changes.size() ? changes[i + 1].at : end) - from;
    if (length <= 0.0 || hazard <= 0.0) continue;
    const double both = hazard + discount, worth = survival * std::exp(-discount * from);
    const double lost = -std::expm1(-both * length) / both;
    first.discounted += worth * hazard * lost;
    first.stops += worth * stopping * lost;
    first.left += worth * hazard * ((1.0 - from / end) * lost - first_moment(both, length) / end);
    const double gone = -std::expm1(-hazard * length);
    first.stop_chance += survival * told / hazard * gone;
    survival *= 1.0 - gone;
  }
  first.chance = 1.0 - survival;
  return first;
}

double discount_factor(double years, double discount_per_year) { return std::exp(-std::log1p(discount_per_year) * years); }

}  // namespace heatside::remedy
