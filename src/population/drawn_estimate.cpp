#include "heatside/population/drawn_estimate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <tuple>

#include "heatside/population/belief.hpp"
#include "population/drawn_case.hpp"
#include "population/evidence.hpp"
#include "population/finding_chances.hpp"
#include "population/learning.hpp"
#include "population/learnt_compounds.hpp"
#include "population/likely_case.hpp"
#include "population/looked_place.hpp"
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

// What was found at a segment itself, in its chances within each draw.
struct PlaceChances {
  ConditionChances now;
  std::vector<ConditionChances> at;  // the times that are asked for
};

// Chances after looks by heat at all of a segment on the day of the inspection, exactly; nothing where there is more.
std::optional<ConditionChances> after_looks(const Case& job, const casefile::Segment& segment, const SegmentDraws& draws,
                                            const Library& library) {
  constexpr Years same_day{0.1};  // looks within a month of the inspection speak of its day
  ConditionChances now = chances_at(draws, Years{0.0}, library.model.ageing.stretch_ln_sd.value);
  for (const casefile::Finding& finding : job.findings) {
    if (finding.segment != segment.id || finding.seen == library::Seen::not_seen) continue;
    const std::optional<ConditionRow> row = row_of(finding, library);
    const bool of_all = finding.stretch.empty() && finding.lot.empty();
    const bool of_today = std::abs(time_of(finding, job).value()) < same_day.value();
    if (!row || finding.cause != casefile::Cause::heat || !of_all || !of_today) return std::nullopt;
    now = after_seeing(now, *row);
  }
  return now;
}

// Settles the factors of a place where something was found, so that its draws are those after the findings too.
PlaceChances settled(const Case& job, std::size_t number, const Library& library, DrawnCase& drawn, Normals& normals,
                     const std::optional<Usual>& usual, const DrawOptions& options) {
  const double spread = library.model.ageing.stretch_ln_sd.value;
  const SegmentDraws before = drawn.segment(number, normals);
  const LookedPlace place = looked_place(job, library, number, drawn, normals, usual.value_or(Usual{}), usual.has_value());
  std::optional<ConditionChances> exact;
  if (usual) exact = after_looks(job, job.segments[number], before, library);
  PlaceChances chances{exact ? std::move(*exact) : chances_of(place, before, Years{0.0}, spread), {}};
  for (const Years after : options.at) chances.at.push_back(chances_of(place, before, after, spread));
  if (place.by_heat) settle(place.heat, normals);
  return chances;
}

PlaceChances not_looked_at(const SegmentDraws& draws, const Library& library, const DrawOptions& options) {
  const double spread = library.model.ageing.stretch_ln_sd.value;
  PlaceChances chances{chances_at(draws, Years{0.0}, spread), {}};
  for (const Years after : options.at) chances.at.push_back(chances_at(draws, after, spread));
  return chances;
}

void add_draws(const Case& job, const casefile::Segment& segment, const SegmentDraws& draws, const PlaceChances& chances,
               const Belief& belief, const Normals& normals, const DrawOptions& options, SegmentEstimate& estimate) {
  estimate.chance = mean_chances(belief, chances.now);
  const auto likeliest = std::max_element(estimate.chance.begin(), estimate.chance.end());
  estimate.most_likely = static_cast<ageing::Condition>(likeliest - estimate.chance.begin());
  estimate.elongation = quantiles_of<Strain>(belief, elongation_left(draws), [](double e) { return Strain{e}; });
  const std::vector<double> flex = years_until(draws, 1);
  estimate.flex_cracks = years_of(belief, flex);
  estimate.cracked = years_of(belief, years_until(draws, 2));
  for (std::size_t i = 0; i < options.at.size(); ++i)
    estimate.chance_at.push_back({options.at[i], mean_chances(belief, chances.at[i])});
  const casefile::Loom& loom = *casefile::find_by_id(job.looms, segment.loom);
  estimate.spread =
      spread_shares(job, segment, normals, belief, ln_lives(flex, years_between(loom.made.day, job.inspected.day)));
}

double compound_chance(const LotDraws& lot, const std::string& insulation, const Belief& belief) {
  double chance = 0.0;
  for (const CompoundDraws& compound : lot.compounds) {
    if (compound.insulation->head.id != insulation) continue;
    for (const std::size_t draw : compound.draws) chance += belief.weights[draw];
  }
  return chance;
}

