#include "remedy/draws.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "heatside/base/random.hpp"
#include "heatside/remedy/wired.hpp"
#include "remedy/kinds.hpp"

namespace heatside::remedy {

namespace {

using casefile::Case;
using casefile::Segment;
using library::Library;
using library::RemedyAct;

constexpr double score_of_ends = 1.6448536269514722;  // standard normal score beyond which 5 % lie

double stops_of(const library::Consequence& consequence) {
  const double shorts = consequence.short_share.value;
  return shorts * consequence.stop_short.value + (1.0 - shorts) * consequence.stop_open.value;
}

std::vector<double> normals_of(const Common& common, const std::string& name) {
  return normal_draws(random_quantity(common.answer.population.normals.seed(), name), common.draws());
}

std::vector<double> uniforms_of(const Common& common, const std::string& name) {
  return uniform_draws(random_quantity(common.answer.population.normals.seed(), name), common.draws());
}

double at_score(const Sourced& number, double score) {
  const double end = score > 0.0 ? number.high.value_or(number.value) : number.low.value_or(number.value);
  if (number.value <= 0.0 || end <= 0.0) return number.value;
  return number.value * std::pow(end / number.value, std::abs(score) / score_of_ends);
}

double wires_in(const Case& job, const std::vector<std::size_t>& segments) {
  double wires = 0.0;
  for (const std::size_t number : segments) {
    for (const casefile::WireGroup& group : job.segments[number].groups) wires += static_cast<double>(group.count);
  }
  return wires;
}

// Near the work: in a loom or under a cover that it reaches.
bool is_near(const Case& job, const std::vector<std::size_t>& covered, const Segment& segment) {
  return std::any_of(covered.begin(), covered.end(), [&](std::size_t number) {
    const Segment& other = job.segments[number];
    return other.loom == segment.loom || (!segment.cover_group.empty() && other.cover_group == segment.cover_group);
  });
}

population::ConditionYears under_cover(population::ConditionYears years, double factor) {
  for (std::vector<double>& until : years.until) {
    for (double& year : until) {
      if (year > 0.0) year *= factor;
    }
  }
  return years;
}

// Share of the hazard that is left below a cover, draw by draw within the range of the kind.
std::vector<double> kept_under_cover(const Sourced& prevents, const std::vector<double>& score) {
  std::vector<double> kept;
  for (const double z : score) kept.push_back(1.0 - std::min(1.0, at_score(prevents, z)));
  return kept;
}

void add_own_faults(const Common& common, const Offered& question, const Offer& offer,
                    const std::vector<std::size_t>& covered, std::vector<population::ConditionYears> new_years,
                    RemedyDraws& draws) {
  if (offer.act == RemedyAct::cover) draws.prevents_score = normals_of(common, "prevents/" + offer.remedy.kind);
  const Sourced& prevents = kind_of(common.library, offer.remedy.kind).prevents;
  for (std::size_t i = 0; i < covered.size(); ++i) {
    const auto at = std::find(question.segments.begin(), question.segments.end(), covered[i]);
    if (at == question.segments.end()) continue;
    const auto place = static_cast<std::size_t>(at - question.segments.begin());
    draws.own[place] = draws.faults.size();
    draws.renewed[place] = renews(offer.act);
    if (draws.renewed[place]) {
      draws.faults.push_back(faults_of(common, covered[i], std::move(new_years[i])));
    } else {
      const double factor = life_under_cover(common.job, common.library, covered[i], offer.remedy.covering);
      draws.faults.push_back(faults_of(common, covered[i], under_cover(common.left[covered[i]]->years, factor),
                                       kept_under_cover(prevents, draws.prevents_score)));
    }
  }
}

}  // namespace

std::optional<double> stopping_share(const Case& job, const Library& library, const Segment& segment) {
  double sum = 0.0, count = 0.0;
  const auto add = [&](const std::string& function, double wires) {
    const auto known = library.consequences.find(function);
    if (known == library.consequences.end()) return;
    sum += wires * stops_of(known->second);
    count += wires;
  };
  for (const casefile::Circuit& circuit : job.circuits) {
    const auto& through = circuit.segments;
    if (std::find(through.begin(), through.end(), segment.id) != through.end()) add(circuit.function, 1.0);
  }
  if (count == 0.0) {
    for (const casefile::WireGroup& group : segment.groups) add(group.function, static_cast<double>(group.count));
  }
  if (count == 0.0) return std::nullopt;
  return sum / count;
}

Common common_of(const Case& job, const Library& library, const population::DrawnAnswer& answer,
                 const std::vector<std::size_t>& segments) {
  const std::size_t count = answer.knowledge.belief.weights.size();
  Common common{job, library, answer, worth_of(job, library), {}, std::vector<FaultRates>(count), {}, {}};
  common.fault_score = normals_of(common, "fault-chance");
  for (std::size_t n = 0; n < count; ++n) common.rates[n] = fault_rates(library.model.opening, common.fault_score[n]);
  for (const Segment& segment : job.segments) common.stop_share.push_back(stopping_share(job, library, segment));
  common.left.resize(job.segments.size());
  auto years = population::years_to_conditions(job, library, answer.population, segments);
  for (std::size_t i = 0; i < segments.size(); ++i)
    common.left[segments[i]] = faults_of(common, segments[i], std::move(years[i]));
  return common;
}

std::array<RateStep, 4> SegmentFaults::steps(std::size_t draw, const FaultRates& rates) const {
  FaultRates hazards = rates;
  if (!kept.empty()) {
    for (double& hazard : hazards) hazard *= kept[draw];
  }
  return steps_of({years.until[0][draw], years.until[1][draw], years.until[2][draw], years.until[3][draw]}, hazards);
}

SegmentFaults faults_of(const Common& common, std::size_t segment, population::ConditionYears years,
                        std::vector<double> kept) {
  const std::size_t count = common.draws();
  const double horizon = common.worth.horizon.value(), discount = common.worth.discount_per_year;
  const std::vector<double> luck = uniforms_of(common, "fault/" + common.job.segments[segment].id);
  const std::vector<double> none(count, 0.0);
  SegmentFaults faults{none,
                       none,
                       std::vector<double>(count, std::numeric_limits<double>::infinity()),
                       std::vector<unsigned char>(count, 0),
                       std::move(years),
                       std::move(kept)};
  for (std::size_t n = 0; n < count; ++n) {
    for (const std::vector<double>& until : faults.years.until)
      faults.now[n] = static_cast<unsigned char>(faults.now[n] + (until[n] <= 0.0 ? 1 : 0));
    if (faults.years.until[0][n] >= horizon) continue;
    const std::array<RateStep, 4> steps = faults.steps(n, common.rates[n]);
    const FaultRisk risk = fault_risk(steps, common.worth.horizon, discount);
    faults.discounted[n] = risk.discounted;
    faults.chance[n] = risk.chance;
    const double at = fault_time(steps, -std::log(luck[n]));
    if (at < horizon) faults.at[n] = at;
  }
  return faults;
}

void price(const Common& common, const Offer& offer, RemedyDraws& draws) {
  const library::RemedyKind& kind = kind_of(common.library, offer.remedy.kind);
  const std::vector<std::size_t> covered = covered_segments(common.job, offer.remedy);
  const double segments = static_cast<double>(covered.size()), wires = wires_in(common.job, covered);
  const auto drawn = [&](const Sourced& once, const Sourced& each, const Sourced& wire, const std::string& name,
                         std::vector<double>& score) {
    std::vector<double> minutes(common.draws(), 0.0);
    if (offer.act == RemedyAct::leave) return minutes;
    score = normals_of(common, name + offer.remedy.id);
    for (std::size_t n = 0; n < minutes.size(); ++n)
      minutes[n] = at_score(once, score[n]) + segments * at_score(each, score[n]) + wires * at_score(wire, score[n]);
    return minutes;
  };
  if (offer.remedy.parts_cost) {
    draws.parts.assign(common.draws(), *offer.remedy.parts_cost);
  } else {
    draws.parts = drawn(kind.parts, kind.parts_each, kind.parts_wire, "price/", draws.price_score);
    for (double& money : draws.parts) money *= common.worth.per_minute;
  }
  if (offer.remedy.minutes) {
    draws.work.assign(common.draws(), offer.remedy.minutes->value());
  } else {
    draws.work = drawn(kind.minutes, kind.minutes_each, kind.minutes_wire, "minutes/", draws.minute_score);
  }
  for (double& money : draws.work) money *= common.worth.per_minute;
}

RemedyDraws remedy_draws(const Common& common, const Offered& question, const Offer& offer,
                         std::vector<population::ConditionYears> new_years) {
  RemedyDraws draws;
  const std::size_t count = question.segments.size();
  draws.own.resize(count);
  draws.renewed.assign(count, false);
  draws.disturbed.assign(count, false);
  draws.disturbs = kind_of(common.library, offer.remedy.kind).disturbs.value;
  price(common, offer, draws);
  const std::vector<std::size_t> covered = covered_segments(common.job, offer.remedy);
  add_own_faults(common, question, offer, covered, std::move(new_years), draws);
  for (std::size_t i = 0; i < count; ++i)
    draws.disturbed[i] = !draws.renewed[i] && is_near(common.job, covered, common.job.segments[question.segments[i]]);
  return draws;
}

}  // namespace heatside::remedy
