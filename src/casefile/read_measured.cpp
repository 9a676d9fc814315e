#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "casefile/dates.hpp"
#include "casefile/logger_csv.hpp"
#include "casefile/measured.hpp"

namespace heatside::casefile {

namespace {

using library::RunningState;

std::optional<RunningState> running_state(std::string_view word) {
  const auto* const found = std::find(library::running_state_names.begin(), library::running_state_names.end(), word);
  if (found == library::running_state_names.end()) return std::nullopt;
  return static_cast<RunningState>(found - library::running_state_names.begin());
}

std::vector<std::string> running_states_and(std::vector<std::string> others) {
  std::vector<std::string> states{library::running_state_names.begin(), library::running_state_names.end()};
  states.insert(states.end(), others.begin(), others.end());
  return states;
}

// Degrees Fahrenheit by mistake are the usual reason for a temperature that cannot be.
Kelvin read_celsius(Fields& fields, std::string_view key, Range range) {
  const Json* member = fields.find(key);
  if (member != nullptr && member->is_number() && member->get<double>() > range.high) {
    const double value = member->get<double>();
    fields.complain(key, fmt::format("{} degC is outside the range; allowed: {} to {} degC{}", plain_number(value, 10),
                                     plain_number(range.low), plain_number(range.high), fahrenheit_hint(value)));
    return celsius(range.low);
  }
  return celsius(fields.number(key, range));
}

Kelvin read_temperature(Fields& fields) {
  return read_celsius(fields, "temperature_Cel", {least_measured_Cel, most_measured_Cel, "degC"});
}

void refuse(Fields& fields, std::string_view key, std::string_view why) {
  if (fields.find(key) != nullptr) fields.complain(key, fmt::format("\"{}\" {}", key, why));
}

// The longest stretch, the first of equals.
const Stretch& longest_stretch(const Segment& segment) {
  return *std::max_element(segment.stretches.begin(), segment.stretches.end(),
                           [](const Stretch& a, const Stretch& b) { return a.share < b.share; });
}

std::vector<std::string> ids_of_stretches(const Segment& segment) {
  std::vector<std::string> ids;
  for (const Stretch& stretch : segment.stretches) ids.push_back(stretch.id);
  return ids;
}

std::string read_stretch_of(Fields& fields, const Segment& segment, Reading& reading) {
  if (segment.stretches.empty()) return {};
  if (fields.find("stretch") != nullptr) {
    std::string id = fields.text("stretch");
    if (id.empty() || find_by_id(segment.stretches, id) != nullptr) return id;
    fields.complain("stretch", unknown_word("stretch", id, ids_of_stretches(segment)));
    return {};
  }
  const Stretch& longest = longest_stretch(segment);
  if (segment.stretches.size() > 1) {
    reading.assume(fields.pointer("stretch"),
                   fmt::format("measured at the longest stretch of {}, {} in {}; write which one: {}", segment.id,
                               longest.id, longest.zone, join(ids_of_stretches(segment))));
  }
  return longest.id;
}

void read_place(Fields& fields, Measured& measured, Reading& reading) {
  const auto place = read_reference(fields, "segment", "segment", reading.segments);
  if (!place || *place >= reading.result.segments.size()) {
    fields.find("stretch");
    return;
  }
  const Segment& segment = reading.result.segments[*place];
  measured.segment = segment.id;
  measured.stretch = read_stretch_of(fields, segment, reading);
}

// A measurement cannot lie before the vehicle was built; it may well come after the day the case starts from.
void read_day_of(Fields& fields, Measured& measured, Reading& reading) {
  measured.on = read_optional_date(fields, "on", reading);
  if (!measured.on || !reading.built || !certainly_after(*reading.built, *measured.on)) return;
  fields.complain("on", fmt::format("{} is before the vehicle was built at {}", format_date_as_known(*measured.on),
                                    format_date_as_known(*reading.built)));
}

Instrument instrument_named(std::string_view word) {
  if (word == "contact") return Instrument::contact;
  if (word == "indicator") return Instrument::indicator;
  return word == "logger" ? Instrument::logger : Instrument::infrared;
}

// Read by hand, it takes an open bonnet to get there; what is left in place can stay under a shut one.
bool assumed_open(Instrument instrument) { return instrument == Instrument::infrared || instrument == Instrument::contact; }

void read_bonnet(Fields& fields, Measured& measured, Reading& reading) {
  if (const auto stated = fields.optional_choice("bonnet", {"open", "shut"})) {
    measured.bonnet_open = *stated == "open";
    return;
  }
  measured.bonnet_open = assumed_open(measured.instrument);
  reading.assume(fields.pointer("bonnet"),
                 measured.bonnet_open ? "the bonnet (hood) was open while this was measured, which cools; write open or shut"
                                      : "the bonnet (hood) was shut while this was measured; write open or shut");
}

void read_instrument(Fields& fields, Measured& measured, Reading& reading) {
  const auto stated = fields.optional_choice("instrument", {"infrared", "contact", "indicator", "logger"});
  measured.instrument = instrument_named(stated.value_or("infrared"));
  if (!stated) {
    reading.assume(fields.pointer("instrument"),
                   "measured by infrared, the weakest; write infrared, contact, indicator or logger");
  }
  measured.shiny = fields.optional_flag("shiny").value_or(false);
  if (measured.shiny && measured.instrument != Instrument::infrared) {
    fields.complain("shiny", "only an infrared instrument is misled by a shiny surface; leave it out");
  }
}

std::optional<Minutes> read_minutes(Fields& fields, std::string_view key, Range range) {
  const auto value = fields.optional_number(key, range);
  return value ? std::optional{Minutes{*value}} : std::nullopt;
}

PeakReading read_peak(Fields& fields, const Measured& measured) {
  if (fields.has("instrument") && measured.instrument != Instrument::indicator) {
    fields.complain("instrument",
                    "the state \"peak\" is what an indicator shows; write \"indicator\", or give the logger's "
                    "\"file\"");
  }
  for (const char* key : {"minutes_since_key_off", "minutes_running"}) {
    refuse(fields, key, "says nothing about the highest temperature of many; leave it out");
  }
  return {read_temperature(fields), fields.optional_number("days", {0.01, 36525.0, "d"})};
}

SpotReading read_spot(Fields& fields, const std::string& state, const Measured& measured) {
  SpotReading spot;
  spot.temperature = read_temperature(fields);
  spot.running = running_state(state);
  const Range day{0.0, 1440.0, "min"}, week{0.0, 10080.0, "min"};
  if (spot.running) {
    refuse(fields, "minutes_since_key_off", "goes with the states soak and parked; leave it out while running");
    spot.since_key_on = read_minutes(fields, "minutes_running", day);
  } else {
    refuse(fields, "minutes_running", "goes with a running state; leave it out when the engine stood");
    spot.since_key_off = read_minutes(fields, "minutes_since_key_off", week);
    if (state == "soak" && !fields.has("minutes_since_key_off")) {
      fields.complain("", "\"minutes_since_key_off\" is missing; a soak temperature says nothing without it");
    }
  }
  if (fields.has("instrument") && measured.instrument == Instrument::indicator) {
    fields.complain("instrument", "an indicator keeps the highest temperature; write \"state\": \"peak\"");
  }
  refuse(fields, "days", "goes with the state peak; leave it out");
  return spot;
}

bool is_beside(const std::string& name) {
  if (name.front() == '/' || name.find('\\') != std::string::npos || name.find(':') != std::string::npos) return false;
  for (std::size_t from = 0; from <= name.size();) {
    const std::size_t slash = std::min(name.find('/', from), name.size());
    const std::string part = name.substr(from, slash - from);
    if (part.empty() || part == "." || part == "..") return false;
    from = slash + 1;
  }
  return true;
}

std::vector<LoggedTemperature> read_rows(Fields& fields, const std::string& name, const ReadBeside& read_beside,
                                         Reading& reading) {
  if (name.empty()) return {};
  if (!is_beside(name)) {
    fields.complain("file", fmt::format("\"{}\" does not lie beside the case; allowed: the name of a file in the case's "
                                        "folder or below it, with forward slashes, no \"..\"",
                                        name));
    return {};
  }
  const std::optional<std::string> text = read_beside ? read_beside(name) : std::nullopt;
  if (!text) {
    fields.complain("file", fmt::format("{} is not there or cannot be read; expected a CSV file beside the case", name));
    return {};
  }
  LoggerTable table = read_logger_csv(*text);
  for (const std::string& fault : table.faults) fields.complain("file", fmt::format("{}, {}", name, fault));
  for (const std::string& remark : table.remarks) {
    reading.assume(fields.pointer("file"), fmt::format("{}: {}", name, remark));
  }
  return table.faults.empty() ? std::move(table.rows) : std::vector<LoggedTemperature>{};
}

// Before a cold start and without a time of driving or soak, a file tells nothing.
void expect_rows_of_use(Fields& fields, const LoggerReading& logger) {
  if (logger.key_on && logger.key_off && *logger.key_on >= *logger.key_off) {
    fields.complain("key_off_min", fmt::format("key-off at {} min does not come after key-on at {} min",
                                               plain_number(logger.key_off->value()), plain_number(logger.key_on->value())));
    return;
  }
  if (logger.rows.empty() || !logger.key_on || logger.rows.back().at > *logger.key_on) return;
  fields.complain("key_on_min",
                  fmt::format("no row comes after key-on at {} min; the last one is at {} min",
                              plain_number(logger.key_on->value()), plain_number(logger.rows.back().at.value())));
}

RunningState read_driving(Fields& fields, const LoggerReading& logger, Reading& reading) {
  const auto stated = fields.optional_choice("state", running_states_and({}));
  if (stated) return running_state(*stated).value_or(RunningState::city);
  if (!logger.key_on && !logger.key_off) {
    fields.complain("", "\"state\" is missing; write how the engine ran, or \"key_on_min\" and \"key_off_min\"");
  } else {
    reading.assume(fields.pointer("state"), "the drive of the logger's file was in town; write cruise, city, idle or hill");
  }
  return RunningState::city;
}

LoggerReading read_logger(Fields& fields, Measured& measured, const ReadBeside& read_beside, Reading& reading) {
  LoggerReading logger;
  measured.instrument = Instrument::logger;
  (void)fields.optional_choice("instrument", {"logger"});
  for (const char* key : {"temperature_Cel", "minutes_since_key_off", "minutes_running", "days", "shiny"}) {
    refuse(fields, key, "comes with a single reading; a logger's file has its own temperatures and times");
  }
  logger.file = fields.text("file");
  const Range range{-14400.0, 1.0e9, "min"};
  logger.key_on = read_minutes(fields, "key_on_min", range);
  logger.key_off = read_minutes(fields, "key_off_min", range);
  logger.driving = read_driving(fields, logger, reading);
  logger.rows = read_rows(fields, logger.file, read_beside, reading);
  expect_rows_of_use(fields, logger);
  return logger;
}

void read_single(Fields& fields, Measured& measured, Reading& reading) {
  const std::size_t before = reading.problems.size();
  const std::string state = fields.choice("state", running_states_and({"soak", "parked", "peak"}));
  const bool state_known = reading.problems.size() == before;
  if (state == "peak" && !fields.has("instrument")) {
    fields.complain("", "\"instrument\" is missing; the state \"peak\" is what an indicator shows");
  }
  read_instrument(fields, measured, reading);
  for (const char* key : {"key_on_min", "key_off_min"})
    refuse(fields, key, "goes with the \"file\" of a logger; leave it out");
  if (!state_known) {
    // What goes with it cannot be told.
    for (const char* key : {"minutes_since_key_off", "minutes_running", "days"}) fields.find(key);
    (void)read_temperature(fields);
  } else if (state == "peak") {
    measured.reading = read_peak(fields, measured);
  } else {
    measured.reading = read_spot(fields, state, measured);
  }
}

Measured read_one(Fields fields, const ReadBeside& read_beside, Reading& reading) {
  Measured measured;
  measured.pointer = fields.pointer();
  read_place(fields, measured, reading);
  measured.ambient = read_celsius(fields, "ambient_Cel", {-60.0, 60.0, "degC"});
  if (fields.find("file") != nullptr) {
    measured.reading = read_logger(fields, measured, read_beside, reading);
  } else {
    read_single(fields, measured, reading);
  }
  read_bonnet(fields, measured, reading);
  read_day_of(fields, measured, reading);
  fields.optional_text("note");
  fields.refuse_unknown();
  return measured;
}

}  // namespace

void read_measured(Fields& top, Reading& reading, const ReadBeside& read_beside) {
  for (const Fields& fields : top.optional_objects("measured")) {
    reading.result.measured.push_back(read_one(fields, read_beside, reading));
  }
}

}  // namespace heatside::casefile
