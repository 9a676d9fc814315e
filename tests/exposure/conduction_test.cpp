#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include "heatside/exposure/conduction.hpp"

/// Closed forms of fins: Incropera, Fundamentals of Heat and Mass Transfer, 7th ed., section 3.6 and table 3.4 (from
/// memory). Joints and branches: own arithmetic, the heat flows of those forms matched at the node.

using Catch::WithinAbs;
using Catch::WithinRel;
using Catch::Matchers::Contains;
using namespace heatside;
using namespace heatside::exposure;

namespace {

constexpr double copper = 393.0;  // [W/(m K)] at 400 K, Incropera table A.1 (from memory)

// A wire of 2.5 mm2 in still air, about: decays over 67 mm.
FinStretch wire(std::size_t from, std::size_t to, double length, double area_mm2 = 2.5, double loss = 0.2168) {
  return {from, to, Metres{length}, square_millimetres(area_mm2), WattsPerMetreKelvin{loss}};
}

double per_metre(const FinStretch& fin) {
  return std::sqrt(fin.loss.value() / (copper * fin.copper_area.value()));
}  // m [1/m]

// m L, and the heat that an endless wire takes up per kelvin: sqrt(k A loss) [W/K].
double reach(const FinStretch& fin) { return per_metre(fin) * fin.length.value(); }
double admittance(const FinStretch& fin) { return std::sqrt(copper * fin.copper_area.value() * fin.loss.value()); }

// The scheme's error per kelvin between terminal and surroundings is (m h)^2 / 8 in the first cell and less elsewhere (own
// arithmetic: its difference equation solved exactly and expanded); half as much again for the next order and the 1e-6 left
// out.
double grid_error(const FinStretch& fin, double cell) {
  const double step = per_metre(fin) * cell;
  return 1.5 * step * step / 8.0 + 1.0e-5;
}

double temperature(const FinCell& cell, const std::vector<double>& sources) {
  double sum = 0.0;
  for (const Influence& influence : cell.influences) sum += influence.weight * sources.at(influence.source);
  return sum;
}

double weight_of(const FinCell& cell, std::size_t source) {
  for (const Influence& influence : cell.influences) {
    if (influence.source == source) return influence.weight;
  }
  return 0.0;
}

std::vector<FinCell> cells_along(const std::vector<FinCell>& cells, std::size_t stretch) {
  std::vector<FinCell> some;
  for (const FinCell& cell : cells) {
    if (cell.stretch == stretch) some.push_back(cell);
  }
  return some;
}

// Heat that a stretch gives off beyond that of its own temperature [W].
double heat_given_off(const FinNetwork& network, const std::vector<FinCell>& all, std::size_t stretch,
                      const std::vector<double>& sources) {
  const std::vector<FinCell> cells = cells_along(all, stretch);
  const FinStretch& fin = network.stretches[stretch];
  const double per_kelvin = fin.loss.value() * fin.length.value() / static_cast<double>(cells.size());
  double sum = 0.0;
  for (const FinCell& cell : cells) sum += per_kelvin * (temperature(cell, sources) - sources.at(stretch));
  return sum;
}

// Heat from a terminal through half a cell into a stretch that starts there [W].
double heat_taken_up(const FinNetwork& network, const std::vector<FinCell>& all, std::size_t stretch, double terminal,
                     const std::vector<double>& sources) {
  const std::vector<FinCell> cells = cells_along(all, stretch);
  const double half = cells.front().from_start.value();
  return copper * network.stretches[stretch].copper_area.value() / half * (terminal - temperature(cells.front(), sources));
}

// Two wires of different size and surroundings that meet at node 1, all ends free.
struct Joint {
  FinNetwork network{3, {wire(0, 1, 0.24, 2.5, 0.22), wire(1, 2, 0.16, 6.0, 0.30)}, {}};
  std::vector<double> own{60.0, 110.0};

  [[nodiscard]] double at_node() const {
    std::array<double, 2> pull{};
    for (std::size_t i = 0; i < 2; ++i) pull[i] = admittance(network.stretches[i]) * std::tanh(reach(network.stretches[i]));
    return (pull[0] * own[0] + pull[1] * own[1]) / (pull[0] + pull[1]);
  }

