#include <catch2/catch.hpp>

#include "heatside/casefile/read.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;

TEST_CASE("segment: what it leaves open is assumed once for the whole case", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    for (Json& segment : c["segments"]) {
      for (const char* key : {"route_radius_mm", "airbag", "leaks"}) segment.erase(key);
      for (Json& stretch : segment["stretches"]) stretch.erase("damp");
    }
  }));
  const auto texts = assumptions_at(result, "/segments");
  REQUIRE(texts.size() == 4);
  CHECK_THAT(texts[0], Contains("route_radius_mm"));
  CHECK_THAT(texts[1], Contains("damp"));
  CHECK_THAT(texts[2], Contains("leaks"));
  CHECK_THAT(texts[3], Contains("airbag"));
  CHECK_FALSE(result.segments[0].route_radius.has_value());
  CHECK_FALSE(result.segments[1].airbag);
}

TEST_CASE("segment: the route bend is assumed with the grade of the model's number", "[casefile]") {
  const Case result = read(changed([](Json& c) { c["segments"][0].erase("route_radius_mm"); }));
  for (const Assumption& assumption : result.assumptions) {
    if (assumption.pointer == "/segments") CHECK(assumption.grade == records().model.condition.route_radius.from.grade);
  }
  CHECK(assumptions_at(result, "/segments").size() == 1);
}

TEST_CASE("segment: a stretch without covering is bare by assumption, with none by statement", "[casefile]") {
  const Case silent = read(changed([](Json& c) { c["segments"][0]["stretches"][0].erase("covering"); }));
  CHECK(silent.segments[0].stretches[0].covering.empty());
  CHECK(assumptions_at(silent, "/segments/0/stretches/0/covering").size() == 1);
  CHECK(assumptions_at(silent, "/segments/1/stretches/0/covering").empty());
}

TEST_CASE("segment: stretches without an id are called by their place", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["segments"][1]["stretches"][0].erase("id");
    c["segments"][1]["stretches"][1].erase("id");
  }));
  CHECK(result.segments[1].stretches[0].id == "a");
  CHECK(result.segments[1].stretches[1].id == "b");
  CHECK_THAT(problems_of(changed([](Json& c) {
               c["segments"][1]["stretches"][0]["id"] = "b";
               c["segments"][1]["stretches"][1].erase("id");
             })).at(0),
             Contains("/segments/1/stretches/1") && Contains("called \"b\""));
}

TEST_CASE("segment: the twenty-seventh stretch is aa", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    Json stretch = c["segments"][0]["stretches"][0];
    stretch["share"] = 1.0 / 28.0;
    c["segments"][0]["stretches"] = std::vector<Json>(28, stretch);
  }));
  CHECK(result.segments[0].stretches[25].id == "z");
  CHECK(result.segments[0].stretches[26].id == "aa");
  CHECK(result.segments[0].stretches[27].id == "ab");
}

TEST_CASE("segment: shares sum to 1 and none is nothing", "[casefile][error]") {
  CHECK_THAT(problems_of(changed([](Json& c) { c["segments"][1]["stretches"][0]["share"] = 0.26; })).at(0),
             Contains("/segments/1/stretches") && Contains("sum to 1.01"));
  CHECK_THAT(problems_of(changed([](Json& c) { c["segments"][1]["stretches"][0]["share"] = 0; })).at(0),
             Contains("0 is too little"));
  CHECK_THAT(problems_of(changed([](Json& c) { c["segments"][0]["stretches"][0]["share"] = 0.9; })).at(0),
             Contains("sum to 0.9"));
}

TEST_CASE("segment: wires belong to a lot of the same loom", "[casefile][error]") {
  const auto problems = problems_of(changed([](Json& c) {
    Json loom = c["looms"][0];
    loom["id"] = "lower";
    c["looms"].push_back(loom);
    c["segments"][1]["loom"] = "lower";
  }));
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems[0], Contains("/segments/1/groups/0/lot") && Contains("belongs to the loom \"top\""));
}

TEST_CASE("segment: a loom or lot that no segment uses is refused", "[casefile][error]") {
  const auto problems = problems_of(changed([](Json& c) {
    Json loom = c["looms"][0];
    loom["id"] = "lower";
    c["looms"].push_back(loom);
    Json lot = c["lots"][0];
    lot["id"] = "feed";
    c["lots"].push_back(lot);
  }));
  REQUIRE(problems.size() == 2);
  CHECK_THAT(problems[0], Contains("/looms/1") && Contains("empty"));
  CHECK_THAT(problems[1], Contains("/lots/1") && Contains("no segment uses this lot"));
}

