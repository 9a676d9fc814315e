#include "casefile/wire.hpp"

#include <fmt/format.h>

#include <numbers>

#include "base/text.hpp"
#include "casefile/reading.hpp"

namespace heatside::casefile {

namespace {

std::optional<StatedWall> read_wall_word(Fields& fields, const std::string& word) {
  if (word == "thin" || word == "thick") return word;
  fields.complain("wall", unknown_word("wall", word, {"thin", "thick"}) + ", or both measures in mm");
  return std::nullopt;
}

std::optional<StatedWall> read_wall_measures(Fields wall, Reading& reading) {
  const std::size_t before = reading.problems.size();
  const double thickness = wall.number("wall_mm", {0.05, 5.0, "mm"});
  const double outer = wall.number("outer_diameter_mm", {0.3, 40.0, "mm"});
  wall.refuse_unknown();
  if (reading.problems.size() != before) return std::nullopt;
  if (outer <= 2.0 * thickness) {
    wall.complain("", fmt::format("an outer diameter of {} mm leaves no conductor inside two walls of {} mm",
                                  plain_number(outer), plain_number(thickness)));
    return std::nullopt;
  }
  return WallMeasures{millimetres(thickness), millimetres(outer)};
}

std::optional<StatedWall> read_wall(Fields& fields, Reading& reading) {
  const Json* wall = fields.find("wall");
  if (wall == nullptr) return std::nullopt;
  if (wall->is_string()) return read_wall_word(fields, wall->get<std::string>());
  if (wall->is_object()) return read_wall_measures(fields.object("wall"), reading);
  fields.complain("wall", fmt::format("expected \"thin\", \"thick\" or an object with \"wall_mm\" and "
                                      "\"outer_diameter_mm\", found {}",
                                      describe_type(*wall)));
  return std::nullopt;
}

// Stranded copper takes its own area and the gaps between its wires, and never four times as much in all.
bool has_room_for(const library::ConductorSize& size, const WallMeasures& measures, Fields& fields) {
  constexpr double rounding = 1.001, loosest = 4.0;
  const double diameter = in_millimetres(measures.outer_diameter - 2.0 * measures.wall);
  const double circle = 0.25 * std::numbers::pi * diameter * diameter;  // [mm2]
  const double copper = size.area.value;
  if (copper <= rounding * circle && circle <= loosest * copper) return true;
  fields.complain(
      fields.has("wall") ? "wall" : "",
      fmt::format("an outer diameter of {} mm and walls of {} mm leave a circle of {} mm2 for {} mm2 of copper; "
                  "it must be that to {} times as much",
                  plain_number(in_millimetres(measures.outer_diameter), 4), plain_number(in_millimetres(measures.wall), 4),
                  plain_number(circle, 3), plain_number(copper), plain_number(loosest)));
  return false;
}

}  // namespace

std::optional<std::string> read_optional_size(Fields& fields, const library::Library& library) {
  if (fields.find("size") == nullptr) return std::nullopt;
  const std::string label = fields.text("size");
  if (label.empty()) return std::nullopt;
  if (library::find_conductor_size(library, label) != nullptr) return label;
  fields.complain("size", unknown_word("conductor size", label, library::conductor_labels(library)));
  return std::nullopt;
}

StatedWire read_stated_wire(Fields& fields, Reading& reading) {
  StatedWire wire;
  wire.size = read_optional_size(fields, reading.library);
  wire.wall = read_wall(fields, reading);
  return wire;
}

StatedWire with_lot_values(StatedWire group, const StatedWire& lot, Fields& fields) {
  const bool other_size = group.size && lot.size && *group.size != *lot.size;
  const bool measured_lot = lot.wall && std::holds_alternative<WallMeasures>(*lot.wall);
  if (!fields.has("wall")) {
    if (other_size && measured_lot) {
      fields.complain("", "\"wall\" is missing: the measures of the lot hold for its own size only");
    } else {
      group.wall = lot.wall;
    }
  }
  if (!fields.has("size")) group.size = lot.size;
  return group;
}

std::optional<WallMeasures> measures_of(const StatedWire& wire, Fields& fields, Reading& reading) {
  if (!wire.size || !wire.wall) return std::nullopt;
  const library::ConductorSize* size = library::find_conductor_size(reading.library, *wire.size);
  if (const auto* measures = std::get_if<WallMeasures>(&*wire.wall)) {
    return has_room_for(*size, *measures, fields) ? std::optional{*measures} : std::nullopt;
  }
  const std::string& word = std::get<std::string>(*wire.wall);
  const std::optional<library::WallSize>& wall = word == "thin" ? size->thin : size->thick;
  if (wall) return WallMeasures{millimetres(wall->wall.value), millimetres(wall->outer_diameter.value)};
  fields.complain(fields.has("wall") ? "wall" : "", fmt::format("no {} wall is tabulated for {}; give {{\"wall_mm\": "
                                                                "..., \"outer_diameter_mm\": ...}}",
                                                                word, *wire.size));
  return std::nullopt;
}

}  // namespace heatside::casefile
