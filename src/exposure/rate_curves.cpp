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

// Sum of a Chebyshev series (Clenshaw).
double series_at(const double* coefficients, double x) {
  double last = 0.0, before = 0.0;
  for (std::size_t i = energy_terms; i-- > 1;) {
    const double next = coefficients[i] + 2.0 * x * last - before;
    before = last;
    last = next;
  }
  return coefficients[0] + x * last - before;
}

[[noreturn]] void refuse_energy(const RateCurves& curves, double energy) {
  throw DomainError("activation energy " + std::to_string(energy) + " J/mol is outside the rate table of " +
                    std::to_string((curves.lowest + curves.drying).value()) + " to " +
                    std::to_string((curves.highest + curves.drying).value()) + " J/mol");
}

}  // namespace

RateCurves rate_curves(const RateTable& table, const ZoneDraws& draws) {
  if (draws.score.size() != draws.ln_decay.size()) throw DomainError("each draw has a score and a decay time");
  RateCurves curves{table.lowest, table.highest, table.drying, draws.score.size(), {}};
  if (!table.driven) {
    for (std::size_t draw = 0; draw < curves.draws; ++draw)
      curves.coefficients.insert(curves.coefficients.end(), table.coefficients.begin(), table.coefficients.end());
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
  const double colder = 1.0 / reference.value() - 1.0 / table_reference_kelvin;
  const double middle = 0.5 * (curves.lowest + curves.highest).value();
  const double half = 0.5 * (curves.highest - curves.lowest).value();
  std::vector<double> means(curves.draws);
  for (std::size_t draw = 0; draw < curves.draws; ++draw) {
    const double energy = activation_energy[one_for_all ? 0 : draw].value();
    const double x = (energy - curves.drying.value() - middle) / half;
    if (!(std::abs(x) <= 1.0)) refuse_energy(curves, energy);
    means[draw] =
        std::exp(series_at(curves.coefficients.data() + draw * energy_terms, x) + energy / molar_gas_constant * colder);
  }
  return means;
}

}  // namespace heatside::exposure
