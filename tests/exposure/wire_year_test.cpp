// What a wire makes of the air: own current and hot bodies over a year. Properties and direct solutions of the same heat
// balance, which wire_heat_test.cpp checks against handbooks; no outside source here unless named.
#include "heatside/exposure/wire_year.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "exposure/records.hpp"

using namespace heatside;
using namespace heatside::exposure;
using Catch::Matchers::WithinAbs;
using heatside::exposure::testing::records;
using library::RunningState;

namespace {

PlacedWire fan_feed() {
  PlacedWire wire;
  wire.wire = {millimetres(2.1), millimetres(2.8), milliohm_per_metre(7.6), WattsPerMetreKelvin{0.17}, 0.92};
  wire.bundle = {6, 2, WattsPerMetre{0.0}};
  wire.current = Amperes{18.0};
  wire.loaded_share = 0.5;
  return wire;
}

HotNeighbour manifold() {
  HotNeighbour hot;
  hot.surface = {celsius(450.0), celsius(380.0), celsius(280.0), celsius(650.0)};
  hot.view_factor = view_of_cylinder(millimetres(45.0), millimetres(90.0));
  hot.emissivity = 0.8;
  return hot;
}

double direct(const PlacedWire& wire, const Instant& instant, bool loaded) {
  WireSetting setting;
  setting.air = Kelvin{instant.air[0]};
  if (instant.running) setting.speed = wire.running_air_speed[static_cast<std::size_t>(instant.state)];
  if (!wire.hot_bodies.empty()) {
    const HotNeighbour& hot = wire.hot_bodies.front();
    const double warm = hot.surface[static_cast<std::size_t>(instant.state)].value();
    const Kelvin surface{instant.air[0] + instant.exhaust_warmth * (warm - instant.air[0])};
    setting.hot_body = HotBodyView{surface, hot.emissivity, hot.view_factor, hot.shield};
  }
  const Amperes current = loaded ? wire.current : Amperes{0.0};
  return wire_temperatures(wire.wire, wire.bundle, wire.cover, current, setting).hottest_insulation().value();
}

ZoneTrace family_week(const std::string& zone) {
  const TraceConstants constants = trace_constants(records().model);
  const ZoneHeat heat = likely_zone_heat(records().zones.at(zone));
  return periodic_week(heat, soak_amplitudes(heat, constants), constants, weekly_drives(records().duties.at("family")));
}

YearOfUse family_year(double loaded_share) {
  return {days_of_year(records().climates.at("mediterranean")),
          records().duties.at("family").running_mix,
          {},
          {1.0},
          loaded_share};
}

double faster(const TemperatureMeasure& year) {
  return total(mean_acceleration(year, kilojoule_per_mole(95.0), celsius(100.0)));
}

}  // namespace

TEST_CASE("wire year: the table is the heat balance", "[exposure][wire-year]") {
  PlacedWire wire = fan_feed();
  const bool beside_manifold = GENERATE(false, true);
  if (beside_manifold) wire.hot_bodies.push_back(manifold());
  wire.running_air_speed.fill(MetresPerSecond{GENERATE(0.0, 2.0)});
  const Temperature table = insulation_temperature(wire, {celsius(-15.0), celsius(120.0)});
  for (const double air_celsius : {-15.0, 3.0, 27.0, 61.0, 88.0, 120.0}) {
    for (const double warmth : {0.0, 0.1, 0.45, 1.0}) {
      for (const bool running : {true, false}) {
        const double air = air_celsius + 273.15;
        const Instant instant{library::RunningState::hill, running, warmth, std::min(air, 290.0), &air};
        for (const bool loaded : {true, false}) {
          if (loaded && !running) continue;
          CAPTURE(beside_manifold, air_celsius, warmth, running, loaded);
          CHECK_THAT(table(instant, loaded), WithinAbs(direct(wire, instant, loaded), 0.1));
        }
      }
    }
  }
}

TEST_CASE("wire year: a current ages the wire, and more of it ages it more", "[exposure][wire-year]") {
  const ZoneTrace week = family_week("upper-bay");
  const double air = faster(year_of({week}, family_year(0.0), {}));
  double last = air;
  for (const double share : {0.0, 0.3, 1.0}) {
    PlacedWire wire = fan_feed();
    wire.loaded_share = share;
    const TemperatureMeasure year =
        year_of({week}, family_year(share), insulation_temperature(wire, {celsius(-20.0), celsius(140.0)}));
    double shares = 0.0;
    for (const Nodes& nodes : year.by_regime) {
      for (const double part : nodes.share) shares += part;
    }
    CHECK_THAT(shares, WithinAbs(1.0, 1e-12));
    if (share == 0.0) CHECK(faster(year) == Approx(air).epsilon(1e-3));
    CHECK(faster(year) >= last * (1.0 - 1e-3));
    last = faster(year);
  }
  CHECK(last > 1.02 * air);
}

