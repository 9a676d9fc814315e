#include "remedy/compare_mixed.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "remedy/compare_build.hpp"

namespace heatside::remedy {

std::vector<const Candidate*> lowest_class_first(const std::vector<Candidate>& candidates) {
  const bool all_old =
      std::all_of(candidates.begin(), candidates.end(), [](const Candidate& candidate) { return candidate.obsolete; });
  std::vector<const Candidate*> sorted;
  for (const Candidate& candidate : candidates) {
    if (all_old || !candidate.obsolete) sorted.push_back(&candidate);
  }
  std::sort(sorted.begin(), sorted.end(), [](const Candidate* a, const Candidate* b) {
    return std::tuple(a->limit, -a->whole.lasts, a->insulation) < std::tuple(b->limit, -b->whole.lasts, b->insulation);
  });
  return sorted;
}

std::vector<const Candidate*> assign_lowest_class(const std::vector<Candidate>& candidates) {
  const std::vector<const Candidate*> sorted = lowest_class_first(candidates);
  std::vector<const Candidate*> assigned;
  for (std::size_t k = 0; k < candidates.front().segments.size(); ++k) {
    // Within a class the best one, so that a build is not spoilt by a compound that just serves.
    const auto better = [k](const Candidate* a, const Candidate* b) {
      const SegmentOutcome &left = a->segments[k], &right = b->segments[k];
      return std::tuple(!left.serves, left.serves ? a->limit : Kelvin{1.0}, -left.life.lasts, a->insulation) <
             std::tuple(!right.serves, right.serves ? b->limit : Kelvin{1.0}, -right.life.lasts, b->insulation);
    };
    assigned.push_back(*std::min_element(sorted.begin(), sorted.end(), better));
  }
  return assigned;
}

MixedBuild described(const std::vector<const Candidate*>& assigned, const Candidate& outcome, const casefile::Case& job) {
  MixedBuild build;
  build.whole = outcome.whole;
  build.lasts_error = outcome.lasts_error;
  std::map<std::tuple<Kelvin, std::string>, MixedPart> parts;
  std::map<std::string, std::string> insulation_of;
  for (std::size_t k = 0; k < assigned.size(); ++k) {
    const std::string& segment = outcome.segments[k].id;
    MixedPart& part = parts[{assigned[k]->limit, assigned[k]->insulation}];
    part.insulation = assigned[k]->insulation;
    part.segments.push_back(segment);
    insulation_of[segment] = part.insulation;
    if (!assigned[k]->segments[k].serves) build.unserved.push_back(segment);
  }
  for (auto& [key, part] : parts) build.parts.push_back(std::move(part));
  for (const casefile::Circuit& circuit : job.circuits) {
    std::set<std::string> met;
    for (const std::string& segment : circuit.segments) {
      if (const auto found = insulation_of.find(segment); found != insulation_of.end()) met.insert(found->second);
    }
    if (met.size() > 1) build.mixed_circuits.push_back(circuit.id);
  }
  return build;
}

}  // namespace heatside::remedy
