#include "population/lot_draws.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "heatside/base/constants.hpp"
#include "heatside/base/random.hpp"

namespace heatside::population {

namespace {

using library::AgeingPath;
using library::Insulation;

constexpr double five_percent = 1.6448536269514722;  // standard normal score beyond which 5 % lie

// Spread of the logarithm of a number that low and high enclose with 90 % of belief.
double ln_sd(const Sourced& number) {
  if (number.low && number.high) return std::log(*number.high / *number.low) / (2.0 * five_percent);
  return number.sd ? *number.sd / number.value : 0.0;
}

// Normal about the likely value, cut off at the ends of the record's range.
class CutNormal {
 public:
  explicit CutNormal(const Sourced& number) : value_{number.value}, sd_{number.sd.value_or(0.0)} {
    if (sd_ == 0.0 && number.low && number.high) sd_ = (*number.high - *number.low) / (2.0 * five_percent);
    if (sd_ == 0.0) return;
    if (number.low) below_low_ = normal_share((*number.low - value_) / sd_);
    if (number.high) below_high_ = normal_share((*number.high - value_) / sd_);
  }
  [[nodiscard]] double at(double normal) const {
    if (sd_ == 0.0) return value_;
    const double part = below_low_ + normal_share(normal) * (below_high_ - below_low_);
    return value_ + sd_ * normal_quantile(std::clamp(part, 1e-300, 1.0 - 1e-16));
  }