TEST_CASE("wire year: a hot body warms while it is warm, a shield keeps most of it off", "[exposure][wire-year]") {
  const ZoneTrace week = family_week("upper-bay");
  const double air = faster(year_of({week}, family_year(0.0), {}));
  const auto beside = [&](double shield) {
    PlacedWire wire = fan_feed();
    wire.current = Amperes{0.0};
    wire.loaded_share = 0.0;
    wire.hot_bodies.push_back(manifold());
    wire.hot_bodies.back().shield = shield;
    return faster(year_of({week}, family_year(0.0), insulation_temperature(wire, {celsius(-20.0), celsius(140.0)})));
  };
  CHECK(beside(1.0) > 1.5 * air);
  CHECK(beside(0.25) < beside(1.0));
  CHECK(beside(0.1) < beside(0.25));
  CHECK(beside(0.1) > air);
}

TEST_CASE("wire year: each running state has the air speed stated for it", "[exposure][wire-year]") {
  PlacedWire wire = fan_feed();
  const bool beside_manifold = GENERATE(false, true);
  if (beside_manifold) wire.hot_bodies.push_back(manifold());
  wire.running_air_speed = {MetresPerSecond{6.0}, MetresPerSecond{1.0}, MetresPerSecond{0.0}, MetresPerSecond{1.0}};
  const Temperature table = insulation_temperature(wire, {celsius(-15.0), celsius(120.0)});
  const double air = 350.0;
  std::array<double, 4> found{};
  for (std::size_t state = 0; state < found.size(); ++state) {
    const Instant running{static_cast<RunningState>(state), true, 0.6, 290.0, &air};
    const Instant stopped{static_cast<RunningState>(state), false, 0.6, 290.0, &air};
    CAPTURE(beside_manifold, state);
    for (const bool loaded : {false, true})
      CHECK_THAT(table(running, loaded), WithinAbs(direct(wire, running, loaded), 0.1));
    CHECK_THAT(table(stopped, false), WithinAbs(direct(wire, stopped, false), 0.1));
    found[state] = table(running, true);
  }
  // The stream of cruise cools, the still air of idle does not; the hot body of hill is hotter than that of city.
  CHECK(found[0] < found[1]);
  CHECK(found[1] < found[2]);
  CHECK(found[3] >= found[1]);
}

TEST_CASE("wire year: a running state without a share is not worked out", "[exposure][wire-year]") {
  // 80 A run away in still air and are carried off by a stream; only who idles has to know.
  PlacedWire wire = fan_feed();
  wire.current = Amperes{115.0};
  wire.running_air_speed = {MetresPerSecond{30.0}, MetresPerSecond{30.0}, MetresPerSecond{0.0}, MetresPerSecond{30.0}};
  const AirRange air{celsius(20.0), celsius(100.0)};
  CHECK_THROWS_AS(insulation_temperature(wire, air), DomainError);
  CHECK_THROWS_AS(insulation_temperature(wire, air, {0.0, 0.0, 0.2, 0.8}), DomainError);
  const Temperature table = insulation_temperature(wire, air, {0.5, 0.0, 0.0, 0.5});
  const double kelvin = 330.0;
  for (const RunningState state : {RunningState::cruise, RunningState::city, RunningState::idle, RunningState::hill}) {
    // One that never happens answers as the first that does.
    const Instant instant{state, true, 0.0, 290.0, &kelvin};
    const Instant cruise{RunningState::cruise, true, 0.0, 290.0, &kelvin};
    CHECK_THAT(table(instant, true), WithinAbs(direct(wire, cruise, true), 0.1));
  }
}

TEST_CASE("wire year: a bundle is as thick as the cylinder that stands for it", "[exposure][wire-year]") {
  // 1.15 d sqrt(n), the rule of the heat balance; a wire alone is as thick as it is.
  PlacedWire wire = fan_feed();
  wire.cover = {millimetres(0.5), WattsPerMetreKelvin{0.2}, 0.45, 0.92};
  CHECK(in_millimetres(bundle_diameter(wire)) == Approx(1.15 * 2.8 * std::sqrt(6.0)));
  wire.bundle.wires = wire.bundle.loaded = 1;
  CHECK(in_millimetres(bundle_diameter(wire)) == Approx(2.8));
}

TEST_CASE("wire year: a current that never flows warms nothing", "[exposure][wire-year]") {
  PlacedWire wire = fan_feed();
  wire.current = Amperes{400.0};
  wire.loaded_share = 0.0;
  CHECK_FALSE(has_own_heat(wire));
  const double air = 330.0;
  CHECK(insulation_temperature(wire, {celsius(20.0), celsius(100.0)})({RunningState::city, true, 1.0, 290.0, &air}, true) ==
        air);
}

TEST_CASE("wire year: a current without steady state is refused with its amperes", "[exposure][wire-year][error]") {
  PlacedWire wire = fan_feed();
  wire.current = Amperes{400.0};
  CHECK_THROWS_WITH(insulation_temperature(wire, {celsius(20.0), celsius(100.0)}), Catch::Contains("400"));
}
