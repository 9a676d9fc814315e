#include "heatside/population/drawn_estimate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "heatside/population/belief.hpp"
#include "population/drawn_case.hpp"
#include "population/evidence.hpp"
#include "population/learning.hpp"
#include "population/spread.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using library::Library;

constexpr std::size_t fewest_draws = 100;
constexpr double longest_life = 1.0e4;  // [a], where a clock that stands still is cut in ln life

template <class Value, class Make>
Quantiles<Value> quantiles_of(const Belief& belief, const std::vector<double>& values, Make make) {
  const std::vector<double> at = quantiles(belief, values, {0.1, 0.5, 0.9});
  return {make(at[0]), make(at[1]), make(at[2])};
}

Quantiles<Years> years_of(const Belief& belief, const std::vector<double>& values) {
  return quantiles_of<Years>(belief, values, [](double years) { return Years{years}; });
}

// From the making of the loom to flex-cracks.
std::vector<double> ln_lives(const std::vector<double>& years, Years age) {
  std::vector<double> lives;
  lives.reserve(years.size());
  for (const double year : years) lives.push_back(std::log(std::clamp(year + age.value(), 1.0e-3, longest_life)));
  return lives;
}

// What findings at a segment itself make of its draws and of its chances within
// each draw.
struct OwnLooks {
  Belief belief;         // with the drawn factors of the stretches
  ConditionChances now;  // after looks at all of it on the day of the inspection
  bool looked = false;   // any finding at it by heat
  bool direct = true;    // `now` holds all of them
};

OwnLooks own_looks(const Case& job, const casefile::Segment& segment, const SegmentDraws& draws, const Library& library,
                   const Belief& belief, const std::vector<FindingEvidence>& evidence) {
  constexpr Years same_day{0.1};  // looks within a month of the inspection speak of its day
  OwnLooks own{belief, chances_at(draws, Years{0.0}, library.model.ageing.stretch_ln_sd.value)};
  for (const FindingEvidence& one : evidence) {
    const casefile::Finding& finding = job.findings[one.finding];
    if (finding.segment != segment.id || finding.seen == library::Seen::altered || finding.cause != casefile::Cause::heat)
      continue;
    own.looked = true;
    const std::vector<ConditionRow> row = row_of(finding, library);
    const double years = years_between(job.inspected.day, finding.on.day).value();
    if (!row.empty() && finding.stretch.empty() && finding.lot.empty() && std::abs(years) < same_day.value()) {
      own.now = after_seeing(own.now, row.front());
    } else {
      own.direct = false;
    }
    // With its factor drawn, a draw that shows another condition than was seen
    // counts less.
    for (std::size_t n = 0; n < one.likelihood.size(); ++n) {
      if (one.likelihood[n] > 0.0) own.belief.weights[n] *= one.at_place[n] / one.likelihood[n];
    }
  }
  double sum = 0.0;
  for (const double weight : own.belief.weights) sum += weight;
  if (!(sum > 0.0)) return {belief, std::move(own.now), own.looked, own.direct};
  for (double& weight : own.belief.weights) weight /= sum;
  return own;
}

ConditionRow drawn_chances(const Belief& belief, const SegmentDraws& draws, Years after) {
  const std::vector<ageing::Condition> drawn = conditions_at(draws, after);
  ConditionRow chances{};
  for (std::size_t n = 0; n < drawn.size(); ++n) chances[static_cast<std::size_t>(drawn[n])] += belief.weights[n];
  return chances;
}

