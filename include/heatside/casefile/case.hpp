#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
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

struct Loom {
  std::string id, name;
  Date made;              ///< its own date of manufacture
  Date fitted;            ///< when it went into the vehicle: entry into service, or its replacement
  std::string date_code;  ///< as read; empty when none was
  Copper copper{};
  std::string region;  ///< where it was made: region of an era record
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
  std::optional<double> air_speed_m_per_s;
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

struct Node {
  std::string id, name;
};

struct Case {
  std::string title, note, currency;
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

}  // namespace heatside::casefile
