#pragma once

#include <functional>

#include "heatside/ageing/kinetics.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/library/library.hpp"

/// From a year of temperatures to a compound's clock.
///
///     a = 1/(lot t_ref) sum_j phi_j mean[exp((Ea_j/R)(1/T_ref - 1/T))] m_j
///
/// m_j: 1/f for each covering, fluid and copper life factor f, humidity for hydrolysis, reference wall / wall for
/// plasticiser loss, less inside a bundle, where other wires hold the plasticiser back. A hydrolysis path runs beside the
/// dry ones on a thermal-life point of its own, because the oven in which the dry point was found is dry.

namespace heatside::ageing {

/// What touches the insulation of a wire.
struct WireSurroundings {
  Metres wall{0.0};  ///< nominal insulation wall, above 0
  casefile::Copper copper{};
  const library::Covering* covering = nullptr;  ///< null: none
  bool damp = false;                            ///< damp is trapped here
  bool oil = false, coolant = false;            ///< leaks onto it
  double plasticiser_rate = 1.0;                ///< of its loss, against that of a wire that meets the air
};

/// Product of the life factors of everything that touches the wire; below 1 shortens life.
[[nodiscard]] double life_factor(const library::Insulation& insulation, const WireSurroundings& surroundings);

/// Mean acceleration of one path over a year: `exposure::mean_acceleration` or its wet form, as the path asks for.
using PathMean = std::function<exposure::PerRegime(const library::AgeingPath&)>;

/// Mean clock rate of a set of paths by regime [1/h], for a lot whose life is `lot` times the record's.
[[nodiscard]] exposure::PerRegime clock_rate(const library::Insulation& insulation,
                                             const std::vector<library::AgeingPath>& paths,
                                             const WireSurroundings& surroundings, double lot, const PathMean& mean);

/// Mean of one path over a year at the record's likely activation energy.
[[nodiscard]] exposure::PerRegime likely_path_mean(const library::Insulation& insulation, const library::AgeingPath& path,
                                                   const exposure::TemperatureMeasure& year, double ambient_humidity_percent,
                                                   bool damp, const library::ModelConstants& model);

/// The constant temperature at which the dry paths of a compound run as fast together as `rate`.
/// @param rate              mean clock rate of the dry paths alone, with nothing touching the wire [1/h], above 0
/// @param plasticiser_rate  as in `WireSurroundings`
[[nodiscard]] Kelvin equivalent_temperature(const library::Insulation& insulation, Metres wall, double lot, double rate,
                                            double plasticiser_rate = 1.0);

}  // namespace heatside::ageing
