#include <iostream>
#include <nlohmann/json.hpp>

#include "heatside/exposure/trip_trace.hpp"

/// Reads a list of cases (see trip_cases.json) from standard input and prints the rows of each trip.

using namespace heatside;
using namespace heatside::exposure;
using Json = nlohmann::json;

namespace {

// The model's constants of the trace, as its record has them.
TraceConstants model_constants() {
  TraceConstants constants;
  constants.engine_warm_time = constants.exhaust_warm_time = Minutes{8.0};
  constants.exhaust_decay_time = Minutes{25.0};
  constants.engine_excess = KelvinRise{67.0};
  constants.slow_decay_from = Minutes{100.0};
  constants.running_response_share = 0.6;
  constants.soak_threshold = KelvinRise{5.0};
  constants.hottest_hour = Hours{15.0};
  constants.sun_centre_hour = Hours{13.0};
  return constants;
}

ZoneTrace zone_of(const Json& zone) {
  ZoneHeat heat;
  heat.ambient_following = zone.at("ambient_following");
  for (std::size_t i = 0; i < heat.rise.size(); ++i) heat.rise[i] = KelvinRise{zone.at("rise_K").at(i).get<double>()};
  heat.soak_peak = KelvinRise{zone.at("soak_peak_K").get<double>()};
  heat.tau_warm = Minutes{zone.at("tau_warm_min").get<double>()};
  heat.tau_soak_rise = Minutes{zone.at("tau_soak_rise_min").get<double>()};
  heat.tau_soak_decay = Minutes{zone.at("tau_soak_decay_min").get<double>()};
  const SoakAmplitudes soak{KelvinRise{zone.at("soak_engine_K").get<double>()},
                            KelvinRise{zone.at("soak_exhaust_K").get<double>()}};
  return {heat, soak, model_constants(), {}};
}

HotNeighbour hot_body_of(const Json& body) {
  HotNeighbour hot;
  for (std::size_t i = 0; i < hot.surface.size(); ++i) hot.surface[i] = celsius(body.at("surface_Cel").at(i).get<double>());
  hot.view_factor = body.at("view");
  hot.shield = body.at("shield");
  hot.emissivity = body.at("emissivity");
  return hot;
}

PlacedWire wire_of(const Json& each) {
  const Json &wire = each.at("wire"), &bundle = each.at("bundle"), &cover = each.at("cover");
  PlacedWire placed;
  placed.wire = {millimetres(wire.at("conductor_mm")), millimetres(wire.at("outer_mm")),
                 milliohm_per_metre(wire.at("milliohm_per_metre")),
                 WattsPerMetreKelvin{wire.at("conductivity").get<double>()}, wire.at("emissivity")};
  placed.bundle = {bundle.at("wires"), bundle.at("loaded"), WattsPerMetre{bundle.at("other_heat").get<double>()}};
  placed.cover = {millimetres(cover.at("thickness_mm")), WattsPerMetreKelvin{cover.at("conductivity").get<double>()},
                  cover.at("air_gap"), cover.at("emissivity")};
  placed.current = Amperes{each.at("current_A").get<double>()};
  placed.loaded_share = 1.0;
  for (const Json& body : each.at("hot_bodies")) placed.hot_bodies.push_back(hot_body_of(body));
  for (std::size_t i = 0; i < placed.running_air_speed.size(); ++i)
    placed.running_air_speed[i] = MetresPerSecond{each.at("air_speed").at(i).get<double>()};
  return placed;
}

Trip trip_of(const Json& each) {
  const Json& drive = each.at("trip");
  Trip trip;
  trip.state = static_cast<library::RunningState>(drive.at("state").get<int>());
  trip.length = Minutes{drive.at("minutes").get<double>()};
  trip.loaded = drive.at("loaded");
  trip.key_on = Minutes{each.at("key_on_min").get<double>()};
  return trip;
}

Json rows_of(const Json& each) {
  const Json& store = each.at("store");
  const HeatStore stored{square_millimetres(store.at("copper_mm2")), store.at("insulation"), store.at("covering")};
  const DailyCourse day{celsius(each.at("ambient_Cel")), KelvinRise{each.at("ambient_half_range_K").get<double>()}, 1.0};
  std::vector<Minutes> times;
  for (const Json& time : each.at("times_min")) times.emplace_back(time.get<double>());
  Json rows = Json::array();
  for (const TripRow& row : trip_trace(zone_of(each.at("zone")), day, wire_of(each), stored, trip_of(each), times)) {
    rows.push_back({{"time_min", row.since_key_on.value()},
                    {"air", row.air.value()},
                    {"conductor", row.conductor.value()},
                    {"insulation", row.insulation.value()},
                    {"surface", row.surface.value()},
                    {"hot_body", row.hot_body ? Json(row.hot_body->value()) : Json(nullptr)}});
  }
  return rows;
}

}  // namespace

int main() {
  Json answers = Json::array();
  for (const Json& each : Json::parse(std::cin)) answers.push_back({{"name", each.at("name")}, {"rows", rows_of(each)}});
  std::cout << answers.dump(2) << '\n';  // every double with as many digits as it takes to read it back, up to 17
}
