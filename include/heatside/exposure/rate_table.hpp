#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/exposure/ambient.hpp"
#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/exposure/zone_heat.hpp"
#include "heatside/exposure/zone_trace.hpp"
#include "heatside/library/records.hpp"

/// Mean rates of a year at one place for many draws: one table for every compound, candidate and remedy.
///
/// A draw changes two things of a place: the zone's normal score z, which moves the zone's rises and soak peak together
/// (`zone_heat_at`; soak amplitudes scale with the peak), and a factor on the zone's soak decay. With it the compound draws
/// activation energies. ln of the mean rate is smooth in all three, so the year is integrated at 13 scores and 5 decay
/// times for 25 energies, and interpolated by Chebyshev polynomials; scores below and above 0 have a polynomial each.
///
/// Rates are sums over running, soak and parked: ln of one regime alone has no smooth table, because instants change from
/// parked to soak as the draw gets hotter. The likely case tells the regimes apart.
///
/// @par Tested by  tests/exposure/rate_table_test.cpp

namespace heatside::exposure {

/// Year of a place whose zone may still vary.
struct PlaceOfDraws {
  std::vector<DailyCourse> days;      ///< weights sum to 1; `gauss_days` are enough
  std::vector<Drive> drives;          ///< of a week; empty when laid up
  std::array<double, 4> running_mix;  ///< share of running time by running state, sums to 1
  SunHeat sun;                        ///< as it is felt in this zone
};

/// ln of a year's mean rate over energy, score and decay time.
struct RateTable {
  bool driven{};  ///< a laid-up place does not depend on score and decay time
  JoulePerMole lowest{0.0}, highest{0.0};
  JoulePerMole drying{0.0};  ///< see `rate_table`
  std::vector<double> coefficients;
};

inline constexpr double ln_decay_limit = 1.0;  ///< ln of the factor on the decay time is cut at minus and plus this
/// Activation energies that a table covers: those of dry processes, and those of wet ones less their drying.
inline constexpr JoulePerMole lowest_table_energy{5.0e3}, highest_table_energy{255.0e3};
inline constexpr JoulePerMole highest_energy_less_drying{120.0e3};  ///< from 0 on

/// The table of a zone under a use.
///
/// @param drying  0: rates of dry processes. Humidity exponent n times the enthalpy H that turns the ambient's humidity into
///                that of the same air at the wire: rates of a process that water takes part in, as in
///                `mean_wet_acceleration` where damp is not trapped, at n H/R (1/T - 1/T_ambient) of drying. Where damp is
///                trapped the dry table holds.
/// @throws DomainError  see `soak_amplitudes`
[[nodiscard]] RateTable rate_table(const library::Zone& zone, const TraceConstants& constants, const PlaceOfDraws& place,
                                   JoulePerMole drying = JoulePerMole{0.0});

/// What a draw makes of a zone.
struct ZoneDraws {
  std::vector<double> score;     ///< z [-], cut at +-4
  std::vector<double> ln_decay;  ///< ln of the factor on the decay time [-], cut at +-1; of equal length
};

/// Rate over energy of one place, draw by draw: what every compound at the place shares.
struct RateCurves {
  JoulePerMole lowest{0.0}, highest{0.0}, drying{0.0};
  std::size_t draws{};
  std::vector<double> coefficients;  ///< draw by draw; once for all where the table does not depend on the draw
};

[[nodiscard]] RateCurves rate_curves(const RateTable& table, const ZoneDraws& draws);

/// Mean of exp[(Ea/R)(1/T_ref - 1/T)] over the year, draw by draw: as `mean_acceleration`, or as `mean_wet_acceleration`
/// before its factor (RH / RH_ref)^n when the table was made with drying.
///
/// @param activation_energy  one for each draw, or a single one for all
/// @throws DomainError  an energy is outside the table, or there are not as many as draws
[[nodiscard]] std::vector<double> mean_accelerations(const RateCurves& curves,
                                                     const std::vector<JoulePerMole>& activation_energy, Kelvin reference);

/// Some of the draws, and what they make of an activation energy.
struct DrawnEnergies {
  const std::vector<std::size_t>& draws;  ///< their numbers, rising
  const std::vector<double>& energy;      ///< [J/mol], as many as draws
};

/// The same for some of the draws, in their order.
[[nodiscard]] std::vector<double> mean_accelerations(const RateCurves& curves, const DrawnEnergies& some, Kelvin reference);

}  // namespace heatside::exposure
