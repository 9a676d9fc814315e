#include "heatside/casefile/start.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include "base/fields.hpp"
#include "base/text.hpp"
#include "heatside/casefile/read.hpp"
#include "library/sourced_fields.hpp"

namespace heatside::casefile {

namespace {

constexpr const char* default_region = "europe";
constexpr const char* default_climate = "temperate-maritime";
constexpr const char* default_parking = "shade";
constexpr const char* default_duty = "family";

constexpr const char* case_name = "new case";

class Complaints {
 public:
  void add(std::string message) { problems_.push_back({case_name, "", std::move(message)}); }
  void expect_known(std::string_view what, const std::optional<std::string>& word, const std::vector<std::string>& known) {
    if (word && std::find(known.begin(), known.end(), *word) == known.end()) add(unknown_word(what, *word, known));
  }
  void throw_if_any() const {
    if (!problems_.empty()) throw InputError(problems_);
  }

 private:
  std::vector<Problem> problems_;
};

void expect_sound(const Intake& intake, const library::Library& library) {
  Complaints complaints;
  complaints.expect_known("template", intake.template_id, library::ids_of(library.templates));
  complaints.expect_known("region", intake.region, library::ids_of(library.eras));
  complaints.expect_known("climate", intake.climate, library::ids_of(library.climates));
  complaints.expect_known("duty", intake.duty, library::ids_of(library.duties));
  complaints.expect_known("parking", intake.parking, {"open", "shade", "garage"});
  if (!intake.built) {
    complaints.add(
        "--built is missing: the year or date of make decides which insulations can be there, so nothing is "
        "assumed for it");
  } else if (intake.built->first >= intake.inspected.last) {
    complaints.add(fmt::format("built at {}, on or after the inspection at {}", format_date_as_known(*intake.built),
                               format_date_as_known(intake.inspected)));
  }
  complaints.throw_if_any();
}

// The list of what a case rests on, in the order in which it is added.
class AssumedList {
 public:
  void add(std::string_view at, std::string_view text, std::string_view grade = "judgement") {
    list_.push_back(Json{{"at", at}, {"text", text}, {"grade", grade}});
  }
  void add_all(const Json& entries) {
    for (const Json& entry : entries) list_.push_back(entry);
  }
  Json take() { return std::move(list_); }

