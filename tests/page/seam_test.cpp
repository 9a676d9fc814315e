#include "page/engine/seam.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <fstream>
#include <iterator>
#include <string>

#include "base/strict_json.hpp"

/// The seam of the page by itself. That its numbers are those of the command line is checked in same_numbers_test.py.

using heatside::Json;
using heatside::page::Seam;

namespace {

std::string demo_case() {
  std::ifstream in{std::string{HEATSIDE_SOURCE_DIR} + "/examples/hillside-estate.case.json", std::ios::binary};
  return {std::istreambuf_iterator<char>{in}, {}};
}

Json asked(Seam& seam, const Json& request) { return Json::parse(seam.answer(request.dump())); }

Json about_demo(const char* ask) {
  return {{"ask", ask}, {"case", demo_case()}, {"name", "demo.case.json"}, {"draws", 200}};
}

Json cracked_finding() {
  return {{"segment", "to-coil-2"}, {"seen", "cracked"}, {"method", "look-boot"}, {"cause", "heat"}, {"on", "2014-06-02"}};
}

// Where the first error lies.
std::string place_of_error(const Json& answer) {
  REQUIRE(answer.contains("errors"));
  REQUIRE_FALSE(answer["errors"].empty());
  return answer["errors"][0]["file"].get<std::string>() + " " + answer["errors"][0]["place"].get<std::string>();
}

}  // namespace

TEST_CASE("seam: what is no request is refused in words", "[page]") {
  Seam seam;
  for (const char* text : {"", "{", "[]", "1", "\"estimate\"", "{\"ask\":1}", "{\"ask\":\"fly\"}", "{\"ask\":\"estimate\"}",
                           "{\"ask\":\"estimate\",\"case\":7}", "{\"ask\":\"start\",\"intake\":[]}", "\xff\xfe"}) {
    CAPTURE(text);
    const Json answer = Json::parse(seam.answer(text));
    REQUIRE(answer.contains("errors"));
    CHECK(answer["errors"][0]["file"] == "request");
    CHECK_FALSE(answer["errors"][0]["what"].get<std::string>().empty());
  }
}

TEST_CASE("seam: members out of range name themselves", "[page]") {
  Seam seam;
  Json request = about_demo("estimate");
  request["draws"] = 99;
  CHECK(place_of_error(asked(seam, request)) == "request /draws");
  request["draws"] = 100.5;
  CHECK(place_of_error(asked(seam, request)) == "request /draws");
  request["draws"] = 100;
  request["at"] = {"soon"};
  CHECK(place_of_error(asked(seam, request)) == "request /at");
  request = about_demo("curves");
  request["segment"] = "nowhere";
  CHECK(place_of_error(asked(seam, request)) == "request /segment");
  request = about_demo("compare");
  CHECK(place_of_error(asked(seam, request)) == "request /insulations");
  request["insulations"] = {"unobtainium"};
  CHECK(place_of_error(asked(seam, request)) == "request ");
}

TEST_CASE("seam: errors of a case keep its name and place, and check lists them without refusing", "[page]") {
  Seam seam;
  Json broken = Json::parse(demo_case());
  broken["segments"][0]["length_m"] = -1;
  Json request = about_demo("estimate");
  request["case"] = broken.dump();
  CHECK(place_of_error(asked(seam, request)) == "demo.case.json /segments/0/length_m");
  request["ask"] = "check";
  const Json checked = asked(seam, request);
  REQUIRE(checked.contains("files"));
  CHECK(checked["files"][0]["problems"][0]["at"] == "/segments/0/length_m");
  request["case"] = "no JSON";
  CHECK_FALSE(asked(seam, request)["files"][0]["problems"].empty());
}

TEST_CASE("seam: what is kept from earlier requests changes no answer", "[page]") {
  Seam busy;
  const std::vector<const char*> asks{"estimate", "remedies", "map", "estimate"};
  for (const char* ask : asks) {
    CAPTURE(ask);
    Seam fresh;
    CHECK(busy.answer(about_demo(ask).dump()) == fresh.answer(about_demo(ask).dump()));
  }
  // Another case in between, and more of them than are kept.
  for (int title = 0; title < 6; ++title) {
    Json other = Json::parse(demo_case());
    other["title"] = "case " + std::to_string(title);
    Json request = about_demo("estimate");
    request["case"] = other.dump();
    CHECK(asked(busy, request)["title"] == other["title"]);
  }
  Seam fresh;
  CHECK(busy.answer(about_demo("order").dump()) == fresh.answer(about_demo("order").dump()));
}

