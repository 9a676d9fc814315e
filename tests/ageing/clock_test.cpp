#include "heatside/ageing/clock.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "ageing/compounds.hpp"
#include "heatside/ageing/arrhenius.hpp"

using namespace heatside;
using namespace heatside::ageing;
using namespace heatside::tests;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using exposure::Regime;
using exposure::TemperatureMeasure;
using exposure::total;
using library::AgeingPath;
using library::Insulation;
using library::PathKind;

namespace {

AgeingPath dry_path(PathKind kind, double share, double energy_kj) {
  AgeingPath path;
  path.kind = kind;
  path.share = number(share);
  path.activation_energy = number(energy_kj);
  if (kind == PathKind::plasticiser_loss) path.reference_wall = number(0.4);
  return path;
}

// 1000 h to the end at 85 Cel and 85 % relative humidity, 70 kJ/mol, square of the humidity.
AgeingPath wet_path() {
  AgeingPath path;
  path.kind = PathKind::hydrolysis;
  path.activation_energy = number(70.0);
  path.wet_temperature = number(85.0);
  path.wet_humidity = number(85.0);
  path.wet_hours = number(1000.0);
  path.humidity_exponent = number(2.0);
  return path;
}

// 3000 h to the end at 105 Cel; every life factor its own prime number, so that a product names what is in it.
Insulation compound(std::vector<AgeingPath> paths) {
  Insulation insulation = gradual_compound();
  insulation.life_temperature = number(105.0);
  insulation.life_hours = number(3000.0);
  insulation.life_factors = {number(2.0), number(3.0), number(5.0), number(7.0), number(11.0), number(13.0)};
  insulation.paths = std::move(paths);
  return insulation;
}

WireSurroundings plain_wire() {
  WireSurroundings surroundings;
  surroundings.wall = 0.4_mm;
  surroundings.copper = casefile::Copper::bare;
  return surroundings;
}

double clock_of(const Insulation& insulation, const WireSurroundings& surroundings, const TemperatureMeasure& year,
                double lot = 1.0, double ambient_humidity = 70.0) {
  return total(clock_rate(insulation, insulation.paths, surroundings, lot, [&](const AgeingPath& path) {
    return likely_path_mean(insulation, path, year, ambient_humidity, surroundings.damp, model_constants());
  }));
}

}  // namespace

TEST_CASE("life factor: everything that touches the wire multiplies", "[ageing][clock]") {
  const Insulation insulation = compound({dry_path(PathKind::oxidation, 1.0, 100.0)});
  library::Covering covering;
  WireSurroundings surroundings = plain_wire();

  CHECK(life_factor(insulation, surroundings) == 2.0);
  surroundings.copper = casefile::Copper::tinned;
  CHECK(life_factor(insulation, surroundings) == 3.0);
  surroundings.oil = true;
  CHECK(life_factor(insulation, surroundings) == 3.0 * 11.0);
  surroundings.coolant = true;
  CHECK(life_factor(insulation, surroundings) == 3.0 * 11.0 * 13.0);
  surroundings.covering = &covering;
  covering.enclosure = library::Enclosure::open;
  CHECK(life_factor(insulation, surroundings) == 3.0 * 11.0 * 13.0);
  covering.enclosure = library::Enclosure::closed;
  CHECK(life_factor(insulation, surroundings) == 3.0 * 11.0 * 13.0 * 5.0);
  covering.enclosure = library::Enclosure::absorbing;
  CHECK(life_factor(insulation, surroundings) == 3.0 * 11.0 * 13.0 * 7.0);
}

