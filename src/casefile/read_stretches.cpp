#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "casefile/stretches.hpp"

namespace heatside::casefile {

namespace {

// a ... z, aa, ab, ...
std::string letters(std::size_t index) {
  std::string word;
  for (std::size_t rest = index + 1; rest > 0; rest = (rest - 1) / 26) {
    word.insert(word.begin(), static_cast<char>('a' + (rest - 1) % 26));
  }
  return word;
}

std::string read_stretch_id(Fields& fields, Ids& taken, std::size_t index, Reading& reading) {
  if (fields.find("id") != nullptr) return read_id(fields, taken, index);
  std::string id = letters(index);
  if (taken.positions.emplace(id, index).second) return id;
  reading.complain(fields.pointer(), fmt::format("without an id this stretch is called \"{}\", but another one is already; "
                                                 "give it an id",
                                                 id));
  return {};
}

std::string read_covering(Fields& fields, Reading& reading) {
  const Json* covering = fields.find("covering");
  if (covering == nullptr) {
    reading.assume(fields.pointer("covering"), "no covering; write the id of what is around the wires, or none");
    return {};
  }
  if (*covering == "none") return {};
  return read_record_id(fields, "covering", "covering", reading.library.coverings);
}

// Typical surfaces of the hot part that heats a radiant zone.
std::array<double, 4> typical_surface(Fields& body, const std::string& zone, Reading& reading) {
  std::array<double, 4> celsius{};
  const auto record = reading.library.zones.find(zone);
  if (record == reading.library.zones.end()) return celsius;
  if (!record->second.hot_surface) {
    body.complain("",
                  fmt::format("\"surface_Cel\" is missing: the zone {} has no hot part of its own to take it from", zone));
    return celsius;
  }
  for (std::size_t i = 0; i < celsius.size(); ++i) celsius[i] = (*record->second.hot_surface)[i].value;
  reading.assume(body.pointer("surface_Cel"),
                 fmt::format("the hot part's surface is that typical of {}: {} Cel in cruise, {} in town; measure it", zone,
                             plain_number(celsius[0], 3), plain_number(celsius[1], 3)));
  return celsius;
}

void expect_room(Fields& fields, const HotBody& body) {
  if (body.shape == "cylinder" && 2.0 * body.distance <= body.size) {
    fields.complain("distance_mm",
                    fmt::format("an axis distance of {} mm lies inside a cylinder of {} mm",
                                plain_number(in_millimetres(body.distance)), plain_number(in_millimetres(body.size))));
  }
}

HotBody read_hot_body(Fields fields, const std::string& zone, Reading& reading) {
  HotBody body;
  body.shape = fields.choice("shape", {"cylinder", "plate"});
  body.size = millimetres(fields.number("size_mm", {1.0, 1000.0, "mm"}));
  body.distance = millimetres(fields.number("distance_mm", {1.0, 1000.0, "mm"}));
  if (auto surface = fields.optional_object("surface_Cel")) {
    body.surface_celsius = read_by_running_state(*surface, {0.0, 900.0, "degC"});
  } else {
    body.surface_celsius = typical_surface(fields, zone, reading);
  }
  body.shield = fields.choice("shield", {"none", "sleeve", "panel"});
  const std::optional<bool> clean = fields.optional_flag("clean_shield");
  body.clean_shield = clean.value_or(true);
  if (!clean && body.shield != "none") {
    reading.assume(fields.pointer("clean_shield"), "the shield is clean; write false where it is dirty, rusty or holed");
  }
  if (fields.has("size_mm") && fields.has("distance_mm")) expect_room(fields, body);
  fields.refuse_unknown();
  return body;
}

// One speed for all running states, or one for each.
std::optional<std::array<double, 4>> read_air_speed(Fields& fields) {
  constexpr std::string_view key = "air_speed_m_per_s";
  constexpr Range range{0.0, 40.0, "m/s"};
  const Json* stated = fields.find(key);
  if (stated == nullptr) return std::nullopt;
  if (stated->is_object()) return read_by_running_state(*fields.optional_object(key), range);
  if (!stated->is_number()) {
    fields.complain(key, fmt::format("expected a number of 0 to 40 m/s or an object with one for each of cruise, city, idle "
                                     "and hill, found {}",
                                     describe_type(*stated)));
    return std::nullopt;
  }
  std::array<double, 4> speeds{};
  speeds.fill(fields.number(key, range));
  return speeds;
}

double read_stretch_share(Fields& fields, bool is_only_one) {
  if (fields.find("share") != nullptr) return read_share(fields, "share");
  if (!is_only_one) fields.complain("", "\"share\" is missing; only a segment of one stretch may leave it out");
  return 1.0;
}

Stretch read_stretch(Fields fields, Ids& taken, std::size_t index, bool is_only_one, Reading& reading) {
  Stretch stretch;
  stretch.id = read_stretch_id(fields, taken, index, reading);
  stretch.zone = read_record_id(fields, "zone", "zone", reading.library.zones);
  stretch.share = read_stretch_share(fields, is_only_one);
  stretch.covering = read_covering(fields, reading);
  if (fields.find("damp") == nullptr) reading.silent.damp = true;
  stretch.damp = fields.optional_flag("damp").value_or(false);
  stretch.air_speed_m_per_s = read_air_speed(fields);
  for (const Fields& body : fields.optional_objects("hot_bodies")) {
    stretch.hot_bodies.push_back(read_hot_body(body, stretch.zone, reading));
  }
  fields.optional_text("note");
  fields.refuse_unknown();
  return stretch;
}

void settle_shares(std::vector<Stretch>& stretches, const std::string& pointer, Reading& reading) {
  std::vector<double> shares;
  for (const Stretch& stretch : stretches) shares.push_back(stretch.share);
  expect_whole(shares, pointer, "the shares of the stretches", reading);
  for (std::size_t i = 0; i < shares.size(); ++i) stretches[i].share = shares[i];
}

}  // namespace

std::vector<Stretch> read_stretches(Fields& segment, Reading& reading) {
  const std::size_t before = reading.problems.size();
  const std::vector<Fields> fields = segment.objects("stretches", 1);
  std::vector<Stretch> stretches;
  Ids taken;
  for (std::size_t i = 0; i < fields.size(); ++i) {
    stretches.push_back(read_stretch(fields[i], taken, i, fields.size() == 1, reading));
  }
  if (reading.problems.size() == before) settle_shares(stretches, segment.pointer("stretches"), reading);
  return stretches;
}

}  // namespace heatside::casefile
