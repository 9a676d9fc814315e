// One trip of a wire as it stores heat. What the loss to the surroundings rests on is checked in wire_heat_test.cpp and
// air_test.cpp; here it is storing, and the course in time. Against SciPy: trip_scipy_test.py.
#include "heatside/exposure/trip_trace.hpp"

#include <algorithm>
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/tools/roots.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "exposure/records.hpp"
#include "heatside/exposure/air.hpp"

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::exposure;
using heatside::exposure::testing::constants;
using heatside::exposure::testing::even_day;
using heatside::exposure::testing::records;
using heatside::exposure::testing::trace_of;
using heatside::exposure::testing::zone_heat;
using library::RunningState;

namespace {

constexpr double stefan_boltzmann = 5.670374419e-8;  // [W/(m2 K4)], CODATA 2018

// A zone that nothing warms: its air is the ambient, while exhaust and engine still warm up and cool.
ZoneTrace zone_at_ambient() {
  ZoneHeat heat;
  heat.ambient_following = 1.0;
  heat.soak_peak = KelvinRise{1.0};
  heat.tau_warm = heat.tau_soak_rise = Minutes{10.0};
  heat.tau_soak_decay = Minutes{60.0};
  return {heat, {}, constants(), {}};
}

// Diameters of ISO 6722-1 thin wall and its greatest resistance, from memory.
PlacedWire wire_of(double conductor_mm, double outer_mm, double milliohm) {
  PlacedWire placed;
  placed.wire = {millimetres(conductor_mm), millimetres(outer_mm), milliohm_per_metre(milliohm), WattsPerMetreKelvin{0.2},
                 0.9};
  placed.bundle = {1, 1, WattsPerMetre{0.0}};
  placed.loaded_share = 1.0;
  return placed;
}

PlacedWire thin_wire() { return wire_of(0.9, 1.6, 37.1); }
PlacedWire battery_cable() { return wire_of(6.6, 9.4, 0.743); }

HotNeighbour exhaust_pipe() {
  HotNeighbour hot;
  hot.surface = {celsius(450.0), celsius(380.0), celsius(280.0), celsius(650.0)};
  hot.view_factor = view_of_cylinder(millimetres(50.0), millimetres(90.0));
  hot.emissivity = 0.8;
  return hot;
}

Trip drive(double minutes, RunningState state = RunningState::city) {
  Trip trip;
  trip.state = state;
  trip.length = Minutes{minutes};
  return trip;
}

TripRow row_at(const ZoneTrace& zone, const PlacedWire& wire, const HeatStore& store, const Trip& trip, double minute) {
  return trip_trace(zone, even_day(25.0), wire, store, trip, {Minutes{minute}}).front();
}

// The steady solution in the surroundings that a row states.
WireTemperatures steady_at(const PlacedWire& wire, const TripRow& row, const Trip& trip) {
  const bool running = row.since_key_on <= trip.length;
  WireSetting setting;
  setting.air = row.air;
  if (running) setting.speed = wire.running_air_speed[static_cast<std::size_t>(trip.state)];
  if (row.hot_body) {
    const HotNeighbour& hot = wire.hot_bodies.front();
    setting.hot_body = HotBodyView{*row.hot_body, hot.emissivity, hot.view_factor, hot.shield};
  }
  Bundle bundle = wire.bundle;
  const bool loaded = running && trip.loaded;
  if (!loaded) bundle.other_heat = WattsPerMetre{0.0};
  return wire_temperatures(wire.wire, bundle, wire.cover, loaded ? wire.current : Amperes{0.0}, setting);
}

}  // namespace

// --- outside checks --------------------------------------------------------------------------------------------------

