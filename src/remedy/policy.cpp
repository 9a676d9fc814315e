#include "remedy/policy.hpp"

#include <algorithm>
#include <array>

namespace heatside::remedy {

namespace {

bool leaves_old(const Unit& unit, const RemedyDraws& draws) {
  return std::any_of(unit.places.begin(), unit.places.end(), [&](std::size_t place) { return !draws.renewed[place]; });
}

bool renews_all(const Common& common, const Offered& question, const std::vector<std::size_t>& places,
                const RemedyDraws& draws) {
  return std::all_of(places.begin(), places.end(), [&](std::size_t place) {
    return draws.renewed[place] || common.job.segments[question.segments[place]].airbag;
  });
}

// It renews the unit and nothing besides.
bool renews_just(const Common& common, const Offered& question, const Unit& unit, const RemedyDraws& draws) {
  if (!renews_all(common, question, unit.places, draws)) return false;
  const auto renewed = static_cast<std::size_t>(std::count(draws.renewed.begin(), draws.renewed.end(), true));
  const auto here = static_cast<std::size_t>(
      std::count_if(unit.places.begin(), unit.places.end(), [&](std::size_t place) { return draws.renewed[place]; }));
  return here > 0 && here == renewed;
}

std::vector<double> price_of(const RemedyDraws& draws) {
  std::vector<double> price = draws.parts;
  for (std::size_t n = 0; n < price.size(); ++n) price[n] += draws.work[n];
  return price;
}

// Least whatever a stop costs; see units_of.
double cost_of_renewal(const Common& common, const Offered& question, const Unit& unit, const RemedyDraws& draws) {
  double chance = 0.0, mending = 0.0;
  for (const std::size_t place : unit.places) {
    chance += common.mean(draws.of(common, question, place).chance);
    mending += common.worth.mending * common.mean(draws.of(common, question, place).discounted);
  }
  return common.mean(price_of(draws)) * (1.0 + std::min(1.0, chance)) + mending;
}

void choose_renewal(const Common& common, const Offered& question, const std::vector<RemedyDraws>& draws,
                    const std::vector<bool>& allowed, Unit& unit) {
  double least = 0.0;
  for (std::size_t i = 0; i < draws.size(); ++i) {
    if (!allowed[i] || !renews_just(common, question, unit, draws[i])) continue;
    const double cost = cost_of_renewal(common, question, unit, draws[i]);
    if (unit.renewal && cost >= least) continue;
    least = cost;
    unit.renewal = i;
  }
  if (!unit.renewal) return;
  const RemedyDraws& chosen = draws[*unit.renewal];
  unit.price = price_of(chosen);
  unit.fixed.assign(common.draws(), 0.0);
  unit.stops.assign(common.draws(), 0.0);
  for (const std::size_t place : unit.places) {
    if (!chosen.renewed[place]) continue;
    const std::vector<double>& faults = chosen.of(common, question, place).discounted;
    const double stops = common.stops(question.segments[place]);
    for (std::size_t n = 0; n < faults.size(); ++n) {
      unit.fixed[n] += common.worth.mending * faults[n];
      unit.stops[n] += stops * faults[n];
    }
  }
}

Unit unit_of(const Common& common, const Offered& question, std::vector<std::string> looms) {
  Unit unit;
  for (std::size_t i = 0; i < question.segments.size(); ++i) {
    const std::string& loom = common.job.segments[question.segments[i]].loom;
    if (std::find(looms.begin(), looms.end(), loom) != looms.end()) unit.places.push_back(i);
  }
  unit.looms = std::move(looms);
  return unit;
}

FirstFaults first_faults_of(const Common& common, const Offered& question, const Unit& unit, const RemedyDraws& draws) {
  const std::size_t count = common.draws();
  FirstFaults first{&unit, {}, {}, {}, {}, {}};
  for (std::vector<double>* list : {&first.chance, &first.discounted, &first.stops, &first.stop_chance, &first.left})
    list->resize(count);
  std::vector<RunningRisk> risks;
  for (std::size_t n = 0; n < count; ++n) {
    risks.clear();
    for (const std::size_t place : unit.places) {
      const SegmentFaults& faults = draws.of(common, question, place);
      if (faults.chance[n] == 0.0) continue;
      const std::size_t segment = question.segments[place];
      risks.push_back({faults.steps(n, common.rates[n]), common.stops(segment), common.stop_share[segment].value_or(0.0)});
    }
    const FirstFault fault = first_fault(risks, common.worth.horizon, common.worth.discount_per_year);
    first.chance[n] = fault.chance;
    first.discounted[n] = fault.discounted;
    first.stops[n] = fault.stops;
    first.stop_chance[n] = fault.stop_chance;
    first.left[n] = fault.left;
  }
  return first;
}

double mean_product(const Common& common, const std::vector<double>& one, const std::vector<double>& other) {
  std::vector<double> product = one;
  for (std::size_t n = 0; n < product.size(); ++n) product[n] *= other[n];
  return common.mean(product);
}

}  // namespace

std::vector<Unit> units_of(const Common& common, const Offered& question, const std::vector<RemedyDraws>& draws,
                           const std::vector<bool>& allowed) {
  std::vector<Unit> units;
  for (const std::string& loom : question.looms) {
    Unit unit = unit_of(common, question, {loom});
    if (unit.places.empty()) continue;
    choose_renewal(common, question, draws, allowed, unit);
    units.push_back(std::move(unit));
  }
  const bool each = std::all_of(units.begin(), units.end(), [](const Unit& unit) { return unit.renewal.has_value(); });
  if (each || units.size() < 2) return units;
  Unit all = unit_of(common, question, question.looms);
  choose_renewal(common, question, draws, allowed, all);
  if (!all.renewal) return units;
  units.clear();
  units.push_back(std::move(all));
  return units;
}

void add_first_faults(const Common& common, const Offered& question, const std::vector<Unit>& units, RemedyDraws& draws) {
  draws.one_by_one.assign(question.segments.size(), true);
  for (const Unit& unit : units) {
    if (!unit.renewal || !leaves_old(unit, draws)) continue;
    draws.first.push_back(first_faults_of(common, question, unit, draws));
    for (const std::size_t place : unit.places) draws.one_by_one[place] = false;
  }
}

std::vector<AfterFault> after_faults(const Common& common, const Offered& question, const std::vector<Unit>& units,
                                     const RemedyDraws& draws) {
  std::vector<AfterFault> list;
  for (const Unit& unit : units) {
    if (!leaves_old(unit, draws)) continue;
    std::vector<double> none(common.draws(), 1.0);
    for (const std::size_t place : unit.places) {
      const std::vector<double>& chance = draws.of(common, question, place).chance;
      for (std::size_t n = 0; n < none.size(); ++n) none[n] *= 1.0 - chance[n];
    }
    AfterFault after{unit.looms, unit.renewal, std::max(0.0, 1.0 - common.mean(none)), 0.0};
    if (unit.renewal) after.price = common.mean(unit.price);
    list.push_back(std::move(after));
  }
  return list;
}

std::vector<double> policy_shares(const Common& common, const Offered& question, const RemedyDraws& draws) {
  std::vector<double> shares(question.segments.size(), 1.0);
  const Worth& worth = common.worth;
  for (const FirstFaults& first : draws.first) {
    double mended = 0.0;
    for (const std::size_t place : first.unit->places)
      mended += (worth.mending + common.stops(question.segments[place]) * worth.stop) *
                common.mean(draws.of(common, question, place).discounted);
    if (mended <= 0.0) continue;
    const double policy = worth.mending * common.mean(first.discounted) + worth.stop * common.mean(first.stops) +
                          mean_product(common, first.discounted, first.unit->price) +
                          mean_product(common, first.left, first.unit->fixed) +
                          worth.stop * mean_product(common, first.left, first.unit->stops);
    for (const std::size_t place : first.unit->places) shares[place] = policy / mended;
  }
  return shares;
}

}  // namespace heatside::remedy
