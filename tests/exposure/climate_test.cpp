#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "exposure/records.hpp"
#include "heatside/base/constants.hpp"
#include "heatside/exposure/ambient.hpp"

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::exposure;
using namespace heatside::exposure::testing;

namespace {

struct Bin {
  double centre, hours;
};

std::vector<std::string> cells_of(const std::string& line) {
  std::vector<std::string> cells;
  std::istringstream in{line};
  for (std::string cell; std::getline(in, cell, ',');) cells.push_back(cell);
  return cells;
}

// Hourly counts by station; the head of the file names where they come from.
const std::map<std::string, std::vector<Bin>>& hourly_histograms() {
  static const std::map<std::string, std::vector<Bin>> histograms = [] {
    std::map<std::string, std::vector<Bin>> stations;
    std::ifstream file{HEATSIDE_SOURCE_DIR "/tests/exposure/data/climate_hourly_histogram_2K.csv"};
    std::vector<std::string> head;
    for (std::string line; std::getline(file, line);) {
      if (line.empty() || line.front() == '#') continue;
      const std::vector<std::string> cells = cells_of(line);
      if (head.empty()) {
        head = cells;
        continue;
      }
      const double centre = 0.5 * (std::stod(cells.at(0)) + std::stod(cells.at(1)));
      for (std::size_t i = 2; i < cells.size(); ++i) stations[head.at(i)].push_back({centre, std::stod(cells[i])});
    }
    return stations;
  }();
  return histograms;
}

const JoulePerMole one_point_one = electronvolt(1.1);  // 106.1 kJ/mol

// Mean Arrhenius rate of the hours in the bins, all `rise` warmer.
double hourly_rate(const std::vector<Bin>& bins, double rise) {
  double sum = 0.0, hours = 0.0;
  for (const Bin& bin : bins) {
    const double kelvin = bin.centre + 273.15 + rise;
    sum += bin.hours * std::exp(one_point_one.value() / molar_gas_constant * (1.0 / 298.15 - 1.0 / kelvin));
    hours += bin.hours;
  }
  return sum / hours;
}

TemperatureMeasure ambient_year(const library::Climate& climate) {
  return year_at(trace_of("upper-bay", "laid-up"), days_of_year(climate), {1.0, 0.0, 0.0, 0.0}, {});
}

double synthetic_rate(const library::Climate& climate, double rise) {
  TemperatureMeasure year = ambient_year(climate);
  for (double& kelvin : year.by_regime[2].kelvin) kelvin += rise;
  return total(mean_acceleration(year, one_point_one, Kelvin{298.15}));
}

// A climate that knows the year's mean and nothing else.
library::Climate flattened(library::Climate climate) {
  double mean = 0.0;
  for (const double month : climate.monthly_mean) mean += month / 12.0;
  climate.monthly_mean.fill(mean);
  climate.daily_range.fill(0.0);
  climate.deviation_sd.fill(0.0);
  return climate;
}

}  // namespace

TEST_CASE("climate: the hourly histograms are whole years of ten stations", "[exposure][climate]") {
  REQUIRE(hourly_histograms().size() == 10);
  for (const auto& [station, bins] : hourly_histograms()) {
    double hours = 0.0;
    for (const Bin& bin : bins) hours += bin.hours;
    CAPTURE(station);
    CHECK(hours == 8760.0);  // a common year
    CHECK(records().climates.count(station) == 1);
  }
}

TEST_CASE("climate: the synthetic year ages like the hourly one", "[exposure][climate]") {
  for (const auto& [station, bins] : hourly_histograms()) {
    const library::Climate& climate = records().climates.at(station);
    for (const double rise : {0.0, 60.0}) {
      const double deviation = synthetic_rate(climate, rise) / hourly_rate(bins, rise) - 1.0;
      CAPTURE(station, rise, deviation);
      // Published hourly typical years, see the head of the data file; bins by their centre, nothing corrected. For three
      // stations the centres read up to 0.45 K too high (see the year's mean below), which alone is 3 to 6 %.
      CHECK_THAT(deviation, WithinAbs(0.0, 0.06));
    }
  }
}