  [[nodiscard]] double at(const FinCell& cell) const {
    const FinStretch& fin = network.stretches[cell.stretch];
    const double m = per_metre(fin);
    const double from_free_end = cell.stretch == 0 ? cell.from_start.value() : fin.length.value() - cell.from_start.value();
    return own[cell.stretch] + (at_node() - own[cell.stretch]) * std::cosh(m * from_free_end) / std::cosh(reach(fin));
  }

  [[nodiscard]] double largest_error(Metres cell_length) const {
    double largest = 0.0;
    for (const FinCell& cell : conduction_influences(network, cell_length)) {
      largest = std::max(largest, std::abs(temperature(cell, own) - at(cell)));
    }
    return largest;
  }
};

// Branches, sizes from 0.35 to 16 mm2, a loop, a ring, two terminals, and a part of its own without any.
FinNetwork loom() {
  return {12,
          {wire(0, 1, 0.30, 16.0, 0.419), wire(1, 2, 0.25, 2.5), wire(1, 3, 0.40, 0.35, 0.1385),
           wire(3, 4, 0.02, 0.35, 0.1385), wire(4, 4, 0.30), wire(2, 5, 0.20), wire(2, 5, 0.35, 1.0, 0.175),
           wire(5, 6, 0.10), wire(8, 9, 0.50), wire(9, 10, 0.013)},
          {6, 0, 11}};
}

}  // namespace

TEST_CASE("conduction: weights are a mean of the sources", "[exposure][conduction]") {
  const FinNetwork network = loom();
  const std::size_t sources = network.stretches.size() + network.fixed_nodes.size();
  const auto cells = conduction_influences(network);
  REQUIRE(cells.size() > 300);
  for (const FinCell& cell : cells) {
    CAPTURE(cell.stretch, cell.from_start.value());
    double sum = 0.0;
    for (const Influence& influence : cell.influences) {
      sum += influence.weight;
      CHECK(influence.source < sources);
      CHECK(influence.weight >= 1.0e-6);
    }
    CHECK_THAT(sum, WithinAbs(1.0, 1.0e-13));
    CHECK(std::is_sorted(cell.influences.begin(), cell.influences.end(),
                         [](const Influence& a, const Influence& b) { return a.source <= b.source; }));
    // Heat reaches no part of the loom that hangs on nothing: sources 8 and 9 are alone, terminal 11 is bare.
    for (const Influence& influence : cell.influences) {
      CHECK((cell.stretch >= 8) == (influence.source == 8 || influence.source == 9));
    }
  }
}

TEST_CASE("conduction: cells follow the stretches in order and fill them", "[exposure][conduction]") {
  const FinNetwork network{3, {wire(0, 1, 0.4), wire(1, 2, 0.003)}, {}};
  const auto cells = conduction_influences(network);
  REQUIRE(cells.size() == 50 + 4);  // 400 mm / 8 mm, and at least four
  for (std::size_t i = 0; i < 50; ++i) {
    CHECK(cells[i].stretch == 0);
    CHECK_THAT(cells[i].from_start.value(), WithinRel(0.004 + 0.008 * static_cast<double>(i), 1.0e-12));
  }
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(cells[50 + i].stretch == 1);
    CHECK_THAT(cells[50 + i].from_start.value(), WithinRel(0.003 * (static_cast<double>(i) + 0.5) / 4.0, 1.0e-12));
  }
  CHECK(conduction_influences(network, millimetres(4.0)).size() == 100 + 4);
  CHECK(conduction_influences({7, {}, {2}}).empty());
}

TEST_CASE("conduction: the terminal's influence on an endless wire is exp(-x / decay length)", "[exposure][conduction]") {
  const FinNetwork network{2, {wire(0, 1, 1.5)}, {0}};
  const FinStretch& fin = network.stretches[0];
  const double decay = decay_length(fin.copper_area, fin.loss).value();
  REQUIRE(reach(fin) > 20.0);
  for (const FinCell& cell : conduction_influences(network)) {
    CAPTURE(cell.from_start.value());
    CHECK_THAT(weight_of(cell, 1), WithinAbs(std::exp(-cell.from_start.value() / decay), grid_error(fin, 0.008)));
  }
}