TEST_CASE("clock rate: at the thermal-life point it is one life in the point's hours", "[ageing][clock]") {
  // Shares sum to 1 there, whatever the energies; a factor or a lot that doubles life halves the clock.
  const Insulation insulation =
      compound({dry_path(PathKind::oxidation, 0.7, 110.0), dry_path(PathKind::dehydrochlorination, 0.3, 45.0)});
  const TemperatureMeasure year = year_at_constant(105.0_degC);
  CHECK_THAT(clock_of(insulation, plain_wire(), year), WithinRel(1.0 / (2.0 * 3000.0), 1e-13));
  CHECK_THAT(clock_of(insulation, plain_wire(), year, 1.5), WithinRel(1.0 / (1.5 * 2.0 * 3000.0), 1e-13));

  WireSurroundings oily = plain_wire();
  oily.oil = true;
  CHECK_THAT(clock_of(insulation, oily, year), WithinRel(1.0 / (11.0 * 2.0 * 3000.0), 1e-13));
}

TEST_CASE("clock rate: paths run side by side, each by its own energy", "[ageing][clock]") {
  const Insulation insulation =
      compound({dry_path(PathKind::oxidation, 0.8, 110.0), dry_path(PathKind::oxidation, 0.2, 45.0)});
  const Kelvin service = 60.0_degC;
  const double expected = (0.8 * acceleration_factor({105.0_degC, service}, 110.0_kJ_per_mol) +
                           0.2 * acceleration_factor({105.0_degC, service}, 45.0_kJ_per_mol)) /
                          (2.0 * 3000.0);
  CHECK_THAT(clock_of(insulation, plain_wire(), year_at_constant(service)), WithinRel(expected, 1e-12));

  // A second path of low energy is what makes the cool end age: the straight line of the first promises more than
  // six times the life at 60 Cel.
  const Insulation straight = compound({dry_path(PathKind::oxidation, 1.0, 110.0)});
  CHECK_THAT(clock_of(insulation, plain_wire(), year_at_constant(service)) /
                 clock_of(straight, plain_wire(), year_at_constant(service)),
             WithinAbs(4.07, 0.01));
}

TEST_CASE("clock rate: kept apart by regime", "[ageing][clock]") {
  const Insulation insulation = compound({dry_path(PathKind::oxidation, 1.0, 100.0)});
  TemperatureMeasure year;
  add_stay(year, Regime::running, {105.0_degC, 25.0_degC, 0.10});
  add_stay(year, Regime::soak, {115.0_degC, 25.0_degC, 0.05});
  add_stay(year, Regime::parked, {25.0_degC, 25.0_degC, 0.85});
  const exposure::PerRegime rate = clock_rate(insulation, insulation.paths, plain_wire(), 1.0, [&](const AgeingPath& path) {
    return likely_path_mean(insulation, path, year, 70.0, false, model_constants());
  });
  const double whole = 1.0 / (2.0 * 3000.0);
  CHECK_THAT(rate[0], WithinRel(0.10 * whole, 1e-12));
  CHECK_THAT(rate[1], WithinRel(0.05 * whole * acceleration_factor({105.0_degC, 115.0_degC}, 100.0_kJ_per_mol), 1e-12));
  CHECK_THAT(rate[2], WithinRel(0.85 * whole * acceleration_factor({105.0_degC, 25.0_degC}, 100.0_kJ_per_mol), 1e-12));
}

TEST_CASE("clock rate: a thick wall keeps its plasticiser longer, nothing else", "[ageing][clock]") {
  const TemperatureMeasure year = year_at_constant(105.0_degC);
  const Insulation insulation =
      compound({dry_path(PathKind::plasticiser_loss, 0.75, 90.0), dry_path(PathKind::dehydrochlorination, 0.25, 130.0)});
  WireSurroundings wire = plain_wire();
  const double whole = 1.0 / (2.0 * 3000.0);
  CHECK_THAT(clock_of(insulation, wire, year), WithinRel(whole, 1e-13));
  wire.wall = 0.8_mm;
  CHECK_THAT(clock_of(insulation, wire, year), WithinRel(whole * (0.75 / 2.0 + 0.25), 1e-13));
  wire.wall = 0.2_mm;
  CHECK_THAT(clock_of(insulation, wire, year), WithinRel(whole * (0.75 * 2.0 + 0.25), 1e-13));

  const Insulation no_plasticiser = compound({dry_path(PathKind::oxidation, 1.0, 100.0)});
  CHECK_THAT(clock_of(no_plasticiser, wire, year), WithinRel(whole, 1e-13));
}

