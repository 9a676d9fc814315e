#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <string>

#include "heatside/remedy/wired.hpp"
#include "population/lot_draws.hpp"
#include "remedy/knowing.hpp"
#include "remedy/renewed.hpp"
#include "remedy/results.hpp"

namespace heatside::remedy {

namespace {

using casefile::Case;
using population::Population;

constexpr std::size_t enough_draws = 1000;            // the answer is a year
constexpr std::array<int, 5> ages{0, 5, 10, 20, 30};  // [a]
constexpr double fewest_draws = 50.0;                 // of one compound, to say anything of it
constexpr double likely_enough = 0.1;                 // chance from which on a compound is spoken of

// Fewer draws, evenly weighted: systematic resampling with a fixed start.
Population thinned(const Population& all, std::size_t draws) {
  std::vector<std::size_t> picked;
  double sum = 0.0;
  for (std::size_t n = 0; n < all.belief.weights.size() && picked.size() < draws; ++n) {
    sum += all.belief.weights[n];
    while (picked.size() < draws && (static_cast<double>(picked.size()) + 0.5) / static_cast<double>(draws) <= sum)
      picked.push_back(n);
  }
  while (picked.size() < draws) picked.push_back(all.belief.weights.size() - 1);
  Population some{population::Normals{all.normals.seed(), draws}, population::even_belief(draws), all.zone_scores,
                  all.conduction, all.memory};
  for (const auto& [name, column] : all.normals.columns()) {
    std::vector<double> few;
    for (const std::size_t n : picked) few.push_back(column[n]);
    some.normals.replace(name, std::move(few));
  }
  return some;
}

// The compounds that an unknown part is likely to be of, all alike: each is asked about for itself.
std::vector<casefile::InsulationCandidate> spoken_of(const casefile::Remedy& remedy) {
  std::vector<casefile::InsulationCandidate> some;
  for (const casefile::InsulationCandidate& candidate : remedy.candidates) {
    if (candidate.weight >= likely_enough) some.push_back(candidate);
  }
  if (some.empty()) some.push_back(remedy.candidates.front());
  for (casefile::InsulationCandidate& candidate : some) candidate.weight = 1.0 / static_cast<double>(some.size());
  return some;
}

// The part as old as that, with a donor that was driven as long as its age allows.
casefile::Remedy aged(const Common& common, const casefile::Remedy& remedy, int age) {
  casefile::Remedy part = remedy;
  const auto today = common.job.inspected.day;
  part.made = exact_date(today - std::chrono::days{std::lround(age * days_per_year)});
  if (part.past) {
    const auto shelf = std::max(std::chrono::days{0}, today - part.past->to.day);
    part.past->from = *part.made;
    part.past->to = exact_date(std::max(part.made->day, today - shelf));
  }
  if (!part.compound_known) part.candidates = spoken_of(remedy);
  return part;
}

// A used part of one compound at one age.
struct AtAge {
  double cost{};  // [money], expected
  double soon{};  // chance that it cracks when handled within the time in which that is no repair
};

struct CostAtAge {
  int age{};
  std::map<std::string, AtAge> by_compound;
};

// A used part of a question, as old as anybody likes.
struct UsedPart {
  std::size_t question{}, result{};
  double rest{};     ///< [money] whatever its age
  double instead{};  ///< [money]
  std::vector<CostAtAge> costs;
};

std::vector<double> costs_of(const Common& common, const Renewal& part,
                             const std::vector<population::ConditionYears>& years) {
  std::vector<double> cost(years.front().until[0].size(), 0.0);
  const FaultRates likely = fault_rates(common.library.model.opening);
  for (std::size_t i = 0; i < part.covered.size(); ++i) {
    const double loss = common.worth.mending + common.stops(part.covered[i]) * common.worth.stop;
    const auto& until = years[i].until;
    for (std::size_t n = 0; n < cost.size(); ++n) {
      const auto steps = steps_of({until[0][n], until[1][n], until[2][n], until[3][n]}, likely);
      cost[n] += loss * fault_risk(steps, common.worth.horizon, common.worth.discount_per_year).discounted;
    }
  }
  return cost;
}

// Number of the candidate in each draw, by the first of its lots; all of them are of one compound.
std::vector<std::size_t> compounds_drawn(const Common& common, const Renewal& part, const Population& population) {
  const Case changed = wired(common.job, part.remedy, part.act);
  const casefile::Lot& lot = *casefile::find_by_id(changed.lots, changed.segments[part.covered.front()].groups.front().lot);
  population::Normals normals = population.normals;
  const auto names = population::lot_quantities(changed, lot, lot.candidates.front().insulation);
  return population::candidates_drawn(lot, normals.of(names.compound));
}

std::vector<bool> cracks_soon(const std::vector<population::ConditionYears>& years, std::size_t draws) {
  std::vector<bool> soon(draws, false);
  for (const population::ConditionYears& segment : years) {
    for (std::size_t n = 0; n < draws; ++n) soon[n] = soon[n] || segment.until[1][n] < no_repair_years;
  }
  return soon;
}

CostAtAge cost_at_age(const Common& common, const UsedPart& of, const Renewal& part, const Population& population, int age,
                      const std::vector<population::ConditionYears>& years) {
  const std::vector<double> cost = costs_of(common, part, years);
  const std::vector<std::size_t> drawn = compounds_drawn(common, part, population);
  CostAtAge result{age, {}};
  const auto& candidates = part.remedy.candidates;
  const std::vector<bool> soon = cracks_soon(years, cost.size());
  for (std::size_t candidate = 0; candidate < candidates.size(); ++candidate) {
    double sum = 0.0, count = 0.0, cracked = 0.0;
    for (std::size_t n = 0; n < cost.size(); ++n) {
      if (drawn[n] != candidate) continue;
      sum += cost[n];
      cracked += soon[n] ? 1.0 : 0.0;
      count += 1.0;
    }
    if (count >= fewest_draws)
      result.by_compound[candidates[candidate].insulation] = {of.rest + sum / count, cracked / count};
  }
  return result;
}

// Share of the way from one value to the next at which a limit is crossed; 1 where it is not.
double crossing(double before, double after, double limit) {
  return after > limit && after > before ? std::clamp((limit - before) / (after - before), 0.0, 1.0) : 1.0;
}

// Where the cost rises past that of the best of the others, or the part becomes no repair, straight between the ages worked
// out.
UsedPartLimit limit_of(const Common& common, const Question& question, const UsedPart& part, const std::string& compound) {
  UsedPartLimit limit{part.result, compound, question.results[part.result].parts, std::nullopt, false, part.instead};
  std::optional<double> oldest;
  AtAge last;
  for (const CostAtAge& at : part.costs) {
    const auto known = at.by_compound.find(compound);
    if (known == at.by_compound.end()) continue;
    const AtAge& now = known->second;
    if (now.cost > part.instead || now.soon >= no_repair_from) {
      if (oldest)
        *oldest += (at.age - *oldest) *
                   std::min(crossing(last.cost, now.cost, part.instead), crossing(last.soon, now.soon, no_repair_from));
      break;
    }
    last = now;
    oldest = at.age;
  }
  limit.any_age = oldest && *oldest >= ages.back();
  if (oldest) limit.oldest = exact_date(common.job.inspected.day - std::chrono::days{std::lround(*oldest * days_per_year)});
  return limit;
}

std::vector<UsedPart> used_parts(const std::vector<Question>& questions) {
  std::vector<UsedPart> parts;
  for (std::size_t q = 0; q < questions.size(); ++q) {
    std::optional<double> instead;
    for (const Result& one : questions[q].results) {
      if (one.offer.act == library::RemedyAct::used_part || !one.verdict.struck.empty()) continue;
      instead = std::min(instead.value_or(one.expected), one.expected);
    }
    for (std::size_t i = 0; instead && i < questions[q].results.size(); ++i) {
      const Result& result = questions[q].results[i];
      if (result.offer.act == library::RemedyAct::used_part)
        parts.push_back({q, i, result.expected - result.own_faults, *instead, {}});
    }
  }
  return parts;
}

}  // namespace

void add_used_part_limits(const Common& common, std::vector<Question>& questions) {
  std::vector<UsedPart> parts = used_parts(questions);
  if (parts.empty()) return;
  const Population few = thinned(common.answer.population, std::min(enough_draws, common.draws()));
  for (const int age : ages) {
    std::vector<Renewal> renewals;
    for (const UsedPart& part : parts) {
      const Offer& offer = questions[part.question].results[part.result].offer;
      renewals.push_back({aged(common, offer.remedy, age), offer.act, covered_segments(common.job, offer.remedy)});
    }
    const auto years = years_of_renewals(common.job, common.library, few, renewals);
    for (std::size_t i = 0; i < parts.size(); ++i)
      parts[i].costs.push_back(cost_at_age(common, parts[i], renewals[i], few, age, years[i]));
  }
  for (const UsedPart& part : parts) {
    Question& question = questions[part.question];
    const casefile::Remedy& remedy = question.results[part.result].offer.remedy;
    const auto compounds = remedy.compound_known ? remedy.candidates : spoken_of(remedy);
    for (const casefile::InsulationCandidate& candidate : compounds)
      question.used.push_back(limit_of(common, question, part, candidate.insulation));
  }
}

}  // namespace heatside::remedy