TEST_CASE("conduction: weights down to a millionth are kept, smaller ones left out", "[exposure][conduction]") {
  const FinNetwork network{2, {wire(0, 1, 1.5)}, {0}};
  for (const FinCell& cell : conduction_influences(network, millimetres(2.0))) {
    const double expected = std::exp(-per_metre(network.stretches[0]) * cell.from_start.value());
    CAPTURE(cell.from_start.value());
    // 14 decay lengths on, the step of 0.03 has added 0.06 % to the weight.
    if (expected > 1.01e-6) CHECK_THAT(weight_of(cell, 1), WithinRel(expected, 1.0e-3));
    if (expected < 0.99e-6) CHECK(weight_of(cell, 1) == 0.0);
  }
}

TEST_CASE("conduction: next to a terminal the error is an eighth of the squared step", "[exposure][conduction]") {
  // The header's statement, and what grid_error() rests on.
  const FinNetwork network{2, {wire(0, 1, 1.5)}, {0}};
  const double step = per_metre(network.stretches[0]) * 0.002;
  const auto cells = conduction_influences(network, millimetres(2.0));
  const double error = weight_of(cells.front(), 1) - std::exp(-0.5 * step);
  CHECK_THAT(error, WithinRel(-step * step / 8.0, 0.05));
}

TEST_CASE("conduction: a copper rod takes up the heat of the handbook example", "[exposure][conduction][published]") {
  // Incropera example 3.9 (from memory): very long copper rod of 5 mm, base 100 degC, air 25 degC, 100 W/(m2 K): 8.3 W, with
  // 398 W/(m K) for copper. The flow goes with the root of the conductivity; the printed figure is rounded to 0.6 %.
  const double diameter = 0.005;
  const double area = std::numbers::pi / 4.0 * diameter * diameter;
  const FinNetwork network{
      2, {{0, 1, Metres{1.4}, SquareMetres{area}, WattsPerMetreKelvin{100.0 * std::numbers::pi * diameter}}}, {0}};
  const auto cells = conduction_influences(network, millimetres(2.0));
  const std::vector<double> sources{25.0, 100.0};
  CHECK_THAT(heat_given_off(network, cells, 0, sources), WithinRel(8.3 * std::sqrt(393.0 / 398.0), 0.006));
  CHECK_THAT(heat_taken_up(network, cells, 0, 100.0, sources), WithinRel(8.3 * std::sqrt(393.0 / 398.0), 0.006));
}

TEST_CASE("conduction: a wire with a free end follows cosh m(L - x) / cosh mL", "[exposure][conduction]") {
  const double length = GENERATE(0.03, 0.1, 0.2);
  const FinNetwork network{2, {wire(0, 1, length)}, {0}};
  const FinStretch& fin = network.stretches[0];
  const double m = per_metre(fin);
  for (const FinCell& cell : conduction_influences(network)) {
    CAPTURE(length, cell.from_start.value());
    const double expected = std::cosh(m * (length - cell.from_start.value())) / std::cosh(m * length);
    CHECK_THAT(weight_of(cell, 1), WithinAbs(expected, grid_error(fin, 0.008)));
    CHECK_THAT(weight_of(cell, 0), WithinAbs(1.0 - expected, grid_error(fin, 0.008)));
  }
}

TEST_CASE("conduction: a wire between two terminals follows sinh, each in the order it is given", "[exposure][conduction]") {
  const double length = GENERATE(0.03, 0.1, 0.3);
  const bool swapped = GENERATE(false, true);
  const std::size_t first = swapped ? 1 : 0;
  const FinNetwork network{2, {wire(0, 1, length)}, {first, 1 - first}};
  const FinStretch& fin = network.stretches[0];
  const double m = per_metre(fin);
  for (const FinCell& cell : conduction_influences(network)) {
    CAPTURE(length, swapped, cell.from_start.value());
    const double start = std::sinh(m * (length - cell.from_start.value())) / std::sinh(m * length);
    const double end = std::sinh(m * cell.from_start.value()) / std::sinh(m * length);
    CHECK_THAT(weight_of(cell, swapped ? 2 : 1), WithinAbs(start, grid_error(fin, 0.008)));
    CHECK_THAT(weight_of(cell, swapped ? 1 : 2), WithinAbs(end, grid_error(fin, 0.008)));
  }
}