TEST_CASE("trip trace: a lumped body follows the textbook's thermocouple", "[exposure][trip]") {
  // Incropera, example 5.1 (from memory): bead of 8500 kg/m3, 400 J/(kg K), 20 W/(m K), 400 W/(m2 K) and 0.706 mm has a
  // time constant of 1 s and comes from 25 to 199 degC in gas of 200 degC within 5.2 s (exactly ln 175 = 5.16). A rod of
  // that diameter has 4 areas where the bead has 6: times 1.5. It is held in the stream that makes the book's transfer and
  // warmed by a current, so weak that the copper's coefficient adds 0.6 % to the time.
  PlacedWire rod = wire_of(0.01, 0.706, 1.0e3);
  rod.wire.insulation_conductivity = WattsPerMetreKelvin{20.0};
  rod.wire.emissivity = 0.0;
  const HeatStore store{square_millimetres(7.0e-5), 8500.0 * 400.0};
  double low = 0.1, high = 40.0;
  for (int i = 0; i < 60; ++i) {
    const double speed = 0.5 * (low + high);
    const bool weak = convection(millimetres(0.706), celsius(26.0), celsius(25.0), MetresPerSecond{speed}) < 400.0;
    (weak ? low : high) = speed;
  }
  rod.running_air_speed.fill(MetresPerSecond{low});
  WireSetting stream;
  stream.air = celsius(25.0);
  stream.speed = MetresPerSecond{low};
  CHECK_THAT(60.0 * time_constant(rod, store, stream, celsius(26.0)).value(), WithinRel(1.5, 0.005));

  rod.current = allowed_current(rod.wire, rod.bundle, {}, celsius(26.5), stream);
  double minutes_low = 0.0, minutes_high = 1.0;
  for (int i = 0; i < 50; ++i) {
    const double minutes = 0.5 * (minutes_low + minutes_high);
    const TripRow row = row_at(zone_at_ambient(), rod, store, drive(10.0), minutes);
    (celsius(26.5) - row.conductor > KelvinRise{1.5 / 175.0} ? minutes_low : minutes_high) = minutes;
  }
  CHECK_THAT(60.0 * minutes_low, WithinRel(1.5 * 5.2, 0.02));
}

TEST_CASE("trip trace: a short circuit of a second heats copper as the installation standard has it", "[exposure][trip]") {
  // IEC 60364-5-54, factors k of protective conductors of copper (from memory): 115 A sqrt(s)/mm2 bring it from 70 to
  // 160 degC (PVC), 143 from 90 to 250 degC (crosslinked polyethylene). Adiabatic, so the insulation stores nothing here;
  // resistance of copper of 17.241 mOhm mm2/m. The factors are rounded, and they take 3.45e6 J/(m3 K).
  struct Rated {
    double factor, from, to;
  };
  const Rated rated = GENERATE(values<Rated>({{115.0, 70.0, 160.0}, {143.0, 90.0, 250.0}}));
  PlacedWire cable = wire_of(6.6, 9.4, 17.241 / 25.0);
  cable.current = Amperes{25.0 * rated.factor};
  const HeatStore store{square_millimetres(25.0), 1.0e3};
  const auto rows = trip_trace(zone_at_ambient(), even_day(rated.from), cable, store, drive(1.0), {Minutes{1.0 / 60.0}});
  CHECK_THAT((rows.front().conductor - celsius(rated.from)).value(), WithinRel(rated.to - rated.from, 0.015));
}

TEST_CASE("time constant: of wires in still air, worked out apart", "[exposure][trip]") {
  // Computed apart from this program from outer diameters of ISO 6722-1 (from memory), heat capacities of its own and the
  // mean transfer at 60 degC in air of 40 degC; conductor diameters from memory. The slope of the loss that a small change
  // follows is steeper than its mean, by about a tenth. All in all 12 %.
  struct Wire {
    double area_mm2, conductor_mm, outer_mm, seconds;
  };
  const Wire one =
      GENERATE(Wire{0.35, 0.8, 1.4, 22.0}, Wire{1.0, 1.35, 2.1, 39.0}, Wire{2.5, 2.2, 3.0, 70.0}, Wire{6.0, 3.3, 4.3, 120.0},
               Wire{16.0, 5.5, 7.8, 210.0}, Wire{35.0, 8.3, 10.8, 330.0}, Wire{120.0, 15.7, 19.2, 660.0});
  CAPTURE(one.area_mm2);
  WireSetting setting;
  setting.air = celsius(40.0);
  const PlacedWire wire = wire_of(one.conductor_mm, one.outer_mm, 1.0);
  const double seconds =
      60.0 * time_constant(wire, HeatStore{square_millimetres(one.area_mm2)}, setting, celsius(60.0)).value();
  CHECK_THAT(seconds, WithinRel(one.seconds, 0.12));
}

