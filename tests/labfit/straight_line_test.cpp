#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/labfit/distribution.hpp"
#include "heatside/labfit/straight_line.hpp"
#include "labfit/data.hpp"

using namespace heatside;
using namespace heatside::labfit;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::vector<LinePoint> class_h_points(double offset) {
  std::vector<LinePoint> points;
  for (const Life& life : life_data("class-h-motorettes.csv").lives) {
    const LinePoint point{1000.0 / (in_celsius(life.temperature) + offset), std::log10(life.from.value())};
    points.insert(points.end(), life.count, point);
  }
  return points;
}

// Failures of one temperature in rising order, each as often as it was seen.
std::vector<double> failures(const LifeTest& test) {
  std::vector<double> hours;
  for (const Life& life : test.lives) {
    if (life.to) hours.insert(hours.end(), life.count, life.from.value());
  }
  std::sort(hours.begin(), hours.end());
  return hours;
}

}  // namespace

TEST_CASE("straight line: class-H motorettes as printed", "[labfit][line]") {
  // Nelson 1990, ch. 4 (from memory): log10 life = -3.16328 + 3.27284 * 1000/T, T = Celsius + 273.16.
  const StraightLine line = straight_line(class_h_points(273.16));
  CHECK_THAT(line.intercept, WithinAbs(-3.16328, 6.0e-6));
  CHECK_THAT(line.slope, WithinAbs(3.27284, 6.0e-6));
}

TEST_CASE("straight line: class-H motorettes as R's lm gives them", "[labfit][line]") {
  const StraightLine line = straight_line(class_h_points(273.16));
  CHECK_THAT(line.intercept, WithinRel(-3.16327794507, 1.0e-9));
  CHECK_THAT(line.slope, WithinRel(3.27284166414, 1.0e-9));
  REQUIRE(line.residual_sd);
  CHECK_THAT(*line.intercept_error, WithinRel(0.335236827263, 1.0e-9));
  CHECK_THAT(*line.slope_error, WithinRel(0.167155509831, 1.0e-9));
  CHECK_THAT(*line.residual_sd, WithinRel(0.111065868155, 1.0e-9));
  CHECK_THAT(line.share_explained, WithinRel(0.909816174706, 1.0e-9));
  CHECK(line.degrees == 38);
  const StraightLine today = straight_line(class_h_points(273.15));
  CHECK_THAT(today.intercept, WithinRel(-3.16314529586, 1.0e-9));
  CHECK_THAT(today.slope, WithinRel(3.27270970474, 1.0e-9));
  CHECK_THAT(*today.residual_sd, WithinRel(0.111065753412, 1.0e-9));
}

TEST_CASE("straight line: activation energy of acetaldehyde decomposition", "[labfit][line]") {
  // Atkins, Physical Chemistry, Arrhenius example: rate constants in L/(mol s) over kelvin.
  const std::vector<std::pair<double, double>> rates{{700, 0.011}, {730, 0.035}, {760, 0.105}, {790, 0.343},
                                                     {810, 0.789}, {840, 2.17},  {910, 20.0},  {1000, 145.0}};
  std::vector<LinePoint> points;
  for (const auto& [kelvin, rate] : rates) points.push_back({1.0 / kelvin, std::log(rate)});
  const StraightLine line = straight_line(points);
  const double energy = in_kilojoule_per_mole(activation_energy_from_slope(KelvinRise{-line.slope}));
  // Printed (from memory): slope -22.7e3 K, intercept 27.7, Ea 188 to 189 kJ/mol.
  CHECK_THAT(line.slope, WithinRel(-22.7e3, 3.0e-3));
  CHECK_THAT(line.intercept, WithinAbs(27.7, 0.05));
  CHECK_THAT(energy, WithinRel(188.5, 5.0e-3));
  // R 4.2.2, lm.
  CHECK_THAT(line.slope, WithinRel(-22650.7451798501, 1.0e-9));
  CHECK_THAT(line.intercept, WithinRel(27.7071142295, 1.0e-9));
  CHECK_THAT(*line.slope_error, WithinRel(340.925, 1.0e-5));
  CHECK_THAT(*line.intercept_error, WithinRel(0.424447, 1.0e-5));
  CHECK_THAT(energy, WithinRel(188.328774071, 1.0e-9));
}

