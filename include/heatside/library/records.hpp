#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
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

/// How well a fit of test results knows the life point and the energy of a record, both together.
struct FitCovariance {
  Sourced ln_hours_variance;  ///< 1, of ln hours at the temperature of the life point
  Sourced ln_hours_energy;    ///< kJ/mol, covariance of ln hours and the activation energy
  Sourced energy_variance;    ///< kJ2/mol2
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
  std::optional<FitCovariance> fit_covariance;  ///< of a record made from a fit
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

/// What can be said of a place after looking: the five conditions by heat from good to bad, in the order of every array
/// over conditions, then a place that could not be seen and one that was changed by an earlier repair.
enum class Seen { supple, stiff, flex_cracks, cracked, crumbling, not_seen, altered };
inline constexpr std::array<std::string_view, 7> seen_names{"supple",    "stiff",    "flex-cracks", "cracked",
                                                            "crumbling", "not-seen", "altered"};
inline constexpr std::size_t condition_count = 5;

/// One chance for each of five conditions.
struct ChanceRow {
  std::array<double, condition_count> chance{};
  Provenance from;
};

/// A look: a row for each true condition, the chance of each condition being named. Every row sums to 1.
struct LookTable {
  std::array<ChanceRow, condition_count> seen;
};

/// A scrap tail wound round a rod.
struct BendTest {
  Sourced diameters;     ///< inner diameter of the bend in outer diameters of the wire, where none is stated
  ChanceRow cracks;      ///< chance that it cracks there, by true condition
  Sourced strain_ln_sd;  ///< of the strain at which it cracks, about elongation at break over the notch factor
};

/// The insulation of a scrap tail pulled until it breaks.
struct ElongationTest {
  Sourced error_share;  ///< standard error as a share of the reading, where none is stated
  Sourced error_floor;  ///< %, the least of it
};

/// Insulation resistance between wires, or to earth.
struct ResistanceReading {
  Sourced high_from;  ///< MOhm
  ChanceRow high;     ///< chance of a high reading, by true condition
};

/// A way to find something out, and how far it can be trusted.
struct Method {
  RecordHead head;
  bool opens{};  ///< takes covering off or cuts: consent and cautions come first
  SourcedText how;
  std::vector<SourcedText> before;  ///< what must hold before it is done
  std::variant<LookTable, BendTest, ElongationTest, ResistanceReading> evidence;
};

/// How a clue to the compound is come by.
enum class ClueKind { print, feel, sample };
inline constexpr std::array<std::string_view, 3> clue_kind_names{"print", "feel", "sample"};

/// Something about a wire that tells what its insulation is made of.
struct Clue {
  RecordHead head;
  ClueKind found_by{};
  SourcedText how;
  std::map<std::string, Sourced> chance;  ///< of the clue on a wire of that insulation, by id; only ratios matter
  Sourced others;                         ///< the same for every insulation that is not named
};

/// Chance of the clue on a wire of that insulation.
[[nodiscard]] const Sourced& chance_of(const Clue& clue, const std::string& insulation);

/// What follows when wires of a function fail. The function is what a case calls it: the id of this record.
struct Consequence {
  RecordHead head;
  SourcedText when_open;   ///< what happens when the wire breaks or its contact goes
  SourcedText when_short;  ///< what happens when bare copper touches metal or a neighbour
  Sourced short_share;     ///< of bare-wire faults: those that short; the others open
  Sourced stop_open;       ///< chance that the vehicle stops on the road when it opens
  Sourced stop_short;      ///< the same when it shorts
  bool fused{};            ///< usually; a circuit of the case may say otherwise
  bool never_traded{};     ///< unfused feeds, fuel, brake, steering, airbag: no price outweighs it
  Provenance from;         ///< of the two flags
};

/// What is done to the wires.
enum class RemedyAct { leave, cover, branches, rewire, rebuild, used_part, new_part };
inline constexpr std::array<std::string_view, 7> remedy_act_names{"leave",   "cover",     "branches", "rewire",
                                                                  "rebuild", "used-part", "new-part"};

/// A kind of remedy with what it costs where a case states nothing. Money is in minutes of work that it pays.
struct RemedyKind {
  RecordHead head;
  RemedyAct act{};
  Sourced parts, parts_each, parts_wire;        ///< min: once, for each segment covered, for each wire in it
  Sourced minutes, minutes_each, minutes_wire;  ///< min of work, alike
  Sourced lead_days;                            ///< d, until the parts are at hand
  Sourced disturbs;      ///< share of the harm of an opening that it does to each brittle segment left in
  SourcedText stays_in;  ///< what of the old remains where it is done
  SourcedText about;     ///< what it does and does not do
  Sourced prevents;      ///< share of the bare-wire faults that a cover prevents while it holds; 0 for all other acts
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
    Sourced batch_share;            ///< of the spread of ln life that lots of one compound, make and month have in common
    Sourced vaporisation_enthalpy;  ///< kJ/mol
    Sourced inner_wire_loss;        ///< rate of plasticiser loss amid other wires over that in the outer layer
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
  /// What opening a segment costs, and what is lost where a case names no remedies. Costs are in minutes of work that the
  /// same money pays.
  struct Opening {
    Sourced minute_rate;                                                     ///< money of the case's currency per minute
    Sourced minutes_to_open;                                                 ///< min, the cover included
    Sourced cover_share;                                                     ///< of the least minutes of a cover group
    Sourced loom_cost;                                                       ///< min, a replacement loom, fitted
    Sourced fault_cost;                                                      ///< min, a bare-wire fault on the road
    Sourced fault_stiff, fault_flex_cracks, fault_cracked, fault_crumbling;  ///< chance of one where nothing is done
    Sourced fault_years;                                                     ///< a, that these chances are for
    Sourced break_stiff, break_flex_cracks, break_cracked, break_crumbling;  ///< chance that opening breaks the insulation
    Sourced break_cost;                                                      ///< min
    Sourced latch_chance;                                                    ///< that opening breaks a latch, clip or seal
    Sourced latch_cost;                                                      ///< min
  } opening;
  struct Report {
    Sourced years_cap, plain_words_cap;  ///< a
  } report;
  struct Finding {
    Sourced unsure_heat_share;  ///< of findings whose cause is unsure, those that heat made
    Sourced
        altered_ratio;  ///< how much likelier an earlier repair is where it was cracked or worse then than where it was not
  } finding;
  /// How well a measured temperature tells what the zone is like in service.
  struct Measurement {
    Sourced infrared_sd, contact_sd, indicator_sd, logger_sd;  ///< K, of one reading at its place
    Sourced day_share;                                         ///< sd of one day about service, share of the rise
    Sourced day_floor;                                         ///< K, part of that sd whatever the rise
    Sourced state_share;       ///< sd from the stated to the record's state, share of the rise
    Sourced time_sd;           ///< min, of a stated time since key-on or key-off
    Sourced open_bonnet_loss;  ///< share of the rise that an open bonnet takes, with its sd
    Sourced shiny_loss;        ///< share of the rise that infrared misses on a shiny surface, with its sd
    Sourced loaded_factor;     ///< on the sd where the wires carry a current of their own
    Sourced long_stay;         ///< d, an indicator that stayed longer saw hotter days than the stated one
    Sourced long_stay_sd;      ///< K, of the hottest day's ambient against the stated one
    Sourced warm_after;        ///< min after a cold start; later rows of a logger count as driving
    Sourced soak_window;       ///< min after key-off; later rows of a logger say little
    Sourced doubtful_beyond;   ///< sd of its prediction
  } measurement;
};

}  // namespace heatside::library