TEST_CASE("time constant: of a bundle against the exact cylinder", "[exposure][trip]") {
  // Cooling of a long solid cylinder: the slowest part decays with zeta^2 k/(rho c a^2), zeta J1(zeta) = Bi J0(zeta), any
  // text on conduction; Incropera table 5.1 (from memory): Bi 0.1, 0.5, 1.0 have zeta 0.4417, 0.9408, 1.2558.
  const std::size_t wires = GENERATE(std::size_t{4}, std::size_t{12}, std::size_t{40}, std::size_t{150});
  PlacedWire bundle = wire_of(1.35, 2.1, 18.5);
  bundle.bundle.wires = wires;
  const HeatStore store{square_millimetres(1.0)};
  WireSetting setting;
  setting.air = celsius(60.0);
  const double radius = 0.5 * 1.15 * 2.1e-3 * std::sqrt(static_cast<double>(wires));
  const double insulation = 0.25 * std::numbers::pi * (2.1 * 2.1 - 1.35 * 1.35);  // [mm2]
  const double stored = static_cast<double>(wires) * 1.0e-6 * (copper_heat_capacity + insulation * insulation_heat_capacity);
  const auto loss = [&](double celsius_surface) {
    const double kelvin = celsius_surface + 273.15;
    return convection(Metres{2.0 * radius}, Kelvin{kelvin}, setting.air, setting.speed) * (celsius_surface - 60.0) +
           0.9 * stefan_boltzmann * (std::pow(kelvin, 4.0) - std::pow(setting.air.value(), 4.0));
  };
  const double biot = (loss(70.5) - loss(69.5)) * radius / 0.20;
  const auto excess = [biot](double zeta) {
    return zeta * boost::math::cyl_bessel_j(1, zeta) - biot * boost::math::cyl_bessel_j(0, zeta);
  };
  double low = 0.0, high = 2.4;
  for (int i = 0; i < 60; ++i) (excess(0.5 * (low + high)) < 0.0 ? low : high) = 0.5 * (low + high);
  const double diffusion = 0.20 / (stored / (std::numbers::pi * radius * radius));
  const double exact = radius * radius / (low * low * diffusion);  // [s]
  CAPTURE(wires, biot, low);
  const double found = 60.0 * time_constant(bundle, store, setting, celsius(70.0)).value();
  CHECK(found < 1.003 * exact);
  CHECK(found > 0.965 * exact);
}

// --- properties ------------------------------------------------------------------------------------------------------
// No outside source: what must hold for any such trace.

TEST_CASE("trip trace: a small step is followed as exp(-t / time constant)", "[exposure][trip][property]") {
  const bool bundled = GENERATE(false, true);
  PlacedWire wire = GENERATE(thin_wire(), battery_cable());
  if (bundled) wire.bundle = {7, 7, WattsPerMetre{0.0}};
  const HeatStore store{square_millimetres(wire.wire.conductor_diameter.value() > 5.0e-3 ? 25.0 : 0.5)};
  wire.running_air_speed.fill(MetresPerSecond{3.0});
  WireSetting setting;
  setting.air = celsius(25.0);
  setting.speed = MetresPerSecond{3.0};
  wire.current = allowed_current(wire.wire, wire.bundle, {}, celsius(26.0), setting);
  const double tau = time_constant(wire, store, setting, celsius(25.8)).value();
  const auto left = [&](double times) {
    return (celsius(26.0) - row_at(zone_at_ambient(), wire, store, drive(1.0e3), times * tau).conductor).value();
  };
  // From one time constant on the fast part is gone; the copper's coefficient slows it by 0.4 %.
  CAPTURE(bundled, tau);
  CHECK_THAT(left(3.0) / left(1.0), WithinRel(std::exp(-2.0), 0.015));
  CHECK_THAT(left(1.0), WithinRel(std::exp(-1.0), bundled ? 0.12 : 0.02));
}

