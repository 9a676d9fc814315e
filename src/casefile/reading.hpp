#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/fields.hpp"
#include "casefile/wire.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"

namespace heatside::casefile {

/// Ids of a list with their positions in it.
struct Ids {
  std::map<std::string, std::size_t> positions{};
  bool complete = true;  ///< false when an entry has no usable id: one that is not found may be that one
};

/// What the segments leave open. Each is one assumption for the whole case.
struct Silence {
  bool route_radius = false;
  bool damp = false;
  bool leaks = false;
  bool airbag = false;
};

/// What one reading of a case gathers on its way.
struct Reading {
  const library::Library& library;
  const Json& document;
  const std::string& file;
  std::vector<Problem> problems{};
  Case result{};

  // Absent while they are not known to be right, so that one wrong date is reported once.
  std::optional<Date> built{}, entered_service{}, inspected{};

  Ids looms{}, lots{}, nodes{}, segments{};
  bool looms_are_sound = false;
  std::vector<StatedWire> lot_wires{};  ///< in the order of the lots
  Silence silent{};

  void complain(std::string pointer, std::string message);
  void assume(std::string pointer, std::string text, Grade grade = Grade::judgement);
};

// The parts of a case, in the order in which they are read. Each notes its problems in `reading`.
void read_vehicle(Fields& top, Reading& reading);
void read_service(Fields& top, Reading& reading);
void read_looms(Fields& top, Reading& reading);
void read_lots(Fields& top, Reading& reading);
void read_segments(Fields& top, Reading& reading);
void read_recorded(Fields& top, Reading& reading);
void read_assumed(Fields& top, Reading& reading, std::vector<Assumption>& listed);

/// The elements of a list whose ids others name.
std::vector<Fields> read_list(Fields& top, std::string_view key, std::size_t at_least, Ids& ids);

/// The object's `id`: well formed and not yet taken. Empty when it is wrong.
std::string read_id(Fields& fields, Ids& taken, std::size_t index);

/// `name`, or the id where there is none.
std::string read_name(Fields& fields, const std::string& id);

/// Position of the id that a member names; unknown is a problem, unless the list itself has one.
std::optional<std::size_t> read_reference(Fields& fields, std::string_view key, std::string_view what, const Ids& ids);

/// The id of a library record that a member names; empty when it is unknown.
template <class Record>
std::string read_record_id(Fields& fields, std::string_view key, std::string_view what,
                           const std::map<std::string, Record>& records) {
  std::string id = fields.text(key);
  if (id.empty() || records.count(id) == 1) return id;
  fields.complain(key, unknown_word(what, id, library::ids_of(records)));
  return {};
}

/// A date that can be relied on: absent when the text is malformed or, where that is allowed, missing.
std::optional<Date> read_date(Fields& fields, std::string_view key, Reading& reading);
std::optional<Date> read_optional_date(Fields& fields, std::string_view key, Reading& reading);

/// A number above 0 and at most 1.
double read_share(Fields& fields, std::string_view key);

/// Complains at `pointer` unless the parts sum to 1 within 1e-6; otherwise scales the last digits away.
void expect_whole(std::vector<double>& parts, const std::string& pointer, std::string_view what, Reading& reading);

/// An amount of money in the currency of the case; without a currency it is a problem.
std::optional<double> read_money(Fields& fields, std::string_view key, Range range, const Reading& reading);

/// One number for each running state, all of them stated.
std::array<double, 4> read_by_running_state(Fields fields, Range range);

}  // namespace heatside::casefile
