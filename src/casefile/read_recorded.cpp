#include <fmt/format.h>

#include <algorithm>

#include "casefile/findings.hpp"
#include "casefile/remedies.hpp"

/// Symptoms, which are checked and kept in the file but do not enter the estimate; and what was found out and is thought of.

namespace heatside::casefile {

namespace {

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

}  // namespace

void read_recorded(Fields& top, Reading& reading) {
  std::vector<std::string>& unused = reading.result.unused;
  if (auto symptoms = top.optional_object("symptoms")) {
    read_symptoms(*symptoms, reading);
    unused.emplace_back("symptoms: recorded, they do not move this estimate; an engine can run well on a brittle loom");
  }
  read_circuits(top, reading);
  read_findings(top, reading);
  read_openings(top, reading);
  read_remedies(top, reading);
  read_costs(top, reading);
  read_logs(top, reading);
  reading.result.signed_by = top.optional_text("signed_by").value_or("");
}

}  // namespace heatside::casefile
