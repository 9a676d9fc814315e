#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/ageing/arrhenius.hpp"

using namespace heatside;
using ageing::acceleration_factor;
using ageing::activation_energy_for;
using ageing::halving_interval;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr std::array<double, 9> indices{85, 100, 105, 125, 150, 175, 200, 225, 250};  // [Cel]

}  // namespace

TEST_CASE("published: halving intervals of life lines", "[published][halving]") {
  // HIC of IEC 60216-1 in kelvin by temperature index and activation energy: mathematics, computed outside the project.
  struct Row {
    double energy_kj;
    std::array<double, 9> interval;
  };
  const Row row = GENERATE(Row{60, {12.7597, 13.8716, 14.2530, 15.8320, 17.9274, 20.1588, 22.5271, 25.0336, 27.6791}},
                           Row{70, {10.8815, 11.8271, 12.1514, 13.4937, 15.2739, 17.1686, 19.1785, 21.3044, 23.5469}},
                           Row{80, {9.4853, 10.3079, 10.5899, 11.7571, 13.3046, 14.9509, 16.6966, 18.5422, 20.4883}},
                           Row{90, {8.4067, 9.1346, 9.3841, 10.4166, 11.7852, 13.2407, 14.7835, 16.4141, 18.1329}},
                           Row{100, {7.5483, 8.2010, 8.4248, 9.3505, 10.5772, 11.8815, 13.2637, 14.7242, 16.2633}},
                           Row{110, {6.8489, 7.4406, 7.6434, 8.4823, 9.5938, 10.7754, 12.0272, 13.3497, 14.7431}},
                           Row{120, {6.2682, 6.8092, 6.9947, 7.7617, 8.7778, 9.8577, 11.0017, 12.2100, 13.4829}},
                           Row{130, {5.7783, 6.2766, 6.4474, 7.1539, 8.0896, 9.0840, 10.1373, 11.2495, 12.4211}},
                           Row{140, {5.3594, 5.8213, 5.9796, 6.6344, 7.5016, 8.4230, 9.3988, 10.4292, 11.5143}},
                           Row{150, {4.9971, 5.4276, 5.5751, 6.1852, 6.9932, 7.8516, 8.7606, 9.7203, 10.7310}});
  for (std::size_t i = 0; i < indices.size(); ++i) {
    CAPTURE(row.energy_kj, indices[i]);
    CHECK_THAT(halving_interval(celsius(indices[i]), kilojoule_per_mole(row.energy_kj)).value(),
               WithinAbs(row.interval[i], 5.1e-5));
  }
}

TEST_CASE("published: activation energies of stated halving intervals", "[published][halving]") {
  struct Row {
    double interval;
    std::array<double, 9> energy_kj;
  };
  const Row row = GENERATE(Row{8, {94.470, 102.459, 105.194, 116.494, 131.429, 147.265, 164.002, 181.639, 200.176}},
                           Row{10, {75.989, 82.397, 84.591, 93.654, 105.631, 118.329, 131.747, 145.885, 160.744}},
                           Row{12, {63.668, 69.023, 70.856, 78.427, 88.432, 99.038, 110.244, 122.050, 134.456}});
  for (std::size_t i = 0; i < indices.size(); ++i) {
    CAPTURE(row.interval, indices[i]);
    CHECK_THAT(in_kilojoule_per_mole(activation_energy_for(celsius(indices[i]), KelvinRise{row.interval})),
               WithinAbs(row.energy_kj[i], 5.1e-4));
  }
}

TEST_CASE("published: life line fitted to class-H motorettes", "[published][halving]") {
  // Nelson (1990), Accelerated Testing: complete class-H data; line, index and interval by the chain of IEC 60216-3,
  // recomputed in R and SciPy.
  const JoulePerMole energy = 62.655234256846_kJ_per_mol;
  const Kelvin index = celsius(165.305633330896);
  CHECK_THAT(halving_interval(index, energy).value(), WithinRel(18.426025432818, 1e-9));
  const ageing::ThermalLifePoint point{index, 20000.0_h};
  CHECK_THAT(in_celsius(ageing::temperature_for_life(point, energy, 5000.0_h)), WithinRel(203.774324580289, 1e-9));
  CHECK_THAT((ageing::temperature_for_life(point, energy, 10000.0_h) - index).value(), WithinRel(18.426025432818, 1e-9));
}

TEST_CASE("published: the ten-degree rule and the life line that meets it", "[published][halving]") {
  // Kosow, Electric Machinery and Transformers, 2nd ed., example 13-1: a class A motor (105 degC) of 10 years at a hot spot
  // of 125 degC has a reduction factor of 4 and a life of 2.5 years. The rule is own arithmetic of the test: the program has
  // none.
  const double reduction = std::exp2((125.0 - 105.0) / 10.0);
  CHECK(reduction == 4.0);
  CHECK(10.0 / reduction == 2.5);

  // The program's line of a 10 K interval at 105 degC agrees in the first ten kelvin; the next ten halve a little less:
  // 2^(2 * 388.15/398.15) = 3.863.
  const JoulePerMole energy = activation_energy_for(105.0_degC, 10.0_K_rise);
  CHECK_THAT(acceleration_factor({105.0_degC, 115.0_degC}, energy), WithinRel(2.0, 1e-12));
  CHECK_THAT(acceleration_factor({105.0_degC, 125.0_degC}, energy), WithinRel(std::exp2(2.0 * 388.15 / 398.15), 1e-12));
}
