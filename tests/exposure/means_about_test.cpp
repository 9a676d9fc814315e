#include "exposure/means_about.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/base/random.hpp"

using namespace heatside;
using namespace heatside::exposure;

namespace {

// Three regimes of different, odd lengths: an invented year.
TemperatureMeasure a_year() {
  TemperatureMeasure year;
  const std::array<std::size_t, 3> counts{1, 7, 30};
  const std::vector<double> random = uniform_draws(random_quantity(1, "year"), 80);
  std::size_t next = 0;
  for (std::size_t regime = 0; regime < counts.size(); ++regime) {
    for (std::size_t i = 0; i < counts[regime]; ++i) {
      year.by_regime[regime].kelvin.push_back(270.0 + 130.0 * random[next++]);
      year.by_regime[regime].ambient_kelvin.push_back(265.0 + 40.0 * random[next++]);
      year.by_regime[regime].share.push_back(1.0 / 38.0);
    }
  }
  return year;
}

}  // namespace

TEST_CASE("means about an energy: as one by one", "[exposure][means-about]") {
  const TemperatureMeasure year = a_year();
  const double middle = GENERATE(30.0, 95.0, 180.0), step = GENERATE(1.0, 12.0);
  CAPTURE(middle, step);
  const std::array<double, 3> means =
      means_about(year, {kilojoule_per_mole(middle), kilojoule_per_mole(step), celsius(125.0)});
  for (int i = 0; i < 3; ++i) {
    const JoulePerMole energy = kilojoule_per_mole(middle + (i - 1) * step);
    CHECK(means[static_cast<std::size_t>(i)] ==
          Approx(total(mean_acceleration(year, energy, celsius(125.0)))).epsilon(1.0e-13));
  }
}

TEST_CASE("means about an energy: of wet processes, but for the humidity's own factor", "[exposure][means-about]") {
  const TemperatureMeasure year = a_year();
  const Humidity humidity{70.0, 0.0, 85.0, 2.5, kilojoule_per_mole(44.0)};
  const std::array<double, 3> means =
      means_about(year, {kilojoule_per_mole(90.0), kilojoule_per_mole(8.0), celsius(85.0), kilojoule_per_mole(2.5 * 44.0)});
  const double wet = std::pow(70.0 / 85.0, 2.5);
  for (int i = 0; i < 3; ++i) {
    const JoulePerMole energy = kilojoule_per_mole(90.0 + (i - 1) * 8.0);
    CHECK(wet * means[static_cast<std::size_t>(i)] ==
          Approx(total(mean_wet_acceleration(year, energy, celsius(85.0), humidity))).epsilon(1.0e-13));
  }
}