TEST_CASE("trip trace: a long drive ends in the steady balance, a long stop in the air", "[exposure][trip][property]") {
  PlacedWire wire = GENERATE(thin_wire(), battery_cable());
  const bool thin = wire.wire.outer_diameter < millimetres(2.0);
  const HeatStore store{square_millimetres(thin ? 0.5 : 25.0), insulation_heat_capacity, 1.0e6};
  wire.bundle = GENERATE(Bundle{1, 1, WattsPerMetre{0.0}}, Bundle{1, 1, WattsPerMetre{1.5}},
                         Bundle{9, 3, WattsPerMetre{1.5}}, Bundle{2, 0, WattsPerMetre{0.5}});
  wire.cover = GENERATE(CoverLayer{}, CoverLayer{millimetres(0.5), WattsPerMetreKelvin{0.2}, 0.45, 0.92});
  wire.current = Amperes{thin ? 3.0 : 60.0};
  if (GENERATE(false, true)) wire.hot_bodies.push_back(exhaust_pipe());
  wire.running_air_speed[static_cast<std::size_t>(RunningState::hill)] = MetresPerSecond{2.0};
  const Trip trip = drive(1.0e3, GENERATE(RunningState::city, RunningState::hill));
  const auto rows = trip_trace(zone_at_ambient(), even_day(25.0), wire, store, trip, {Minutes{1.0e3}, Minutes{2.0e3}});
  CAPTURE(thin, wire.bundle.wires, wire.bundle.loaded, wire.cover.air_gap, wire.hot_bodies.size());
  const WireTemperatures steady = steady_at(wire, rows[0], trip);
  CHECK_THAT(rows[0].conductor.value(), WithinAbs(steady.conductor.value(), 1.0e-4));
  CHECK_THAT(rows[0].insulation.value(), WithinAbs(steady.hottest_insulation().value(), 1.0e-4));
  CHECK_THAT(rows[0].surface.value(), WithinAbs(steady.surface.value(), 1.0e-4));
  CHECK_THAT(in_celsius(rows[1].conductor), WithinAbs(25.0, 1.0e-3));
  CHECK_THAT(in_celsius(rows[1].surface), WithinAbs(25.0, 1.0e-3));
}

TEST_CASE("trip trace: the less a wire stores, the nearer it is to the steady balance", "[exposure][trip][property]") {
  // The lag is the time constant times the rate at which the steady temperature changes.
  const ZoneTrace zone = trace_of(zone_heat("upper-bay"), {});
  PlacedWire wire = thin_wire();
  wire.hot_bodies.push_back(exhaust_pipe());
  const Trip trip = drive(20.0);
  const auto lag = [&](double share, double minute) {
    const HeatStore store{square_millimetres(0.5 * share), insulation_heat_capacity * share};
    const TripRow row = row_at(zone, wire, store, trip, minute);
    return (steady_at(wire, row, trip).hottest_insulation() - row.insulation).value();
  };
  for (const double minute : {5.0, 22.0}) {
    CAPTURE(minute);
    CHECK(std::abs(lag(1.0, minute)) > 0.2);
    CHECK_THAT(lag(0.25, minute) / lag(0.5, minute), WithinRel(0.5, 0.05));
    CHECK(std::abs(lag(0.02, minute)) < 0.05);
  }
}

TEST_CASE("trip trace: what the current makes is stored or given off", "[exposure][trip][property]") {
  PlacedWire wire = battery_cable();
  wire.current = Amperes{120.0};
  const HeatStore store{square_millimetres(25.0)};
  const Trip trip = drive(12.0);
  const auto rows = trip_trace(zone_at_ambient(), even_day(25.0), wire, store, trip,
                               trip_times(trip.length, Minutes{40.0}, Minutes{0.025}));
  double made = 0.0, lost = 0.0;  // [J/m], by the trapezoidal rule
  for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
    const double seconds = 60.0 * (rows[i + 1].since_key_on - rows[i].since_key_on).value();
    for (const TripRow& row : {rows[i], rows[i + 1]}) {
      const double surface = row.surface.value(), air = row.air.value();
      const double flux =
          convection(wire.wire.outer_diameter, row.surface, row.air, MetresPerSecond{0.0}) * (surface - air) +
          0.9 * stefan_boltzmann * (std::pow(surface, 4.0) - std::pow(air, 4.0));
      lost += 0.5 * seconds * std::numbers::pi * 9.4e-3 * flux;
      const double copper = 120.0 * 120.0 * 0.743e-3 * (1.0 + 0.00393 * (in_celsius(row.conductor) - 20.0));
      if (rows[i].since_key_on < trip.length) made += 0.5 * seconds * copper;
    }
  }
  // Stored: copper at the conductor's temperature, insulation by the mean of a logarithmic course between its faces.
  const auto stored = [&](const TripRow& row) {
    const double ratio = 9.4 / 6.6;
    const double inner = 0.5 / std::log(ratio) - 1.0 / (ratio * ratio - 1.0);
    const double shell = 0.25 * std::numbers::pi * (9.4 * 9.4 - 6.6 * 6.6) * 1.0e-6 * insulation_heat_capacity;
    return 25.0e-6 * copper_heat_capacity * (row.conductor - row.air).value() +
           shell * (inner * (row.conductor - row.air).value() + (1.0 - inner) * (row.surface - row.air).value());
  };
  CHECK(made > 5.0e3);
  CHECK(stored(rows.back()) > 0.01 * made);
  CHECK_THAT(lost + stored(rows.back()), WithinRel(made, 1.0e-4));
}

