#include "casefile/insulations.hpp"

namespace heatside::casefile {

namespace {

void read_wire_of_lot(Fields& fields, Lot& lot, Reading& reading) {
  fields.require("size");
  fields.require("wall");
  const StatedWire wire = read_stated_wire(fields, reading);
  reading.lot_wires.push_back(wire);
  lot.size = wire.size.value_or("");
  if (const auto measures = measures_of(wire, fields, reading)) {
    lot.wall = measures->wall;
    lot.outer_diameter = measures->outer_diameter;
  }
}

Lot read_lot(Fields fields, std::size_t index, Reading& reading) {
  Lot lot;
  lot.id = read_id(fields, reading.lots, index);
  lot.name = read_name(fields, lot.id);
  const auto loom = read_reference(fields, "loom", "loom", reading.looms);
  if (loom) lot.loom = reading.result.looms[*loom].id;
  std::optional<Origin> origin;
  if (loom && reading.looms_are_sound) origin = Origin{reading.result.looms[*loom].region, reading.result.looms[*loom].made};
  lot.candidates = read_insulation(fields, origin, reading);
  lot.compound_known = lot.candidates.size() == 1 && fields.has("insulation") && *fields.find("insulation") != "unknown";
  read_wire_of_lot(fields, lot, reading);
  fields.optional_text("note");
  fields.refuse_unknown();
  return lot;
}

}  // namespace

void read_lots(Fields& top, Reading& reading) {
  const std::vector<Fields> lots = read_list(top, "lots", 1, reading.lots);
  for (std::size_t i = 0; i < lots.size(); ++i) reading.result.lots.push_back(read_lot(lots[i], i, reading));
}

}  // namespace heatside::casefile
