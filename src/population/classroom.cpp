#include "base/strict_json.hpp"
#include "heatside/casefile/read.hpp"
#include "heatside/population/topics.hpp"

namespace heatside::population {

namespace {

constexpr const char* from = "1996-01-01";
constexpr const char* to = "2012-01-01";

Json piece(const char* id, const char* zone) {
  const std::string name{id};
  return {{"id", id},
          {"name", "the " + name + " piece"},
          {"loom", "loom"},
          {"from", name + "-left"},
          {"to", name + "-right"},
          {"length_m", 0.5},
          {"route_radius_mm", 20},
          {"minutes_to_open", 10},
          {"stretches", Json::array({{{"id", "all"}, {"zone", zone}, {"covering", "none"}, {"damp", false}}})},
          {"groups", Json::array({{{"lot", "thin"}, {"count", 6}}})},
          {"leaks", Json::array()},
          {"airbag", false}};
}

Json use() { return {{"climate", "mediterranean"}, {"duty", "family"}, {"parking", "shade"}}; }

}  // namespace

casefile::Case classroom_case(const library::Library& library, const std::string& insulation) {
  Json period = use();
  period["from"] = from;
  period["to"] = to;
  Json nodes = Json::array();
  for (const char* id : {"hot-left", "hot-right", "middle-left", "middle-right", "cool-left", "cool-right"})
    nodes.push_back({{"id", id}});
  const Json document{
      {"format", "heatside-case"},
      {"version", 1},
      {"title", "Three pieces of one wire"},
      {"invented", true},
      {"vehicle", {{"built", from}, {"entered_service", from}, {"region", "europe"}}},
      {"inspected", to},
      {"service", Json::array({period})},
      {"future", use()},
      {"looms", Json::array({{{"id", "loom"}, {"made", from}, {"copper", "bare"}, {"region", "europe"}}})},
      {"lots",
       Json::array({{{"id", "thin"}, {"loom", "loom"}, {"insulation", insulation}, {"size", "0.5 mm2"}, {"wall", "thin"}}})},
      {"nodes", nodes},
      {"segments",
       Json::array({piece("hot", "head-cover"), piece("middle", "upper-bay"), piece("cool", "cabin-bulkhead")})}};
  return casefile::read_case(document.dump(), "built-in classroom case", library);
}

}  // namespace heatside::population
