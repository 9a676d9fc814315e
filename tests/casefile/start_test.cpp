#include "heatside/casefile/start.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

#include "heatside/base/error.hpp"
#include "heatside/casefile/read.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;

namespace {

Intake intake(const std::string& template_id) {
  Intake known;
  known.template_id = template_id;
  known.built = parse_date("1994");
  known.inspected = *parse_date("2026-09-14");
  return known;
}

Json started(const Intake& known) { return read_strict_json(start_case(known, records()), "started"); }

std::vector<std::string> places(const Json& document) {
  std::vector<std::string> result;
  for (const Json& entry : document.at("assumed")) result.push_back(entry.at("at").get<std::string>());
  return result;
}

bool lists(const Json& document, const std::string& place) {
  const auto all = places(document);
  return std::find(all.begin(), all.end(), place) != all.end();
}

std::string refusal(const Intake& known) {
  try {
    static_cast<void>(start_case(known, records()));
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("start: every template becomes a case in every region and time", "[casefile][start]") {
  REQUIRE(records().templates.size() >= 5);
  for (const auto& entry : records().templates) {
    for (const std::string& region : library::ids_of(records().eras)) {
      const char* year = GENERATE("1958", "1975-06", "1994", "2012-03-01");
      CAPTURE(entry.first, region, year);
      Intake known = intake(entry.first);
      known.region = region;
      known.built = parse_date(year);
      const Case result = read_case(start_case(known, records()), "started", records());
      CHECK(result.region == region);
      CHECK(result.looms.at(0).made == *parse_date(year));
      CHECK(result.service.at(0).to == known.inspected);
    }
  }
}

TEST_CASE("start: the three that matter most are listed first", "[casefile][start]") {
  const auto all = places(started(intake("inline-engine-top")));
  REQUIRE(all.size() > 6);
  CHECK(all[0] == "/lots/0/insulation");
  CHECK(all[1] == "/service/0/duty");
  CHECK(all[2] == "/service/0/running_hours");
  CHECK(all[3] == "/service/0/climate");
  CHECK(all[4] == "/service/0/parking");
  CHECK(all[5] == "/segments/0/stretches/0/zone");
}

TEST_CASE("start: every assumption says how to replace it", "[casefile][start]") {
  for (const auto& entry : records().templates) {
    const Json document = started(intake(entry.first));
    for (const Json& listed : document.at("assumed")) {
      CAPTURE(entry.first, listed.dump());
      const std::string text = listed.at("text").get<std::string>();
      const bool tells = text.find("rite ") != std::string::npos || text.find("orrect") != std::string::npos ||
                         text.find("Name ") != std::string::npos;
      CHECK(tells);
    }
  }
}

TEST_CASE("start: what is known is written down and not assumed", "[casefile][start]") {
  Intake known = intake("lower-charging");
  known.region = "japan";
  known.climate = "hot-desert";
  known.odometer_km = 268000.0;
  known.parking = "garage";
  known.duty = "commuter";
  const Json document = started(known);
  CHECK(document["vehicle"]["region"] == "japan");
  CHECK(document["vehicle"]["odometer_km"].dump() == "268000");
  CHECK(document["service"][0]["climate"] == "hot-desert");
  CHECK(document["service"][0]["parking"] == "garage");
  CHECK(document["service"][0]["duty"] == "commuter");
  for (const char* place :
       {"/vehicle/region", "/service/0/climate", "/service/0/parking", "/service/0/duty", "/service/0/running_hours"}) {
    CAPTURE(place);
    CHECK_FALSE(lists(document, place));
  }
  const Case result = read(document);
  CHECK(result.odometer_km == 268000.0);
  CHECK(result.service[0].usage != 1.0);
}

TEST_CASE("start: what is left out is a listed default", "[casefile][start]") {
  const Json document = started(intake("plain-two-segment"));
  CHECK(document["vehicle"]["region"] == "europe");
  CHECK(document["service"][0]["climate"] == "temperate-maritime");
  CHECK(document["service"][0]["parking"] == "shade");
  CHECK(document["service"][0]["duty"] == "family");
  CHECK_FALSE(document["vehicle"].contains("odometer_km"));
  CHECK_FALSE(document.contains("invented"));
  for (const char* place : {"/vehicle/region", "/vehicle/entered_service", "/looms", "/lots", "/segments"}) {
    CAPTURE(place);
    CHECK(lists(document, place));
  }
  CHECK(read(document).service[0].usage == 1.0);
}

TEST_CASE("start: the year of make is never assumed", "[casefile][start][error]") {
  Intake known = intake("plain-two-segment");
  known.built.reset();
  CHECK_THAT(refusal(known), Contains("--built is missing"));
}

TEST_CASE("start: unknown words are refused with the nearest, all at once", "[casefile][start][error]") {
  Intake known = intake("vee-engin-top");
  known.region = "eurpe";
  known.climate = "alpin";
  known.duty = "taxy";
  known.parking = "shad";
  const std::string all = refusal(known);
  for (const char* word : {"vee-engine-top", "europe", "alpine", "taxi", "shade"}) {
    CHECK_THAT(all, Contains("nearest is \"" + std::string{word} + "\""));
  }
}

TEST_CASE("start: dates and kilometres that cannot be are refused", "[casefile][start][error]") {
  Intake known = intake("plain-two-segment");
  known.built = parse_date("2027");
  CHECK_THAT(refusal(known), Contains("on or after the inspection"));
  known.built = parse_date("1912");
  CHECK_THAT(refusal(known), Contains("nothing is known of the insulations"));
  known.built = parse_date("1994");
  known.odometer_km = 2.9e6;
  CHECK_THAT(refusal(known), Contains("check the kilometres"));
  known.odometer_km = -5.0;
  CHECK_THAT(refusal(known), Contains("/vehicle/odometer_km"));
}

TEST_CASE("start: the same knowledge gives the same text", "[casefile][start]") {
  CHECK(start_case(intake("vee-engine-top"), records()) == start_case(intake("vee-engine-top"), records()));
  CHECK(start_case(intake("vee-engine-top"), records()).back() == '\n');
}