TEST_CASE("straight line: published slopes of rubber ageing become energies", "[labfit][line]") {
  // China R&P Technology and Equipment (English ed.), Jan 2026, p. 87, table 7: 68.7 and 75.8 kJ/mol.
  CHECK_THAT(in_kilojoule_per_mole(activation_energy_from_slope(KelvinRise{8263.6})), WithinAbs(68.7, 0.05));
  CHECK_THAT(in_kilojoule_per_mole(activation_energy_from_slope(KelvinRise{9120.8})), WithinAbs(75.8, 0.05));
}

TEST_CASE("rank regression: three test cells of the NIST handbook", "[labfit][line]") {
  // NIST/SEMATECH e-Handbook 8.4.2.1: ln hours on the normal quantile of the plotting position, cell by cell; then the
  // three ln T50 on 11605/T, weighed by failures.
  const LifeTest cells = life_data("three-cells.csv");
  const std::vector<double> printed{8.167866, 6.415268, 5.319294}, temperatures{85.0, 105.0, 125.0};
  std::vector<LinePoint> medians;
  for (std::size_t cell = 0; cell < printed.size(); ++cell) {
    const LifeTest own = only(cells, temperatures[cell]);
    const std::vector<double> hours = failures(own);
    const std::vector<double> positions = plotting_positions(hours.size(), own.specimens);
    std::vector<LinePoint> points;
    for (std::size_t i = 0; i < hours.size(); ++i) points.push_back({normal_quantile(positions[i]), std::log(hours[i])});
    const double median = straight_line(points).intercept;
    CHECK_THAT(median, WithinAbs(printed[cell], 1.0e-6));
    medians.push_back({11605.0 / (temperatures[cell] + 273.15), median, static_cast<double>(hours.size())});
  }
  const StraightLine line = straight_line(medians);
  CHECK_THAT(line.intercept, WithinAbs(-18.3113408, 1.0e-6));
  CHECK_THAT(line.slope, WithinAbs(0.8084907, 1.0e-6));
  // Acceleration from 85 to 125 Cel as printed; this last step of the handbook uses 273.16.
  const double factor = std::exp(line.slope * 11605.0 * (1.0 / (85.0 + 273.16) - 1.0 / (125.0 + 273.16)));
  CHECK_THAT(factor, WithinAbs(13.89814, 1.0e-5));
}

TEST_CASE("rank regression: twenty units of the NIST handbook", "[labfit][line]") {
  // NIST/SEMATECH e-Handbook 8.4.1.3: log10(-ln(1 - F)) on log10 hours.
  const LifeTest test = life_data("twenty-units.csv");
  const std::vector<double> hours = failures(test);
  REQUIRE(hours.size() == 10);
  const std::vector<double> positions = plotting_positions(hours.size(), test.specimens);
  CHECK_THAT(-std::log1p(-positions.front()), WithinRel(0.03491627, 1.0e-6));
  CHECK_THAT(-std::log1p(-positions.back()), WithinRel(0.64529116, 1.0e-6));
  std::vector<LinePoint> points;
  for (std::size_t i = 0; i < hours.size(); ++i)
    points.push_back({std::log10(hours[i]), std::log10(-std::log1p(-positions[i]))});
  const StraightLine line = straight_line(points);
  CHECK_THAT(line.intercept, WithinAbs(-4.116536, 1.0e-6));
  CHECK_THAT(line.slope, WithinAbs(1.457519, 1.0e-6));
}

TEST_CASE("straight line: what has no slope is refused", "[labfit][line][error]") {
  CHECK_THROWS_AS(straight_line({{1.0, 2.0}}), DomainError);
  CHECK_THROWS_AS(straight_line({{1.0, 2.0}, {1.0, 3.0}}), DomainError);
  CHECK_THROWS_AS(plotting_positions(3, 2), DomainError);
  CHECK_FALSE(straight_line({{1.0, 2.0}, {2.0, 3.0}}).slope_error);
}
