#include "heatside/remedy/plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/base/error.hpp"
#include "heatside/remedy/wired.hpp"

namespace heatside::remedy {

namespace {

using casefile::Case;
using casefile::Circuit;
using casefile::Segment;
using library::Library;
using library::RemedyAct;

const Result& result_with(const Answer& answer, const std::string& id) {
  std::vector<std::string> ids;
  for (const Question& question : answer.questions) {
    for (const Result& result : question.results) {
      if (result.offer.remedy.id == id) return result;
      ids.push_back(result.offer.remedy.id);
    }
  }
  const std::string nearest = nearest_word(id, ids);
  throw DomainError(fmt::format("there is no remedy \"{}\"{}; the remedies are {}", id,
                                nearest.empty() ? "" : ", perhaps \"" + nearest + "\" is meant", join(ids)));
}

std::string name_of_node(const Case& job, const std::string& id) {
  const casefile::Node* node = casefile::find_by_id(job.nodes, id);
  return node == nullptr || node->name.empty() ? id : node->name;
}

bool contains(const std::vector<std::string>& list, const std::string& word) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

// Copper of the whole circuit, at 20 degC.
std::optional<double> resistance_of(const Case& job, const Library& library, const Circuit& circuit) {
  const library::ConductorSize* size = library::find_conductor_size(library, circuit.size);
  if (size == nullptr) return std::nullopt;
  double metres = 0.0;
  for (const std::string& id : circuit.segments) {
    if (const Segment* segment = casefile::find_by_id(job.segments, id)) metres += segment->length.value();
  }
  return size->resistance.value * metres;
}

PlanCircuit planned(const Case& job, const Library& library, const Circuit& circuit) {
  PlanCircuit plan;
  plan.circuit = circuit;
  plan.unfused = circuit.unfused;
  plan.untraded = circuit.unfused;
  if (const auto known = library.consequences.find(circuit.function); known != library.consequences.end()) {
    plan.unfused = plan.unfused || (!known->second.fused && !circuit.fuse_amperes);
    plan.untraded = plan.untraded || (known->second.never_traded && (known->second.fused || !circuit.fuse_amperes));
  }
  plan.milliohms = resistance_of(job, library, circuit);
  const auto need = [&](bool there, const char* what) {
    if (!there) plan.missing.emplace_back(what);
  };
  need(!circuit.plug.empty(), "plug");
  need(!circuit.cavity.empty(), "cavity");
  need(!circuit.function.empty(), "function");
  need(!circuit.colour.empty(), "colour");
  need(!circuit.size.empty(), "size");
  need(circuit.fuse_amperes.has_value() || plan.unfused, "fuse");
  return plan;
}

PlanSegment lie_of(const Case& job, const Segment& segment) {
  PlanSegment plan;
  plan.id = segment.id;
  plan.name = segment.name;
  plan.from = name_of_node(job, segment.from);
  plan.to = name_of_node(job, segment.to);
  plan.length = segment.length;
  plan.route_radius = segment.route_radius;
  plan.cover_group = segment.cover_group;
  plan.leak = !segment.leaks.empty();
  for (const casefile::WireGroup& group : segment.groups) {
    plan.wires += group.count;
    plan.sizes.push_back(fmt::format("{} of {}", group.count, group.size));
  }
  for (const casefile::Stretch& stretch : segment.stretches) {
    plan.places.push_back(stretch.zone + (stretch.covering.empty() ? ", bare" : ", in " + stretch.covering) +
                          (stretch.damp ? ", damp" : ""));
    for (const casefile::HotBody& body : stretch.hot_bodies)
      plan.heat.push_back(fmt::format("{} hot part at {:.0f} mm, shield: {}", body.shape, in_millimetres(body.distance),
                                      body.shield.empty() ? "none" : body.shield));
  }
  return plan;
}

void add_node(const Case& job, const std::string& id, const std::string& segment, std::vector<PlanNode>& nodes) {
  const auto known = std::find_if(nodes.begin(), nodes.end(), [&](const PlanNode& node) { return node.id == id; });
  if (known != nodes.end()) {
    known->segments.push_back(segment);
  } else {
    nodes.push_back({id, name_of_node(job, id), {segment}});
  }
}

std::vector<std::string> steps_before(const Case& job, const Result& result) {
  std::vector<std::string> steps;
  if (renews(result.offer.act)) {
    steps.emplace_back(
        "Do not take the old loom out before the new one is at hand and lies beside it: same length, same branches, same "
        "plugs, same cavities filled. After the first pull the old one may be scrap, and the vehicle stands.");
    steps.emplace_back(
        "Read date code and compound on what goes in, and bend a spare tail of it; write both into the case.");
  }
  steps.emplace_back("Isolate the battery and any second source of power as the maker's service information says.");
  steps.emplace_back(
      "Photograph the whole route before the first clip opens: from above, from both sides, every clip, every grommet, "
      "every shield, with a rule in the picture.");
  steps.emplace_back(
      "Photograph every plug from the wire side, so that colours and cavities show; label both halves with the names "
      "below.");
  for (const casefile::Segment& segment : job.segments) {
    if (!contains(result.offer.remedy.segments, segment.id) || !segment.airbag) continue;
    steps.push_back("Airbag or belt-tensioner circuits run in " + segment.id +
                    ": the maker's procedure and a licensed person first.");
  }
  return steps;
}

std::vector<std::string> steps_after(const std::vector<PlanCircuit>& circuits, const Result& result) {
  std::vector<std::string> steps = final_checks();
  for (const PlanCircuit& plan : circuits) {
    if (!plan.unfused) continue;
    steps.push_back(
        fmt::format("{} has no fuse: have its insulation, its routing and its clips looked at by a second "
                    "person before power comes back.",
                    plan.circuit.id));
  }
  if (result.offer.act == RemedyAct::cover)
    steps.emplace_back("A sleeve hides what goes on beneath it: write its date on a tag, and open it at the next look.");
  return steps;
}

}  // namespace

std::vector<std::string> final_checks() {
  return {
      "Continuity of every wire from end to end, and none to its neighbours or to earth, with plugs off and control "
      "units not attached; never on airbag or belt-tensioner circuits.",
      "Fuses: each one of the rating that the wiring plan or the fuse box lid states. Never a larger one.",
      "Routing as in the photographs: clips, grommets and bend radii as before, clear of hot and moving parts; heat "
      "shields and sleeves back in place.",
      "First power-up through a protected supply (a current-limited source or a small fuse in line), with somebody at "
      "the switch and an extinguisher at hand.",
      "Voltage drop under load on every feed and every earth, against the maker's figure.",
      "Run it warm, let it soak, look again for smoke, smell and stored faults."};
}

std::optional<Date> look_again_on(const Case& job, const Weakest& weakest) {
  constexpr double farthest = 40.0;  // [a]; beyond it other causes come first
  const double years = std::min(weakest.flex_cracks.p10.value(), farthest);
  if (years <= 0.0) return std::nullopt;
  return exact_date(job.inspected.day + std::chrono::days{std::lround(years * days_per_year)});
}

Plan plan_of(const Case& job, const Library& library, const Answer& answer, const std::string& id) {
  Plan plan;
  plan.result = result_with(answer, id);
  const std::vector<std::string>& segments = plan.result.offer.remedy.segments;
  if (segments.empty())
    throw DomainError(fmt::format("\"{}\" takes nothing in hand, so there is nothing to plan; see when to look again", id));
  for (const Circuit& circuit : job.circuits) {
    const bool here = std::any_of(circuit.segments.begin(), circuit.segments.end(),
                                  [&](const std::string& segment) { return contains(segments, segment); });
    if (here || circuit.segments.empty()) plan.circuits.push_back(planned(job, library, circuit));
  }
  std::stable_partition(plan.circuits.begin(), plan.circuits.end(), [](const PlanCircuit& one) { return one.untraded; });
  plan.is_wiring_plan = !plan.circuits.empty();
  for (const Segment& segment : job.segments) {
    if (!contains(segments, segment.id)) continue;
    plan.route.push_back(lie_of(job, segment));
    add_node(job, segment.from, segment.id, plan.nodes);
    add_node(job, segment.to, segment.id, plan.nodes);
  }
  plan.before = steps_before(job, plan.result);
  plan.after = steps_after(plan.circuits, plan.result);
  plan.look_again = look_again_on(job, plan.result.weakest);
  return plan;
}

}  // namespace heatside::remedy
