#include "report/remedies_plan_data.hpp"

namespace heatside::report {

namespace {

Json circuit_json(const remedy::PlanCircuit& plan) {
  const casefile::Circuit& circuit = plan.circuit;
  return {{"id", circuit.id},
          {"plug", circuit.plug},
          {"cavity", circuit.cavity},
          {"function", circuit.function},
          {"colour", circuit.colour},
          {"size", circuit.size},
          {"fuse_A", circuit.fuse_amperes ? Json(*circuit.fuse_amperes) : Json(nullptr)},
          {"splice", circuit.splice},
          {"screened", circuit.screened},
          {"twisted", circuit.twisted},
          {"segments", circuit.segments},
          {"unfused", plan.unfused},
          {"never_traded", plan.untraded},
          {"milliohms", plan.milliohms ? Json(*plan.milliohms) : Json(nullptr)},
          {"missing", plan.missing}};
}

Json segment_json(const remedy::PlanSegment& segment) {
  return {{"id", segment.id},
          {"from", segment.from},
          {"to", segment.to},
          {"length_m", segment.length.value()},
          {"route_radius_mm", segment.route_radius ? Json(in_millimetres(*segment.route_radius)) : Json(nullptr)},
          {"wires", segment.wires},
          {"sizes", segment.sizes},
          {"places", segment.places},
          {"heat", segment.heat},
          {"cover_group", segment.cover_group},
          {"leak", segment.leak}};
}

}  // namespace

Json plan_json(const remedy::Plan& plan) {
  Json circuits = Json::array(), nodes = Json::array(), route = Json::array();
  for (const remedy::PlanCircuit& circuit : plan.circuits) circuits.push_back(circuit_json(circuit));
  for (const remedy::PlanNode& node : plan.nodes)
    nodes.push_back({{"id", node.id}, {"name", node.name}, {"segments", node.segments}});
  for (const remedy::PlanSegment& segment : plan.route) route.push_back(segment_json(segment));
  return {{"id", plan.result.offer.remedy.id},
          {"is_wiring_plan", plan.is_wiring_plan},
          {"before", plan.before},
          {"photograph_and_label", nodes},
          {"circuits", circuits},
          {"route", route},
          {"after", plan.after},
          {"look_again", plan.look_again ? Json(format_date(*plan.look_again)) : Json(nullptr)}};
}

}  // namespace heatside::report