TEST_CASE("seam: what is recorded is taken back to the byte", "[page]") {
  Seam seam;
  Json request = about_demo("consent");
  request["now"] = "2014-06-01T08:00:00Z";
  const Json agreed = asked(seam, request);
  CHECK(agreed["record"]["did"] == "recorded");
  request["ask"] = "record";
  request["case"] = agreed["case"];
  request["finding"] = cracked_finding();
  const Json found = asked(seam, request);
  CHECK(found["record"]["prediction"] == true);
  CHECK(found["record"]["finding"]["seen"] == "cracked");
  const Json after = Json::parse(found["case"].get<std::string>());
  CHECK(after["findings"].back()["segment"] == "to-coil-2");
  CHECK(after["predictions"].back()["stored"] == "2014-06-01T08:00:00Z");
  request["ask"] = "undo";
  request["case"] = found["case"];
  CHECK(asked(seam, request)["case"] == agreed["case"]);
  request["case"] = agreed["case"];
  CHECK(asked(seam, request)["case"] == demo_case());
}

TEST_CASE("seam: a finding that cannot be is refused at its own place", "[page]") {
  Seam seam;
  Json request = about_demo("record");
  request["now"] = "2014-06-01T08:00:00Z";
  request["finding"] = cracked_finding();
  request["finding"]["segment"] = "to-coil-9";
  CHECK(place_of_error(asked(seam, request)) == "request /finding/segment");
  request["finding"]["on"] = "yesterday";
  CHECK(place_of_error(asked(seam, request)) == "request /finding/on");
}

TEST_CASE("seam: every segment of the map can be found by its id", "[page]") {
  Seam seam;
  const auto svg = asked(seam, about_demo("map"))["svg"].get<std::string>();
  for (const Json& segment : Json::parse(demo_case())["segments"]) {
    CAPTURE(segment["id"]);
    CHECK(svg.find("data-segment=\"" + segment["id"].get<std::string>() + "\"") != std::string::npos);
  }
}

namespace {

Json lesson(Seam& seam, double celsius, double years) {
  return asked(
      seam, {{"ask", "lesson"}, {"insulation", "xlpo-125"}, {"temperature_Cel", celsius}, {"years", years}})["lessons"][0];
}

double middle_of(const Json& quantiles) { return quantiles["p50"].get<double>(); }

}  // namespace

// Rules of this project: the draws of a lesson are those of a case, so both ways of looking at them agree.
TEST_CASE("seam: a lesson agrees with itself", "[page]") {
  Seam seam;
  const Json ten = lesson(seam, 120.0, 10.0);
  CHECK(ten["points"].front()["years"].get<double>() == Approx(0.0).margin(0.01));
  CHECK(ten["points"].back()["years"].get<double>() == Approx(40.0).margin(0.7));
  double before = 1.0e9;
  for (const Json& point : ten["points"]) {
    const double middle = middle_of(point["elongation_percent"]);
    CHECK(middle <= before + 1.0e-9);
    before = middle;
    if (std::abs(point["years"].get<double>() - 10.0) < 1.0e-6)
      CHECK(middle == Approx(middle_of(ten["now"]["elongation_percent"])).epsilon(1.0e-9));
  }
  // The years until a condition are from new: they do not depend on the day that is looked from.
  const Json twenty = lesson(seam, 120.0, 20.0);
  CHECK(middle_of(ten["reached_years"]["flex_cracks"]) ==
        Approx(middle_of(twenty["reached_years"]["flex_cracks"])).epsilon(0.01));
  // The spread of the stretches is all that lies between the two.
  CHECK(middle_of(ten["life_hours"]) / 8766.0 == Approx(middle_of(ten["reached_years"]["flex_cracks"])).epsilon(0.1));
}

// Source: Arrhenius's law; one path of 10 K more near its thermal-life point.
TEST_CASE("seam: a hotter lesson ages by the Arrhenius ratio of its life line", "[page]") {
  Seam seam;
  const Json cool = lesson(seam, 120.0, 10.0), hot = lesson(seam, 130.0, 10.0);
  double at_120 = 0.0, at_130 = 0.0;
  for (const Json& point : cool["life_line"]) {
    if (point["temperature_Cel"] == 120.0) at_120 = middle_of(point["hours"]);
    if (point["temperature_Cel"] == 130.0) at_130 = middle_of(point["hours"]);
  }
  REQUIRE(at_130 > 0.0);
  CHECK(middle_of(cool["reached_years"]["flex_cracks"]) / middle_of(hot["reached_years"]["flex_cracks"]) ==
        Approx(at_120 / at_130).epsilon(0.05));
}
