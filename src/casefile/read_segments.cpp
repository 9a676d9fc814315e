#include <fmt/format.h>

#include <set>

#include "base/text.hpp"
#include "casefile/dates.hpp"
#include "casefile/stretches.hpp"

namespace heatside::casefile {

namespace {

std::string read_node(Fields& fields, std::string_view key, const Reading& reading) {
  const auto node = read_reference(fields, key, "node", reading.nodes);
  return node ? reading.result.nodes[*node].id : std::string{};
}

void read_load(Fields& fields, WireGroup& group, Reading& reading) {
  if (const auto current = fields.optional_number("current_A", {0.0, 600.0, "A"})) group.current = Amperes{*current};
  const std::optional<std::size_t> loaded = fields.optional_count("loaded", 1, 500);
  if (loaded && *loaded > group.count) {
    fields.complain("loaded", fmt::format("{} loaded wires in a group of {}", *loaded, group.count));
  }
  const std::optional<double> share = fields.optional_number("current_share", {0.0, 1.0, ""});
  group.loaded = loaded.value_or(group.current ? group.count : 0);
  group.current_share = share.value_or(1.0);
  if (!group.current) return;
  if (!loaded && group.count > 1) {
    reading.assume(fields.pointer("loaded"), "all wires of the group carry their current at once; write how many do");
  }
  if (!share) {
    reading.assume(fields.pointer("current_share"),
                   "the current flows all the time the engine runs; write the share that it does");
  }
}

void set_measures(WireGroup& group, const StatedWire& stated, std::size_t lot, Fields& fields, Reading& reading) {
  const Lot& of_lot = reading.result.lots[lot];
  group.size = of_lot.size;
  group.wall = of_lot.wall;
  group.outer_diameter = of_lot.outer_diameter;
  if (!fields.has("size") && !fields.has("wall")) return;
  const StatedWire wire = with_lot_values(stated, reading.lot_wires[lot], fields);
  group.size = wire.size.value_or("");
  if (const auto measures = measures_of(wire, fields, reading)) {
    group.wall = measures->wall;
    group.outer_diameter = measures->outer_diameter;
  }
}

WireGroup read_group(Fields fields, const Segment& segment, Reading& reading) {
  WireGroup group;
  const auto lot = read_reference(fields, "lot", "lot", reading.lots);
  group.count = fields.count("count", 1, 500);
  const StatedWire stated = read_stated_wire(fields, reading);
  if (lot) {
    const Lot& of_lot = reading.result.lots[*lot];
    group.lot = of_lot.id;
    set_measures(group, stated, *lot, fields, reading);
    if (!of_lot.loom.empty() && !segment.loom.empty() && of_lot.loom != segment.loom) {
      fields.complain("lot", fmt::format("the lot \"{}\" belongs to the loom \"{}\", this segment to \"{}\"", of_lot.id,
                                         of_lot.loom, segment.loom));
    }
  }
  read_load(fields, group, reading);
  group.inner = fields.optional_choice("place", {"outer", "inner"}) == "inner";
  group.function = fields.optional_text("function").value_or("");
  fields.optional_text("note");
  fields.refuse_unknown();
  return group;
}

Leak read_leak(Fields fields, Reading& reading) {
  Leak leak;
  leak.fluid = fields.choice("fluid", {"oil", "coolant"}) == "oil" ? Fluid::oil : Fluid::coolant;
  std::optional<Date> since = read_date(fields, "since", reading);
  expect_before(since, reading.inspected, fields.pointer("since"), "the leak began after the inspection", reading);
  if (since && reading.built && certainly_after(*reading.built, *since)) {
    fields.complain("since", fmt::format("the leak began at {}, before the vehicle was built at {}",
                                         format_date_as_known(*since), format_date_as_known(*reading.built)));
  }
  leak.since = since.value_or(Date{});
  fields.refuse_unknown();
  return leak;
}

void read_place(Fields& fields, Segment& segment, const Reading& reading) {
  if (const auto loom = read_reference(fields, "loom", "loom", reading.looms)) {
    segment.loom = reading.result.looms[*loom].id;
  }
  segment.from = read_node(fields, "from", reading);
  segment.to = read_node(fields, "to", reading);
  segment.length = Metres{fields.number("length_m", {0.01, 30.0, "m"})};
  if (const auto radius = fields.optional_number("route_radius_mm", {1.0, 500.0, "mm"})) {
    segment.route_radius = millimetres(*radius);
  }
}

void read_access(Fields& fields, Segment& segment) {
  segment.cover_group = fields.optional_text("cover_group").value_or("");
  if (const auto time = fields.optional_number("minutes_to_open", {0.0, 6000.0, "min"})) segment.to_open = Minutes{*time};
  segment.airbag = fields.optional_flag("airbag").value_or(false);
}

Segment read_segment(Fields fields, std::size_t index, Reading& reading) {
  Segment segment;
  segment.id = read_id(fields, reading.segments, index);
  segment.name = read_name(fields, segment.id);
  segment.pointer = fields.pointer();
  read_place(fields, segment, reading);
  read_access(fields, segment);
  segment.stretches = read_stretches(fields, reading);
  for (const Fields& group : fields.objects("groups", 1)) segment.groups.push_back(read_group(group, segment, reading));
  for (const Fields& leak : fields.optional_objects("leaks")) segment.leaks.push_back(read_leak(leak, reading));
  fields.optional_text("note");
  fields.refuse_unknown();
  return segment;
}

void expect_used_looms(Reading& reading) {
  std::set<std::string> used;
  for (const Segment& segment : reading.result.segments) used.insert(segment.loom);
  for (const auto& [id, index] : reading.looms.positions) {
    if (used.count(id) == 1) continue;
    reading.complain(child_pointer("/looms", index),
                     fmt::format("the loom \"{}\" is empty: no segment belongs to it; remove "
                                 "it or give it segments",
                                 id));
  }
}

void expect_used_lots(Reading& reading) {
  std::set<std::string> used;
  for (const Segment& segment : reading.result.segments) {
    for (const WireGroup& group : segment.groups) used.insert(group.lot);
  }
  for (const auto& [id, index] : reading.lots.positions) {
    if (used.count(id) == 1) continue;
    reading.complain(child_pointer("/lots", index), "no segment uses this lot; remove it or use it");
  }
}

void list_route_radius(Reading& reading) {
  const Sourced& radius = reading.library.model.condition.route_radius;
  std::string band;
  if (radius.low && radius.high) band = fmt::format(" ({} to {})", plain_number(*radius.low), plain_number(*radius.high));
  reading.assume("/segments",
                 fmt::format("where no route_radius_mm stands, the tightest bend has an inner radius of {}{} mm; "
                             "measure it",
                             plain_number(radius.value), band),
                 radius.from.grade);
}

void list_silence(const Silence& silent, Reading& reading) {
  if (silent.route_radius) list_route_radius(reading);
  if (silent.damp) {
    reading.assume("/segments",
                   "stretches that do not say \"damp\" are dry; look for water in the conduit and at low points");
  }
  if (silent.leaks) {
    reading.assume("/segments", "segments that list no \"leaks\" have met neither oil nor coolant; look for stains");
  }
  if (silent.airbag) {
    reading.assume("/segments",
                   "segments that do not say \"airbag\" carry no airbag or belt-tensioner circuit; check it in "
                   "the wiring diagram before anything is touched");
  }
}

void note_silence(const Fields& fields, Silence& silent) {
  silent.route_radius = silent.route_radius || !fields.has("route_radius_mm");
  silent.leaks = silent.leaks || !fields.has("leaks");
  silent.airbag = silent.airbag || !fields.has("airbag");
}

}  // namespace

void read_segments(Fields& top, Reading& reading) {
  const std::size_t before = reading.problems.size();
  const std::vector<Fields> segments = read_list(top, "segments", 1, reading.segments);
  for (std::size_t i = 0; i < segments.size(); ++i) {
    note_silence(segments[i], reading.silent);
    reading.result.segments.push_back(read_segment(segments[i], i, reading));
  }
  list_silence(reading.silent, reading);
  reading.assume(
      "/segments/0/stretches/0/zone",
      "temperatures of every zone are those of the library, likely values of a general engine bay; measure one, and "
      "give the zone a record of your own");
  // A segment that could not be read may be the one that uses them.
  if (reading.problems.size() != before) return;
  expect_used_looms(reading);
  expect_used_lots(reading);
}

}  // namespace heatside::casefile
