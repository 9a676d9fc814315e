#include "population/looked_place.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <string>
#include <utility>

#include "population/finding_chances.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using casefile::Cause;
using casefile::Finding;
using library::Library;

constexpr std::size_t conditions = library::condition_count;

// A look of which something may be due to another cause than heat. A repair says nothing of what did the damage.
bool perhaps_otherwise(const Finding& finding, const Library& library) {
  return finding.cause != Cause::heat && finding.seen != library::Seen::altered && seen_row(finding, library).has_value();
}

// Findings at one part of a segment: one other cause did what it did there.
using ByPart = std::map<std::pair<std::string, std::string>, std::vector<const Finding*>>;

// Chance, before any look, of what the other cause did by itself; supple where there was none.
ConditionRow other_cause(const std::vector<const Finding*>& findings, double heat_share) {
  const bool certain =
      std::any_of(findings.begin(), findings.end(), [](const Finding* finding) { return finding->cause != Cause::unsure; });
  const double none = certain ? 0.0 : heat_share;
  ConditionRow chance{};
  chance.fill((1.0 - none) / static_cast<double>(conditions));
  chance[0] += none;
  return chance;
}

std::vector<double> conditions_of(const SegmentDraws& draws, Years after) {
  std::vector<double> numbers;
  for (const ageing::Condition condition : conditions_at(draws, after))
    numbers.push_back(static_cast<double>(static_cast<std::size_t>(condition)));
  return numbers;
}

// Lets in what was seen at one part, with its other cause.
void add_part(const std::vector<const Finding*>& findings, const Case& job, const Library& library,
              const SegmentDraws& segment, LookedPlace& place) {
  const double spread = library.model.ageing.stretch_ln_sd.value;
  const ConditionRow before = other_cause(findings, library.model.finding.unsure_heat_share.value);
  std::vector<ConditionRow> other(place.weights.size(), before);
  for (const Finding* finding : findings) {
    const FoundPart part = part_of(segment, *casefile::find_by_id(job.segments, finding->segment), *finding);
    const Years after = time_of(*finding, job);
    const ConditionRow row = *seen_row(*finding, library);
    const std::vector<double> by_heat = for_each_candidate(
        place.heat, part.draws, spread, [&](const SegmentDraws& draws) { return conditions_of(draws, after); });
    for (std::size_t i = 0; i < other.size(); ++i) {
      for (std::size_t c = 0; c < conditions; ++c) other[i][c] *= row[std::max(c, static_cast<std::size_t>(by_heat[i]))];
    }
  }
  if (place.no_worse.empty()) {
    ConditionRow nothing{};
    nothing.fill(1.0);
    place.no_worse.assign(other.size(), nothing);
  }
  // A draw that cannot give it keeps what is known of it.
  std::vector<double> left(place.heat.draws, 0.0);
  for (std::size_t i = 0; i < other.size(); ++i) {
    double sum = 0.0;
    for (double& chance : other[i]) chance = sum += chance;
    left[i % left.size()] += place.weights[i] * sum;
  }
  for (std::size_t i = 0; i < other.size(); ++i) {
    if (!(left[i % left.size()] > 0.0)) continue;
    const double sum = other[i].back();
    place.weights[i] *= sum;
    for (std::size_t c = 0; c < conditions && sum > 0.0; ++c) place.no_worse[i][c] *= other[i][c] / sum;
  }
}

}  // namespace

bool found_at(const Case& job, const std::string& segment) {
  return std::any_of(job.findings.begin(), job.findings.end(), [&](const Finding& finding) {
    return finding.segment == segment && finding.seen != library::Seen::not_seen &&
           (finding.seen || finding.bend || finding.elongation || finding.resistance);
  });
}

LookedPlace looked_place(const Case& job, const Library& library, std::size_t number, DrawnCase& drawn, Normals& normals,
                         const Usual& usual, bool by_heat) {
  const casefile::Segment& segment = job.segments[number];
  const SegmentDraws draws = drawn.segment(number, normals);
  LookedPlace place{false, factor_candidates(segment, normals), {}, {}};
  FactorCandidates certain = place.heat;
  ByPart otherwise;
  for (std::size_t i = 0; i < job.findings.size(); ++i) {
    const Finding& finding = job.findings[i];
    if (finding.segment != segment.id || finding.seen == library::Seen::not_seen) continue;
    const bool other = perhaps_otherwise(finding, library);
    if (other) otherwise[{finding.stretch, finding.lot}].push_back(&finding);
    const bool says = finding.seen || finding.bend || finding.elongation || finding.resistance;
    if (!by_heat || !says || !may_be_heat(finding)) continue;
    std::vector<double> chances = chances_by_heat(job, library, finding, draws, place.heat, drawn, normals);
    if (finding.cause == Cause::unsure) soften(chances, library.model.finding.unsure_heat_share.value, usual.at(i));
    place.by_heat = true;
    take_in(place.heat, chances);
    if (!other) take_in(certain, chances);
  }
  place.weights = std::move(certain.weights);
  for (const auto& [part, findings] : otherwise) add_part(findings, job, library, draws, place);
  return place;
}

ConditionChances chances_of(const LookedPlace& place, const SegmentDraws& segment, Years after, double stretch_ln_sd) {
  const std::size_t draws = place.heat.draws;
  ConditionChances chances;
  for (std::vector<double>& chance : chances.by_condition) chance.assign(draws, 0.0);
  const std::vector<double> by_heat = for_each_candidate(
      place.heat, segment, stretch_ln_sd, [&](const SegmentDraws& some) { return conditions_of(some, after); });
  std::vector<double> sums(draws, 0.0);
  for (std::size_t i = 0; i < by_heat.size(); ++i) {
    const std::size_t n = i % draws;
    const auto heat = static_cast<std::size_t>(by_heat[i]);
    sums[n] += place.weights[i];
    double up_to = 0.0;
    for (std::size_t c = heat; c < conditions; ++c) {
      const double no_worse = place.no_worse.empty() ? 1.0 : place.no_worse[i][c];
      chances.by_condition[c][n] += place.weights[i] * (no_worse - up_to);
      up_to = no_worse;
    }
  }
  for (std::vector<double>& chance : chances.by_condition) {
    for (std::size_t n = 0; n < draws; ++n) chance[n] = sums[n] > 0.0 ? chance[n] / sums[n] : 0.0;
  }
  return chances;
}

}  // namespace heatside::population
