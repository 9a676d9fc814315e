#include "heatside/remedy/wired.hpp"

#include <algorithm>
#include <set>
#include <string>

#include "heatside/ageing/clock.hpp"
#include "heatside/base/error.hpp"

namespace heatside::remedy {

namespace {

using casefile::Case;
using casefile::Remedy;
using library::RemedyAct;

std::string own_id(const Remedy& remedy, const std::string& id) { return remedy.id + "/" + id; }

void add_loom(const Case& job, const Remedy& remedy, RemedyAct act, const std::string& id, Case& changed) {
  casefile::Loom loom = *casefile::find_by_id(job.looms, id);
  loom.id = own_id(remedy, id);
  loom.fitted = exact_date(job.inspected.day);
  loom.made = made_of(job, remedy, act);
  loom.date_code = remedy.date_code;
  loom.elsewhere.reset();
  if (act == RemedyAct::used_part) loom.elsewhere = remedy.past;
  changed.looms.push_back(std::move(loom));
}

void add_lot(const Remedy& remedy, const casefile::Lot& old, Case& changed) {
  casefile::Lot lot = old;
  lot.id = own_id(remedy, old.id);
  lot.loom = own_id(remedy, old.loom);
  lot.candidates = remedy.candidates;
  lot.compound_known = remedy.compound_known;
  changed.lots.push_back(std::move(lot));
}

}  // namespace

bool renews(RemedyAct act) { return act != RemedyAct::leave && act != RemedyAct::cover; }

std::vector<std::size_t> covered_segments(const Case& job, const Remedy& remedy) {
  std::vector<std::size_t> numbers;
  for (std::size_t i = 0; i < job.segments.size(); ++i) {
    if (std::find(remedy.segments.begin(), remedy.segments.end(), job.segments[i].id) != remedy.segments.end())
      numbers.push_back(i);
  }
  return numbers;
}

Date made_of(const Case& job, const Remedy& remedy, RemedyAct act) {
  if (remedy.made) return *remedy.made;
  if (act != RemedyAct::used_part) return exact_date(job.inspected.day);
  return remedy.past ? remedy.past->from : job.built;
}

Case wired(const Case& job, const Remedy& remedy, RemedyAct act) {
  Case changed = job;
  if (!renews(act)) return changed;
  std::set<std::string> looms, lots;
  for (const std::size_t number : covered_segments(job, remedy)) {
    casefile::Segment& segment = changed.segments[number];
    if (looms.insert(segment.loom).second) add_loom(job, remedy, act, segment.loom, changed);
    segment.loom = own_id(remedy, segment.loom);
    for (casefile::WireGroup& group : segment.groups) {
      if (lots.insert(group.lot).second) add_lot(remedy, *casefile::find_by_id(job.lots, group.lot), changed);
      group.lot = own_id(remedy, group.lot);
    }
  }
  return changed;
}

double life_under_cover(const Case& job, const library::Library& library, std::size_t segment, const std::string& covering) {
  const auto record = library.coverings.find(covering);
  if (record == library.coverings.end()) throw DomainError("there is no covering \"" + covering + "\"");
  const casefile::Segment& of = job.segments.at(segment);
  const casefile::Loom& loom = *casefile::find_by_id(job.looms, of.loom);
  double worst = 1.0;
  for (const casefile::WireGroup& group : of.groups) {
    const casefile::Lot& lot = *casefile::find_by_id(job.lots, group.lot);
    const library::Insulation& insulation = library.insulations.at(lot.candidates.front().insulation);
    for (const casefile::Stretch& stretch : of.stretches) {
      ageing::WireSurroundings around;
      around.wall = group.wall;
      around.copper = loom.copper;
      if (!stretch.covering.empty()) around.covering = &library.coverings.at(stretch.covering);
      const double before = ageing::life_factor(insulation, around);
      around.covering = &record->second;
      worst = std::min(worst, ageing::life_factor(insulation, around) / before);
    }
  }
  return worst;
}

}  // namespace heatside::remedy
