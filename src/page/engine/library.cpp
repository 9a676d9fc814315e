#include <algorithm>
#include <array>
#include <utility>

#include "base/strict_json.hpp"
#include "heatside/ageing/condition.hpp"
#include "heatside/inspection/case_order.hpp"
#include "heatside/remedy/temperature_class.hpp"
#include "heatside/report/cautions.hpp"
#include "page/engine/asks.hpp"
#include "report/condition_ink.hpp"

/// Everything that can be chosen, with words.

namespace heatside::page {

namespace {

using library::Library;
using Words = std::pair<std::string_view, std::string_view>;

constexpr std::array<std::string_view, 5> condition_words{"bends as when new", "stiff, but bends without cracks",
                                                          "cracks where it is bent", "cracked as it lies",
                                                          "falls off: bare copper"};
constexpr std::array<std::string_view, 7> seen_words{"Supple",    "Stiff",    "Cracks when bent",   "Cracked",
                                                     "Crumbling", "Not seen", "Altered by a repair"};
constexpr std::array<std::string_view, 7> cause_words{
    "Heat", "Chafed", "Gnawed", "Too much current", "Oil, fuel or coolant", "Work done on it", "Unsure"};
constexpr std::array<std::string_view, 9> sign_words{
    "Sticky",           "Swollen",          "Shrunk back from the ends", "Green copper",        "Whitened",
    "Glue or silicone", "Wire added later", "Brittle latch of a plug",   "Brittle seal or boot"};

template <std::size_t count>
Json choices(const std::array<std::string_view, count>& ids, const std::array<std::string_view, count>& words) {
  Json list = Json::array();
  for (std::size_t i = 0; i < count; ++i) list.push_back({{"id", ids[i]}, {"name", words[i]}});
  return list;
}

Json choices(std::initializer_list<Words> of) {
  Json list = Json::array();
  for (const auto& [id, name] : of) list.push_back({{"id", id}, {"name", name}});
  return list;
}

Json conditions_json() {
  Json list = Json::array();
  for (std::size_t i = 0; i < library::condition_count; ++i) {
    list.push_back({{"id", ageing::condition_names[i]},
                    {"name", seen_words[i]},
                    {"means", condition_words[i]},
                    {"handling", inspection::handling_advice(static_cast<ageing::Condition>(i))}});
  }
  return list;
}

Json colours_json() {
  Json colours = Json::object();
  for (std::size_t i = 0; i < library::condition_count; ++i) {
    const report::ConditionInk& ink = report::condition_inks[i];
    colours[std::string{ageing::condition_names[i]}] = {
        {"hex", ink.colour},
        {"dash", ink.dash},
        {"dash_hex", ink.dash_colour == nullptr ? Json(nullptr) : Json(ink.dash_colour)},
        {"dash_width", ink.dash_width}};
  }
  return colours;
}

Json head_json(const library::RecordHead& head) { return {{"id", head.id}, {"name", head.name}, {"note", head.note}}; }

// One entry for each record, what they all begin with and what `more` adds.
template <class Record, class More>
Json records_json(const std::map<std::string, Record>& records, const More& more) {
  Json list = Json::array();
  for (const auto& [id, record] : records) {
    Json entry = head_json(record.head);
    entry.update(more(record));
    list.push_back(std::move(entry));
  }
  return list;
}

Json insulation_json(const library::Insulation& insulation) {
  const remedy::Rated rated = remedy::rated(insulation);
  return {{"abbreviation", insulation.abbreviation},
          {"family", insulation.family},
          {"class", rated.of_class ? Json(std::string(1, rated.of_class->letter)) : Json(nullptr)},
          {"class_Cel", rated.of_class ? Json(rated.of_class->celsius) : Json(nullptr)},
          {"rating_Cel", insulation.rating.value},
          {"in_use_from", insulation.in_use_from},
          {"in_use_to", insulation.in_use_to ? Json(*insulation.in_use_to) : Json(nullptr)}};
}

// What a method gives: the member of a finding that it fills.
std::string_view result_of(const library::Method& method) {
  constexpr std::array<std::string_view, 4> members{"seen", "bend", "elongation", "resistance"};
  return members[method.evidence.index()];
}

Json method_json(const library::Method& method) {
  Json before = Json::array();
  for (const SourcedText& condition : method.before) before.push_back(condition.text);
  return {{"opens", method.opens}, {"gives", result_of(method)}, {"how", method.how.text}, {"before", before}};
}

Json eras_json(const Library& library) {
  Json list = Json::array();
  for (const auto& [region, era] : library.eras) {
    for (const library::EraDecade& decade : era.decades) {
      Json candidates = Json::array();
      for (const library::EraCandidate& candidate : decade.candidates)
        candidates.push_back({{"insulation", candidate.insulation}, {"weight", candidate.weight}});
      list.push_back({{"region", region}, {"from", decade.from}, {"to", decade.to}, {"candidates", candidates}});
    }
  }
  return list;
}

Json regions_json(const Library& library) {
  Json list = Json::array();
  for (const auto& [region, era] : library.eras) list.push_back({{"id", region}, {"name", era.head.name}});
  return list;
}

Json templates_json(const Library& library) {
  Json list = Json::array();
  for (const auto& [id, text] : library.templates) {
    const Json record = Json::parse(text);
    list.push_back({{"id", id},
                    {"name", record.at("name")},
                    {"note", record.value("note", "")},
                    {"segments", record.at("case").at("segments").size()}});
  }
  return list;
}

// What has to come off, in the words of the templates.
Json covers_json(const Library& library) {
  std::vector<std::string> covers;
  for (const auto& [id, text] : library.templates) {
    const Json record = Json::parse(text);
    for (const Json& segment : record.at("case").at("segments")) covers.push_back(segment.value("cover_group", ""));
  }
  std::sort(covers.begin(), covers.end());
  covers.erase(std::unique(covers.begin(), covers.end()), covers.end());
  covers.erase(std::remove(covers.begin(), covers.end(), ""), covers.end());
  return covers;
}

void add_records(const Library& library, Json& document) {
  const auto nothing = [](const auto&) { return Json::object(); };
  document["templates"] = templates_json(library);
  document["regions"] = regions_json(library);
  document["eras"] = eras_json(library);
  document["climates"] = records_json(library.climates, [](const library::Climate& climate) {
    return Json{{"generic", climate.generic}, {"place", climate.place}};
  });
  document["duties"] = records_json(library.duties, [](const library::Duty& duty) {
    return Json{{"minutes_a_week", library::weekly_running_time(duty).value()}};
  });
  document["zones"] = records_json(library.zones, [](const library::Zone& zone) {
    return Json{{"radiant", zone.radiant}, {"bound", zone.bound.text}};
  });
  document["coverings"] = records_json(library.coverings, [](const library::Covering& covering) {
    return Json{{"rating_Cel", covering.rating.value}, {"effect", covering.effect.text}};
  });
  document["insulations"] = records_json(library.insulations, insulation_json);
  document["methods"] = records_json(library.methods, method_json);
  document["clues"] = records_json(library.clues, [](const library::Clue& clue) {
    return Json{{"found_by", library::clue_kind_names[static_cast<std::size_t>(clue.found_by)]}, {"how", clue.how.text}};
  });
  document["conductors"] = library::conductor_labels(library);
  document["functions"] = records_json(library.consequences, nothing);
  document["remedy_kinds"] = records_json(library.remedies, [](const library::RemedyKind& kind) {
    return Json{{"act", library::remedy_act_names[static_cast<std::size_t>(kind.act)]},
                {"about", kind.about.text},
                {"stays_in", kind.stays_in.text}};
  });
  document["covers"] = covers_json(library);
}

void add_words(Json& document) {
  document["conditions"] = conditions_json();
  document["seen"] = choices(library::seen_names, seen_words);
  document["causes"] = choices(casefile::cause_names, cause_words);
  document["signs"] = choices(casefile::sign_names, sign_words);
  document["parkings"] = choices({{"open", "In the open"}, {"shade", "In the shade"}, {"garage", "In a garage"}});
  document["running_states"] =
      choices({{"cruise", "Cruising"}, {"city", "In the city"}, {"idle", "Idling"}, {"hill", "Up a hill"}});
  document["walls"] = choices({{"thin", "Thin wall"}, {"thick", "Thick wall"}});
  document["coppers"] = choices({{"bare", "Bare copper"}, {"tinned", "Tinned copper"}});
  document["fluids"] = choices({{"oil", "Engine oil"}, {"coolant", "Hot coolant"}});
  document["shapes"] = choices({{"cylinder", "Pipe or manifold"}, {"plate", "Flat or large part"}});
  document["shields"] =
      choices({{"none", "No shield"}, {"sleeve", "Foil sleeve on the wires"}, {"panel", "Shield plate in between"}});
}

}  // namespace

std::string library_of(const Request&, Memory& memory) {
  Json document{{"engine", engine_name()}};
  add_words(document);
  add_records(memory.library(), document);
  document["cautions"] = report::cautions();
  document["colours"] = colours_json();
  return document.dump();
}

}  // namespace heatside::page
