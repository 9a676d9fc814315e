#include "exposure/means_about.hpp"

#include <algorithm>

#include "base/four_doubles.hpp"
#include "heatside/base/constants.hpp"

namespace heatside::exposure {

namespace {

constexpr std::size_t lanes = 4;

struct Slopes {
  double inverse_reference, middle, step, drying;  // [1/K], [K], [K], [K]
};

struct LaneSums {
  FourDoubles below{}, middle{}, above{};
};

HEATSIDE_INLINE_ALWAYS void add_four(const double* kelvin, const double* ambient, const double* share, const Slopes& slopes,
                                     LaneSums& sums) {
  FourDoubles temperature, outside, weight;
  load(temperature, kelvin);
  load(outside, ambient);
  load(weight, share);
  const FourDoubles inverse = 1.0 / temperature;
  const FourDoubles hotter = slopes.inverse_reference - inverse;
  FourDoubles factor = hotter * slopes.step;
  FourDoubles middle = hotter * slopes.middle;
  if (slopes.drying != 0.0) middle += slopes.drying * (inverse - 1.0 / outside);
  exponential(factor);
  exponential(middle);
  middle *= weight;
  sums.middle += middle;
  sums.below += middle / factor;
  sums.above += middle * factor;
}

HEATSIDE_INLINE_ALWAYS void add_all(const Nodes& nodes, const Slopes& slopes, LaneSums& sums) {
  const std::size_t count = nodes.kelvin.size();
  std::size_t i = 0;
  for (; i + lanes <= count; i += lanes)
    add_four(nodes.kelvin.data() + i, nodes.ambient_kelvin.data() + i, nodes.share.data() + i, slopes, sums);
  if (i == count) return;
  // Places without a share fill the last four.
  std::array<double, lanes> kelvin, ambient, share{};
  kelvin.fill(nodes.kelvin.back());
  ambient.fill(nodes.ambient_kelvin.back());
  for (std::size_t lane = 0; i + lane < count; ++lane) {
    kelvin[lane] = nodes.kelvin[i + lane];
    ambient[lane] = nodes.ambient_kelvin[i + lane];
    share[lane] = nodes.share[i + lane];
  }
  add_four(kelvin.data(), ambient.data(), share.data(), slopes, sums);
}

void add_baseline(const Nodes& nodes, const Slopes& slopes, LaneSums& sums) { add_all(nodes, slopes, sums); }

HEATSIDE_WIDE_REGISTERS void add_wide(const Nodes& nodes, const Slopes& slopes, LaneSums& sums) {
  add_all(nodes, slopes, sums);
}

double sum_of(const FourDoubles& lanes_of) { return (lanes_of[0] + lanes_of[1]) + (lanes_of[2] + lanes_of[3]); }

}  // namespace

std::array<double, 3> means_about(const TemperatureMeasure& year, const EnergyTriple& energies) {
  const Slopes slopes{1.0 / energies.reference.value(), energies.middle.value() / molar_gas_constant,
                      energies.step.value() / molar_gas_constant, energies.drying.value() / molar_gas_constant};
  std::array<double, 3> means{};
  for (const Nodes& nodes : year.by_regime) {
    LaneSums sums;
    (wide_registers() ? add_wide : add_baseline)(nodes, slopes, sums);
    means[0] += sum_of(sums.below);
    means[1] += sum_of(sums.middle);
    means[2] += sum_of(sums.above);
  }
  return means;
}

}  // namespace heatside::exposure
