#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "heatside/base/date.hpp"
#include "heatside/base/units.hpp"
#include "heatside/library/records.hpp"

/// What a case file says, checked: ids resolve, dates are in order, numbers are in range.

namespace heatside::casefile {

/// Something that nobody stated and the answer rests on. Every one is listed in every output.
struct Assumption {
  std::string pointer;  ///< JSON pointer of the place where a statement would replace it
  std::string text;     ///< what is assumed, and how to replace it
  Grade grade{};
};

enum class Parking { open, shade, garage };

/// How a vehicle is driven: an id of a duty record, or trips of the case's own.
using DutyChoice = std::variant<std::string, library::Duty>;

/// A stretch of time with one way of use.
struct ServicePeriod {
  std::string pointer;  ///< JSON pointer of the period in the case
  Date from, to;
  std::string climate;  ///< id of a climate record
  DutyChoice duty;
  double usage = 1.0;  ///< weeks driven as the duty says, per week; 0 is laid up
  Parking parking{};
};

/// What is to come after the inspection; lasts for ever.
struct FutureUse {
  std::string climate;
  DutyChoice duty;
  double usage = 1.0;
  Parking parking{};
};

enum class Copper { bare, tinned };

/// How long and how a part was used in another vehicle before it was fitted here.
struct PartPast {
  Date from, to;  ///< in service there
  std::string climate;
  DutyChoice duty;
  double usage = 1.0;
  Parking parking{};
  double ln_sd = 0.0;  ///< how well its wear there is known, on a logarithmic scale
};

struct Loom {
  std::string id, name;
  Date made;              ///< its own date of manufacture
  Date fitted;            ///< when it went into the vehicle: entry into service, or its replacement
  std::string date_code;  ///< as read; empty when none was
  Copper copper{};
  std::string region;                 ///< where it was made: region of an era record
  std::optional<PartPast> elsewhere;  ///< of a used part
};

struct InsulationCandidate {
  std::string insulation;  ///< id of an insulation record
  double weight{};         ///< chance, sums to 1 over the candidates
};

/// All insulation of one compound and size family in one loom: its unknowns are shared.
struct Lot {
  std::string id, name;
  std::string loom;
  std::vector<InsulationCandidate> candidates;  ///< heaviest first, ties by id
  bool compound_known = false;                  ///< the case names it
  std::string size;                             ///< label of a conductor size
  Metres wall{0.0};                             ///< nominal insulation wall
  Metres outer_diameter{0.0};
};

/// Wires of one lot in one segment.
struct WireGroup {
  std::string lot;
  std::size_t count = 1;
  std::string size;  ///< label of a conductor size; the lot's where not stated
  Metres wall{0.0};
  Metres outer_diameter{0.0};
  std::optional<Amperes> current;  ///< carried by each loaded wire
  std::size_t loaded = 0;          ///< how many carry it at once
  double current_share = 1.0;      ///< share of the running time in which it flows
  std::string function;            ///< what the circuits do; may be empty
  bool inner = false;              ///< other wires surround it; otherwise it may lie in the outer layer
};

/// A hot part near a stretch.
struct HotBody {
  std::string shape;  ///< cylinder or plate
  Metres size{0.0};   ///< diameter of a cylinder, width of a plate
  Metres distance{0.0};
  std::array<double, 4> surface_celsius{};  ///< warm, by running state
  std::string shield;                       ///< none, sleeve, panel
  bool clean_shield = true;
};

/// The part of a segment that lies in one zone.
struct Stretch {
  std::string id;
  std::string zone;      ///< id of a zone record
  double share = 1.0;    ///< of the segment's length; shares of a segment sum to 1
  std::string covering;  ///< id of a covering record; empty for bare wires
  bool damp = false;     ///< water stays here: wet conduit, low point
  std::vector<HotBody> hot_bodies;
  std::optional<std::array<double, 4>> air_speed_m_per_s;  ///< while running, by running state
};

enum class Fluid { oil, coolant };

struct Leak {
  Fluid fluid{};
  Date since;
};

struct Segment {
  std::string id, name;
  std::string pointer;  ///< JSON pointer of the segment in the case
  std::string loom;
  std::string from, to;  ///< node ids
  Metres length{0.0};
  std::vector<Stretch> stretches;
  std::vector<WireGroup> groups;
  std::optional<Metres> route_radius;  ///< inner radius of its tightest relaxed bend
  std::vector<Leak> leaks;
  std::string cover_group;  ///< empty when it is in the open
  std::optional<Minutes> to_open;
  bool airbag = false;  ///< carries airbag or belt-tensioner circuits
};

/// A part that the wires of a node are screwed to, metal on metal: a stud, an earth point. A plug is not one.
struct Terminal {
  std::string zone;                                      ///< id of the zone whose air is around it
  std::optional<std::array<double, 4>> surface_celsius;  ///< warm, by running state; without it: that of the air
  bool cools_with_exhaust = false;                       ///< otherwise slowly, with the engine
};

struct Node {
  std::string id, name;
  std::optional<Terminal> terminal;
};

enum class Instrument { infrared, contact, indicator, logger };

/// A temperature read once.
struct SpotReading {
  Kelvin temperature{ice_point_kelvin};
  std::optional<library::RunningState> running;  ///< absent: the engine stood
  std::optional<Minutes> since_key_on;           ///< of a cold start; absent while running: the engine was warm
  std::optional<Minutes> since_key_off;          ///< absent while standing: parked for long
};

/// The highest temperature since an indicator (label, paint, wax) was put there.
struct PeakReading {
  Kelvin temperature{ice_point_kelvin};
  std::optional<double> days;  ///< how long it was there [d]
};

struct LoggedTemperature {
  Minutes at{0.0};  ///< as the file counts: its column `minutes`, or since its first row
  Kelvin temperature{ice_point_kelvin};
};

/// The usable rows of a logger's file.
struct LoggerReading {
  std::string file;                        ///< its name beside the case
  library::RunningState driving{};         ///< while the engine ran
  std::optional<Minutes> key_on, key_off;  ///< in the minutes of the rows; without key-on the engine was warm
  std::vector<LoggedTemperature> rows;     ///< in order of time, at least two
};

/// A temperature that was measured at a stretch.
struct Measured {
  std::string pointer;           ///< JSON pointer of the entry in the case
  std::string segment, stretch;  ///< ids
  Kelvin ambient{ice_point_kelvin};
  Instrument instrument{};
  bool shiny = false;  ///< infrared on a shiny surface
  bool bonnet_open = false;
  std::optional<Date> on;
  std::variant<SpotReading, PeakReading, LoggerReading> reading;
};

/// What made a place what it is. Only heat, or its share of unsure, says anything about the rest of the lot.
enum class Cause { heat, chafe, gnawed, overload, fluid, workmanship, unsure };
inline constexpr std::array<std::string_view, 7> cause_names{"heat",  "chafe",       "gnawed", "overload",
                                                             "fluid", "workmanship", "unsure"};

/// What may be seen beside the condition.
inline constexpr std::array<std::string_view, 9> sign_names{"sticky",       "swollen",       "shrunk-back",
                                                            "green-copper", "whitened",      "glue-or-silicone",
                                                            "extra-wire",   "brittle-latch", "brittle-seal-or-boot"};

/// A scrap tail wound once round a rod.
struct BendResult {
  Metres diameter{0.0};  ///< of the rod
  Kelvin temperature{ice_point_kelvin + 20.0};
  bool cracked{};
};

struct ElongationResult {
  Strain elongation{0.0};      ///< at break
  Strain standard_error{0.0};  ///< above 0
};

/// Read with both ends unplugged and no control unit attached; other readings are refused.
struct ResistanceResult {
  double megohms{};  ///< [MOhm]
};

/// What an inspector found out at a place. It has a condition as seen, or the result of a test, or clues, or several.
struct Finding {
  std::string pointer;                ///< JSON pointer of the entry in the case
  std::string segment;                ///< id; empty where it is about a lot alone
  std::string stretch;                ///< id; empty: the segment as a whole
  std::string lot;                    ///< id of the wires it speaks of; empty: all of the segment
  std::optional<library::Seen> seen;  ///< absent with the result of a test, or where there are only clues
  std::string method;                 ///< id of a method record; may be empty for not-seen, altered and clues
  Cause cause = Cause::unsure;        ///< heat where nothing is wrong
  std::vector<std::string> signs;     ///< of `sign_names`
  std::vector<std::string> clues;     ///< ids of clue records; they speak of `lot`
  Date on;                            ///< day of the look
  std::optional<Date> altered_on;     ///< of an earlier repair; always there when `seen` is altered
  std::optional<BendResult> bend;     ///< at most one of these three, as the method has it
  std::optional<ElongationResult> elongation;
  std::optional<ResistanceResult> resistance;
  std::string by, note;  ///< may be empty
};

/// What the owner agreed to.
struct Openings {
  std::optional<std::size_t> allowed;  ///< how many
  std::optional<double> cost_limit;    ///< in the currency of the case
  bool consent = false;                ///< knows that the vehicle may not run afterwards, and agrees
};

/// What the model said of a segment before anybody looked.
struct PredictedSegment {
  std::string segment;                                    ///< id
  std::array<double, library::condition_count> chance{};  ///< of each condition; sums to 1
};

/// Chances that were written down before the first finding of a day, so that they can be scored honestly.
struct Prediction {
  std::string pointer;  ///< JSON pointer of the entry in the case
  Date on;              ///< day of the findings that it comes before
  std::string stored;   ///< when it was written down, UTC
  std::string engine;   ///< name and version of the program
  std::vector<PredictedSegment> segments;
  std::string sha256;  ///< of `hashed_text`, see record.hpp
};

/// A circuit, as a wiring plan needs it. Texts may be empty.
struct Circuit {
  std::string pointer;  ///< JSON pointer of the entry in the case
  std::string id;
  std::string function;               ///< id of a consequence record, or own words
  std::vector<std::string> segments;  ///< ids, in the order that it runs through them
  std::string plug, cavity, colour, size, splice, note;
  std::optional<double> fuse_amperes;
  bool unfused = false;  ///< stated
  bool screened = false, twisted = false;
};

/// Something that can be done about the looms. What is not stated comes from the record of its kind.
struct Remedy {
  std::string pointer;  ///< JSON pointer of the entry in the case
  std::string id, name;
  std::string kind;                             ///< id of a remedy record
  std::vector<std::string> segments;            ///< ids that it covers, in the order of the case; empty for leaving
  std::vector<InsulationCandidate> candidates;  ///< compound of what goes in, heaviest first; empty where nothing goes in
  bool compound_known = false;                  ///< the case names it
  std::optional<Date> made;                     ///< when what goes in was made; absent: nobody knows
  std::string date_code;                        ///< as read on its tag; may be empty
  std::optional<PartPast> past;                 ///< used parts: the donor, assumed where not stated
  std::string covering;                         ///< id of a covering record that is put on; may be empty
  std::optional<double> parts_cost;             ///< in the currency of the case
  std::optional<Minutes> minutes;
  std::optional<double> lead_days;
  std::string note;
};

/// What the owner's money and time are worth, for choosing a remedy.
struct Costs {
  std::optional<double> per_minute;  ///< of work, in the currency of the case; absent: the model's
  std::optional<double> stop;        ///< a stop on the road, in the currency of the case; absent: the model's
  Years horizon{10.0};
  double discount_per_year = 0.0;  ///< share
};

struct Case {
  std::string title, note, currency;
  std::string signed_by;  ///< who answers for the inspection; empty where nobody is named
  bool invented = false;  ///< a scenario of our own making
  Date built;
  Date entered_service;
  Date inspected;
  std::string region;
  std::optional<double> odometer_km;
  std::vector<ServicePeriod> service;  ///< in order of time, not overlapping
  FutureUse future;
  std::vector<Loom> looms;
  std::vector<Lot> lots;
  std::vector<Node> nodes;
  std::vector<Segment> segments;
  std::vector<Measured> measured;  ///< in the order of the case
  std::vector<Finding> findings;   ///< in the order of the case
  Openings openings;
  std::vector<Circuit> circuits;  ///< in the order of the case
  std::vector<Remedy> remedies;   ///< in the order of the case
  Costs costs;
  std::vector<Prediction> predictions;  ///< in the order of the case
  std::vector<Assumption> assumptions;  ///< what the reader had to assume, and what the case itself lists as assumed
  std::vector<std::string> unused;      ///< parts of the case that this version records but does not compute with
};

/// The element with that id, or null.
template <class Element>
[[nodiscard]] const Element* find_by_id(const std::vector<Element>& elements, const std::string& id) {
  for (const Element& element : elements) {
    if (element.id == id) return &element;
  }
  return nullptr;
}

/// The place of the element with that id in the list; its size where there is none.
template <class Element>
[[nodiscard]] std::size_t number_by_id(const std::vector<Element>& elements, const std::string& id) {
  const Element* found = find_by_id(elements, id);
  return found == nullptr ? elements.size() : static_cast<std::size_t>(found - elements.data());
}

}  // namespace heatside::casefile