TEST_CASE("conduction: two wires of unlike size and surroundings meet at the matched temperature",
          "[exposure][conduction]") {
  const Joint joint;
  CHECK_THAT(joint.at_node(), WithinAbs(91.0, 2.0));  // the thicker wire pulls harder
  for (const FinCell& cell : conduction_influences(joint.network)) {
    CAPTURE(cell.stretch, cell.from_start.value());
    // 50 K between the two.
    CHECK_THAT(temperature(cell, joint.own),
               WithinAbs(joint.at(cell), 50.0 * grid_error(joint.network.stretches[0], 0.008)));
  }
}

TEST_CASE("conduction: halving the cells quarters the error", "[exposure][conduction]") {
  const Joint joint;
  double error = joint.largest_error(millimetres(8.0));
  for (const double cell : {4.0, 2.0, 1.0}) {
    const double finer = joint.largest_error(millimetres(cell));
    CAPTURE(cell, error, finer);
    const double order = std::log2(error / finer);
    CHECK(order > 1.8);
    CHECK(order < 2.2);
    error = finer;
  }
}

TEST_CASE("conduction: a branch of three settles where the heat flows sum to zero", "[exposure][conduction]") {
  // Arms 0 and 1 end free, arm 2 ends at a terminal of 180.
  const FinNetwork network{4, {wire(0, 1, 0.20, 2.5, 0.22), wire(1, 2, 0.12, 1.0, 0.175), wire(1, 3, 0.08, 4.0, 0.25)}, {3}};
  const std::vector<double> sources{80.0, 120.0, 60.0, 180.0};
  const auto& arms = network.stretches;
  const double y0 = admittance(arms[0]) * std::tanh(reach(arms[0]));
  const double y1 = admittance(arms[1]) * std::tanh(reach(arms[1]));
  const double y2 = admittance(arms[2]);
  const double l2 = reach(arms[2]);
  // y0 (T-80) + y1 (T-120) + y2 ((T-60) coth mL - (180-60) / sinh mL) = 0
  const double node =
      (y0 * 80.0 + y1 * 120.0 + y2 * (60.0 / std::tanh(l2) + 120.0 / std::sinh(l2))) / (y0 + y1 + y2 / std::tanh(l2));
  for (const FinCell& cell : conduction_influences(network)) {
    const FinStretch& arm = arms[cell.stretch];
    const double m = per_metre(arm), length = arm.length.value(), x = cell.from_start.value(), own = sources[cell.stretch];
    double expected = own;
    if (cell.stretch == 0) expected += (node - own) * std::cosh(m * x) / std::cosh(m * length);
    if (cell.stretch == 1) expected += (node - own) * std::cosh(m * (length - x)) / std::cosh(m * length);
    if (cell.stretch == 2) {
      expected += ((node - own) * std::sinh(m * (length - x)) + (180.0 - own) * std::sinh(m * x)) / std::sinh(m * length);
    }
    CAPTURE(cell.stretch, x, node);
    // 120 K between the extremes; the thinnest arm has the coarsest grid.
    CHECK_THAT(temperature(cell, sources), WithinAbs(expected, 120.0 * grid_error(arms[1], 0.008)));
  }
}

