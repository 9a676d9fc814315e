#pragma once

#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "heatside/exposure/wire_year.hpp"
#include "heatside/exposure/zone_trace.hpp"
#include "heatside/library/records.hpp"

/// One trip of a wire, minute by minute: warm-up, driving, hot soak, cooling. The wire stores heat here; everywhere else
/// it is taken as steady.
///
/// Two nodes a metre of bundle, with T_w of the wires and T_s of the surface:
///
///     C_w T_w' = own heat - (T_w - T_s) / R        C_s T_s' = (T_w - T_s) / R - loss(T_s)
///
/// The loss to air, surroundings and hot bodies is that of `wire_temperatures`, and so is the steady state. A wire alone:
/// T_w is the conductor, R its insulation and the covering. A bundle: T_w is the mean of its wires, R half of the
/// resistance from its middle to its rim, and the covering; the middle is twice as far above the rim as the mean is. The
/// insulation's heat is shared out by the steady temperature between conductor and surface (IEC 60853-2, from memory);
/// of a bundle only the outermost layer of wires has a share in the surface.
///
/// @par Valid where  Biot numbers are small. A wire alone: resistance of its insulation over that from its surface to the
///                   air, 0.02 to 0.2, which is nearly exact. A bundle: transfer times radius over its conductivity of
///                   0.20 W/(m K), 0.3 at 6 mm and 0.9 at 25 mm; up to 1 the slowest time constant is 2 to 4 % short. What
///                   happens inside a thick bundle within seconds of a change is not resolved.
/// @par Tested by    tests/exposure/trip_trace_test.cpp, and against SciPy in tests/exposure/trip_scipy_test.py

namespace heatside::exposure {

/// Heat that solid copper stores [J/(m3 K)]: 8933 kg/m3 times 385 J/(kg K).
/// @par Source  Incropera, Fundamentals of Heat and Mass Transfer, table A.1 (from memory)
inline constexpr double copper_heat_capacity = 8933.0 * 385.0;
/// Heat that solid insulation stores [J/(m3 K)]. PVC 1.7e6, rubber 2.0e6, polyethylene 2.4e6.
/// @par Source  IEC 60853-2, thermal properties of cable materials (from memory)
inline constexpr double insulation_heat_capacity = 2.0e6;
/// Heat that a covering stores by its mass [J/(kg K)]: glass 800, PVC 1000, polyester 1200, polyamide 1700,
/// polypropylene 1900; one value for all, within a factor of 1.6.
/// @par Source  handbooks (from memory)
inline constexpr double covering_specific_heat = 1300.0;

/// What stores heat in a wire and around it.
struct HeatStore {
  SquareMetres copper_area{0.0};                 ///< of one conductor, at most the circle of its diameter
  double insulation = insulation_heat_capacity;  ///< [J/(m3 K)]
  double covering{};                             ///< [J/(m3 K)]
};

/// @param covering  null for bare wires
[[nodiscard]] HeatStore heat_store(const library::ConductorSize& size, const library::Covering* covering);

/// The slowest time constant with which a wire follows a small change of its surroundings, in the given setting with its
/// surface at the given temperature. Without the copper's own feedback, which makes a loaded wire a little slower.
/// @throws DomainError  sizes out of order
[[nodiscard]] Minutes time_constant(const PlacedWire& wire, const HeatStore& store, const WireSetting& setting,
                                    Kelvin surface);

/// What a trip starts from.
enum class TripStart {
  cold,  ///< engine, zone and wire at the ambient
  week   ///< where the zone's periodic week has come to; key_on must be one of its drives
};

/// A drive and what comes after it.
struct Trip {
  library::RunningState state{};
  Minutes length{0.0};  ///< from key-on to key-off
  bool loaded = true;   ///< currents flow from key-on to key-off
  Minutes key_on{0.0};  ///< time of the week, from Monday 00:00
  TripStart start = TripStart::cold;
};

enum class TripPhase {
  warm_up,  ///< running, and the engine less than nine tenths warm
  run,
  soak,   ///< stopped, and the zone warmer than ambient by more than the model's threshold
  parked  ///< stopped and cool
};
inline constexpr std::array<std::string_view, 4> trip_phase_names{"warm-up", "run", "soak", "parked"};

struct TripRow {
  Minutes since_key_on{0.0};
  TripPhase phase{};
  Kelvin air{273.15};
  Kelvin conductor{273.15};        ///< of the hottest loaded wire
  Kelvin insulation{273.15};       ///< where it is hottest
  Kelvin surface{273.15};          ///< what meets the air: wire, bundle or covering
  std::optional<Kelvin> hot_body;  ///< surface of the hottest one; absent where there is none
};

/// Times from key-on to `until` in equal steps, and key-off.
/// @throws DomainError  a step or length is not above 0, or there would be more than a million
[[nodiscard]] std::vector<Minutes> trip_times(Minutes length, Minutes until, Minutes step);

/// A trip and what follows it, integrated with Boost.Odeint (Dormand-Prince 5, piecewise between key-on and key-off).
///
/// @param zone   its numbers; its week only where the trip starts from the week
/// @param day    ambient course of the day
/// @param times  since key-on, not below 0, in order; may go on for as long as wished after key-off
/// @return       a row for each of `times`; key-on and key-off themselves count as running
/// @throws DomainError    lengths or times out of range, sizes out of order, more copper than the conductor has room for,
///                        a start that no drive of the week has, or a conductor that passes 1000 degC
/// @throws NumericsError  the step size went to zero
[[nodiscard]] std::vector<TripRow> trip_trace(const ZoneTrace& zone, const DailyCourse& day, const PlacedWire& wire,
                                              const HeatStore& store, const Trip& trip, const std::vector<Minutes>& times);

}  // namespace heatside::exposure
