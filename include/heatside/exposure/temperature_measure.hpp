#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/exposure/ambient.hpp"
#include "heatside/exposure/zone_trace.hpp"
#include "heatside/library/records.hpp"

/// How much of a year a place spends at which temperature: the one thing that ageing needs to know of a zone.

namespace heatside::exposure {

/// Running; stopped and still warmed by the engine; stopped and cold.
enum class Regime { running, soak, parked };
inline constexpr std::array<std::string_view, 3> regime_names{"running", "soak", "parked"};

/// Quadrature nodes: temperature, the ambient at that instant, and the share of the year [-].
struct Nodes {
  std::vector<double> kelvin, ambient_kelvin, share;
};

/// A year at one place, kept apart by regime. Shares sum to 1 over all regimes.
/// Rates are sums over nodes; temperatures are never averaged.
struct TemperatureMeasure {
  std::array<Nodes, 3> by_regime;
};

/// Sun on the bonnet of a parked vehicle: `rise` for `length` around the sun's centre hour, while stopped.
struct SunHeat {
  KelvinRise rise{0.0};
  Hours length{0.0};
};

/// How finely a week is sampled.
struct Quadrature {
  int order = 5;               ///< Gauss-Legendre points a panel: 5, 8 or 10
  double refinement = 1.0;     ///< panels are this many times shorter than the standard ones
  double negligible = 1.0e-4;  ///< below this response to running the running states are not kept apart
};

/// The year of a zone under a weekly schedule.
///
/// @param running_mix  share of running time by running state, sums to 1: a week is driven wholly in each state
///                     and the hours are weighed
/// @return             shares that sum to 1
/// @par Tested by  tests/exposure/temperature_measure_test.cpp: against a finer grid, and against I0 for a sinusoid
[[nodiscard]] TemperatureMeasure year_at(const ZoneTrace& trace, const std::vector<DailyCourse>& days,
                                         const std::array<double, 4>& running_mix, SunHeat sun, Quadrature quadrature = {});

/// Something per regime: running, soak, parked.
using PerRegime = std::array<double, 3>;
[[nodiscard]] constexpr double total(const PerRegime& parts) { return parts[0] + parts[1] + parts[2]; }

/// Mean of exp[(Ea/R)(1/T_ref - 1/T)] over the year, its parts by regime: how many times faster than at `reference`
/// a process of that activation energy runs.
[[nodiscard]] PerRegime mean_acceleration(const TemperatureMeasure& year, JoulePerMole activation_energy, Kelvin reference);

/// How wet the air at a wire is.
struct Humidity {
  double ambient_percent{};        ///< annual mean of the climate
  double trapped_percent{};        ///< where damp is trapped: holds whatever the temperature; 0 when it is not
  double reference_percent{};      ///< humidity at which the process was measured
  double exponent{};               ///< of the rate on relative humidity
  JoulePerMole vaporisation{0.0};  ///< turns the ambient's humidity into that of the same air at the wire
};

/// As above with every instant weighed by (RH / reference)^exponent. Where damp is not trapped, RH is that of the ambient
/// air warmed to the wire's temperature: RH_ambient * exp[(H/R)(1/T - 1/T_ambient)], so a hot wire is a dry wire.
///
/// @par Source  Clausius-Clapeyron with constant enthalpy; power law of humidity as the record states
[[nodiscard]] PerRegime mean_wet_acceleration(const TemperatureMeasure& year, JoulePerMole activation_energy,
                                              Kelvin reference, const Humidity& humidity);

/// Hours of a year in a bin of 1 K.
struct HoursAtTemperature {
  int celsius{};      ///< centre of the bin [Cel]
  PerRegime hours{};  ///< h a year
};

/// Histogram for display, coldest first, empty bins left out; its hours sum to 8766. Rates never come from it.
///
/// @param usage  weeks driven as the schedule says. Up to 1: laid_up + usage (driven - laid_up). Above 1 the hours of
///               running and soak grow with it and the parked ones make room; where they are used up, the soak does.
[[nodiscard]] std::vector<HoursAtTemperature> hours_at_temperature(const TemperatureMeasure& driven,
                                                                   const TemperatureMeasure& laid_up, double usage);

/// The constant temperature at which a process of one activation energy runs as fast as it does on average
/// (mean kinetic temperature).
///
/// @param mean_acceleration  relative to `reference`, above 0
/// @par Source  USP <1160>, mean kinetic temperature
[[nodiscard]] Kelvin equivalent_temperature(double mean_acceleration, JoulePerMole activation_energy, Kelvin reference);

}  // namespace heatside::exposure
