#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/library/provenance.hpp"

/// The kinds of record that `materials/` holds. Every number keeps its source and grade;
/// the functions at the end turn record numbers into quantities with a unit.

namespace heatside::library {

/// What all records begin with.
struct RecordHead {
  std::string id;    ///< kebab-case
  std::string name;  ///< plain words
  std::string note;
};

enum class PathKind { oxidation, plasticiser_loss, dehydrochlorination, hydrolysis };

/// One thermally activated way in which a compound ages.
struct AgeingPath {
  std::string id;
  PathKind kind{};
  Sourced activation_energy;               ///< kJ/mol
  Sourced share;                           ///< of the clock at the thermal-life point; dry paths only, they sum to 1
  std::optional<Sourced> reference_wall;   ///< mm; plasticiser loss only: wall at which the thermal-life point holds
  std::optional<Sourced> wet_temperature;  ///< Cel; hydrolysis only: its own life point, because an oven is dry
  std::optional<Sourced> wet_humidity;     ///< % relative humidity of that point
  std::optional<Sourced> wet_hours;        ///< h to the end point there
  std::optional<Sourced> humidity_exponent;
};

enum class KineticsLaw { gradual, guarded };

/// Factors on life for what touches the insulation, all at equal temperature.
struct LifeFactors {
  Sourced bare_copper, tinned_copper, closed_cover, absorbing_cover, oil_film, hot_coolant;
};

struct Insulation {
  RecordHead head;
  std::string family;
  std::string abbreviation;
  SourcedText standard_types;
  int in_use_from{};
  std::optional<int> in_use_to;
  Provenance in_use;
  Sourced rating;            ///< Cel
  Sourced life_temperature;  ///< Cel, of the thermal-life point
  Sourced life_hours;        ///< h
  Sourced end_elongation;    ///< %, elongation at break at the thermal-life point
  bool pass_mark{};          ///< the hours are what a conforming cable must reach, not what it did reach
  Sourced lot_median;        ///< factor on life
  Sourced lot_ln_sd;
  KineticsLaw law{};
  Provenance law_from;
  std::optional<Sourced> induction_share;  ///< guarded only
  std::vector<AgeingPath> paths;
  std::vector<AgeingPath> guard_paths;  ///< empty: the stabiliser is spent by `paths`
  Sourced initial_elongation;           ///< %
  Sourced expansion;                    ///< 1/K
  Sourced density;                      ///< g/cm3
  Sourced thermal_conductivity;         ///< W/m/K
  Sourced emissivity;
  LifeFactors life_factors;
  SourcedText mechanism, fluids, copper, oxygen;
};

/// Whether air and plasticiser get through: what a covering does to ageing at equal temperature.
enum class Enclosure { open, closed, absorbing };

struct Covering {
  RecordHead head;
  Enclosure enclosure{};
  bool traps_damp{};
  Sourced rating;                        ///< Cel
  Sourced life_temperature, life_hours;  ///< Cel, h
  Sourced activation_energy;             ///< kJ/mol
  Sourced density, thermal_conductivity, emissivity;
  Sourced thickness;  ///< mm
  Sourced air_gap;    ///< K.m/W, of air trapped between wires and covering
  SourcedText effect;
};

struct WallSize {
  Sourced wall;            ///< mm, nominal
  Sourced outer_diameter;  ///< mm, nominal
};

struct ConductorSize {
  std::string label;                ///< "0.5 mm2", "AWG 20"
  Sourced area;                     ///< mm2
  Sourced resistance;               ///< mOhm/m at 20 Cel
  std::optional<Sourced> diameter;  ///< mm, of the conductor
  std::optional<WallSize> thin, thick;
};

struct Conductors {
  RecordHead head;
  std::vector<ConductorSize> sizes;
};

/// How an engine can be running. The order is that of every array over running states.
enum class RunningState { cruise, city, idle, hill };
inline constexpr std::array<std::string_view, 4> running_state_names{"cruise", "city", "idle", "hill"};

struct Zone {
  RecordHead head;
  std::string code;                                 ///< row of the table that the numbers were researched in
  Sourced ambient_following;                        ///< change of zone temperature per change of ambient temperature
  std::array<Sourced, 4> rise;                      ///< K above an ambient of 25 Cel, by running state
  Sourced soak_peak;                                ///< K above an ambient of 25 Cel, after key-off from city driving
  Sourced tau_warm, tau_soak_rise, tau_soak_decay;  ///< min
  Sourced sun_share;                                ///< share of the bonnet's sun heat felt here when parked
  bool radiant{};                                   ///< heated mainly by radiation from exhaust parts
  std::string air_zone;  ///< radiant only: zone whose air a stretch beside a stated hot body takes
  std::optional<std::array<Sourced, 4>>
      hot_surface;  ///< radiant only: Cel, typical surface of the hot part, by running state
  SourcedText bound;
};

struct Climate {
  RecordHead head;
  bool generic{};
  std::string place;
  std::string hemisphere;
  std::array<double, 12> monthly_mean{};  ///< Cel
  std::array<double, 12> daily_range{};   ///< K, highest minus lowest of a mean day
  std::array<double, 12> deviation_sd{};  ///< K, of a day's mean about the month's
  Provenance monthly_mean_from, daily_range_from, deviation_from;
  Sourced relative_humidity;  ///< %, annual mean
  Sourced sun_rise;           ///< K, air under the bonnet when parked in the open
  Sourced sun_hours;          ///< h a day
};

/// A trip that happens every week.
struct WeeklyTrip {
  std::vector<int> days;  ///< 0 Monday to 6 Sunday
  Minutes start{0.0};     ///< after midnight
  Minutes length{0.0};
  int repeat = 1;      ///< how often it is driven on such a day
  Minutes every{0.0};  ///< from start to start when repeated
};

struct Duty {
  RecordHead head;
  std::array<double, 4> running_mix{};  ///< share of running time by running state
  std::vector<WeeklyTrip> trips;
  Provenance from;
};

struct EraCandidate {
  std::string insulation;
  double weight{};
};

struct EraDecade {
  int from{}, to{};  ///< years made, both included
  std::vector<EraCandidate> candidates;
  Provenance provenance;
};

struct Era {
  RecordHead head;
  std::string region;
  std::vector<EraDecade> decades;
};

/// The model's own constants, in the units of `materials/model.json`.
struct ModelConstants {
  RecordHead head;
  struct Trace {
    Sourced engine_warm_time, exhaust_warm_time, exhaust_decay_time;  ///< min
    Sourced engine_excess;                                            ///< K
    Sourced slow_decay_from;                                          ///< min
    Sourced running_response_share;
    Sourced soak_threshold;                 ///< K
    Sourced anchor_ambient;                 ///< Cel
    Sourced hottest_hour, sun_centre_hour;  ///< h
  } trace;
  struct Usage {
    Sourced mean_speed;  ///< km/h
    Sourced ln_sd;
  } usage;
  struct Ageing {
    Sourced floor_elongation;  ///< %
    Sourced guard_strength, seed_extent;
    Sourced reference_humidity, damp_humidity;  ///< %
    Sourced lot_median_pass_mark, lot_ln_sd_pass_mark, stretch_ln_sd;
    Sourced vaporisation_enthalpy;  ///< kJ/mol
  } ageing;
  struct Condition {
    Sourced stiff_share, handling_diameters, notch_factor, relaxed_bend_share;
    Sourced copper_expansion;      ///< 1/K
    Sourced thermal_swing;         ///< K
    Sourced vibration_strain;      ///< %
    Sourced crumbling_elongation;  ///< %
    Sourced route_radius;          ///< mm
  } condition;
  struct HotBody {
    Sourced emissivity;                  ///< of the hot part
    Sourced shield_clean, shield_dirty;  ///< share of the exchange that a shield lets through
  } hot_body;
  struct Report {
    Sourced years_cap, plain_words_cap;  ///< a
  } report;
};

}  // namespace heatside::library