 private:
  double value_, sd_;
  double below_low_ = 0.0, below_high_ = 1.0;
};

std::vector<double> picked(const std::vector<double>& column, const std::vector<std::size_t>& draws) {
  std::vector<double> some;
  some.reserve(draws.size());
  for (const std::size_t draw : draws) some.push_back(column[draw]);
  return some;
}

void draw_energies(CompoundDraws& compound, const LotQuantities& names, Normals& normals) {
  for (const AgeingPath& path : compound.insulation->paths) {
    PathDraws drawn;
    drawn.path = &path;
    drawn.energy = picked(normals.of(names.energy(path.id)), compound.draws);
    const CutNormal law{path.activation_energy};
    for (double& energy : drawn.energy) energy = 1.0e3 * law.at(energy);
    compound.paths.push_back(std::move(drawn));
  }
}

// Where a fit gave the record, life and energy are drawn together with the fit's covariance, and nothing cuts the energy
// off.
void draw_from_fit(CompoundDraws& compound, const LotQuantities& names, Normals& normals) {
  const library::FitCovariance& fit = *compound.insulation->fit_covariance;
  const double energy_sd = std::sqrt(fit.energy_variance.value);  // [kJ/mol]
  const double slope = energy_sd > 0.0 ? fit.ln_hours_energy.value / energy_sd : 0.0;
  const double rest = std::sqrt(std::max(0.0, fit.ln_hours_variance.value - slope * slope));
  PathDraws& path = compound.paths.front();
  const std::vector<double> energy = picked(normals.of(names.energy(path.path->id)), compound.draws);
  const std::vector<double> hours = picked(normals.of(names.fitted_hours()), compound.draws);
  for (std::size_t i = 0; i < compound.draws.size(); ++i) {
    path.energy[i] = 1.0e3 * std::max(1.0, path.path->activation_energy.value + energy_sd * energy[i]);
    compound.lot[i] *= std::exp(slope * energy[i] + rest * hours[i]);
  }
}

// 1/(R T) at shelf temperature less that at the thermal-life point [mol/J].
double shelf_lever(const Insulation& insulation) {
  constexpr Kelvin shelf = celsius(20.0);
  return (1.0 / shelf.value() - 1.0 / celsius(insulation.life_temperature.value).value()) / molar_gas_constant;
}

// Shares are logit-normal. The path of low activation energy that governs the shelf is tied to it: with a lower energy it
// has a smaller share, so that the rate at 20 degC, where nobody has seen these compounds fail, keeps its spread.
void draw_shares(CompoundDraws& compound, const LotQuantities& names, Normals& normals) {
  std::vector<PathDraws*> dry;
  for (PathDraws& path : compound.paths) {
    path.share.assign(compound.draws.size(), 1.0);
    if (path.path->kind != library::PathKind::hydrolysis) dry.push_back(&path);
  }
  if (dry.size() < 2) return;
  const PathDraws* cool = *std::min_element(dry.begin(), dry.end(), [](const PathDraws* a, const PathDraws* b) {
    return a->path->activation_energy.value < b->path->activation_energy.value;
  });
  const double lever = shelf_lever(*compound.insulation);
  for (PathDraws* path : dry) {
    const Sourced& share = path->path->share;
    const double spread = share.sd ? *share.sd / (share.value * (1.0 - share.value)) : 0.0;
    const std::vector<double> moved =
        spread > 0.0 ? picked(normals.of(names.share(path->path->id)), compound.draws) : std::vector<double>{};
    for (std::size_t i = 0; i < path->share.size(); ++i) {
      double ln_weight = std::log(share.value);
      if (spread > 0.0) ln_weight += spread * moved[i];
      if (path == cool) ln_weight += lever * (path->energy[i] - 1.0e3 * path->path->activation_energy.value);
      path->share[i] = std::exp(ln_weight);
    }
  }
  for (std::size_t i = 0; i < compound.draws.size(); ++i) {
    double sum = 0.0;
    for (const PathDraws* path : dry) sum += path->share[i];
    for (PathDraws* path : dry) path->share[i] /= sum;
  }
}

void draw_life_and_elongation(CompoundDraws& compound, const LotQuantities& names, double shared, Normals& normals) {
  const Insulation& insulation = *compound.insulation;
  const std::vector<double> batch = picked(normals.of(names.batch), compound.draws);
  const std::vector<double> own = picked(normals.of(names.own), compound.draws);
  const std::vector<double> initial = picked(normals.of(names.initial), compound.draws);
  const double spread = insulation.lot_ln_sd.value;
  const double stretchy = ln_sd(insulation.initial_elongation);
  for (std::size_t i = 0; i < compound.draws.size(); ++i) {
    const double score = std::sqrt(shared) * batch[i] + std::sqrt(1.0 - shared) * own[i];
    compound.lot.push_back(insulation.lot_median.value * std::exp(spread * score));
    compound.initial.push_back(1.0e-2 * insulation.initial_elongation.value * std::exp(stretchy * initial[i]));
  }
}

}  // namespace

std::vector<std::size_t> candidates_drawn(const casefile::Lot& lot, const std::vector<double>& scores) {
  std::vector<std::size_t> drawn;
  drawn.reserve(scores.size());
  for (const double score : scores) {
    double left = normal_share(score);
    std::size_t i = 0;
    while (i + 1 < lot.candidates.size() && left >= lot.candidates[i].weight) left -= lot.candidates[i++].weight;
    drawn.push_back(i);
  }
  return drawn;
}

std::string batch_of(const casefile::Case& job, const casefile::Lot& lot) {
  const casefile::Loom& loom = *casefile::find_by_id(job.looms, lot.loom);
  std::string text = loom.region + " " + format_date(loom.made).substr(0, 7);
  for (const casefile::InsulationCandidate& candidate : lot.candidates)
    text += lot.candidates.size() == 1 ? " " + candidate.insulation
                                       : fmt::format(" {} {:.6g}", candidate.insulation, candidate.weight);
  return text;
}

LotQuantities lot_quantities(const casefile::Case& job, const casefile::Lot& lot, const std::string& insulation) {
  const std::string batch = "batch/" + batch_of(job, lot);
  return {batch + "/compound", batch + "/life", "lot/" + lot.id + "/life", batch + "/" + insulation};
}

LotDraws lot_draws(const casefile::Case& job, const casefile::Lot& lot, const library::Library& library, Normals& normals) {
  const std::string compound_name = lot_quantities(job, lot, "").compound;
  const bool known = lot.candidates.size() == 1;
  const std::vector<std::size_t> drawn =
      known ? std::vector<std::size_t>(normals.draws(), 0) : candidates_drawn(lot, normals.of(compound_name));
  LotDraws draws;
  for (std::size_t candidate = 0; candidate < lot.candidates.size(); ++candidate) {
    CompoundDraws compound;
    compound.insulation = &library.insulations.at(lot.candidates[candidate].insulation);
    for (std::size_t i = 0; i < drawn.size(); ++i) {
      if (drawn[i] == candidate) compound.draws.push_back(i);
    }
    if (compound.draws.empty()) continue;
    const LotQuantities names = lot_quantities(job, lot, compound.insulation->head.id);
    compound.name = names.initial;
    draw_life_and_elongation(compound, names, library.model.ageing.batch_share.value, normals);
    draw_energies(compound, names, normals);
    if (compound.insulation->fit_covariance && compound.paths.size() == 1) draw_from_fit(compound, names, normals);
    draw_shares(compound, names, normals);
    draws.compounds.push_back(std::move(compound));
  }
  return draws;
}

}  // namespace heatside::population