TEST_CASE("clock rate: a wire amid other wires keeps its plasticiser longer, nothing else", "[ageing][clock]") {
  // The share is the model's own number, judgement.
  const double slower = model_constants().ageing.inner_wire_loss.value;
  CHECK(slower == 0.5);
  const Insulation insulation =
      compound({dry_path(PathKind::plasticiser_loss, 0.75, 90.0), dry_path(PathKind::dehydrochlorination, 0.25, 130.0)});
  WireSurroundings wire = plain_wire();
  wire.wall = 0.8_mm;
  wire.plasticiser_rate = slower;
  const double whole = 1.0 / (2.0 * 3000.0);
  const double rate = clock_of(insulation, wire, year_at_constant(105.0_degC));
  CHECK_THAT(rate, WithinRel(whole * (0.75 / 4.0 + 0.25), 1e-13));
  CHECK_THAT(in_celsius(equivalent_temperature(insulation, wire.wall, 1.0, 2.0 * rate, slower)), WithinAbs(105.0, 1e-8));
  CHECK(in_celsius(equivalent_temperature(insulation, wire.wall, 1.0, 2.0 * rate)) < 104.0);

  const Insulation no_plasticiser = compound({dry_path(PathKind::oxidation, 1.0, 100.0), wet_path()});
  const double inner = clock_of(no_plasticiser, wire, year_at_constant(105.0_degC));
  wire.plasticiser_rate = 1.0;
  CHECK(inner == clock_of(no_plasticiser, wire, year_at_constant(105.0_degC)));
}

TEST_CASE("wet path: at its own point in trapped damp it is one life in its own hours", "[ageing][clock][wet]") {
  const Insulation insulation = compound({wet_path()});
  WireSurroundings wire = plain_wire();
  wire.damp = true;
  // 85 % is what damp means in the model's constants, and the humidity of the path's point.
  CHECK_THAT(clock_of(insulation, wire, year_at_constant(85.0_degC)), WithinRel(1.0 / (2.0 * 1000.0), 1e-13));
  CHECK_THAT(clock_of(insulation, wire, year_at_constant(55.0_degC)),
             WithinRel(acceleration_factor({85.0_degC, 55.0_degC}, 70.0_kJ_per_mol) / (2.0 * 1000.0), 1e-12));
}

TEST_CASE("wet path: stands beside the dry ones and leaves their shares alone", "[ageing][clock][wet]") {
  const Insulation both = compound({dry_path(PathKind::oxidation, 1.0, 110.0), wet_path()});
  const Insulation dry = compound({dry_path(PathKind::oxidation, 1.0, 110.0)});
  const Insulation wet = compound({wet_path()});
  WireSurroundings wire = plain_wire();
  wire.damp = GENERATE(false, true);
  const TemperatureMeasure year = year_of({{90.0_degC, 20.0_degC, 0.1}, {20.0_degC, 20.0_degC, 0.9}});
  CHECK_THAT(clock_of(both, wire, year), WithinRel(clock_of(dry, wire, year) + clock_of(wet, wire, year), 1e-13));
}

TEST_CASE("wet path: a wire as cool as the air feels the climate's humidity", "[ageing][clock][wet]") {
  const Insulation insulation = compound({wet_path()});
  const TemperatureMeasure year = year_at_constant(30.0_degC);
  const double damp_air = clock_of(insulation, plain_wire(), year, 1.0, 80.0);
  const double dry_air = clock_of(insulation, plain_wire(), year, 1.0, 40.0);
  CHECK_THAT(damp_air / dry_air, WithinRel(4.0, 1e-12));  // half the humidity, squared
  WireSurroundings trapped = plain_wire();
  trapped.damp = true;
  CHECK_THAT(clock_of(insulation, trapped, year, 1.0, 40.0) / dry_air, WithinRel(4.515625, 1e-12));  // (85/40)^2
}

