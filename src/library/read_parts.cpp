#include <fmt/format.h>

#include "library/read_records.hpp"

/// Coverings, conductors and sources.

namespace heatside::library {

std::map<std::string, Source> read_sources(Fields& fields, RecordReader& reader) {
  (void)reader.head(fields);
  std::map<std::string, Source> sources;
  const Json* table = fields.require("sources");
  Fields entries = fields.object("sources");
  if (table == nullptr || !table->is_object()) return sources;
  for (const auto& [id, value] : table->items()) {
    if (!is_kebab_case(id)) entries.complain(id, "allowed for ids: small letters, digits and single hyphens between them");
    Fields entry = entries.object(id);
    Source source;
    source.citation = entry.text("citation");
    source.where = entry.text("where");
    source.read = entry.choice("read", {"full", "abstract", "secondary", "not read"});
    source.note = entry.optional_text("note").value_or("");
    entry.refuse_unknown();
    sources.emplace(id, std::move(source));
  }
  return sources;
}

Covering read_covering(Fields& fields, RecordReader& reader) {
  Covering covering;
  covering.head = reader.head(fields);
  const std::string enclosure = fields.choice("enclosure", {"open", "closed", "absorbing"});
  covering.enclosure = enclosure == "open"     ? Enclosure::open
                       : enclosure == "closed" ? Enclosure::closed
                                               : Enclosure::absorbing;
  covering.traps_damp = fields.flag("traps_damp");
  covering.rating = reader.number(fields, "rating", {"Cel", 20.0, 1000.0});
  Fields life = fields.object("thermal_life");
  covering.life_temperature = reader.number(life, "temperature", {"Cel", 20.0, 1000.0});
  covering.life_hours = reader.number(life, "hours", {"h", 1.0, 1.0e7});
  life.optional_text("note");
  life.refuse_unknown();
  covering.activation_energy = reader.number(fields, "activation_energy", {"kJ/mol", 5.0, 400.0});
  if (!covering.activation_energy.sd || !covering.activation_energy.low) {
    fields.complain("activation_energy", "needs sd, low and high");
  }
  covering.density = reader.number(fields, "density", {"g/cm3", 0.01, 10.0});
  covering.thermal_conductivity = reader.number(fields, "thermal_conductivity", {"W/m/K", 0.01, 400.0});
  covering.emissivity = reader.number(fields, "emissivity", {"1", 0.01, 1.0});
  Fields layer = fields.object("layer");
  covering.thickness = reader.number(layer, "thickness", {"mm", 0.01, 50.0});
  covering.air_gap = reader.number(layer, "air_gap", {"K.m/W", 0.0, 10.0});
  layer.optional_text("note");
  layer.refuse_unknown();
  covering.effect = reader.text(fields, "effect");
  return covering;
}

namespace {

std::optional<WallSize> read_wall(Fields& walls, std::string_view key, RecordReader& reader) {
  auto fields = walls.optional_object(key);
  if (!fields) return std::nullopt;
  WallSize size{reader.number(*fields, "wall", {"mm", 0.05, 10.0}),
                reader.number(*fields, "outer_diameter", {"mm", 0.1, 60.0})};
  fields->optional_text("note");
  fields->refuse_unknown();
  return size;
}

ConductorSize read_conductor_size(Fields fields, RecordReader& reader) {
  ConductorSize size;
  size.label = fields.text("label");
  size.area = reader.number(fields, "area", {"mm2", 0.01, 500.0});
  size.resistance = reader.number(fields, "resistance", {"mOhm/m", 0.01, 1000.0});
  if (fields.has("diameter")) size.diameter = reader.number(fields, "diameter", {"mm", 0.05, 50.0});
  if (auto walls = fields.optional_object("walls")) {
    size.thin = read_wall(*walls, "thin", reader);
    size.thick = read_wall(*walls, "thick", reader);
    if (!size.thin && !size.thick) walls->complain("", "no wall in it; leave walls out, or give thin, thick or both");
    walls->refuse_unknown();
  }
  fields.find("diameter");
  fields.optional_text("note");
  fields.refuse_unknown();
  return size;
}

}  // namespace

Conductors read_conductors(Fields& fields, RecordReader& reader) {
  Conductors conductors;
  conductors.head = reader.head(fields);
  for (const Fields& element : fields.objects("sizes", 1)) conductors.sizes.push_back(read_conductor_size(element, reader));
  return conductors;
}

}  // namespace heatside::library
