#include "heatside/exposure/rate_table.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "exposure/rate_sums.hpp"
#include "exposure/rate_terms.hpp"
#include "exposure/week_points.hpp"
#include "heatside/base/constants.hpp"
#include "heatside/exposure/zone_at_score.hpp"

namespace heatside::exposure {

namespace {

// Drying takes n H off the activation energy, so that the same terms have less to cover and do it better.
EnergyRow energy_row(bool dry) {
  const JoulePerMole lowest = dry ? lowest_table_energy : JoulePerMole{0.0};
  const JoulePerMole highest = dry ? highest_table_energy : highest_energy_less_drying;
  return {lowest, (highest - lowest) / static_cast<double>(EnergyRow::count - 1)};
}

double lobatto_point(std::size_t i, std::size_t count) {
  return std::cos(std::numbers::pi * static_cast<double>(i) / static_cast<double>(count - 1));
}

// Chebyshev coefficients from values at `count` Lobatto points, as a matrix with a row for each coefficient.
Eigen::MatrixXd lobatto_transform(std::size_t count) {
  const auto size = static_cast<Eigen::Index>(count);
  Eigen::MatrixXd transform(size, size);
  const auto at_end = [&](Eigen::Index i) { return i == 0 || i == size - 1 ? 0.5 : 1.0; };
  for (Eigen::Index row = 0; row < size; ++row) {
    for (Eigen::Index i = 0; i < size; ++i) {
      const double angle = std::numbers::pi * static_cast<double>(row * i) / static_cast<double>(size - 1);
      transform(row, i) = 2.0 / static_cast<double>(size - 1) * at_end(row) * at_end(i) * std::cos(angle);
    }
  }
  return transform;
}

// Least-squares Chebyshev coefficients from values at equally spaced energies.
const Eigen::MatrixXd& energy_fit() {
  static const Eigen::MatrixXd fit = [] {
    Eigen::MatrixXd powers(static_cast<Eigen::Index>(EnergyRow::count), static_cast<Eigen::Index>(energy_terms));
    for (Eigen::Index i = 0; i < powers.rows(); ++i) {
      const double x = -1.0 + 2.0 * static_cast<double>(i) / static_cast<double>(powers.rows() - 1);
      for (Eigen::Index term = 0; term < powers.cols(); ++term)
        powers(i, term) = std::cos(static_cast<double>(term) * std::acos(x));
    }
    return Eigen::MatrixXd{powers.colPivHouseholderQr().solve(Eigen::MatrixXd::Identity(powers.rows(), powers.rows()))};
  }();
  return fit;
}

// Rises of the running states at one score, as few values as the places need that feel little of them.
struct RisesAtScore {
  std::vector<LinearChoice> one, two, every;
  double mean = 0.0, spread = 0.0, soak_factor = 0.0;
};

RisesAtScore rises_at(const library::Zone& zone, const std::array<double, 4>& mix, double score) {
  const ZoneHeat heat = zone_heat_at(zone, score);
  RisesAtScore rises;
  rises.soak_factor = heat.soak_peak.value() / zone.soak_peak.value;
  for (std::size_t state = 0; state < mix.size(); ++state) rises.mean += mix[state] * heat.rise[state].value();
  double variance = 0.0, third = 0.0;
  for (std::size_t state = 0; state < mix.size(); ++state) {
    if (mix[state] <= 0.0) continue;
    const double apart = heat.rise[state].value() - rises.mean;
    variance += mix[state] * apart * apart;
    third += mix[state] * apart * apart * apart;
    rises.every.push_back({heat.rise[state].value(), rises.soak_factor, mix[state]});
  }
  rises.one = {{rises.mean, rises.soak_factor, 1.0}};
  rises.two = rises.one;
  rises.spread = std::sqrt(variance);
  if (variance > 1.0e-12) {
    // The two-point rule with this mean, variance and skewness.
    const double lean = 0.5 * third / (variance * rises.spread);
    const double root = std::sqrt(1.0 + lean * lean);
    rises.two = {{rises.mean + rises.spread * (lean + root), rises.soak_factor, 0.5 * (root - lean) / root},
                 {rises.mean + rises.spread * (lean - root), rises.soak_factor, 0.5 * (root + lean) / root}};
  }
  return rises;
}

void add_place(LinearTemperatures& places, const WeekPoint& point, const DailyCourse& day, double drying) {
  const double mean = day.mean.value(), half = day.half_range.value();
  places.base_kelvin.push_back(mean * point.following + half * point.following_cos + point.constant_kelvin);
  places.running.push_back(point.running);
  places.soak_kelvin.push_back(point.soak_kelvin);
  double share = point.share * day.weight;
  if (drying != 0.0) {
    const double ambient = mean + half * point.day_cosine;
    share *= std::exp(-drying / molar_gas_constant * (1.0 / ambient - 1.0 / table_reference_kelvin));
  }
  places.share.push_back(share);
}

class TableBuilder {
 public:
  TableBuilder(const library::Zone& zone, const TraceConstants& constants, const PlaceOfDraws& place, double drying)
      : constants_{constants},
        place_{place},
        drying_{drying},
        energies_{energy_row(drying == 0.0)},
        heat_{likely_zone_heat(zone)},
        soak_{soak_amplitudes(heat_, constants)} {
    for (std::size_t node = 0; node < score_nodes; ++node) {
      rises_.push_back(rises_at(zone, place.running_mix, score_of(node)));
      const RisesAtScore& rises = rises_.back();
      widest_spread_ = std::max(widest_spread_, rises.spread);
      largest_rise_ = std::max(largest_rise_, std::abs(rises.mean));
      largest_soak_ = std::max(largest_soak_, std::abs(rises.soak_factor - 1.0));
    }
  }

