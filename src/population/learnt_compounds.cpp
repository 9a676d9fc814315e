#include "population/learnt_compounds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "base/text.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using casefile::InsulationCandidate;
using casefile::Lot;

double chance_of(const LotDraws& lot, const std::string& insulation, const Belief& belief) {
  double chance = 0.0;
  for (const CompoundDraws& compound : lot.compounds) {
    if (compound.insulation->head.id != insulation) continue;
    for (const std::size_t draw : compound.draws) chance += belief.weights[draw];
  }
  return chance;
}

double weight_of(const Lot& lot, const std::string& insulation) {
  const auto found = std::find_if(lot.candidates.begin(), lot.candidates.end(),
                                  [&](const InsulationCandidate& one) { return one.insulation == insulation; });
  return found == lot.candidates.end() ? 0.0 : found->weight;
}

// "pvc-105 42 -> 18, short-lived-1990s 5 -> 45"; empty where hardly anything moved.
std::string moved_in_words(const Lot& before, const Lot& after) {
  constexpr double worth_a_word = 0.03;
  std::vector<std::string> words;
  for (const InsulationCandidate& one : after.candidates) {
    const double was = weight_of(before, one.insulation);
    if (std::abs(one.weight - was) < worth_a_word) continue;
    words.push_back(fmt::format("{} {:.0f} -> {:.0f}", one.insulation, 100.0 * was, 100.0 * one.weight));
  }
  return join(words);
}

}  // namespace

Case with_learnt_compounds(const Case& job, DrawnCase& drawn, Normals& normals, const Belief& belief) {
  Case learnt = job;
  for (Lot& lot : learnt.lots) {
    if (lot.compound_known) continue;
    const LotDraws& draws = drawn.lot(lot.id, normals);
    for (InsulationCandidate& one : lot.candidates) one.weight = chance_of(draws, one.insulation, belief);
    std::stable_sort(lot.candidates.begin(), lot.candidates.end(),
                     [](const InsulationCandidate& a, const InsulationCandidate& b) { return a.weight > b.weight; });
  }
  return learnt;
}

bool other_likeliest(const Case& before, const Case& after) {
  for (std::size_t i = 0; i < before.lots.size(); ++i) {
    if (before.lots[i].candidates.front().insulation != after.lots[i].candidates.front().insulation) return true;
  }
  return false;
}

std::vector<std::string> compounds_in_words(const Case& before, const Case& after) {
  std::map<std::string, std::vector<std::string>> lots;
  for (std::size_t i = 0; i < before.lots.size(); ++i) {
    const std::string moved = moved_in_words(before.lots[i], after.lots[i]);
    if (!moved.empty()) lots[moved].push_back(before.lots[i].id);
  }
  std::vector<std::string> words;
  for (const auto& [moved, ids] : lots)
    words.push_back(fmt::format("What lot{} {} {} made of, in 100, before the findings and after: {}.",
                                ids.size() == 1 ? "" : "s", join(ids), ids.size() == 1 ? "is" : "are", moved));
  return words;
}

void describe_as(const Estimate& likely, Estimate& estimate) {
  for (SegmentEstimate& one : estimate.segments) {
    const SegmentEstimate& from = *casefile::find_by_id(likely.segments, one.id);
    one.lot = from.lot;
    one.insulation = from.insulation;
    one.guarded = from.guarded;
    one.compound_known = from.compound_known;
    one.compound_chance = from.compound_chance;
    one.worst_stretch = from.worst_stretch;
    one.zone = from.zone;
    one.worst_from_start = from.worst_from_start;
    one.equivalent_temperature = from.equivalent_temperature;
    one.damage_share = from.damage_share;
    one.hours_at_temperature = from.hours_at_temperature;
  }
  estimate.relies_on = likely.relies_on;
}

void rely_on_candidates(const Case& job, const library::Library& library, Estimate& estimate) {
  constexpr double counts = 0.01;
  const std::string kind = "insulation";
  for (const Lot& lot : job.lots) {
    for (const InsulationCandidate& one : lot.candidates) {
      const auto there = [&](const library::Reliance& known) { return known.kind == kind && known.id == one.insulation; };
      if (one.weight < counts || std::any_of(estimate.relies_on.begin(), estimate.relies_on.end(), there)) continue;
      const library::Insulation& record = library.insulations.at(one.insulation);
      const auto end = std::find_if(estimate.relies_on.begin(), estimate.relies_on.end(),
                                    [&](const library::Reliance& known) { return known.kind != kind; });
      estimate.relies_on.insert(end, {kind, record.head.id, record.head.name, library::weakest_grade(record)});
    }
  }
}

}  // namespace heatside::population
