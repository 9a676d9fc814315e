#include "heatside/ageing/clock.hpp"

#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>

#include "heatside/ageing/arrhenius.hpp"

namespace heatside::ageing {

namespace {

using exposure::PerRegime;
using library::AgeingPath;
using library::Insulation;
using library::PathKind;

Kelvin path_reference(const Insulation& insulation, const AgeingPath& path) {
  return celsius(path.kind == PathKind::hydrolysis ? path.wet_temperature->value : insulation.life_temperature.value);
}

// Clock rate of a path at its reference point in a lot of likely life 1 [1/h], before what touches the wire.
double rate_at_reference(const Insulation& insulation, const AgeingPath& path, Metres wall, double plasticiser_rate) {
  if (path.kind == PathKind::hydrolysis) return 1.0 / path.wet_hours->value;
  const double thin = path.reference_wall ? path.reference_wall->value / in_millimetres(wall) : 1.0;
  const double held_back = path.kind == PathKind::plasticiser_loss ? plasticiser_rate : 1.0;
  return path.share.value / insulation.life_hours.value * thin * held_back;
}

}  // namespace

double life_factor(const Insulation& insulation, const WireSurroundings& surroundings) {
  const library::LifeFactors& factors = insulation.life_factors;
  double factor = surroundings.copper == casefile::Copper::bare ? factors.bare_copper.value : factors.tinned_copper.value;
  if (surroundings.covering != nullptr) {
    if (surroundings.covering->enclosure == library::Enclosure::closed) factor *= factors.closed_cover.value;
    if (surroundings.covering->enclosure == library::Enclosure::absorbing) factor *= factors.absorbing_cover.value;
  }
  if (surroundings.oil) factor *= factors.oil_film.value;
  if (surroundings.coolant) factor *= factors.hot_coolant.value;
  return factor;
}

PerRegime clock_rate(const Insulation& insulation, const std::vector<AgeingPath>& paths,
                     const WireSurroundings& surroundings, double lot, const PathMean& mean) {
  PerRegime rate{};
  const double factor = lot * life_factor(insulation, surroundings);
  for (const AgeingPath& path : paths) {
    const double at_reference =
        rate_at_reference(insulation, path, surroundings.wall, surroundings.plasticiser_rate) / factor;
    const PerRegime faster = mean(path);
    for (std::size_t regime = 0; regime < rate.size(); ++regime) rate[regime] += at_reference * faster[regime];
  }
  return rate;
}

PerRegime likely_path_mean(const Insulation& insulation, const AgeingPath& path, const exposure::TemperatureMeasure& year,
                           double ambient_humidity_percent, bool damp, const library::ModelConstants& model) {
  const JoulePerMole energy = kilojoule_per_mole(path.activation_energy.value);
  const Kelvin reference = path_reference(insulation, path);
  if (path.kind != PathKind::hydrolysis) return exposure::mean_acceleration(year, energy, reference);
  exposure::Humidity humidity;
  humidity.ambient_percent = ambient_humidity_percent;
  humidity.trapped_percent = damp ? model.ageing.damp_humidity.value : 0.0;
  humidity.reference_percent = path.wet_humidity->value;
  humidity.exponent = path.humidity_exponent->value;
  humidity.vaporisation = kilojoule_per_mole(model.ageing.vaporisation_enthalpy.value);
  return exposure::mean_wet_acceleration(year, energy, reference, humidity);
}

Kelvin equivalent_temperature(const Insulation& insulation, Metres wall, double lot, double rate, double plasticiser_rate) {
  const auto rate_excess = [&](double kelvin) {
    double sum = 0.0;
    for (const AgeingPath& path : insulation.paths) {
      if (path.kind == PathKind::hydrolysis) continue;
      sum += rate_at_reference(insulation, path, wall, plasticiser_rate) *
             acceleration_factor({path_reference(insulation, path), Kelvin{kelvin}},
                                 kilojoule_per_mole(path.activation_energy.value));
    }
    return std::log(sum / lot) - std::log(rate);
  };
  constexpr double coldest = 150.0, hottest = 1500.0;  // [K]
  std::uintmax_t iterations = 200;
  const auto bracket = boost::math::tools::toms748_solve(rate_excess, coldest, hottest,
                                                         boost::math::tools::eps_tolerance<double>(48), iterations);
  return Kelvin{0.5 * (bracket.first + bracket.second)};
}

}  // namespace heatside::ageing