  RateTable build() const {
    RateTable table;
    table.driven = !place_.drives.empty();
    table.lowest = energies_.first;
    table.highest = energies_.last();
    table.drying = JoulePerMole{drying_};
    if (!table.driven) {
      const EnergyTerms terms = fitted(rates_at_decay(0.0)[likely_node]);
      table.coefficients.assign(terms.begin(), terms.end());
      return table;
    }
    std::vector<std::vector<EnergyTerms>> curves;  // by decay node and score node
    for (std::size_t decay = 0; decay < decay_terms; ++decay) {
      curves.emplace_back();
      for (const RateSums& sums : rates_at_decay(ln_decay_limit * lobatto_point(decay, decay_terms)))
        curves.back().push_back(fitted(sums));
    }
    table.coefficients = transformed(curves);
    return table;
  }

 private:
  static constexpr std::size_t score_nodes = score_panels * (score_terms - 1) + 1;
  static constexpr std::size_t likely_node = score_terms - 1;

  // From the highest score down, so that a panel's nodes stand in the order of its Lobatto points.
  static double score_of(std::size_t node) {
    const bool upper = node < score_terms;
    const double point = lobatto_point(upper ? node : node - (score_terms - 1), score_terms);
    return 0.5 * score_panel_width * (upper ? point + 1.0 : point - 1.0);
  }

  // Sums of rates for each score, at one decay time.
  std::vector<RateSums> rates_at_decay(double ln_factor) const {
    ZoneHeat heat = heat_;
    heat.tau_soak_decay = heat.tau_soak_decay * std::exp(ln_factor);
    LinearTemperatures cold, one, two, every;
    for (const WeekPoint& point : week_points(periodic_week(heat, soak_, constants_, place_.drives), place_.sun)) {
      LinearTemperatures& places = feels_nothing(point) ? cold : feels_mean(point) ? one : feels_two(point) ? two : every;
      for (const DailyCourse& day : place_.days) add_place(places, point, day, drying_);
    }
    RateSums without_score{};
    add_rates(cold, rises_[likely_node].one.front(), energies_, without_score);
    std::vector<RateSums> sums(score_nodes, without_score);
    if (one.share.empty() && two.share.empty() && every.share.empty()) return sums;
    for (std::size_t node = 0; node < score_nodes; ++node) {
      for (const LinearChoice& choice : rises_[node].one) add_rates(one, choice, energies_, sums[node]);
      for (const LinearChoice& choice : rises_[node].two) add_rates(two, choice, energies_, sums[node]);
      for (const LinearChoice& choice : rises_[node].every) add_rates(every, choice, energies_, sums[node]);
    }
    return sums;
  }

  // Limits in kelvin for what is left out, such that even 255 kJ/mol loses less than 5e-5 of the rate.
  bool feels_nothing(const WeekPoint& point) const {
    return std::abs(point.running) * 2.0 * largest_rise_ + std::abs(point.soak_kelvin) * largest_soak_ < 2.0e-4;
  }
  bool feels_mean(const WeekPoint& point) const { return std::abs(point.running) * widest_spread_ < 0.03; }
  bool feels_two(const WeekPoint& point) const { return std::abs(point.running) * widest_spread_ < 0.7; }

  static EnergyTerms fitted(const RateSums& sums) {
    Eigen::VectorXd ln_rate(static_cast<Eigen::Index>(sums.size()));
    for (std::size_t i = 0; i < sums.size(); ++i) ln_rate[static_cast<Eigen::Index>(i)] = std::log(sums[i]);
    const Eigen::VectorXd terms = energy_fit() * ln_rate;
    EnergyTerms fitted{};
    for (std::size_t i = 0; i < fitted.size(); ++i) fitted[i] = terms[static_cast<Eigen::Index>(i)];
    return fitted;
  }

  // By panel, decay term, score term and energy term.
  static std::vector<double> transformed(const std::vector<std::vector<EnergyTerms>>& curves) {
    const Eigen::MatrixXd by_score = lobatto_transform(score_terms), by_decay = lobatto_transform(decay_terms);
    std::vector<double> coefficients;
    for (std::size_t panel = 0; panel < score_panels; ++panel) {
      for (Eigen::Index decay = 0; decay < by_decay.rows(); ++decay) {
        for (Eigen::Index score = 0; score < by_score.rows(); ++score) {
          for (std::size_t energy = 0; energy < energy_terms; ++energy) {
            double sum = 0.0;
            for (Eigen::Index i = 0; i < by_decay.cols(); ++i) {
              for (Eigen::Index k = 0; k < by_score.cols(); ++k) {
                const std::size_t node = static_cast<std::size_t>(k) + panel * (score_terms - 1);
                sum += by_decay(decay, i) * by_score(score, k) * curves[static_cast<std::size_t>(i)][node][energy];
              }
            }
            coefficients.push_back(sum);
          }
        }
      }
    }
    return coefficients;
  }

  const TraceConstants& constants_;
  const PlaceOfDraws& place_;
  double drying_;  // [J/mol]
  EnergyRow energies_;
  ZoneHeat heat_;
  SoakAmplitudes soak_;
  std::vector<RisesAtScore> rises_;
  double widest_spread_ = 0.0, largest_rise_ = 0.0, largest_soak_ = 0.0;
};

}  // namespace

RateTable rate_table(const library::Zone& zone, const TraceConstants& constants, const PlaceOfDraws& place,
                     JoulePerMole drying) {
  return TableBuilder{zone, constants, place, drying.value()}.build();
}

}  // namespace heatside::exposure
