#include "population/evidence.hpp"

#include <algorithm>
#include <iterator>
#include <optional>
#include <tuple>

#include "population/finding_chances.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using casefile::Cause;
using casefile::Finding;
using library::Library;

bool says_of_place(const Finding& finding) {
  if (finding.segment.empty() || !may_be_heat(finding) || finding.seen == library::Seen::not_seen) return false;
  return finding.seen || finding.bend || finding.elongation || finding.resistance;
}

double mean_of(const std::vector<double>& values) {
  double mean = 0.0;
  for (const double one : values) mean += one / static_cast<double>(values.size());
  return mean;
}

}  // namespace

std::vector<double> chances_by_heat(const Case& job, const Library& library, const Finding& finding,
                                    const SegmentDraws& segment, const FactorCandidates& candidates, DrawnCase& drawn,
                                    Normals& normals) {
  const double spread = library.model.ageing.stretch_ln_sd.value;
  const FoundPart part = part_of(segment, *casefile::find_by_id(job.segments, finding.segment), finding);
  if (const std::optional<ConditionRow> row = row_of(finding, library)) {
    const Years after = time_of(finding, job);
    return for_each_candidate(candidates, part.draws, spread, [&](const SegmentDraws& draws) {
      std::vector<double> chances;
      for (const ageing::Condition condition : conditions_at(draws, after))
        chances.push_back((*row)[static_cast<std::size_t>(condition)]);
      return chances;
    });
  }
  const TailTest test{job, library, finding, part, drawn, normals};
  return for_each_candidate(candidates, part.draws, spread, [&](const SegmentDraws& draws) { return test.chances(draws); });
}

void soften(std::vector<double>& chances, double heat_share, double usual) {
  for (double& one : chances) one = heat_share * one + (1.0 - heat_share) * usual;
}

Evidence::Evidence(const Case& job, const Library& library) : job_{job}, library_{library} {
  for (std::size_t i = 0; i < job.findings.size(); ++i) {
    if (!job.findings[i].clues.empty() || says_of_place(job.findings[i])) counted_.push_back(i);
  }
}

// A place has one condition on one day, however often it is looked at, and its stretches have one factor each for all
// days: what is known of them after each finding.
struct Evidence::PlaceSeen {
  SegmentDraws draws;
  std::optional<ConditionChances> before, now;   // where looks of one day at one part are all there is
  std::optional<FactorCandidates> candidates{};  // otherwise
  std::vector<double> even{};                    // their weights before any finding
};

bool Evidence::looks_alone(const std::string& segment) const {
  const auto key = [&](const Finding& finding) {
    return std::tuple(finding.stretch, finding.lot, time_of(finding, job_).value());
  };
  const Finding* first = nullptr;
  for (const std::size_t number : counted_) {
    const Finding& finding = job_.findings[number];
    if (finding.segment != segment || !says_of_place(finding)) continue;
    if (!row_of(finding, library_)) return false;
    if (first != nullptr && key(*first) != key(finding)) return false;
    first = &finding;
  }
  return true;
}

Evidence::PlaceSeen Evidence::place_seen(const std::string& id, DrawnCase& drawn, Normals& normals) const {
  const std::size_t number = casefile::number_by_id(job_.segments, id);
  PlaceSeen place{drawn.segment(number, normals), {}, {}};
  if (looks_alone(id)) return place;
  place.candidates = factor_candidates(job_.segments[number], normals);
  place.even = place.candidates->weights;
  return place;
}