 private:
  Json list_ = Json::array();
};

void assume_insulation(AssumedList& list) {
  list.add("/lots/0/insulation",
           std::string{compounds_unknown} +
               "; it is taken from what was fitted in the region and years of make. This "
               "matters most: write what the jacket print or class letter says into /lots/0/insulation, and so for each "
               "lot.");
}

void assume_use(const Intake& intake, AssumedList& list) {
  if (!intake.duty) {
    list.add("/service/0/duty",
             fmt::format("Driven as a \"{}\" vehicle. This matters second: write another duty, or trips a "
                         "week and their minutes, into /service/0/duty.",
                         default_duty));
  }
  if (!intake.odometer_km) {
    list.add("/service/0/running_hours",
             "The running hours are those of the duty record. Write the odometer into "
             "/vehicle/odometer_km, or running_hours into /service/0.");
  }
}

void assume_surroundings(const Intake& intake, AssumedList& list) {
  if (!intake.climate) {
    list.add("/service/0/climate", fmt::format("The climate is \"{}\". Write where the vehicle spent its life into "
                                               "/service/0/climate.",
                                               default_climate));
  }
  if (!intake.parking) {
    list.add("/service/0/parking", "Parked in the shade. Write open, shade or garage into /service/0/parking.");
  }
  list.add("/segments/0/stretches/0/zone",
           "The zones are those of a general engine bay, and so are their temperatures. Name the zone that each stretch "
           "really lies in, from /segments/0/stretches/0/zone on.");
}

void assume_life(const Intake& intake, AssumedList& list) {
  list.add("/vehicle/entered_service",
           "Entered service as it was built. Write the first registration into "
           "/vehicle/entered_service and /service/0/from.");
  list.add(
      "/service/0",
      "One way of use and one place for the whole life. Write more periods into /service where the owner, the place or the "
      "use changed, and leave out the years off the road.");
  list.add("/looms",
           "Every loom is the first one, made as the vehicle was built. Write the date code into made, and fitted "
           "where one was replaced.");
  if (!intake.region) {
    list.add("/vehicle/region", fmt::format("Built in the region \"{}\". Write europe, north-america or japan into "
                                            "/vehicle/region.",
                                            default_region));
  }
}

Json assumed(const Intake& intake, const Json& layout) {
  AssumedList list;
  assume_insulation(list);
  assume_use(intake, list);
  assume_surroundings(intake, list);
  assume_life(intake, list);
  list.add_all(layout.at("assumed"));
  return list.take();
}

// Whole kilometres are written without a fraction, as people do.
Json written(double km) {
  const bool whole = km == std::floor(km) && std::abs(km) < 1.0e9;
  return whole ? Json(static_cast<long>(km)) : Json(km);
}

Json vehicle(const Intake& intake, const std::string& built) {
  Json result{{"built", built}, {"entered_service", built}, {"region", intake.region.value_or(default_region)}};
  if (intake.odometer_km) result["odometer_km"] = written(*intake.odometer_km);
  return result;
}

Json service(const Intake& intake, const std::string& built) {
  return Json::array({{{"from", built},
                       {"to", format_date_as_known(intake.inspected)},
                       {"climate", intake.climate.value_or(default_climate)},
                       {"duty", intake.duty.value_or(default_duty)},
                       {"parking", intake.parking.value_or(default_parking)}}});
}

// The date of make stands behind the names, before the rest.
Json with_date_of_make(const Json& loom, const std::string& built) {
  Json result = Json::object();
  for (const auto& [key, value] : loom.items()) {
    if (key != "id" && key != "name" && !result.contains("made")) result["made"] = built;
    result[key] = value;
  }
  result["made"] = built;
  return result;
}

Json looms(const Json& layout, const std::string& built) {
  Json result = Json::array();
  for (const Json& loom : layout.at("looms")) result.push_back(with_date_of_make(loom, built));
  return result;
}

Json compose(const Intake& intake, const Json& record) {
  const Json& layout = record.at("case");
  const std::string built = format_date_as_known(*intake.built);
  Json result{{"format", "heatside-case"}, {"version", 1}};
  result["title"] = fmt::format("Vehicle built {}: {}", built, record.at("name").get<std::string>());
  result["note"] = "Begun from a general layout; what stands under assumed is not known and can be replaced one by one.";
  result["vehicle"] = vehicle(intake, built);
  result["inspected"] = format_date_as_known(intake.inspected);
  result["service"] = service(intake, built);
  result["looms"] = looms(layout, built);
  for (const char* part : {"lots", "nodes", "segments"}) result[part] = layout.at(part);
  result["assumed"] = assumed(intake, record);
  return result;
}

Json compose_from_template(const Intake& intake, const library::Library& library) {
  const std::string name = "templates/" + intake.template_id + ".json";
  const Json record = read_strict_json(library.templates.at(intake.template_id), name);
  try {
    return compose(intake, record);
  } catch (const Json::exception&) {
    throw InputError({{name, "",
                       "a template needs \"name\", \"assumed\" and a \"case\" of \"looms\", \"lots\", \"nodes\" "
                       "and \"segments\""}});
  }
}

void refuse_members(Fields& fields, std::initializer_list<const char*> keys, std::string_view why) {
  for (const char* key : keys) {
    if (fields.find(key) != nullptr) fields.complain(key, fmt::format("does not belong into a template: {}", why));
  }
}

// What a template must be before a case can be started from it.
void expect_template(const Json& record, const std::string& file) {
  std::vector<Problem> problems;
  Fields top{record, "", file, problems};
  top.choice("format", {"heatside-record"});
  top.number("version", {1, 1, ""});
  top.choice("kind", {"template"});
  static_cast<void>(library::read_kebab_id(top, "id"));
  top.text("name");
  top.optional_text("note");
  top.objects("assumed", 1);
  Fields layout = top.object("case");
  for (Fields& loom : layout.objects("looms", 1))
    refuse_members(loom, {"made", "fitted", "date_code"}, "it differs by vehicle");
  for (Fields& segment : layout.objects("segments", 1)) refuse_members(segment, {"leaks"}, "it differs by vehicle");
  layout.objects("lots", 1);
  layout.objects("nodes", 2);
  layout.refuse_unknown();
  top.refuse_unknown();
  if (!problems.empty()) throw InputError(std::move(problems));
}

// Places of a started case, as places of its template.
std::vector<Problem> in_template(std::vector<Problem> problems, const std::string& file) {
  for (Problem& problem : problems) {
    problem.file = file;
    if (problem.pointer.rfind("/assumed", 0) != 0) problem.pointer = "/case" + problem.pointer;
  }
  return problems;
}

}  // namespace

void check_template(std::string_view text, const std::string& file, const library::Library& library) {
  const Json record = read_strict_json(text, file);
  expect_template(record, file);
  Intake intake;
  intake.template_id = record.at("id").get<std::string>();
  intake.built = parse_date("1995");
  intake.inspected = *parse_date("2015-01-01");
  library::Library with_this = library;
  with_this.templates.insert_or_assign(intake.template_id, std::string{text});
  try {
    static_cast<void>(start_case(intake, with_this));
  } catch (const InputError& error) {
    throw InputError(in_template(error.problems(), file));
  }
}

std::string start_case(const Intake& intake, const library::Library& library) {
  expect_sound(intake, library);
  std::string text = compose_from_template(intake, library).dump(2) + '\n';
  // Kilometres, era and layout meet here for the first time; what does not fit is refused before anybody writes on.
  static_cast<void>(read_case(text, case_name, library));
  return text;
}

}  // namespace heatside::casefile