void add_draws(const Case& job, const casefile::Segment& segment, const SegmentDraws& draws, const OwnLooks& own,
               const Library& library, const Belief& belief, const Normals& normals, const DrawOptions& options,
               SegmentEstimate& estimate) {
  estimate.chance = own.direct ? mean_chances(belief, own.now) : drawn_chances(own.belief, draws, Years{0.0});
  const auto likeliest = std::max_element(estimate.chance.begin(), estimate.chance.end());
  estimate.most_likely = static_cast<ageing::Condition>(likeliest - estimate.chance.begin());
  estimate.elongation = quantiles_of<Strain>(own.belief, elongation_left(draws), [](double e) { return Strain{e}; });
  const std::vector<double> flex = years_until(draws, 1);
  estimate.flex_cracks = years_of(own.belief, flex);
  estimate.cracked = years_of(own.belief, years_until(draws, 2));
  const double spread = library.model.ageing.stretch_ln_sd.value;
  for (const Years after : options.at)
    estimate.chance_at.push_back({after, own.looked ? drawn_chances(own.belief, draws, after)
                                                    : mean_chances(belief, chances_at(draws, after, spread))});
  const casefile::Loom& loom = *casefile::find_by_id(job.looms, segment.loom);
  estimate.spread =
      spread_shares(job, segment, normals, own.belief, ln_lives(flex, years_between(loom.made.day, job.inspected.day)));
}

double compound_chance(const LotDraws& lot, const std::string& insulation, const Belief& belief) {
  double chance = 0.0;
  for (const CompoundDraws& compound : lot.compounds) {
    if (compound.insulation->head.id != insulation) continue;
    for (const std::size_t draw : compound.draws) chance += belief.weights[draw];
  }
  return chance;
}

std::size_t number_of(const Case& job, const std::string& id) {
  return static_cast<std::size_t>(
      std::find_if(job.segments.begin(), job.segments.end(), [&](const casefile::Segment& one) { return one.id == id; }) -
      job.segments.begin());
}

void add_before(const Case& job, const Library& library, DrawnCase& drawn, Normals& normals, Estimate& estimate) {
  const Belief belief = even_belief(normals.draws());
  for (SegmentEstimate& one : estimate.segments) {
    const SegmentDraws draws = drawn.segment(number_of(job, one.id), normals);
    const auto chances = chances_at(draws, Years{0.0}, library.model.ageing.stretch_ln_sd.value);
    one.before = BeforeFindings{mean_chances(belief, chances), years_of(belief, years_until(draws, 1)).p50};
  }
}

// Evidence of the findings if every loom that has one had been replaced on some
// day between its fitting and the inspection.
double ln_evidence_of_replacement(const Case& job, const Library& library, const exposure::ZoneScores& scores,
                                  const DrawOptions& options) {
  constexpr int days = 5;
  constexpr std::size_t fewer_draws = 2000;
  double mean = 0.0;
  for (int day = 1; day <= days; ++day) {
    Case replaced = job;
    for (casefile::Loom& loom : replaced.looms) {
      const auto span = job.inspected.day - loom.fitted.day;
      loom.made = loom.fitted = exact_date(loom.fitted.day + span * day / (days + 1));
    }
    DrawnCase drawn{replaced, library, scores, options.conduction};
    const LearntDraws learnt =
        learn_from(Evidence{replaced, library}, drawn, Normals{options.seed, std::min(options.draws, fewer_draws)}, false);
    if (!learnt.impossible) mean += std::exp(learnt.ln_evidence) / days;
  }
  return std::log(mean);
}

std::string contradiction_in_words(const Case& job, std::size_t number) {
  const casefile::Finding& finding = job.findings[number];
  const std::string seen = finding.seen ? std::string{library::seen_names[static_cast<std::size_t>(*finding.seen)]} : "this";
  return fmt::format(
      "{} at {} on {}: hardly any draw gives that beside the "
      "other findings; is the loom a replacement, is the "
      "place another, or was it something else than heat?",
      seen, finding.segment, format_date(finding.on));
}