void Evidence::weigh_look(const ConditionRow& seen, PlaceSeen& place, FindingEvidence& one, Usual& usual) const {
  const Finding& finding = job_.findings[one.finding];
  if (!place.now) {
    const FoundPart part = part_of(place.draws, *casefile::find_by_id(job_.segments, finding.segment), finding);
    place.now = chances_at(part.draws, time_of(finding, job_), library_.model.ageing.stretch_ln_sd.value);
    place.before = place.now;
  }
  ConditionRow row = seen;
  if (finding.cause == Cause::unsure) {
    if (!usual.contains(one.finding)) usual[one.finding] = mean_of(likelihood(row, *place.before));
    row = perhaps_not_heat(row, library_.model.finding.unsure_heat_share.value, usual.at(one.finding));
  }
  one.likelihood = likelihood(row, *place.now);
  place.now = after_seeing(*place.now, row);
  one.most = *std::max_element(row.begin(), row.end());
}

void Evidence::weigh_candidates(PlaceSeen& place, FindingEvidence& one, DrawnCase& drawn, Normals& normals,
                                Usual& usual) const {
  const Finding& finding = job_.findings[one.finding];
  std::vector<double> chances = chances_by_heat(job_, library_, finding, place.draws, *place.candidates, drawn, normals);
  const std::optional<ConditionRow> row = row_of(finding, library_);
  if (row) one.most = *std::max_element(row->begin(), row->end());
  if (finding.cause == Cause::unsure) {
    const double heat_share = library_.model.finding.unsure_heat_share.value;
    if (!usual.contains(one.finding)) {
      double sum = 0.0;
      for (std::size_t i = 0; i < chances.size(); ++i) sum += place.even[i] * chances[i];
      usual[one.finding] = sum / static_cast<double>(normals.draws());
    }
    soften(chances, heat_share, usual.at(one.finding));
    one.most = heat_share * one.most + (1.0 - heat_share) * usual.at(one.finding);
  }
  one.likelihood = take_in(*place.candidates, chances);
}

std::vector<double> Evidence::of_clues(const Finding& finding, std::set<std::string>& counted, DrawnCase& drawn,
                                       Normals& normals) const {
  // Clues speak of the stated lot, or of the first one of the segment; seen
  // again they say nothing new of it.
  std::string lot = finding.lot;
  if (lot.empty()) lot = casefile::find_by_id(job_.segments, finding.segment)->groups.front().lot;
  std::vector<std::string> clues;
  for (const std::string& clue : finding.clues) {
    if (counted.insert(lot + " " + clue).second) clues.push_back(clue);
  }
  std::vector<double> likelihood(normals.draws(), 1.0);
  for (const CompoundDraws& compound : drawn.lot(lot, normals).compounds) {
    double chance = 1.0;
    for (const std::string& clue : clues)
      chance *= library::chance_of(library_.clues.at(clue), compound.insulation->head.id).value;
    for (const std::size_t draw : compound.draws) likelihood[draw] = chance;
  }
  return likelihood;
}

std::vector<FindingEvidence> Evidence::weigh(DrawnCase& drawn, Normals& normals, Usual& usual) const {
  std::vector<FindingEvidence> evidence;
  std::map<std::string, PlaceSeen> places;
  std::set<std::string> clues_counted;
  for (const std::size_t number : counted_) {
    const Finding& finding = job_.findings[number];
    FindingEvidence one{number, {}, 1.0};
    if (says_of_place(finding)) {
      auto known = places.find(finding.segment);
      if (known == places.end()) known = places.emplace(finding.segment, place_seen(finding.segment, drawn, normals)).first;
      PlaceSeen& place = known->second;
      if (place.candidates) {
        weigh_candidates(place, one, drawn, normals, usual);
      } else {
        weigh_look(*row_of(finding, library_), place, one, usual);
      }
    }
    if (one.likelihood.empty()) one.likelihood = std::vector<double>(normals.draws(), 1.0);
    if (!finding.clues.empty()) {
      const std::vector<double> clues = of_clues(finding, clues_counted, drawn, normals);
      one.most *= *std::max_element(clues.begin(), clues.end());
      for (std::size_t n = 0; n < clues.size(); ++n) one.likelihood[n] *= clues[n];
    }
    evidence.push_back(std::move(one));
  }
  return evidence;
}

}  // namespace heatside::population