TEST_CASE("conduction: heat that enters at a terminal leaves along the wires, whatever their sizes",
          "[exposure][conduction]") {
  const FinNetwork network{3, {wire(0, 1, 0.1, 16.0, 0.419), wire(1, 2, 0.3, 0.35, 0.1385)}, {0}};
  const std::vector<double> sources{80.0, 80.0, 180.0};
  const auto cells = conduction_influences(network);
  const double entering = heat_taken_up(network, cells, 0, 180.0, sources);
  const double left_in_thick = heat_given_off(network, cells, 0, sources);
  const double left_in_thin = heat_given_off(network, cells, 1, sources);
  // Conserved by the scheme itself; 1e-5 for the weights left out.
  CHECK_THAT(left_in_thick + left_in_thin, WithinRel(entering, 1.0e-5));

  // What passes the joint on both sides: linear between the last cells' middles and through the node, of one temperature.
  const FinCell before = cells_along(cells, 0).back();
  const FinCell after = cells_along(cells, 1).front();
  const double thick = copper * 16.0e-6 / (0.1 - before.from_start.value());
  const double thin = copper * 0.35e-6 / after.from_start.value();
  const double passing = (temperature(before, sources) - temperature(after, sources)) / (1.0 / thick + 1.0 / thin);
  CHECK_THAT(passing, WithinRel(left_in_thin, 1.0e-4));

  // Closed form: the thin wire takes up sqrt(k A loss) tanh mL per kelvin of the joint, 95 to 100 K above the air.
  const FinStretch& fin = network.stretches[1];
  const double joint_rise = temperature(after, sources) - 80.0 + passing / thin;
  CHECK_THAT(passing, WithinRel(admittance(fin) * std::tanh(reach(fin)) * joint_rise, 2.0 * grid_error(fin, 0.008)));
}

TEST_CASE("conduction: a loop is an arm of half its length and twice its copper", "[exposure][conduction]") {
  const FinNetwork loop{2, {wire(0, 1, 0.08), wire(1, 1, 0.16, 1.0, 0.175)}, {0}};
  const FinNetwork arm{3, {wire(0, 1, 0.08), wire(1, 2, 0.08, 2.0, 0.35)}, {0}};
  const auto around = cells_along(conduction_influences(loop), 1);
  const auto along = cells_along(conduction_influences(arm), 1);
  REQUIRE(around.size() == 2 * along.size());
  for (std::size_t i = 0; i < along.size(); ++i) {
    CAPTURE(i);
    for (std::size_t source = 0; source < 3; ++source) {
      // By symmetry the same equations; 3e-6 for the weights left out.
      CHECK_THAT(weight_of(around[i], source), WithinAbs(weight_of(along[i], source), 3.0e-6));
      CHECK_THAT(weight_of(around[around.size() - 1 - i], source), WithinAbs(weight_of(along[i], source), 3.0e-6));
    }
  }
}

TEST_CASE("conduction: a loop at a terminal is a wire between two equal terminals", "[exposure][conduction]") {
  const FinNetwork loop{1, {wire(0, 0, 0.16)}, {0}};
  const FinStretch& fin = loop.stretches[0];
  const double m = per_metre(fin);
  for (const FinCell& cell : conduction_influences(loop)) {
    const double expected = std::cosh(m * (0.08 - cell.from_start.value())) / std::cosh(m * 0.08);
    CHECK_THAT(weight_of(cell, 1), WithinAbs(expected, 2.0 * grid_error(fin, 0.008)));
  }
}

TEST_CASE("conduction: two wires side by side between the same nodes are one of twice the copper",
          "[exposure][conduction]") {
  const FinNetwork ring{3, {wire(0, 1, 0.1), wire(0, 1, 0.1), wire(1, 2, 0.1, 1.0, 0.175)}, {0}};
  const FinNetwork single{3, {wire(0, 1, 0.1, 5.0, 2.0 * 0.2168), wire(1, 2, 0.1, 1.0, 0.175)}, {0}};
  const auto two = conduction_influences(ring);
  const auto one = conduction_influences(single);
  const auto tail_of_two = cells_along(two, 2), tail_of_one = cells_along(one, 1);
  REQUIRE(tail_of_two.size() == tail_of_one.size());
  for (std::size_t i = 0; i < tail_of_one.size(); ++i) {
    CHECK_THAT(temperature(tail_of_two[i], {90.0, 90.0, 60.0, 180.0}),
               WithinAbs(temperature(tail_of_one[i], {90.0, 60.0, 180.0}), 1.0e-3));
  }
}