TEST_CASE("trip trace: the air is the zone's closed form, from cold and from the week", "[exposure][trip][property]") {
  const ZoneTrace week = trace_of("upper-bay", "family");
  const DailyCourse day{celsius(18.0), KelvinRise{6.0}, 1.0};
  const auto drives = weekly_drives(records().duties.at("family"));
  Trip trip = drive(drives[1].length.value(), RunningState::cruise);
  trip.key_on = drives[1].start;
  trip.start = TripStart::week;
  const std::vector<Minutes> times{Minutes{0.0}, Minutes{3.0}, trip.length, trip.length + Minutes{4.0}};
  const PlacedWire wire = thin_wire();
  const HeatStore store{square_millimetres(0.5)};
  const auto rows = trip_trace(week, day, wire, store, trip, times);
  const auto same_start = [&](const TraceInterval& interval) { return interval.start == trip.key_on; };
  const auto interval = std::find_if(week.week.begin(), week.week.end(), same_start);
  REQUIRE(interval != week.week.end());
  for (std::size_t i = 0; i < times.size(); ++i) {
    const bool after = times[i] > trip.length;
    const TraceState state =
        after ? state_at(week, *(interval + 1), times[i] - trip.length) : state_at(week, *interval, times[i]);
    const double ambient = day.mean.value() + 6.0 * day_cosine(constants(), trip.key_on + times[i]);
    CHECK_THAT(rows[i].air.value(),
               WithinAbs(ambient + rise_above_ambient(week, state, day, week.heat.rise[0]).value(), 1.0e-9));
  }
  // A bundle that was driven two hours ago is still warm; from cold it is at the ambient.
  CHECK(rows[0].air.value() > day.mean.value() + 6.0 * day_cosine(constants(), trip.key_on) + 0.05);
  trip.start = TripStart::cold;
  const TripRow cold = trip_trace(week, day, wire, store, trip, times).front();
  CHECK_THAT(cold.air.value(), WithinAbs(day.mean.value() + 6.0 * day_cosine(constants(), trip.key_on), 1.0e-9));
  CHECK(cold.conductor == cold.air);
}

TEST_CASE("trip trace: a trip of the week takes the wire as the trip before left it", "[exposure][trip][property]") {
  // Two drives 6 min apart. Followed as one course from cold, the second begins where the week's trip must begin.
  const ZoneTrace week =
      trace_of(zone_heat("upper-bay"), {{Minutes{600.0}, Minutes{30.0}}, {Minutes{636.0}, Minutes{10.0}}});
  PlacedWire cable = battery_cable();
  cable.current = Amperes{180.0};
  const HeatStore store{square_millimetres(25.0)};
  Trip first = drive(30.0);
  first.key_on = Minutes{600.0};
  first.start = TripStart::week;
  Trip second = drive(10.0);
  second.key_on = Minutes{636.0};
  second.start = TripStart::week;
  const TripRow before = row_at(week, cable, store, first, 36.0), at_key_on = row_at(week, cable, store, second, 0.0);
  CHECK_THAT(at_key_on.conductor.value(), WithinAbs(before.conductor.value(), 1.0e-4));
  CHECK_THAT(at_key_on.surface.value(), WithinAbs(before.surface.value(), 1.0e-4));
  CHECK((at_key_on.conductor - at_key_on.air).value() > 3.0);
  CHECK(before.phase == TripPhase::soak);
  CHECK(at_key_on.phase == TripPhase::run);
}

TEST_CASE("trip trace: phases follow each other, rows stand at their times", "[exposure][trip][property]") {
  const Trip trip = drive(40.0);
  const auto times = trip_times(trip.length, Minutes{900.0}, Minutes{7.0});
  const auto rows =
      trip_trace(trace_of(zone_heat("upper-bay"), {}), even_day(15.0), thin_wire(), {square_millimetres(0.5)}, trip, times);
  REQUIRE(rows.size() == times.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CHECK(rows[i].since_key_on.value() == Approx(times[i].value()));
    CHECK((rows[i].phase == TripPhase::warm_up || rows[i].phase == TripPhase::run) == (times[i] <= trip.length));
    if (i > 0) CHECK(rows[i].phase >= rows[i - 1].phase);
    CHECK_FALSE(rows[i].hot_body);
  }
  CHECK(rows.front().phase == TripPhase::warm_up);
  CHECK(rows.back().phase == TripPhase::parked);
  // The engine is nine tenths warm after 8 min times ln 10 = 18.4 min: own arithmetic.
  CHECK(rows[2].phase == TripPhase::warm_up);
  CHECK(rows[3].phase == TripPhase::run);
}