TEST_CASE("segment: loads are kept, and no more wires carry current than there are", "[casefile]") {
  const auto with_load = [](int loaded) {
    return changed([&](Json& c) {
      c["segments"][0]["groups"][0]["current_A"] = 2.5;
      c["segments"][0]["groups"][0]["loaded"] = loaded;
    });
  };
  const WireGroup group = read(with_load(12)).segments[0].groups[0];
  CHECK(group.current.value().value() == 2.5);
  CHECK(group.loaded == 12);
  CHECK_THAT(problems_of(with_load(13)).at(0), Contains("13 loaded wires in a group of 12"));
}

TEST_CASE("segment: silence about a load is listed, and no load is none", "[casefile]") {
  const Case loaded = read(changed([](Json& c) { c["segments"][0]["groups"][0]["current_A"] = 2.5; }));
  const WireGroup& group = loaded.segments[0].groups[0];
  CHECK(group.loaded == group.count);
  CHECK(group.current_share == 1.0);
  const auto lists = [&](const std::string& pointer) {
    return std::any_of(loaded.assumptions.begin(), loaded.assumptions.end(),
                       [&](const Assumption& assumption) { return assumption.pointer == pointer; });
  };
  CHECK(lists("/segments/0/groups/0/loaded"));
  CHECK(lists("/segments/0/groups/0/current_share"));
  CHECK(read(changed([](Json&) {})).segments[0].groups[0].loaded == 0);
}

TEST_CASE("segment: a group lies in the outer layer unless the case says otherwise", "[casefile]") {
  const auto placed = [](const char* place) {
    return changed([&](Json& c) { c["segments"][0]["groups"][0]["place"] = place; });
  };
  CHECK(read(placed("inner")).segments[0].groups[0].inner);
  CHECK_FALSE(read(placed("outer")).segments[0].groups[0].inner);
  CHECK_FALSE(read(changed([](Json&) {})).segments[0].groups[0].inner);
  CHECK_THAT(problems_of(placed("middle")).at(0), Contains("/segments/0/groups/0/place") && Contains("middle"));
}

TEST_CASE("segment: a hot body without a surface takes the zone's, where the zone has one", "[casefile]") {
  const auto beside = [](const char* zone) {
    return changed([&](Json& c) {
      Json& stretch = c["segments"][0]["stretches"][0];
      stretch["zone"] = zone;
      stretch["hot_bodies"] =
          Json::array({{{"shape", "cylinder"}, {"size_mm", 45}, {"distance_mm", 120}, {"shield", "none"}}});
    });
  };
  CHECK(read(beside("exhaust-close")).segments[0].stretches[0].hot_bodies.at(0).surface_celsius[0] == 450.0);
  CHECK_THAT(problems_of(beside("battery-tray")).at(0), Contains("surface_Cel") && Contains("battery-tray"));
}

TEST_CASE("segment: a wire cannot run inside a hot pipe", "[casefile][error]") {
  const std::vector<std::string> problems = problems_of(changed([](Json& c) {
    c["segments"][0]["stretches"][0]["hot_bodies"] =
        Json::array({{{"shape", "cylinder"},
                      {"size_mm", 45},
                      {"distance_mm", 20},
                      {"surface_Cel", {{"cruise", 450}, {"city", 380}, {"idle", 280}, {"hill", 650}}},
                      {"shield", "none"}}});
  }));
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems[0], Contains("lies inside a cylinder"));
}

TEST_CASE("segment: a leak begins in the life of the vehicle", "[casefile][error]") {
  const auto since = [](const char* date) {
    return changed([&](Json& c) { c["segments"][1]["leaks"][0]["since"] = date; });
  };
  CHECK_THAT(problems_of(since("2026-09-15")).at(0), Contains("after the inspection"));
  CHECK_THAT(problems_of(since("1994-03-09")).at(0), Contains("before the vehicle was built"));
  CHECK(read(since("2026")).segments[1].leaks[0].since.day <= parse_date("2026-09-14")->day);
}

TEST_CASE("segment: hot bodies are kept with their surface by running state", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["segments"][0]["stretches"][0]["hot_bodies"] =
        Json::array({{{"shape", "cylinder"},
                      {"size_mm", 45},
                      {"distance_mm", 120},
                      {"surface_Cel", {{"cruise", 450}, {"city", 380}, {"idle", 280}, {"hill", 650}}},
                      {"shield", "panel"},
                      {"clean_shield", false}}});
  }));
  const HotBody& body = result.segments[0].stretches[0].hot_bodies.at(0);
  CHECK(body.shape == "cylinder");
  CHECK(in_millimetres(body.distance) == Approx(120.0));
  CHECK(body.surface_celsius[3] == 650.0);
  CHECK(body.shield == "panel");
  CHECK_FALSE(body.clean_shield);
}