TEST_CASE("conduction: cutting a stretch in two changes nothing", "[exposure][conduction]") {
  const FinNetwork whole{3, {wire(0, 1, 0.2), wire(1, 2, 0.2, 6.0, 0.30)}, {0}};
  const auto uncut = conduction_influences(whole);

  SECTION("at the edge of a cell: the same equations") {
    const FinNetwork cut{4, {wire(0, 3, 0.08), wire(3, 1, 0.12), wire(1, 2, 0.2, 6.0, 0.30)}, {0}};
    const auto pieces = conduction_influences(cut);
    REQUIRE(pieces.size() == uncut.size());
    for (std::size_t i = 0; i < uncut.size(); ++i) {
      CAPTURE(i);
      // 4e-6 for the weights left out.
      CHECK_THAT(weight_of(pieces[i], 0) + weight_of(pieces[i], 1), WithinAbs(weight_of(uncut[i], 0), 4.0e-6));
      CHECK_THAT(weight_of(pieces[i], 2), WithinAbs(weight_of(uncut[i], 1), 4.0e-6));
      CHECK_THAT(weight_of(pieces[i], 3), WithinAbs(weight_of(uncut[i], 2), 4.0e-6));
    }
  }
  SECTION("elsewhere: within the error of the grid") {
    const FinNetwork cut{4, {wire(0, 3, 0.037), wire(3, 1, 0.163), wire(1, 2, 0.2, 6.0, 0.30)}, {0}};
    const auto far = cells_along(uncut, 1), far_of_cut = cells_along(conduction_influences(cut), 2);
    REQUIRE(far.size() == far_of_cut.size());
    for (std::size_t i = 0; i < far.size(); ++i) {
      CHECK_THAT(weight_of(far_of_cut[i], 3), WithinAbs(weight_of(far[i], 2), grid_error(whole.stretches[0], 0.008)));
    }
  }
}

TEST_CASE("conduction: the direction in which a stretch is written does not matter", "[exposure][conduction]") {
  const FinNetwork forth{3, {wire(0, 1, 0.1), wire(1, 2, 0.1, 6.0, 0.30)}, {0}};
  const FinNetwork back{3, {wire(1, 0, 0.1), wire(1, 2, 0.1, 6.0, 0.30)}, {0}};
  const auto ahead = cells_along(conduction_influences(forth), 0);
  const auto reversed = cells_along(conduction_influences(back), 0);
  for (std::size_t i = 0; i < ahead.size(); ++i) {
    for (std::size_t source = 0; source < 3; ++source) {
      CHECK_THAT(weight_of(reversed[ahead.size() - 1 - i], source), WithinAbs(weight_of(ahead[i], source), 1.0e-12));
    }
  }
}

TEST_CASE("conduction: next to no heat loss leaves plain conduction", "[exposure][conduction]") {
  const double loss = GENERATE(1.0e-9, 1.0e-12);
  SECTION("between two terminals the temperature is a straight line, broken at a joint of sizes") {
    // Series of resistances L / kA: 0.1 / 2.5 and 0.1 / 10, so that the joint stands at 0.8 of the way.
    const FinNetwork network{3, {wire(0, 1, 0.1, 2.5, loss), wire(1, 2, 0.1, 10.0, loss)}, {0, 2}};
    for (const FinCell& cell : conduction_influences(network)) {
      const double x = cell.from_start.value() / 0.1;
      const double along = cell.stretch == 0 ? 0.8 * x : 0.8 + 0.2 * x;
      CHECK_THAT(weight_of(cell, 3), WithinAbs(along, 1.0e-6));
    }
  }
  SECTION("without a terminal all copper is as warm as the mean weighed by heat loss") {
    const FinNetwork network{3, {wire(0, 1, 0.1, 2.5, loss), wire(1, 2, 0.2, 10.0, 3.0 * loss)}, {}};
    for (const FinCell& cell : conduction_influences(network)) CHECK_THAT(weight_of(cell, 0), WithinAbs(1.0 / 7.0, 1.0e-6));
  }
}

TEST_CASE("conduction: heat loss near the rounding of the solver gives the right answer or none",
          "[exposure][conduction][error]") {
  bool any_refused = false;
  for (double loss = 1.0e-10; loss > 1.0e-20; loss /= 3.0) {
    CAPTURE(loss);
    try {
      const auto cells = conduction_influences({3, {wire(0, 1, 0.1, 2.5, loss), wire(1, 2, 0.2, 10.0, 3.0 * loss)}, {}});
      for (const FinCell& cell : cells) CHECK_THAT(weight_of(cell, 0), WithinAbs(1.0 / 7.0, 1.0e-6));
    } catch (const NumericsError& error) {
      CHECK_THAT(error.what(), Contains("heat loss is too small"));
      CHECK(loss < 1.0e-13);
      any_refused = true;
    }
  }
  CHECK(any_refused);
}