TEST_CASE("wet path: a hot wire is a dry wire", "[ageing][clock][wet]") {
  // The same air warmed from 25 to 85 Cel keeps its vapour: relative humidity falls as the saturation pressures of water,
  // 3.169 kPa and 57.87 kPa (steam tables, from memory). With the constant enthalpy of the model that is met to 1 %.
  const Insulation insulation = compound({wet_path()});
  const TemperatureMeasure hot = year_of({{85.0_degC, 25.0_degC, 1.0}});
  const TemperatureMeasure hot_in_hot_air = year_at_constant(85.0_degC);
  const double drier = clock_of(insulation, plain_wire(), hot) / clock_of(insulation, plain_wire(), hot_in_hot_air);
  CHECK_THAT(std::sqrt(drier), WithinRel(3.169 / 57.87, 0.01));

  // Damp that is trapped stays, however hot: the air outside no longer counts.
  WireSurroundings trapped = plain_wire();
  trapped.damp = true;
  CHECK_THAT(clock_of(insulation, trapped, hot), WithinRel(clock_of(insulation, trapped, hot_in_hot_air), 1e-14));
  CHECK(clock_of(insulation, trapped, hot) > 100.0 * clock_of(insulation, plain_wire(), hot));
}

TEST_CASE("equivalent temperature: a constant year is its own", "[ageing][clock]") {
  const Insulation insulation =
      compound({dry_path(PathKind::plasticiser_loss, 0.7, 90.0), dry_path(PathKind::oxidation, 0.3, 45.0)});
  const Kelvin constant = celsius(GENERATE(-20.0, 35.0, 105.0, 180.0));
  WireSurroundings wire = plain_wire();
  wire.wall = 0.7_mm;
  const double rate = clock_of(insulation, wire, year_at_constant(constant), 1.5) * life_factor(insulation, wire);
  CHECK_THAT(equivalent_temperature(insulation, wire.wall, 1.5, rate).value(), WithinRel(constant.value(), 1e-11));
}

TEST_CASE("equivalent temperature: lies nearer the hot end, the more so with more energy", "[ageing][clock]") {
  const TemperatureMeasure year = year_of({{30.0_degC, 30.0_degC, 0.5}, {90.0_degC, 90.0_degC, 0.5}});
  const auto equivalent = [&](double energy) {
    const Insulation insulation = compound({dry_path(PathKind::oxidation, 1.0, energy)});
    return equivalent_temperature(insulation, plain_wire().wall, 1.0,
                                  clock_of(insulation, plain_wire(), year) * life_factor(insulation, plain_wire()));
  };
  CHECK(equivalent(45.0) > 60.0_degC);
  CHECK(equivalent(110.0) > equivalent(45.0));
  CHECK(equivalent(110.0) < 90.0_degC);
  // One energy: the mean kinetic temperature of the exposure.
  const JoulePerMole energy = 110.0_kJ_per_mol;
  const double mean = total(exposure::mean_acceleration(year, energy, 105.0_degC));
  CHECK_THAT(equivalent(110.0).value(),
             WithinRel(exposure::equivalent_temperature(mean, energy, 105.0_degC).value(), 1e-11));
}

TEST_CASE("equivalent temperature: leaves wet paths out", "[ageing][clock][wet]") {
  const Insulation both = compound({dry_path(PathKind::oxidation, 1.0, 110.0), wet_path()});
  const Insulation dry = compound({dry_path(PathKind::oxidation, 1.0, 110.0)});
  const double rate = clock_of(dry, plain_wire(), year_at_constant(70.0_degC)) * life_factor(dry, plain_wire());
  CHECK_THAT(in_celsius(equivalent_temperature(both, plain_wire().wall, 1.0, rate)), WithinAbs(70.0, 1e-8));
}
