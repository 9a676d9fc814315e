#include "population/placed_wire.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"

namespace heatside::population {

namespace {

using casefile::HotBody;
using casefile::Segment;
using casefile::WireGroup;
using library::Library;

// Heat of a group's loaded wires with copper at 20 degC [W/m]: what it adds to its neighbours.
double heat_of(const WireGroup& group, const Library& library) {
  if (!group.current) return 0.0;
  const double resistance = 1.0e-3 * library::find_conductor_size(library, group.size)->resistance.value;  // [Ohm/m]
  const double current = group.current->value();
  return static_cast<double>(group.loaded) * current * current * resistance;
}

// All wires of the segment as wires of this group's diameter: equal cross-section of the bundle.
exposure::Bundle bundle_around(const Segment& segment, const WireGroup& group, const Library& library) {
  double cross_section = 0.0, other_heat = 0.0;
  for (const WireGroup& other : segment.groups) {
    const double ratio = other.outer_diameter / group.outer_diameter;
    cross_section += static_cast<double>(other.count) * ratio * ratio;
    if (&other != &group) other_heat += heat_of(other, library);
  }
  const auto wires = std::max(static_cast<std::size_t>(std::lround(cross_section)), group.count);
  return {wires, group.loaded, WattsPerMetre{other_heat}};
}

exposure::CoverLayer layer_of(const casefile::Stretch& stretch, const Library& library) {
  if (stretch.covering.empty()) return {};
  const library::Covering& record = library.coverings.at(stretch.covering);
  return {millimetres(record.thickness.value), WattsPerMetreKelvin{record.thermal_conductivity.value}, record.air_gap.value,
          record.emissivity.value};
}

exposure::HotNeighbour neighbour_of(const HotBody& body, const exposure::CoverLayer& cover,
                                    const library::ModelConstants& model) {
  exposure::HotNeighbour hot;
  for (std::size_t i = 0; i < hot.surface.size(); ++i) hot.surface[i] = celsius(body.surface_celsius[i]);
  hot.view_factor = body.shape == "cylinder" ? exposure::view_of_cylinder(body.size, body.distance)
                                             : exposure::view_of_plate(body.size, body.distance);
  hot.emissivity = model.hot_body.emissivity.value;
  if (body.shield != "none") {
    hot.shield = body.clean_shield ? model.hot_body.shield_clean.value : model.hot_body.shield_dirty.value;
    // A bright sleeve that is also the covering reflects by its own emissivity; only its dirt is left to count.
    const bool is_the_cover = body.shield == "sleeve" && cover.thickness.value() > 0.0 && cover.emissivity < 0.5;
    if (is_the_cover)
      hot.shield = body.clean_shield ? 1.0 : model.hot_body.shield_dirty.value / model.hot_body.shield_clean.value;
  }
  return hot;
}

std::string words_of(Metres length) { return plain_number(in_millimetres(length), 4) + " mm"; }

void expect_clear(const casefile::Stretch& stretch, const HotBody& body, Metres bundle) {
  if (body.shape != "cylinder" || body.distance >= 0.5 * (body.size + bundle)) return;
  throw DomainError("stretch \"" + stretch.id + "\": an axis distance of " + words_of(body.distance) +
                    " leaves no room for a bundle of " + words_of(bundle) + " beside a hot cylinder of " +
                    words_of(body.size) + " diameter; at least " + words_of(0.5 * (body.size + bundle)) + " is needed");
}

void expect_view(const casefile::Stretch& stretch, const exposure::PlacedWire& placed) {
  constexpr double rounding = 1.0e-9;
  double view = 0.0;
  for (const exposure::HotNeighbour& body : placed.hot_bodies) view += body.view_factor;
  if (view <= 1.0 + rounding) return;
  throw DomainError("stretch \"" + stretch.id + "\": its " + std::to_string(placed.hot_bodies.size()) + " hot bodies fill " +
                    plain_number(view, 4) +
                    " of what the wire sees, and more than 1 cannot be; check their sizes and distances");
}

}  // namespace

const std::string& zone_of_air(const casefile::Stretch& stretch, const Library& library) {
  const library::Zone& zone = library.zones.at(stretch.zone);
  return zone.radiant && !stretch.hot_bodies.empty() ? zone.air_zone : stretch.zone;
}

exposure::PlacedWire placed_wire(const Segment& segment, const casefile::Stretch& stretch, const WireGroup& group,
                                 const library::Insulation& insulation, const Library& library) {
  exposure::PlacedWire placed;
  placed.wire = {group.outer_diameter - 2.0 * group.wall, group.outer_diameter,
                 milliohm_per_metre(library::find_conductor_size(library, group.size)->resistance.value),
                 WattsPerMetreKelvin{insulation.thermal_conductivity.value}, insulation.emissivity.value};
  placed.bundle = bundle_around(segment, group, library);
  placed.cover = layer_of(stretch, library);
  // Records state the trapped air for a loom of 20 mm; a thinner one has less surface to pass the heat through it.
  placed.cover.air_gap *= millimetres(20.0) / exposure::bundle_diameter(placed);
  placed.current = group.current.value_or(Amperes{0.0});
  for (const WireGroup& other : segment.groups) {
    if (other.current) placed.loaded_share = std::max(placed.loaded_share, other.current_share);
  }
  for (const HotBody& body : stretch.hot_bodies) {
    expect_clear(stretch, body, exposure::bundle_diameter(placed));
    placed.hot_bodies.push_back(neighbour_of(body, placed.cover, library.model));
  }
  expect_view(stretch, placed);
  for (std::size_t i = 0; stretch.air_speed_m_per_s && i < placed.running_air_speed.size(); ++i)
    placed.running_air_speed[i] = MetresPerSecond{(*stretch.air_speed_m_per_s)[i]};
  return placed;
}

}  // namespace heatside::population