TEST_CASE("decay length: thin-wall wire in still air", "[exposure][conduction]") {
  // Outer diameters of ISO 6722-1 (from memory) and heat transfer at 60 degC in air of 40 degC, radiation included; the
  // decay lengths were computed from these apart from the program. All figures are rounded: 3 %.
  struct Wire {
    double area_mm2, outer_mm, transfer, decay_mm;
  };
  const Wire one = GENERATE(Wire{0.35, 1.4, 31.5, 32.0}, Wire{1.0, 2.1, 26.5, 47.0}, Wire{2.5, 3.0, 23.0, 67.0},
                            Wire{6.0, 4.3, 20.1, 93.0}, Wire{16.0, 7.8, 17.1, 123.0}, Wire{35.0, 10.8, 15.7, 161.0},
                            Wire{120.0, 19.2, 13.8, 239.0});
  CAPTURE(one.area_mm2);
  const WattsPerMetreKelvin loss{one.transfer * std::numbers::pi * 1.0e-3 * one.outer_mm};
  CHECK_THAT(in_millimetres(decay_length(square_millimetres(one.area_mm2), loss)), WithinRel(one.decay_mm, 0.03));
}

TEST_CASE("conduction: what cannot be computed is refused by name", "[exposure][conduction][error]") {
  const auto refused = [](const FinStretch& second) {
    try {
      (void)conduction_influences({3, {wire(0, 1, 0.1), second}, {0}});
    } catch (const DomainError& error) {
      return std::string{error.what()};
    }
    return std::string{"accepted"};
  };
  const double infinite = std::numeric_limits<double>::infinity();
  CHECK(refused(wire(1, 2, 0.1)) == "accepted");
  for (const double bad : {0.0, -1.0, infinite, std::numeric_limits<double>::quiet_NaN()}) {
    CAPTURE(bad);
    CHECK_THAT(refused(wire(1, 2, bad)), Contains("stretch 1: the length") && Contains(" m "));
    CHECK_THAT(refused(wire(1, 2, 0.1, bad)), Contains("stretch 1: the copper area") && Contains(" m2 "));
    CHECK_THAT(refused(wire(1, 2, 0.1, 2.5, bad)), Contains("stretch 1: the heat loss") && Contains(" W/(m K) "));
    CHECK_THROWS_AS(conduction_influences({2, {wire(0, 1, 0.1)}, {}}, Metres{bad}), DomainError);
    CHECK_THROWS_AS(decay_length(SquareMetres{bad}, WattsPerMetreKelvin{0.2}), DomainError);
    CHECK_THROWS_AS(decay_length(square_millimetres(2.5), WattsPerMetreKelvin{bad}), DomainError);
  }
  CHECK_THAT(refused(wire(3, 2, 0.1)), Contains("stretch 1: the start is node 3"));
  CHECK_THAT(refused(wire(1, 4, 0.1)), Contains("stretch 1: the end is node 4"));
  CHECK_THAT(refused(wire(1, 2, 1.0e5)), Contains("stretch 1: the length of 100000 m"));
  CHECK_THROWS_WITH(conduction_influences({2, {wire(0, 1, 0.1)}, {2}}), Contains("terminal is node 2"));
  CHECK_THROWS_WITH(conduction_influences({2, {wire(0, 1, 0.1)}, {1, 1}}), Contains("node 1 is fixed twice"));
  // Heat loss that the solver cannot see, and no terminal that would hold the temperature.
  CHECK_THROWS_AS(conduction_influences({2, {wire(0, 1, 0.1, 2.5, 1.0e-20)}, {}}), NumericsError);
  CHECK_NOTHROW(conduction_influences({2, {wire(0, 1, 0.1, 2.5, 1.0e-20)}, {0}}));
}
