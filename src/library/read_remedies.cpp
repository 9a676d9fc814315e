#include <algorithm>
#include <vector>

#include "library/read_records.hpp"

/// What follows when wires fail, and what can be done about them.

namespace heatside::library {

namespace {

struct Cost {
  Sourced once, segment, wire;
};

// Parts are in minutes of work that the same money pays, so one unit serves both.
Cost read_cost(Fields& parent, std::string_view key, RecordReader& reader) {
  Fields fields = parent.object(key);
  const auto minutes = [&](std::string_view part) { return reader.number(fields, part, {"min", 0.0, 1.0e5}); };
  Cost cost{minutes("once"), minutes("segment"), minutes("wire")};
  fields.optional_text("note");
  fields.refuse_unknown();
  return cost;
}

RemedyAct read_act(Fields& fields) {
  static const std::vector<std::string> acts{remedy_act_names.begin(), remedy_act_names.end()};
  const std::string act = fields.choice("act", acts);
  return static_cast<RemedyAct>(std::find(acts.begin(), acts.end(), act) - acts.begin());
}

}  // namespace

Consequence read_consequence(Fields& fields, RecordReader& reader) {
  Consequence consequence;
  consequence.head = reader.head(fields);
  consequence.when_open = reader.text(fields, "when_open");
  consequence.when_short = reader.text(fields, "when_short");
  consequence.short_share = reader.number(fields, "short_share", {"1", 0.0, 1.0});
  consequence.stop_open = reader.number(fields, "stop_open", {"1", 0.0, 1.0});
  consequence.stop_short = reader.number(fields, "stop_short", {"1", 0.0, 1.0});
  consequence.fused = fields.flag("fused");
  consequence.never_traded = fields.flag("never_traded");
  consequence.from = reader.provenance(fields);
  if (fields.has("fused") && fields.has("never_traded") && !consequence.fused && !consequence.never_traded) {
    fields.complain("never_traded", "an unfused feed is never traded against money: write true, or \"fused\" true");
  }
  return consequence;
}

RemedyKind read_remedy(Fields& fields, RecordReader& reader) {
  RemedyKind remedy;
  remedy.head = reader.head(fields);
  remedy.act = read_act(fields);
  Cost parts = read_cost(fields, "parts", reader);
  remedy.parts = std::move(parts.once);
  remedy.parts_each = std::move(parts.segment);
  remedy.parts_wire = std::move(parts.wire);
  Cost minutes = read_cost(fields, "minutes", reader);
  remedy.minutes = std::move(minutes.once);
  remedy.minutes_each = std::move(minutes.segment);
  remedy.minutes_wire = std::move(minutes.wire);
  remedy.lead_days = reader.number(fields, "lead_days", {"d", 0.0, 1000.0});
  remedy.disturbs = reader.number(fields, "disturbs", {"1", 0.0, 5.0});
  if (remedy.act == RemedyAct::cover) remedy.prevents = reader.number(fields, "prevents", {"1", 0.0, 0.99});
  remedy.stays_in = reader.text(fields, "stays_in");
  remedy.about = reader.text(fields, "about");
  return remedy;
}

}  // namespace heatside::library
