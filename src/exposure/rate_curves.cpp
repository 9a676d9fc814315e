#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "base/four_doubles.hpp"
#include "exposure/rate_sums.hpp"
#include "exposure/rate_terms.hpp"
#include "heatside/base/constants.hpp"
#include "heatside/exposure/rate_table.hpp"

namespace heatside::exposure {

namespace {

// A row of energy terms; written out, because a loop over four registers keeps them in memory.
static_assert(energy_terms == 16);
struct EnergyLanes {
  FourDoubles a{}, b{}, c{}, d{};
};

HEATSIDE_INLINE_ALWAYS void add_row(const double* row, double factor, EnergyLanes& sums) {
  EnergyLanes part;
  load(part.a, row);
  load(part.b, row + 4);
  load(part.c, row + 8);
  load(part.d, row + 12);
  sums.a += factor * part.a;
  sums.b += factor * part.b;
  sums.c += factor * part.c;
  sums.d += factor * part.d;
}

HEATSIDE_INLINE_ALWAYS void store(const EnergyLanes& sums, double* to) {
  heatside::store(sums.a, to);
  heatside::store(sums.b, to + 4);
  heatside::store(sums.c, to + 8);
  heatside::store(sums.d, to + 12);
}

template <std::size_t Terms>
HEATSIDE_INLINE_ALWAYS void chebyshev_terms(double x, std::array<double, Terms>& terms) {
  terms[0] = 1.0;
  terms[1] = x;
  for (std::size_t i = 2; i < Terms; ++i) terms[i] = 2.0 * x * terms[i - 1] - terms[i - 2];
}

// Curve of one draw, `energy_terms` numbers long.
HEATSIDE_INLINE_ALWAYS void set_curve(const double* coefficients, double score, double ln_decay, double* curve) {
  const double z = std::clamp(score, -score_limit, score_limit);
  const double ln_factor = std::clamp(ln_decay, -ln_decay_limit, ln_decay_limit);
  const bool upper = z > 0.0;
  std::array<double, score_terms> by_score;
  std::array<double, decay_terms> by_decay;
  chebyshev_terms(2.0 * z / score_panel_width + (upper ? -1.0 : 1.0), by_score);
  chebyshev_terms(ln_factor / ln_decay_limit, by_decay);
  const double* row = coefficients + (upper ? 0 : decay_terms * score_terms * energy_terms);
  EnergyLanes sums;
  for (const double decay_term : by_decay) {
    for (const double score_term : by_score) {
      add_row(row, decay_term * score_term, sums);
      row += energy_terms;
    }
  }
  store(sums, curve);
}

HEATSIDE_INLINE_ALWAYS void set_all_curves(const RateTable& table, const ZoneDraws& draws, RateCurves& curves) {
  for (std::size_t draw = 0; draw < curves.draws; ++draw) {
    set_curve(table.coefficients.data(), draws.score[draw], draws.ln_decay[draw],
              curves.coefficients.data() + draw * energy_terms);
  }
}

void set_curves(const RateTable& table, const ZoneDraws& draws, RateCurves& curves) { set_all_curves(table, draws, curves); }

HEATSIDE_WIDE_REGISTERS void set_curves_wide(const RateTable& table, const ZoneDraws& draws, RateCurves& curves) {
  set_all_curves(table, draws, curves);
}

// Where the energies of some draws stand between the ends of a table, and what turns their curves into rates.
struct EnergyScale {
  double drying, middle, half;  // [J/mol]
  double colder;                // of the reference against that of the table, over R [mol/J]
};

constexpr std::size_t lanes = 4;

// ln of the rates of four draws: Chebyshev series by Clenshaw's recurrence, each lane along a row of its own.
HEATSIDE_INLINE_ALWAYS void ln_rates_of_four(const std::array<const double*, lanes>& rows, const EnergyScale& scale,
                                             const FourDoubles& energy, FourDoubles& ln_rate) {
  const FourDoubles x = (energy - scale.drying - scale.middle) / scale.half;
  const FourDoubles twice = 2.0 * x;
  FourDoubles last{}, before{};
  for (std::size_t i = energy_terms; i-- > 1;) {
    const FourDoubles coefficient{rows[0][i], rows[1][i], rows[2][i], rows[3][i]};
    const FourDoubles next = coefficient + twice * last - before;
    before = last;
    last = next;
  }
  const FourDoubles coefficient{rows[0][0], rows[1][0], rows[2][0], rows[3][0]};
  ln_rate = coefficient + x * last - before + energy * scale.colder;
}

// The draws of a compound, all of them where `numbers` is null.
struct SomeDraws {
  const std::size_t* numbers;
  std::size_t count;
  const double* energies;
  std::size_t energy_stride;  // 0: one energy for all
};

HEATSIDE_INLINE_ALWAYS void set_all_rates(const RateCurves& curves, const SomeDraws& draws, const EnergyScale& scale,
                                          double* rates) {
  const std::size_t stride = curves.coefficients.size() == energy_terms ? 0 : energy_terms;
  for (std::size_t i = 0; i < draws.count; i += lanes) {
    std::array<const double*, lanes> rows;
    FourDoubles energy{}, rate;
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      const std::size_t at = std::min(i + lane, draws.count - 1);
      const std::size_t draw = draws.numbers == nullptr ? at : draws.numbers[at];
      rows[lane] = curves.coefficients.data() + draw * stride;
      energy[lane] = draws.energies[at * draws.energy_stride];
    }
    ln_rates_of_four(rows, scale, energy, rate);
    exponential(rate);
    if (i + lanes <= draws.count) {
      heatside::store(rate, rates + i);
    } else {
      for (std::size_t lane = 0; i + lane < draws.count; ++lane) rates[i + lane] = rate[lane];
    }
  }
}

void set_rates(const RateCurves& curves, const SomeDraws& draws, const EnergyScale& scale, double* rates) {
  set_all_rates(curves, draws, scale, rates);
}

HEATSIDE_WIDE_REGISTERS void set_rates_wide(const RateCurves& curves, const SomeDraws& draws, const EnergyScale& scale,
                                            double* rates) {
  set_all_rates(curves, draws, scale, rates);
}

[[noreturn]] void refuse_energy(const RateCurves& curves, double energy) {
  throw DomainError("activation energy " + std::to_string(energy) + " J/mol is outside the rate table of " +
                    std::to_string((curves.lowest + curves.drying).value()) + " to " +
                    std::to_string((curves.highest + curves.drying).value()) + " J/mol");
}

std::vector<double> rates_of(const RateCurves& curves, const SomeDraws& draws, Kelvin reference) {
  const double middle = 0.5 * (curves.lowest + curves.highest).value(),
               half = 0.5 * (curves.highest - curves.lowest).value();
  const EnergyScale scale{curves.drying.value(), middle, half,
                          (1.0 / reference.value() - 1.0 / table_reference_kelvin) / molar_gas_constant};
  for (std::size_t i = 0; i < draws.count; ++i) {
    const double energy = draws.energies[i * draws.energy_stride];
    if (!(std::abs((energy - scale.drying - middle) / half) <= 1.0)) refuse_energy(curves, energy);
  }
  std::vector<double> rates(draws.count);
  (wide_registers() ? set_rates_wide : set_rates)(curves, draws, scale, rates.data());
  return rates;
}

}  // namespace

