#include "population/reliances.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <variant>

#include "population/placed_wire.hpp"

namespace heatside::population {

namespace {

template <class Record>
void rely_on(std::vector<library::Reliance>& list, const char* kind, const std::map<std::string, Record>& records,
             const std::set<std::string>& ids) {
  for (const std::string& id : ids) {
    const Record& record = records.at(id);
    list.push_back({kind, record.head.id, record.head.name, library::weakest_grade(record)});
  }
}

// Ids of every record that a case names or leads to.
struct NamedRecords {
  std::set<std::string> insulations, eras, zones, coverings, climates, duties, conductors;

  void add_use(const std::string& climate, const casefile::DutyChoice& duty) {
    climates.insert(climate);
    if (const auto* id = std::get_if<std::string>(&duty)) duties.insert(*id);
  }
};

NamedRecords named_records(const casefile::Case& job, const library::Library& library) {
  NamedRecords named;
  for (const casefile::Lot& lot : job.lots) {
    named.insulations.insert(lot.candidates.front().insulation);
    const std::string& region = casefile::find_by_id(job.looms, lot.loom)->region;
    if (!lot.compound_known && library.eras.contains(region)) named.eras.insert(region);
    for (const auto& [id, table] : library.conductors) {
      const auto has_size = [&](const library::ConductorSize& size) { return size.label == lot.size; };
      if (std::any_of(table.sizes.begin(), table.sizes.end(), has_size)) named.conductors.insert(id);
    }
  }
  for (const casefile::Segment& segment : job.segments) {
    for (const casefile::Stretch& stretch : segment.stretches) {
      named.zones.insert(stretch.zone);
      named.zones.insert(zone_of_air(stretch, library));
      if (!stretch.covering.empty()) named.coverings.insert(stretch.covering);
    }
  }
  for (const casefile::Node& node : job.nodes) {
    if (node.terminal) named.zones.insert(node.terminal->zone);
  }
  for (const casefile::ServicePeriod& period : job.service) named.add_use(period.climate, period.duty);
  named.add_use(job.future.climate, job.future.duty);
  return named;
}

}  // namespace

std::vector<library::Reliance> reliances(const casefile::Case& job, const library::Library& library) {
  const NamedRecords named = named_records(job, library);
  std::vector<library::Reliance> list;
  rely_on(list, "insulation", library.insulations, named.insulations);
  rely_on(list, "era", library.eras, named.eras);
  rely_on(list, "conductors", library.conductors, named.conductors);
  rely_on(list, "covering", library.coverings, named.coverings);
  rely_on(list, "zone", library.zones, named.zones);
  rely_on(list, "climate", library.climates, named.climates);
  rely_on(list, "duty", library.duties, named.duties);
  list.push_back({"constants", "model", library.model.head.name, library::weakest_grade(library.model)});
  return list;
}

}  // namespace heatside::population
