#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/text.hpp"
#include "casefile/dates.hpp"
#include "casefile/insulations.hpp"
#include "casefile/remedies.hpp"

namespace heatside::casefile {

namespace {

using library::RemedyAct;

bool puts_wire_in(RemedyAct act) { return act != RemedyAct::leave && act != RemedyAct::cover; }
bool takes_whole_looms(RemedyAct act) {
  return act == RemedyAct::rebuild || act == RemedyAct::used_part || act == RemedyAct::new_part;
}

bool belongs(std::string_view key, RemedyAct act) {
  if (key == "donor") return act == RemedyAct::used_part;
  if (key == "loom" || key == "segments" || key == "covering") return act != RemedyAct::leave;
  return puts_wire_in(act);
}

// Keys that some kinds have and others do not.
void refuse_foreign(Fields& fields, const std::string& kind, RemedyAct act) {
  constexpr std::array<std::string_view, 7> keys{"loom", "segments", "insulation", "made", "date_code", "donor", "covering"};
  for (const std::string_view key : keys) {
    if (fields.find(key) != nullptr && !belongs(key, act)) {
      fields.complain(key, fmt::format("does not belong to the kind \"{}\"; leave it out", kind));
    }
  }
}

std::vector<std::string> segments_of_loom(const std::string& loom, const Reading& reading) {
  std::vector<std::string> ids;
  for (const Segment& segment : reading.result.segments) {
    if (loom.empty() || segment.loom == loom) ids.push_back(segment.id);
  }
  return ids;
}

std::vector<std::string> in_order_of_case(const std::vector<std::string>& ids, const Reading& reading) {
  std::vector<std::string> sorted;
  for (const Segment& segment : reading.result.segments) {
    if (std::find(ids.begin(), ids.end(), segment.id) != ids.end()) sorted.push_back(segment.id);
  }
  return sorted;
}

std::vector<std::string> read_covered(Fields& fields, RemedyAct act, Reading& reading) {
  const Json* list = fields.find("segments");
  if (list != nullptr && fields.has("loom")) {
    fields.complain("", "\"loom\" and \"segments\" say the same thing twice; keep one");
    return {};
  }
  if (list != nullptr && list->is_array() && list->empty()) {
    fields.complain("segments", "the list is empty: a remedy covers at least one segment");
    return {};
  }
  if (list != nullptr) return in_order_of_case(read_segment_ids(fields, reading), reading);
  if (fields.has("loom")) {
    const auto loom = read_reference(fields, "loom", "loom", reading.looms);
    return loom ? segments_of_loom(reading.result.looms[*loom].id, reading) : std::vector<std::string>{};
  }
  if (!takes_whole_looms(act)) {
    fields.complain("", "\"segments\" is missing: which segments does it cover? All of one loom: \"loom\"");
    return {};
  }
  if (reading.result.looms.size() > 1) {
    reading.assume(fields.pointer("loom"), "it replaces every loom of the case; name the \"loom\" if it is one of them");
  }
  return segments_of_loom("", reading);
}

// Work on the wires themselves; a whole loom with its plugs is for the maker's procedure too, but nobody cuts into it.
void refuse_airbag_work(Fields& fields, const Remedy& remedy, RemedyAct act, const Reading& reading) {
  if (act != RemedyAct::cover && act != RemedyAct::branches && act != RemedyAct::rewire) return;
  std::vector<std::string> ids;
  for (const Segment& segment : reading.result.segments) {
    const auto place = std::find(remedy.segments.begin(), remedy.segments.end(), segment.id);
    if (segment.airbag && place != remedy.segments.end()) ids.push_back(segment.id);
  }
  if (ids.empty()) return;
  fields.complain(
      fields.has("loom") ? "loom" : "segments",
      fmt::format("airbag or belt-tensioner circuits run in {}: nobody works on them but a licensed practice, by "
                  "the maker's procedure; name the other segments",
                  join(ids)));
}

void read_make(Fields& fields, Remedy& remedy, RemedyAct act, Reading& reading) {
  remedy.made = read_optional_date(fields, "made", reading);
  remedy.date_code = fields.optional_text("date_code").value_or("");
  if (act == RemedyAct::used_part && remedy.made && reading.inspected && certainly_after(*remedy.made, *reading.inspected)) {
    fields.complain("made", fmt::format("a used part made at {}, after the inspection at {}",
                                        format_date_as_known(*remedy.made), format_date_as_known(*reading.inspected)));
    remedy.made.reset();
  }
  if (fields.has("made")) return;
  if (act == RemedyAct::new_part) {
    reading.assume(fields.pointer("made"),
                   "nobody knows when the new part was made; read the date code on its tag before it is bought");
  } else if (act == RemedyAct::used_part) {
    reading.assume(fields.pointer("made"),
                   "nobody knows when the used part was made; read the date code on its tag before it is bought");
  }
}

// What is not dated is as old as the vehicle when it is used, and made for the work otherwise.
std::optional<Origin> origin_of(const Remedy& remedy, RemedyAct act, const Reading& reading) {
  const std::optional<Date>& likely = act == RemedyAct::used_part ? reading.built : reading.inspected;
  if (reading.result.region.empty() || (!remedy.made && !likely)) return std::nullopt;
  return Origin{reading.result.region, remedy.made ? *remedy.made : *likely};
}

void read_compound(Fields& fields, Remedy& remedy, RemedyAct act, Reading& reading) {
  const std::optional<Origin> origin = origin_of(remedy, act, reading);
  if (fields.has("insulation")) {
    remedy.candidates = read_insulation(fields, origin, reading);
    remedy.compound_known = remedy.candidates.size() == 1 && *fields.find("insulation") != "unknown";
  } else if (act != RemedyAct::used_part && act != RemedyAct::new_part) {
    fields.complain("", fmt::format("\"insulation\" is missing: of which compound is the new wire? allowed: {}, \"unknown\" "
                                    "or an object with \"candidates\"",
                                    join(library::ids_of(reading.library.insulations))));
  } else if (origin) {
    remedy.candidates = candidates_of_era(*origin, fields.pointer("insulation"), reading);
  }
}

void read_covering(Fields& fields, Remedy& remedy, RemedyAct act, const Reading& reading) {
  if (fields.find("covering") != nullptr) {
    remedy.covering = read_record_id(fields, "covering", "covering", reading.library.coverings);
  } else if (act == RemedyAct::cover) {
    fields.complain("", fmt::format("\"covering\" is missing: what is put on? allowed: {}",
                                    join(library::ids_of(reading.library.coverings))));
  }
}

void read_what_it_does(Fields& fields, Remedy& remedy, RemedyAct act, Reading& reading) {
  refuse_foreign(fields, remedy.kind, act);
  if (act == RemedyAct::leave) return;
  remedy.segments = read_covered(fields, act, reading);
  refuse_airbag_work(fields, remedy, act, reading);
  read_covering(fields, remedy, act, reading);
  if (!puts_wire_in(act)) return;
  read_make(fields, remedy, act, reading);
  read_compound(fields, remedy, act, reading);
  if (act == RemedyAct::used_part) remedy.past = read_donor(fields, {remedy.made, reading.inspected}, reading);
}

Remedy read_remedy(Fields fields, Ids& taken, std::size_t index, Reading& reading) {
  Remedy remedy;
  remedy.pointer = fields.pointer();
  remedy.id = read_id(fields, taken, index);
  remedy.name = read_name(fields, remedy.id);
  remedy.kind = read_record_id(fields, "kind", "kind of remedy", reading.library.remedies);
  remedy.parts_cost = read_money(fields, "parts_cost", {0.0, 1.0e9, ""}, reading);
  if (const auto time = fields.optional_number("minutes", {0.0, 1.0e5, "min"})) remedy.minutes = Minutes{*time};
  remedy.lead_days = fields.optional_number("lead_days", {0.0, 1000.0, "d"});
  remedy.note = fields.optional_text("note").value_or("");
  const auto kind = reading.library.remedies.find(remedy.kind);
  // Without its kind nobody knows what else may stand in it.
  if (kind == reading.library.remedies.end()) return remedy;
  read_what_it_does(fields, remedy, kind->second.act, reading);
  fields.refuse_unknown();
  return remedy;
}

Costs read_costs_of(Fields fields, const Reading& reading) {
  Costs costs;
  costs.per_minute = read_money(fields, "per_minute", {0.001, 1.0e6, ""}, reading);
  costs.stop = read_money(fields, "stop", {0.0, 1.0e9, ""}, reading);
  costs.horizon = Years{fields.optional_number("horizon_years", {1.0, 50.0, "a"}).value_or(costs.horizon.value())};
  costs.discount_per_year = fields.optional_number("discount_percent", {0.0, 30.0, "%"}).value_or(0.0) / 100.0;
  fields.optional_text("note");
  fields.refuse_unknown();
  return costs;
}

}  // namespace

void read_remedies(Fields& top, Reading& reading) {
  const std::vector<Fields> remedies = top.optional_objects("remedies");
  Ids taken;
  for (std::size_t i = 0; i < remedies.size(); ++i) {
    reading.result.remedies.push_back(read_remedy(remedies[i], taken, i, reading));
  }
}

void read_costs(Fields& top, Reading& reading) {
  if (auto costs = top.optional_object("costs")) reading.result.costs = read_costs_of(*costs, reading);
}

}  // namespace heatside::casefile