RateCurves rate_curves(const RateTable& table, const ZoneDraws& draws) {
  if (draws.score.size() != draws.ln_decay.size()) throw DomainError("each draw has a score and a decay time");
  RateCurves curves{table.lowest, table.highest, table.drying, draws.score.size(), {}};
  if (!table.driven) {
    curves.coefficients = table.coefficients;
    return curves;
  }
  curves.coefficients.resize(curves.draws * energy_terms);
  (wide_registers() ? set_curves_wide : set_curves)(table, draws, curves);
  return curves;
}

std::vector<double> mean_accelerations(const RateCurves& curves, const std::vector<JoulePerMole>& activation_energy,
                                       Kelvin reference) {
  const bool one_for_all = activation_energy.size() == 1;
  if (!one_for_all && activation_energy.size() != curves.draws) {
    throw DomainError(std::to_string(activation_energy.size()) + " activation energies for " + std::to_string(curves.draws) +
                      " draws");
  }
  std::vector<double> energies;
  energies.reserve(activation_energy.size());
  for (const JoulePerMole energy : activation_energy) energies.push_back(energy.value());
  return rates_of(curves, {nullptr, curves.draws, energies.data(), one_for_all ? std::size_t{0} : std::size_t{1}},
                  reference);
}

std::vector<double> mean_accelerations(const RateCurves& curves, const DrawnEnergies& some, Kelvin reference) {
  if (some.draws.size() != some.energy.size() || (!some.draws.empty() && some.draws.back() >= curves.draws)) {
    throw DomainError(std::to_string(some.energy.size()) + " activation energies for " + std::to_string(some.draws.size()) +
                      " of " + std::to_string(curves.draws) + " draws");
  }
  return rates_of(curves, {some.draws.data(), some.draws.size(), some.energy.data(), 1}, reference);
}

}  // namespace heatside::exposure
