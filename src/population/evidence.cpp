#include "population/evidence.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <set>
#include <tuple>
#include <variant>

namespace heatside::population {

namespace {

using casefile::Case;
using casefile::Cause;
using casefile::Finding;
using library::Library;

bool by_heat(const Finding& finding) { return finding.cause == Cause::heat || finding.cause == Cause::unsure; }

bool says_something(const Finding& finding) {
  if (!finding.clues.empty()) return true;
  if (!by_heat(finding)) return false;
  if (finding.seen == library::Seen::not_seen) return false;
  return finding.seen || finding.bend || finding.elongation || finding.resistance;
}

ConditionRow chances_of(const library::ChanceRow& row) { return row.chance; }

ConditionRow complement(const ConditionRow& row) {
  ConditionRow rest{};
  for (std::size_t i = 0; i < rest.size(); ++i) rest[i] = 1.0 - row[i];
  return rest;
}

// The part of a segment that a finding speaks of: one stretch, or one lot's
// wires, or all of it.
SegmentDraws part_of(const SegmentDraws& all, const casefile::Segment& segment, const Finding& finding) {
  SegmentDraws part;
  for (const StretchDraws& stretch : all.stretches) {
    if (!finding.stretch.empty() && stretch.id != finding.stretch) continue;
    StretchDraws some{stretch.id, {}, stretch.factor};
    for (std::size_t group = 0; group < stretch.groups.size(); ++group) {
      if (finding.lot.empty() || segment.groups[group].lot == finding.lot) some.groups.push_back(stretch.groups[group]);
    }
    if (!some.groups.empty()) part.stretches.push_back(std::move(some));
  }
  return part.stretches.empty() ? all : part;
}

double below(double score) { return 0.5 * std::erfc(-score / std::numbers::sqrt2); }

// Chance that a tail of so much elongation cracks round a rod.
std::vector<double> bend_likelihood(const Finding& finding, const library::BendTest& test, const Library& library,
                                    const SegmentDraws& segment, Metres outer_diameter) {
  const double strain = ageing::bend_strain(outer_diameter, finding.bend->diameter).value();
  const double notched = strain * library.model.condition.notch_factor.value;
  std::vector<double> likelihood;
  for (const double elongation : elongation_left(segment)) {
    const double cracks = below(std::log(notched / elongation) / test.strain_ln_sd.value);
    likelihood.push_back(finding.bend->cracked ? cracks : 1.0 - cracks);
  }
  return likelihood;
}

std::vector<double> pull_likelihood(const Finding& finding, const SegmentDraws& segment) {
  std::vector<double> likelihood;
  for (const double elongation : elongation_left(segment)) {
    const double off = (elongation - finding.elongation->elongation.value()) / finding.elongation->standard_error.value();
    likelihood.push_back(std::exp(-0.5 * off * off));
  }
  return likelihood;
}

double mean_of(const std::vector<double>& values) {
  double mean = 0.0;
  for (const double one : values) mean += one / static_cast<double>(values.size());
  return mean;
}

// Mixed with what is seen where heat was not the cause: then any draw gives it
// as often.
void soften(std::vector<double>& likelihood, double heat_share, double usual) {
  for (double& one : likelihood) one = heat_share * one + (1.0 - heat_share) * usual;
}

}  // namespace

std::vector<ConditionRow> row_of(const Finding& finding, const Library& library) {
  if (!by_heat(finding)) return {};
  if (finding.seen == library::Seen::altered) {
    const double ratio = library.model.finding.altered_ratio.value;
    return {{1.0 / ratio, 1.0 / ratio, 1.0 / ratio, 1.0, 1.0}};
  }
  if (finding.method.empty()) return {};
  const library::Method& method = library.methods.at(finding.method);
  if (const auto* look = std::get_if<library::LookTable>(&method.evidence)) {
    if (!finding.seen || *finding.seen == library::Seen::not_seen) return {};
    ConditionRow row{};
    for (std::size_t c = 0; c < row.size(); ++c) row[c] = look->seen[c].chance[static_cast<std::size_t>(*finding.seen)];
    return {row};
  }
  if (const auto* reading = std::get_if<library::ResistanceReading>(&method.evidence)) {
    if (!finding.resistance) return {};
    const bool high = finding.resistance->megohms >= reading->high_from.value;
    return {high ? chances_of(reading->high) : complement(chances_of(reading->high))};
  }
  return {};
}

Evidence::Evidence(const Case& job, const Library& library) : job_{job}, library_{library} {
  for (std::size_t i = 0; i < job.findings.size(); ++i) {
    if (says_something(job.findings[i])) counted_.push_back(i);
  }
}

// A place has one condition on one day, however often it is looked at: what is
// known of it after each look.
struct Evidence::Looks {
  struct Chances {
    ConditionChances before, now;
  };
  std::map<std::tuple<std::string, std::string, std::string, std::int64_t>, Chances> places;
};

FindingEvidence Evidence::of_look(std::size_t number, const SegmentDraws& segment, Looks& looks, Usual& usual) const {
  const Finding& finding = job_.findings[number];
  const casefile::Segment& at = *casefile::find_by_id(job_.segments, finding.segment);
  const SegmentDraws part = part_of(segment, at, finding);
  const double heat_share = library_.model.finding.unsure_heat_share.value;
  FindingEvidence answer{number, {}, {}, 1.0};
  const std::vector<ConditionRow> rows = row_of(finding, library_);
  if (!rows.empty()) {
    ConditionRow row = rows.front();
    const Date& day = finding.seen == library::Seen::altered ? *finding.altered_on : finding.on;
    const Years after = years_between(job_.inspected.day, day.day);
    const auto key = std::tuple(finding.segment, finding.stretch, finding.lot,
                                static_cast<std::int64_t>((day.day - job_.inspected.day).count()));
    auto place = looks.places.find(key);
    if (place == looks.places.end()) {
      ConditionChances chances = chances_at(part, after, library_.model.ageing.stretch_ln_sd.value);
      place = looks.places.emplace(key, Looks::Chances{chances, chances}).first;
    }
    if (finding.cause == Cause::unsure) {
      if (!usual.contains(number)) usual[number] = mean_of(population::likelihood(row, place->second.before));
      row = perhaps_not_heat(row, heat_share, usual.at(number));
    }
    answer.likelihood = population::likelihood(row, place->second.now);
    place->second.now = after_seeing(place->second.now, row);
    answer.most = *std::max_element(row.begin(), row.end());
    for (const ageing::Condition condition : conditions_at(part, after))
      answer.at_place.push_back(row[static_cast<std::size_t>(condition)]);
    return answer;
  }
  if (finding.bend) {
    const auto& test = std::get<library::BendTest>(library_.methods.at(finding.method).evidence);
    const auto bent = std::find_if(at.groups.begin(), at.groups.end(),
                                   [&](const casefile::WireGroup& group) { return group.lot == finding.lot; });
    const casefile::WireGroup& group = bent == at.groups.end() ? at.groups.front() : *bent;
    answer.likelihood = bend_likelihood(finding, test, library_, part, group.outer_diameter);
  } else if (finding.elongation) {
    answer.likelihood = pull_likelihood(finding, part);
  } else {
    return answer;
  }
  if (finding.cause == Cause::unsure) {
    if (!usual.contains(number)) usual[number] = mean_of(answer.likelihood);
    soften(answer.likelihood, heat_share, usual.at(number));
  }
  answer.at_place = answer.likelihood;
  return answer;
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
  std::map<std::string, SegmentDraws> segments;
  std::set<std::string> clues_counted;
  Looks looks;
  for (const std::size_t number : counted_) {
    const Finding& finding = job_.findings[number];
    FindingEvidence one{number, {}, {}, 1.0};
    if (!finding.segment.empty() && by_heat(finding)) {
      auto segment = segments.find(finding.segment);
      if (segment == segments.end()) {
        const auto at = std::find_if(job_.segments.begin(), job_.segments.end(),
                                     [&](const casefile::Segment& some) { return some.id == finding.segment; });
        segment =
            segments.emplace(finding.segment, drawn.segment(static_cast<std::size_t>(at - job_.segments.begin()), normals))
                .first;
      }
      one = of_look(number, segment->second, looks, usual);
    }
    if (one.likelihood.empty()) one.likelihood = one.at_place = std::vector<double>(normals.draws(), 1.0);
    if (!finding.clues.empty()) {
      const std::vector<double> clues = of_clues(finding, clues_counted, drawn, normals);
      one.most *= *std::max_element(clues.begin(), clues.end());
      for (std::size_t n = 0; n < clues.size(); ++n) {
        one.likelihood[n] *= clues[n];
        one.at_place[n] *= clues[n];
      }
    }
    evidence.push_back(std::move(one));
  }
  return evidence;
}

}  // namespace heatside::population