TEST_CASE("climate: the year's mean alone would not do", "[exposure][climate]") {
  // The check above can fail: with the annual mean alone the far stations miss by half. Ratio of the same hourly years,
  // worked out apart from this program: 0.18 for barrow and 0.305 for chicago at 1.1 eV and no rise.
  const auto ratio = [](const std::string& station) {
    return synthetic_rate(flattened(records().climates.at(station)), 0.0) /
           hourly_rate(hourly_histograms().at(station), 0.0);
  };
  CHECK_THAT(ratio("barrow"), WithinAbs(0.180, 0.01));
  CHECK_THAT(ratio("chicago"), WithinAbs(0.305, 0.01));
}

TEST_CASE("climate: the year's mean is that of the hourly one", "[exposure][climate]") {
  // Mean of all 8760 hours of the files that the histograms count, worked out apart from this program. The histograms
  // themselves read up to 0.45 K higher for new-delhi, santiago and shanghai. Readings in whole degrees would explain it,
  // because a bin of 2 K then holds its lower edge and its middle only; the hourly files were not looked at again.
  const std::map<std::string, double> hourly{{"singapore", 27.6}, {"new-delhi", 25.6}, {"atlanta", 16.7},
                                             {"shanghai", 17.0},  {"santiago", 15.0},  {"long-beach", 17.2},
                                             {"uccle", 11.1},     {"mannheim", 12.4},  {"zurich-kloten", 9.9},
                                             {"chicago", 10.0},   {"denver", 10.9},    {"barrow", -11.8}};
  for (const auto& [station, mean] : hourly) {
    const TemperatureMeasure year = ambient_year(records().climates.at(station));
    const Nodes& nodes = year.by_regime[2];
    double synthetic = 0.0;
    for (std::size_t i = 0; i < nodes.share.size(); ++i) synthetic += nodes.share[i] * (nodes.kelvin[i] - 273.15);
    CAPTURE(station);
    // Equal twelfths instead of months of 28 to 31 days, and numbers of one decimal.
    CHECK_THAT(synthetic, WithinAbs(mean, 0.15));
  }
}

TEST_CASE("climate: the days of a year keep mean, range and deviation of every month", "[exposure][climate]") {
  for (const auto& [id, climate] : records().climates) {
    const std::vector<DailyCourse> days = days_of_year(climate);
    REQUIRE(days.size() == 36);
    CAPTURE(id);
    for (std::size_t month = 0; month < 12; ++month) {
      double weight = 0.0, mean = 0.0, square = 0.0, fourth = 0.0;
      for (std::size_t i = 3 * month; i < 3 * month + 3; ++i) {
        const double away = in_celsius(days[i].mean) - climate.monthly_mean[month];
        weight += days[i].weight * 12.0;
        mean += days[i].weight * 12.0 * away;
        square += days[i].weight * 12.0 * away * away;
        fourth += days[i].weight * 12.0 * std::pow(away, 4.0);
        CHECK_THAT(2.0 * days[i].half_range.value(), WithinAbs(climate.daily_range[month], 1.0e-12));
      }
      const double variance = climate.deviation_sd[month] * climate.deviation_sd[month];
      // A normal deviation has moments 1, 0, sd^2 and 3 sd^4; three Gauss-Hermite nodes keep the first six
      // (Abramowitz & Stegun 25.4.46).
      CHECK_THAT(weight, WithinAbs(1.0, 1.0e-12));
      CHECK_THAT(mean, WithinAbs(0.0, 1.0e-9));
      CHECK_THAT(square, WithinAbs(variance, 1.0e-9));
      CHECK_THAT(fourth, WithinAbs(3.0 * variance * variance, 1.0e-6));
    }
  }
}

TEST_CASE("climate: the three deviations stand for a whole normal law", "[exposure][climate]") {
  // Mean of exp(k x) over x normal with sd is exp((k sd)^2 / 2). At 1.1 eV and 15 degC k = Ea/(R T^2) = 0.154 1/K; for
  // the largest deviation of the records the three nodes miss by the tail only. Own arithmetic of the test.
  const double k = one_point_one.value() / molar_gas_constant / (288.15 * 288.15);
  for (const auto& [id, climate] : records().climates) {
    for (const double sd : climate.deviation_sd) {
      const double nodes = 2.0 / 3.0 + std::cosh(k * std::sqrt(3.0) * sd) / 3.0;
      CAPTURE(id, sd);
      CHECK_THAT(nodes, WithinRel(std::exp(0.5 * k * k * sd * sd), 0.03));
    }
  }
}