TEST_CASE("trip trace: a hot body warms with the exhaust and cools with it", "[exposure][trip]") {
  // 8 min up and 25 min down, the model's own constants; the air stays at 25 degC.
  PlacedWire wire = thin_wire();
  wire.hot_bodies.push_back(exhaust_pipe());
  const HeatStore store{square_millimetres(0.5)};
  const double warmth = 1.0 - std::exp(-2.0);
  CHECK_THAT(in_celsius(*row_at(zone_at_ambient(), wire, store, drive(16.0), 16.0).hot_body),
             WithinAbs(25.0 + 355.0 * warmth, 1e-6));
  const TripRow later = row_at(zone_at_ambient(), wire, store, drive(16.0), 41.0);
  CHECK_THAT(in_celsius(*later.hot_body), WithinAbs(25.0 + 355.0 * warmth * std::exp(-1.0), 1e-6));
  CHECK(later.insulation > later.air + KelvinRise{0.5});
}

TEST_CASE("trip trace: an unloaded wire beside a hot body is hottest at its surface", "[exposure][trip][property]") {
  PlacedWire cable = battery_cable();
  cable.hot_bodies.push_back(exhaust_pipe());
  const TripRow row = row_at(zone_at_ambient(), cable, {square_millimetres(25.0)}, drive(30.0, RunningState::hill), 4.0);
  CHECK(row.surface > row.conductor);
  CHECK(row.insulation == row.surface);
}

TEST_CASE("trip times: steps and key-off, each once", "[exposure][trip]") {
  const auto minutes = [](Minutes length, Minutes until, Minutes step) {
    std::vector<double> values;
    for (const Minutes time : trip_times(length, until, step)) values.push_back(time.value());
    return values;
  };
  CHECK(minutes(Minutes{5.0}, Minutes{9.0}, Minutes{2.0}) == std::vector<double>{0.0, 2.0, 4.0, 5.0, 6.0, 8.0});
  CHECK(minutes(Minutes{4.0}, Minutes{5.0}, Minutes{2.0}) == std::vector<double>{0.0, 2.0, 4.0});
  CHECK(minutes(Minutes{0.3}, Minutes{0.45}, Minutes{0.1}).size() == 5);
  CHECK_THROWS_AS(trip_times(Minutes{4.0}, Minutes{5.0}, Minutes{0.0}), DomainError);
  CHECK_THROWS_AS(trip_times(Minutes{4.0}, Minutes{1.0e7}, Minutes{1.0}), DomainError);
}

TEST_CASE("trip trace: what cannot be followed is refused by its numbers", "[exposure][trip][error]") {
  const ZoneTrace zone = trace_of("upper-bay", "family");
  const HeatStore store{square_millimetres(0.5)};
  const auto refused = [&](const PlacedWire& wire, const HeatStore& stored, const Trip& trip, std::vector<Minutes> times) {
    return [=] { return trip_trace(zone, even_day(25.0), wire, stored, trip, times); };
  };
  CHECK_THROWS_AS(refused(thin_wire(), store, drive(0.0), {Minutes{1.0}})(), DomainError);
  CHECK_THROWS_AS(refused(thin_wire(), store, drive(9.0), {Minutes{-1.0}})(), DomainError);
  CHECK_THROWS_AS(refused(thin_wire(), store, drive(9.0), {Minutes{2.0}, Minutes{1.0}})(), DomainError);
  CHECK_THROWS_WITH(refused(thin_wire(), HeatStore{square_millimetres(0.9)}, drive(9.0), {Minutes{1.0}})(),
                    Catch::Contains("0.9"));
  CHECK_THROWS_AS(refused(thin_wire(), HeatStore{}, drive(9.0), {Minutes{1.0}})(), DomainError);
  Trip unknown = drive(9.0);
  unknown.start = TripStart::week;
  unknown.key_on = Minutes{1.0};
  CHECK_THROWS_WITH(refused(thin_wire(), store, unknown, {Minutes{1.0}})(), Catch::Contains("no drive"));
  PlacedWire overloaded = thin_wire();
  overloaded.current = Amperes{300.0};
  CHECK_THROWS_WITH(refused(overloaded, store, drive(9.0), {Minutes{9.0}})(), Catch::Contains("300"));
}
