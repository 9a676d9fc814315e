#include <fmt/format.h>

#include <algorithm>

#include "casefile/dates.hpp"
#include "casefile/reading.hpp"

/// The parts of a case that are checked and kept in the file but do not enter the estimate.

namespace heatside::casefile {

namespace {

std::vector<std::string> running_states_and(std::vector<std::string> others) {
  std::vector<std::string> states{library::running_state_names.begin(), library::running_state_names.end()};
  states.insert(states.end(), others.begin(), others.end());
  return states;
}

void read_texts(Fields& fields, std::string_view key, Reading& reading) {
  const Json* texts = fields.find(key);
  if (texts == nullptr) return;
  if (!texts->is_array()) {
    fields.complain(key, fmt::format("expected an array of texts, found {}", describe_type(*texts)));
    return;
  }
  for (std::size_t i = 0; i < texts->size(); ++i) {
    const Json& text = (*texts)[i];
    if (text.is_string() && !text.get_ref<const std::string&>().empty()) continue;
    reading.complain(child_pointer(fields.pointer(key), i),
                     fmt::format("expected a text that is not empty, found {}", describe_type(text)));
  }
}

// A look cannot lie before the vehicle was built; it may well come after the day the case starts from.
void read_day(Fields& fields, Reading& reading) {
  const std::optional<Date> on = read_optional_date(fields, "on", reading);
  if (!on || !reading.built || !certainly_after(*reading.built, *on)) return;
  fields.complain("on", fmt::format("{} is before the vehicle was built at {}", format_date_as_known(*on),
                                    format_date_as_known(*reading.built)));
}

void finish(Fields& fields) {
  fields.optional_text("note");
  fields.refuse_unknown();
}

void read_symptoms(Fields symptoms, Reading& reading) {
  const bool misfire = symptoms.optional_flag("misfire").value_or(false);
  read_texts(symptoms, "stored_faults", reading);
  read_texts(symptoms, "blown_fuses", reading);
  const bool none = symptoms.optional_flag("none").value_or(false);
  const auto has_entries = [&](std::string_view key) {
    const Json* texts = symptoms.find(key);
    return texts != nullptr && texts->is_array() && !texts->empty();
  };
  if (none && (misfire || has_entries("stored_faults") || has_entries("blown_fuses"))) {
    symptoms.complain("none", "true, but symptoms are listed beside it");
  }
  finish(symptoms);
}

void read_circuit(Fields circuit, Ids& taken, std::size_t index, const Reading& reading) {
  read_id(circuit, taken, index);
  for (const char* key : {"function", "plug", "cavity", "colour", "splice"}) circuit.optional_text(key);
  read_optional_size(circuit, reading.library);
  circuit.optional_number("fuse_A", {0.1, 600.0, "A"});
  circuit.optional_flag("screened");
  circuit.optional_flag("twisted");
  finish(circuit);
}

void read_measured(Fields measured, Reading& reading) {
  read_reference(measured, "segment", "segment", reading.segments);
  measured.number("temperature_Cel", {-60.0, 700.0, "degC"});
  measured.number("ambient_Cel", {-60.0, 60.0, "degC"});
  const std::string state = measured.choice("state", running_states_and({"soak", "parked"}));
  if (measured.find("minutes_since_key_off") != nullptr) {
    measured.number("minutes_since_key_off", {0.0, 10080.0, "min"});
  } else if (state == "soak") {
    measured.complain("", "\"minutes_since_key_off\" is missing; a soak temperature says nothing without it");
  }
  measured.optional_choice("bonnet", {"open", "shut"});
  measured.optional_choice("instrument", {"infrared", "contact", "indicator", "logger"});
  read_day(measured, reading);
  finish(measured);
}

void read_finding(Fields finding, Reading& reading) {
  read_reference(finding, "segment", "segment", reading.segments);
  finding.choice("seen", {"supple", "stiff", "flex-cracks", "cracked", "crumbling", "not-seen", "altered"});
  finding.optional_text("method");
  finding.optional_choice("cause", {"heat", "chafe", "gnawed", "overload", "fluid", "workmanship", "unsure"});
  read_texts(finding, "signs", reading);
  read_day(finding, reading);
  finish(finding);
}

void read_openings(Fields openings, const Reading& reading) {
  openings.optional_count("allowed", 0, 1000);
  const bool has_limit = openings.optional_number("cost_limit", {0.0, 1.0e9, reading.result.currency}).has_value();
  if (has_limit && reading.result.currency.empty()) {
    openings.complain("cost_limit", "money needs a currency; write \"currency\" at the top of the case, such as \"EUR\"");
  }
  openings.optional_flag("consent");
  finish(openings);
}

}  // namespace

void read_recorded(Fields& top, Reading& reading) {
  std::vector<std::string>& unused = reading.result.unused;
  if (auto symptoms = top.optional_object("symptoms")) {
    read_symptoms(*symptoms, reading);
    unused.emplace_back("symptoms: recorded, they do not move this estimate; an engine can run well on a brittle loom");
  }
  const std::vector<Fields> circuits = top.optional_objects("circuits");
  Ids taken;
  for (std::size_t i = 0; i < circuits.size(); ++i) read_circuit(circuits[i], taken, i, reading);
  if (!circuits.empty()) unused.emplace_back("circuits: recorded, they do not move this estimate");

  const std::vector<Fields> measured = top.optional_objects("measured");
  for (const Fields& fields : measured) read_measured(fields, reading);
  if (!measured.empty())
    unused.emplace_back("measured: recorded, the temperatures do not correct the zones of this estimate");

  const std::vector<Fields> findings = top.optional_objects("findings");
  for (const Fields& fields : findings) read_finding(fields, reading);
  if (!findings.empty()) unused.emplace_back("findings: recorded, they do not move this estimate");

  if (auto openings = top.optional_object("openings")) {
    read_openings(*openings, reading);
    unused.emplace_back("openings: recorded, no opening order is worked out from them here");
  }
  top.optional_text("signed_by");
}

}  // namespace heatside::casefile
