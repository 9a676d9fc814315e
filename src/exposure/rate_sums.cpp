#include "exposure/rate_sums.hpp"

#include "base/four_doubles.hpp"
#include "heatside/base/constants.hpp"

namespace heatside::exposure {

namespace {

constexpr std::size_t lanes = 4;
constexpr std::size_t block = 2 * lanes;

using LaneSums = std::array<FourDoubles, EnergyRow::count>;

struct Constants {
  double rise, soak, first_over_gas, step_over_gas;  // [K], [-], [K], [K]
};

// Weight and growth from one energy to the next at four places.
struct Powers {
  FourDoubles value, factor;
};

HEATSIDE_INLINE_ALWAYS void powers_at(const LinearTemperatures& places, std::size_t i, const Constants& constants,
                                      Powers& powers) {
  FourDoubles base, running, soak, share;
  load(base, places.base_kelvin.data() + i);
  load(running, places.running.data() + i);
  load(soak, places.soak_kelvin.data() + i);
  load(share, places.share.data() + i);
  const FourDoubles kelvin = base + running * constants.rise + soak * constants.soak;
  const FourDoubles colder = 1.0 / table_reference_kelvin - 1.0 / kelvin;  // [1/K], above 0 where it is hotter
  powers.value = colder * constants.first_over_gas;
  powers.factor = colder * constants.step_over_gas;
  exponential(powers.value);
  exponential(powers.factor);
  powers.value *= share;
}

// Two groups of four at a time, and even and odd energies apart: four chains of products run side by side.
HEATSIDE_INLINE_ALWAYS void add_block(const LinearTemperatures& places, std::size_t i, const Constants& constants,
                                      LaneSums& sums) {
  Powers a, b;
  powers_at(places, i, constants, a);
  powers_at(places, i + lanes, constants, b);
  FourDoubles even_a = a.value, even_b = b.value;
  FourDoubles odd_a = a.value * a.factor, odd_b = b.value * b.factor;
  const FourDoubles square_a = a.factor * a.factor, square_b = b.factor * b.factor;
  for (std::size_t energy = 0; energy + 1 < EnergyRow::count; energy += 2) {
    sums[energy] += even_a + even_b;
    sums[energy + 1] += odd_a + odd_b;
    even_a *= square_a;
    even_b *= square_b;
    odd_a *= square_a;
    odd_b *= square_b;
  }
  static_assert(EnergyRow::count % 2 == 1);
  sums[EnergyRow::count - 1] += even_a + even_b;
}

HEATSIDE_INLINE_ALWAYS void add_blocks(const LinearTemperatures& places, const Constants& constants, LaneSums& sums) {
  for (std::size_t i = 0; i + block <= places.share.size(); i += block) add_block(places, i, constants, sums);
}

void add_blocks_baseline(const LinearTemperatures& places, const Constants& constants, LaneSums& sums) {
  add_blocks(places, constants, sums);
}

HEATSIDE_WIDE_REGISTERS void add_blocks_wide(const LinearTemperatures& places, const Constants& constants, LaneSums& sums) {
  add_blocks(places, constants, sums);
}

// The places after the last full block, with empty ones up to a block.
LinearTemperatures filled_rest(const LinearTemperatures& places) {
  const auto rest_of = [&](const std::vector<double>& column, double filler) {
    const std::size_t done = column.size() / block * block;
    std::vector<double> rest(column.begin() + static_cast<std::ptrdiff_t>(done), column.end());
    rest.resize(block, filler);
    return rest;
  };
  return {rest_of(places.base_kelvin, table_reference_kelvin), rest_of(places.running, 0.0),
          rest_of(places.soak_kelvin, 0.0), rest_of(places.share, 0.0)};
}

}  // namespace

void add_rates(const LinearTemperatures& places, const LinearChoice& choice, const EnergyRow& energies, RateSums& sums) {
  const Constants constants{choice.rise_kelvin, choice.soak_factor, energies.first.value() / molar_gas_constant,
                            energies.step.value() / molar_gas_constant};
  const auto add = wide_registers() ? add_blocks_wide : add_blocks_baseline;
  LaneSums lane_sums{};
  add(places, constants, lane_sums);
  if (places.share.size() % block != 0) add(filled_rest(places), constants, lane_sums);
  for (std::size_t energy = 0; energy < sums.size(); ++energy) {
    const FourDoubles& sum = lane_sums[energy];
    sums[energy] += choice.weight * ((sum[0] + sum[1]) + (sum[2] + sum[3]));
  }
}

}  // namespace heatside::exposure
