#include "remedy/compare_build.hpp"

#include <algorithm>
#include <numbers>

#include "heatside/remedy/compare.hpp"

namespace heatside::remedy {

using casefile::Case;
using casefile::Segment;
using casefile::WireGroup;

bool contains(const std::vector<std::string>& words, const std::string& word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

Case rewired(const Case& job, const std::vector<std::string>& looms, const Date& made, const InsulationOf& insulation_of) {
  Case built = job;
  built.inspected = made;
  built.findings.clear();
  for (casefile::Loom& loom : built.looms) {
    if (!contains(looms, loom.id)) continue;
    loom.made = loom.fitted = made;
    loom.date_code.clear();
    loom.elsewhere.reset();
  }
  for (Segment& segment : built.segments) {
    if (!contains(looms, segment.loom)) continue;
    const std::string& insulation = insulation_of(segment);
    for (WireGroup& group : segment.groups) {
      const std::string id = group.lot + '/' + insulation;
      if (casefile::find_by_id(built.lots, id) == nullptr) {
        casefile::Lot lot = *casefile::find_by_id(job.lots, group.lot);
        lot.id = id;
        lot.candidates = {{insulation, 1.0}};
        lot.compound_known = true;
        built.lots.push_back(std::move(lot));
      }
      group.lot = id;
    }
  }
  return built;
}

double insulation_mass(const Segment& segment, const library::Insulation& insulation) {
  const double density = 1.0e3 * insulation.density.value;  // [kg/m3]
  double mass = 0.0;
  for (const WireGroup& group : segment.groups) {
    const double outer = group.outer_diameter.value(), inner = outer - 2.0 * group.wall.value();
    const double ring = 0.25 * std::numbers::pi * (outer * outer - inner * inner);
    mass += static_cast<double>(group.count) * segment.length.value() * ring * density;
  }
  return mass;
}

double insulation_mass(const Case& job, const std::vector<std::string>& looms, const library::Insulation& insulation) {
  double mass = 0.0;
  for (const Segment& segment : job.segments) {
    if (contains(looms, segment.loom)) mass += insulation_mass(segment, insulation);
  }
  return mass;
}

double copper_mass(const Case& job, const std::vector<std::string>& looms, const library::Library& library) {
  constexpr double density = 8890.0;  // [kg/m3]
  double mass = 0.0;
  for (const Segment& segment : job.segments) {
    if (!contains(looms, segment.loom)) continue;
    for (const WireGroup& group : segment.groups) {
      const double area = 1.0e-6 * library::find_conductor_size(library, group.size)->area.value;  // [m2]
      mass += static_cast<double>(group.count) * segment.length.value() * area * density;
    }
  }
  return mass;
}

}  // namespace heatside::remedy
