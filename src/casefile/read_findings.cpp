#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "casefile/dates.hpp"
#include "casefile/findings.hpp"

namespace heatside::casefile {

namespace {

using library::Seen;

template <std::size_t count>
std::vector<std::string> words(const std::array<std::string_view, count>& names) {
  return {names.begin(), names.end()};
}

template <class Word, std::size_t count>
Word word_named(const std::array<std::string_view, count>& names, std::string_view name) {
  return static_cast<Word>(std::find(names.begin(), names.end(), name) - names.begin());
}

// What a finding is about, as far as the case has it.
struct Place {
  const Segment* segment = nullptr;
  const Loom* loom = nullptr;
};

const Loom* loom_of(const std::string& id, const Reading& reading) {
  return reading.looms_are_sound ? find_by_id(reading.result.looms, id) : nullptr;
}

const Segment* read_segment_of(Fields& fields, Finding& finding, Reading& reading) {
  if (fields.find("segment") == nullptr) return nullptr;
  const auto place = read_reference(fields, "segment", "segment", reading.segments);
  if (!place || *place >= reading.result.segments.size()) return nullptr;
  const Segment& segment = reading.result.segments[*place];
  finding.segment = segment.id;
  return &segment;
}

void read_stretch_of(Fields& fields, Finding& finding, const Segment* segment) {
  if (fields.find("stretch") == nullptr) return;
  finding.stretch = fields.text("stretch");
  if (segment == nullptr || finding.stretch.empty() || find_by_id(segment->stretches, finding.stretch) != nullptr) return;
  std::vector<std::string> ids;
  for (const Stretch& stretch : segment->stretches) ids.push_back(stretch.id);
  fields.complain("stretch", unknown_word("stretch", finding.stretch, ids));
}

std::vector<std::string> lots_of(const Segment& segment) {
  std::vector<std::string> ids;
  for (const WireGroup& group : segment.groups) {
    if (!group.lot.empty() && std::find(ids.begin(), ids.end(), group.lot) == ids.end()) ids.push_back(group.lot);
  }
  return ids;
}

void read_lot_of(Fields& fields, Finding& finding, const Segment* segment, Reading& reading) {
  if (fields.find("lot") == nullptr) return;
  if (!read_reference(fields, "lot", "lot", reading.lots)) return;
  finding.lot = fields.text("lot");
  if (segment == nullptr) return;
  const std::vector<std::string> lots = lots_of(*segment);
  if (std::find(lots.begin(), lots.end(), finding.lot) != lots.end()) return;
  fields.complain("lot", fmt::format("the segment {} has no wires of the lot \"{}\"; its lots: {}", segment->id, finding.lot,
                                     join(lots)));
}

Place read_place(Fields& fields, Finding& finding, Reading& reading) {
  const Segment* segment = read_segment_of(fields, finding, reading);
  read_stretch_of(fields, finding, segment);
  read_lot_of(fields, finding, segment, reading);
  if (!fields.has("segment")) {
    if (!fields.has("lot")) fields.complain("", "\"segment\" is missing; only clues may name a \"lot\" instead");
    if (fields.has("stretch")) fields.complain("stretch", "a stretch needs its \"segment\"");
  }
  if (segment != nullptr) return {segment, loom_of(segment->loom, reading)};
  const Lot* lot = find_by_id(reading.result.lots, finding.lot);
  return {nullptr, lot == nullptr ? nullptr : loom_of(lot->loom, reading)};
}

// A look may come after the day that the case starts from, but not before there was something to look at.
void read_day(Fields& fields, Finding& finding, const Place& place, Reading& reading) {
  const std::optional<Date> on = read_optional_date(fields, "on", reading);
  if (!fields.has("on")) {
    reading.assume(fields.pointer("on"), "found on the day of the inspection; write the day");
  }
  finding.on = on.value_or(reading.inspected.value_or(Date{}));
  if (!on) return;
  if (reading.built && certainly_after(*reading.built, *on)) {
    fields.complain("on", fmt::format("{} is before the vehicle was built at {}", format_date_as_known(*on),
                                      format_date_as_known(*reading.built)));
  } else if (place.loom != nullptr && certainly_after(place.loom->made, *on)) {
    fields.complain("on", fmt::format("{} is before the loom {} was made at {}", format_date_as_known(*on), place.loom->id,
                                      format_date_as_known(place.loom->made)));
  }
}

// Any day between the fitting and the look.
Date some_day_until(const Date& found, const Loom* loom) {
  if (loom == nullptr || loom->fitted.day > found.day) return found;
  return {loom->fitted.day + (found.day - loom->fitted.day) / 2, loom->fitted.day, found.day};
}

void read_alteration(Fields& fields, Finding& finding, const Place& place, Reading& reading) {
  std::optional<Date> stated = read_optional_date(fields, "altered_on", reading);
  if (finding.seen != Seen::altered) {
    if (fields.has("altered_on")) fields.complain("altered_on", "belongs to what was seen as \"altered\" alone");
    return;
  }
  if (!fields.has("altered_on")) {
    reading.assume(fields.pointer("altered_on"),
                   "when it was repaired is not known: any day since the loom was fitted; look for an invoice or a date on "
                   "the tape");
  }
  finding.altered_on = stated.value_or(some_day_until(finding.on, place.loom));
  if (!stated) return;
  if (certainly_after(*stated, finding.on)) {
    fields.complain("altered_on", fmt::format("altered after it was found ({} is after {})", format_date_as_known(*stated),
                                              format_date_as_known(finding.on)));
  } else if (place.loom != nullptr && certainly_after(place.loom->fitted, *stated)) {
    fields.complain("altered_on", fmt::format("{} is before the loom {} was fitted at {}", format_date_as_known(*stated),
                                              place.loom->id, format_date_as_known(place.loom->fitted)));
  }
}

void read_seen(Fields& fields, Finding& finding) {
  const std::vector<std::string> allowed = words(library::seen_names);
  if (const auto word = fields.optional_choice("seen", allowed)) {
    finding.seen = word_named<Seen>(library::seen_names, *word);
  }
}

void read_clues(Fields& fields, Finding& finding, const Place& place, Reading& reading) {
  finding.clues = read_words(fields, "clues", "clue", ids_of(reading.library.clues), reading);
  if (finding.clues.empty() || !finding.lot.empty() || place.segment == nullptr || fields.has("lot")) return;
  const std::vector<std::string> lots = lots_of(*place.segment);
  if (lots.size() == 1) {
    finding.lot = lots.front();
  } else if (!lots.empty()) {
    fields.complain(
        "", fmt::format("\"lot\" is missing: which wires of {} do the clues speak of: {}", place.segment->id, join(lots)));
  }
}

bool nothing_is_wrong(const Finding& finding) {
  if (finding.seen) return *finding.seen == Seen::supple || *finding.seen == Seen::not_seen;
  return !finding.elongation && !(finding.bend && finding.bend->cracked);
}

void read_cause(Fields& fields, Finding& finding, Reading& reading) {
  const auto word = fields.optional_choice("cause", words(cause_names));
  if (word) {
    finding.cause = word_named<Cause>(cause_names, *word);
  } else if (finding.elongation) {
    finding.cause = Cause::heat;
    reading.assume(fields.pointer("cause"),
                   "what elongation is lost was lost to heat; write another cause where one had a part");
  } else if (nothing_is_wrong(finding)) {
    finding.cause = Cause::heat;
  } else if (finding.seen != Seen::altered) {
    reading.assume(fields.pointer("cause"),
                   fmt::format("what caused it is not known (unsure); write one of {}", join(words(cause_names))));
  }
}

Finding read_finding(Fields fields, Reading& reading) {
  Finding finding;
  finding.pointer = fields.pointer();
  const Place place = read_place(fields, finding, reading);
  read_day(fields, finding, place, reading);
  read_seen(fields, finding);
  read_alteration(fields, finding, place, reading);
  read_evidence(fields, finding, place.segment, reading);
  read_clues(fields, finding, place, reading);
  read_cause(fields, finding, reading);
  finding.signs = read_words(fields, "signs", "sign", words(sign_names), reading);
  finding.by = fields.optional_text("by").value_or("");
  finding.note = fields.optional_text("note").value_or("");
  fields.refuse_unknown();
  return finding;
}

bool speaks_of_heat(const Finding& finding) {
  return is_condition(finding.seen) && (finding.cause == Cause::heat || finding.cause == Cause::unsure);
}

bool contradict(const Finding& a, const Finding& b) {
  return speaks_of_heat(a) && speaks_of_heat(b) && a.segment == b.segment && a.stretch == b.stretch && a.lot == b.lot &&
         a.on == b.on && *a.seen != *b.seen;
}

std::string_view name_of(Seen seen) { return library::seen_names[static_cast<std::size_t>(seen)]; }

// Two people may see the same place in two ways: neither is thrown away.
void list_contradictions(Reading& reading) {
  const std::vector<Finding>& findings = reading.result.findings;
  for (std::size_t later = 1; later < findings.size(); ++later) {
    for (std::size_t earlier = 0; earlier < later; ++earlier) {
      if (!contradict(findings[earlier], findings[later])) continue;
      reading.assume(
          findings[later].pointer + "/seen",
          fmt::format("{} was seen as {} and as {} on {}: both are kept and both are weighed; take one out if it is "
                      "wrong",
                      findings[later].segment, name_of(*findings[earlier].seen), name_of(*findings[later].seen),
                      format_date_as_known(findings[later].on)));
    }
  }
}

Openings read_openings_of(Fields openings, const Reading& reading) {
  Openings result;
  result.allowed = openings.optional_count("allowed", 0, 1000);
  result.cost_limit = read_money(openings, "cost_limit", {0.0, 1.0e9, ""}, reading);
  result.consent = openings.optional_flag("consent").value_or(false);
  openings.optional_text("note");
  openings.refuse_unknown();
  return result;
}

}  // namespace

void read_findings(Fields& top, Reading& reading) {
  const std::vector<Fields> findings = top.optional_objects("findings");
  for (const Fields& fields : findings) reading.result.findings.push_back(read_finding(fields, reading));
  if (reading.problems.empty()) list_contradictions(reading);
}

void read_openings(Fields& top, Reading& reading) {
  if (auto openings = top.optional_object("openings")) reading.result.openings = read_openings_of(*openings, reading);
}

}  // namespace heatside::casefile