Learned learned_from(const Case& job, const Library& library, const LearntDraws& learnt, const Estimate& estimate,
                     const DrawOptions& options, std::size_t findings) {
  constexpr double rare = 0.1;  // looms that were replaced without anybody knowing: judgement
  Learned learned{findings, learnt.effective_sample, learnt.prior_sample, learnt.stages, learnt.ln_evidence, std::nullopt,
                  {}};
  for (const std::size_t number : learnt.contradicted) learned.warnings.push_back(contradiction_in_words(job, number));
  if (learnt.impossible)
    learned.warnings.emplace_back(
        "no draw gives all the findings: they contradict the model, and the "
        "numbers are those before them");
  if (learnt.unfinished)
    learned.warnings.emplace_back(
        "the findings were too hard for these draws "
        "and are not all let in: ask for more draws");
  // Findings that agree with each other may still be far from what was expected of the place.
  const bool far_off = learnt.prior_sample < 0.1 * static_cast<double>(options.draws);
  if (learned.warnings.empty() && !far_off) return learned;
  const double odds = rare / (1.0 - rare) *
                      std::exp(ln_evidence_of_replacement(job, library, estimate.zone_scores, options) -
                               (learnt.impossible ? -700.0 : learnt.ln_evidence));
  const double replaced = std::isfinite(odds) ? odds / (1.0 + odds) : 1.0;
  if (learned.warnings.empty() && replaced < 0.5) return learned;
  learned.replaced = replaced;
  learned.warnings.push_back(
      fmt::format("If one loom in ten was replaced without anybody knowing, "
                  "these findings make it {:.0f} in 100 here. Look "
                  "for its date "
                  "code; write made and fitted of the loom into the case.",
                  100.0 * *learned.replaced));
  return learned;
}

}  // namespace

Estimate drawn_estimate(const Case& job, const Library& library, DrawOptions options) {
  return drawn_answer(job, library, options).estimate;
}

DrawnAnswer drawn_answer(const Case& job, const Library& library, const DrawOptions& options) {
  if (options.draws < fewest_draws)
    throw DomainError(std::to_string(options.draws) + " draws are too few for quantiles; 100 or more are needed");
  Estimate estimate = likely_estimate(
      job, library,
      {.solution = ageing::Solution::closed_form, .histogram = options.histogram, .conduction = options.conduction});
  estimate.draws = options.draws;
  estimate.seed = options.seed;
  estimate.likely_only = false;
  Normals normals{options.seed, options.draws};
  DrawnCase drawn{job, library, estimate.zone_scores, options.conduction};
  Belief belief = even_belief(options.draws);
  const Evidence evidence{job, library};
  std::vector<FindingEvidence> weighed;
  if (evidence.any()) {
    add_before(job, library, drawn, normals, estimate);
    LearntDraws learnt = learn_from(evidence, drawn, std::move(normals), true);
    estimate.learned = learned_from(job, library, learnt, estimate, options, evidence.count());
    normals = std::move(learnt.normals);
    belief = std::move(learnt.belief);
    drawn.forget();
    if (!learnt.impossible) weighed = evidence.weigh(drawn, normals, learnt.usual);
  }
  std::vector<ConditionChances> chances(job.segments.size());
  for (SegmentEstimate& one : estimate.segments) {
    const std::size_t number = number_of(job, one.id);
    const SegmentDraws draws = drawn.segment(number, normals);
    OwnLooks own = own_looks(job, job.segments[number], draws, library, belief, weighed);
    if (estimate.learned && !one.compound_known) {
      one.compound_chance = compound_chance(drawn.lot(one.lot, normals), one.insulation, own.belief);
    }
    add_draws(job, job.segments[number], draws, own, library, belief, normals, options, one);
    chances[number] = std::move(own.now);
  }
  std::sort(estimate.segments.begin(), estimate.segments.end(), [](const SegmentEstimate& a, const SegmentEstimate& b) {
    return std::tuple(a.flex_cracks.p50, a.cracked.p50, a.id) < std::tuple(b.flex_cracks.p50, b.cracked.p50, b.id);
  });
  return {std::move(estimate), {std::move(belief), std::move(chances)}};
}

}  // namespace heatside::population
