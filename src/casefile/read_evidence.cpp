#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "casefile/findings.hpp"
#include "heatside/library/reliance.hpp"

/// What a finding rests on: the method, and the outcome that this method has.

namespace heatside::casefile {

namespace {

using library::Method;

void read_bend(Fields bend, Finding& finding, Reading& reading) {
  BendResult result;
  result.diameter = millimetres(bend.number("diameter_mm", {0.2, 1000.0, "mm"}));
  const auto temperature = bend.optional_number("temperature_Cel", {-60.0, 150.0, "degC"});
  if (!temperature) {
    reading.assume(bend.pointer("temperature_Cel"), "the tail was bent at 20 degC; write how warm it was");
  }
  result.temperature = celsius(temperature.value_or(20.0));
  result.cracked = bend.flag("cracked");
  bend.refuse_unknown();
  finding.bend = result;
}

Strain assumed_error(const library::ElongationTest& test, double percent_read) {
  return percent(std::max(test.error_share.value * percent_read, test.error_floor.value));
}

void read_elongation(Fields fields, Finding& finding, const Method* method, Reading& reading) {
  ElongationResult result;
  const double read = fields.number("percent", {0.0, 2000.0, "%"});
  result.elongation = percent(read);
  const auto error = fields.optional_number("standard_error", {0.01, 1000.0, "%"});
  const auto* test = method == nullptr ? nullptr : std::get_if<library::ElongationTest>(&method->evidence);
  if (error) {
    result.standard_error = percent(*error);
  } else if (test != nullptr) {
    result.standard_error = assumed_error(*test, read);
    reading.assume(
        fields.pointer("standard_error"),
        fmt::format("the standard error of the elongation is {} %, as the method has it; pull several samples and "
                    "write theirs",
                    plain_number(in_percent(result.standard_error), 3)),
        library::weakest_grade(*method));
  }
  fields.refuse_unknown();
  finding.elongation = result;
}

void read_resistance(Fields fields, Finding& finding, const Segment* segment) {
  finding.resistance = ResistanceResult{fields.number("MOhm", {0.0, 1.0e7, "MOhm"})};
  if (!fields.flag("both_ends_unplugged") && fields.has("both_ends_unplugged")) {
    fields.complain("both_ends_unplugged", "a reading counts only with both ends unplugged; leave it out otherwise");
  }
  if (fields.flag("control_units_attached")) {
    fields.complain("control_units_attached",
                    "a reading with a control unit attached says nothing of the wires, and may harm "
                    "the unit; leave it out");
  }
  if (segment != nullptr && segment->airbag) {
    fields.complain("", fmt::format("the segment {} carries airbag circuits: never measure on them", segment->id));
  }
  fields.refuse_unknown();
}

const Method* read_method_of(Fields& fields, Finding& finding, Reading& reading) {
  if (fields.find("method") == nullptr) return nullptr;
  finding.method = read_record_id(fields, "method", "method", reading.library.methods);
  const auto method = reading.library.methods.find(finding.method);
  return method == reading.library.methods.end() ? nullptr : &method->second;
}

void read_results(Fields& fields, Finding& finding, const Method* method, const Segment* segment, Reading& reading) {
  if (auto bend = fields.optional_object("bend")) read_bend(*bend, finding, reading);
  if (auto elongation = fields.optional_object("elongation")) read_elongation(*elongation, finding, method, reading);
  if (auto resistance = fields.optional_object("resistance")) read_resistance(*resistance, finding, segment);
}

constexpr std::array<std::string_view, 4> evidence_keys{"seen", "bend", "elongation", "resistance"};

// Each method has one sort of outcome: the words of a look, or the result of its test.
void expect_outcome_of(Fields& fields, const Method& method) {
  const std::string_view wanted = evidence_keys[method.evidence.index()];
  if (!fields.has(wanted)) {
    fields.complain("", fmt::format("\"{}\" is missing: the method {} gives it", wanted, method.head.id));
  }
  for (const std::string_view key : evidence_keys) {
    if (key == wanted || !fields.has(key)) continue;
    fields.complain(key,
                    fmt::format("the method {} gives \"{}\" and not this; make it a finding of its own, with its method",
                                method.head.id, wanted));
  }
}

void expect_evidence(Fields& fields, const Finding& finding, const Method* method, const Reading& reading) {
  const bool tested = fields.has("bend") || fields.has("elongation") || fields.has("resistance");
  if (method != nullptr && (tested || is_condition(finding.seen) || !finding.seen)) {
    expect_outcome_of(fields, *method);
  } else if (!fields.has("method") && (tested || is_condition(finding.seen))) {
    fields.complain("", fmt::format("\"method\" is missing; how was it found: {}", join(ids_of(reading.library.methods))));
  } else if (!tested && !fields.has("seen") && !fields.has("clues")) {
    fields.complain("", "a finding needs what was \"seen\", the result of a test, or \"clues\"");
  }
  if (fields.has("lot") && !fields.has("segment") && (tested || fields.has("seen"))) {
    fields.complain("", "\"segment\" is missing: where was it found?");
  }
}

}  // namespace

bool is_condition(const std::optional<library::Seen>& seen) {
  return seen && *seen != library::Seen::not_seen && *seen != library::Seen::altered;
}

void read_evidence(Fields& fields, Finding& finding, const Segment* segment, Reading& reading) {
  const Method* method = read_method_of(fields, finding, reading);
  if (method != nullptr && method->opens && segment != nullptr && segment->airbag) {
    fields.complain("method", fmt::format("the segment {} carries airbag circuits: nothing is opened, touched or cut there; "
                                          "look-boot and look-borescope only look",
                                          segment->id));
  }
  read_results(fields, finding, method, segment, reading);
  expect_evidence(fields, finding, method, reading);
}

std::vector<std::string> read_words(Fields& fields, std::string_view key, std::string_view what,
                                    const std::vector<std::string>& allowed, Reading& reading) {
  const Json* list = fields.find(key);
  if (list == nullptr) return {};
  if (!list->is_array()) {
    fields.complain(key, fmt::format("expected an array of texts, found {}", describe_type(*list)));
    return {};
  }
  std::vector<std::string> found;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const Json& entry = (*list)[i];
    const std::string pointer = child_pointer(fields.pointer(key), i);
    const std::string word = entry.is_string() ? entry.get<std::string>() : "";
    if (!entry.is_string()) {
      reading.complain(pointer, fmt::format("expected a text, found {}", describe_type(entry)));
    } else if (std::find(allowed.begin(), allowed.end(), word) == allowed.end()) {
      reading.complain(pointer, unknown_word(what, word, allowed));
    } else if (std::find(found.begin(), found.end(), word) != found.end()) {
      reading.complain(pointer, fmt::format("\"{}\" is listed twice", word));
    } else {
      found.push_back(word);
    }
  }
  return found;
}

}  // namespace heatside::casefile