void add_before(const Case& job, const Library& library, DrawnCase& drawn, Normals& normals, Estimate& estimate) {
  const Belief belief = even_belief(normals.draws());
  for (SegmentEstimate& one : estimate.segments) {
    const SegmentDraws draws = drawn.segment(casefile::number_by_id(job.segments, one.id), normals);
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

// "cracked at u4 on 2014-01-01", "the clues to lot signal of 2014-01-01"
std::string finding_in_words(const casefile::Finding& finding) {
  const std::string day = format_date_as_known(finding.on);
  if (finding.segment.empty()) return fmt::format("the clues to lot {} of {}", finding.lot, day);
  std::string what = finding.seen         ? std::string{library::seen_names[static_cast<std::size_t>(*finding.seen)]}
                     : finding.bend       ? "the bent tail"
                     : finding.elongation ? "the pulled tail"
                     : finding.resistance ? "the resistance reading"
                                          : "the clues to the compound";
  return fmt::format("{} at {} on {}", what, finding.segment, day);
}

std::string contradiction_in_words(const casefile::Finding& finding) {
  const bool clues_alone = !finding.seen && !finding.bend && !finding.elongation && !finding.resistance;
  return fmt::format("{}: hardly any draw gives that beside the other findings; {}", finding_in_words(finding),
                     clues_alone ? "were they read from these wires, and are the candidates of the lot right?"
                                 : "is the loom a replacement, is the place another, or was it something else than heat?");
}

bool of_place_alone(const casefile::Finding& finding, const Library& library) {
  return !may_be_heat(finding) && seen_row(finding, library).has_value();
}

// What a finding does where heat was not, or perhaps not, the cause.
std::vector<std::string> other_causes_in_words(const Case& job, const Library& library) {
  std::vector<std::string> list;
  for (const casefile::Finding& finding : job.findings) {
    if (of_place_alone(finding, library)) {
      list.push_back(
          fmt::format("{} was put down to {}, not to heat: it counts in the chances of that place alone, "
                      "and moves neither its years by heat nor any other place.",
                      finding_in_words(finding), casefile::cause_names[static_cast<std::size_t>(finding.cause)]));
    } else if (finding.cause == casefile::Cause::unsure && finding.seen != library::Seen::altered &&
               seen_row(finding, library)) {
      list.push_back(
          fmt::format("{}: the cause is unsure; it counts in full in the chances of that place, and as {:.0f} in "
                      "100 heat for years and other places.",
                      finding_in_words(finding), 100.0 * library.model.finding.unsure_heat_share.value));
    }
  }
  return list;
}

// Says what is odd about the findings, and weighs whether a loom was replaced.
void add_warnings(const Case& job, const Library& library, const LearntDraws& learnt, const Estimate& estimate,
                  const DrawOptions& options, Learned& learned) {
  constexpr double rare = 0.1;  // looms that were replaced without anybody knowing: judgement
  for (const std::size_t number : learnt.contradicted)
    learned.warnings.push_back(contradiction_in_words(job.findings[number]));
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
  if (learned.warnings.empty() && !far_off) return;
  const double ln_replaced = ln_evidence_of_replacement(job, library, estimate.zone_scores, options);
  if (learnt.impossible && !std::isfinite(ln_replaced)) {
    learned.warnings.emplace_back(
        "with a loom that was replaced on an unknown day the findings are as impossible: look again at what was found, "
        "by which method, and on which wires");
    return;
  }
  const double odds = rare / (1.0 - rare) * std::exp(ln_replaced - (learnt.impossible ? -700.0 : learnt.ln_evidence));
  const double replaced = std::isfinite(odds) ? odds / (1.0 + odds) : 1.0;
  if (learned.warnings.empty() && replaced < 0.5) return;
  learned.replaced = replaced;
  learned.warnings.push_back(
      fmt::format("If one loom in ten was replaced without anybody knowing, "
                  "these findings make it {:.0f} in 100 here. Look "
                  "for its date "
                  "code; write made and fitted of the loom into the case.",
                  100.0 * *learned.replaced));
}

// The draws after the findings take the place of those before; nothing where no draw gives them.
std::optional<Usual> learn_all(const Case& job, const Library& library, const DrawOptions& options, DrawnCase& drawn,
                               Normals& normals, Belief& belief, Estimate& estimate) {
  const Evidence evidence{job, library};
  const auto alone = static_cast<std::size_t>(
      std::count_if(job.findings.begin(), job.findings.end(),
                    [&](const casefile::Finding& finding) { return of_place_alone(finding, library); }));
  if (!evidence.any() && alone == 0) return Usual{};
  add_before(job, library, drawn, normals, estimate);
  const auto draws = static_cast<double>(options.draws);
  Learned learned{evidence.count() + alone, draws, draws, 0, 0.0, std::nullopt, {}};
  std::optional<Usual> usual = Usual{};
  if (evidence.any()) {
    LearntDraws learnt = learn_from(evidence, drawn, std::move(normals), true);
    learned.effective_sample = learnt.effective_sample;
    learned.effective_by_weight = learnt.prior_sample;
    learned.stages = learnt.stages;
    learned.ln_evidence = learnt.ln_evidence;
    add_warnings(job, library, learnt, estimate, options, learned);
    usual = learnt.impossible ? std::nullopt : std::optional{std::move(learnt.usual)};
    normals = std::move(learnt.normals);
    belief = std::move(learnt.belief);
    drawn.forget();
  }
  for (std::string& words : other_causes_in_words(job, library)) learned.warnings.push_back(std::move(words));
  estimate.learned = std::move(learned);
  return usual;
}

// Compounds as they are after the findings: the likely case that describes each segment follows them.
void describe_learnt(const Case& job, const Library& library, const DrawOptions& options, DrawnCase& drawn, Normals& normals,
                     const Belief& belief, Estimate& estimate) {
  if (!estimate.learned) return rely_on_candidates(job, library, estimate);
  const Case learnt = with_learnt_compounds(job, drawn, normals, belief);
  for (std::string& words : compounds_in_words(job, learnt)) estimate.learned->warnings.push_back(std::move(words));
  if (other_likeliest(job, learnt))
    describe_as(
        likely_estimate(
            learnt, library,
            {.solution = ageing::Solution::closed_form, .histogram = options.histogram, .conduction = options.conduction}),
        estimate);
  rely_on_candidates(learnt, library, estimate);
}

}  // namespace

Estimate drawn_estimate(const Case& job, const Library& library, DrawOptions options) {
  return drawn_answer(job, library, options).estimate;
}

DrawnAnswer drawn_answer(const Case& job, const Library& library, const DrawOptions& options) {
  if (options.draws < fewest_draws)
    throw DomainError(std::to_string(options.draws) + " draws are too few for quantiles; 100 or more are needed");
  const exposure::ZoneScores scores = exposure::zone_scores(job, library);
  const auto memories = options.memory ? options.memory : std::make_shared<HeatMemories>();
  const std::shared_ptr<HeatMemory> memory = heat_memory(*memories, library, scores);
  Estimate estimate = likely_estimate(
      job, library,
      {.solution = ageing::Solution::closed_form, .histogram = options.histogram, .conduction = options.conduction}, scores,
      memory);
  estimate.draws = options.draws;
  estimate.seed = options.seed;
  estimate.likely_only = false;
  Normals normals{options.seed, options.draws};
  DrawnCase drawn{job, library, estimate.zone_scores, options.conduction, memory};
  Belief belief = even_belief(options.draws);
  const std::optional<Usual> usual = learn_all(job, library, options, drawn, normals, belief, estimate);
  describe_learnt(job, library, options, drawn, normals, belief, estimate);
  std::vector<ConditionChances> chances(job.segments.size());
  for (SegmentEstimate& one : estimate.segments) {
    const std::size_t number = casefile::number_by_id(job.segments, one.id);
    std::optional<PlaceChances> place;
    if (found_at(job, one.id)) place = settled(job, number, library, drawn, normals, usual, options);
    const SegmentDraws draws = drawn.segment(number, normals);
    if (!place) place = not_looked_at(draws, library, options);
    if (estimate.learned && !one.compound_known) {
      one.compound_chance = compound_chance(drawn.lot(one.lot, normals), one.insulation, belief);
    }
    add_draws(job, job.segments[number], draws, *place, belief, normals, options, one);
    chances[number] = std::move(place->now);
  }
  std::sort(estimate.segments.begin(), estimate.segments.end(), [](const SegmentEstimate& a, const SegmentEstimate& b) {
    return std::tuple(a.flex_cracks.p50, a.cracked.p50, a.id) < std::tuple(b.flex_cracks.p50, b.cracked.p50, b.id);
  });
  Population population{std::move(normals), belief, estimate.zone_scores, options.conduction, memories};
  return {std::move(estimate), {std::move(belief), std::move(chances)}, std::move(population)};
}

}  // namespace heatside::population
