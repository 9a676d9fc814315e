#include "heatside/casefile/read.hpp"

#include <catch2/catch.hpp>

#include <set>
#include <string>

#include "heatside/base/error.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;

TEST_CASE("case reader: the sample is read member by member", "[casefile]") {
  const Case result = read(sample_case());
  CHECK(result.title == "Invented sample");
  CHECK(result.invented);
  CHECK(result.currency == "EUR");
  CHECK(result.built == *parse_date("1994-03-10"));
  CHECK(result.entered_service == *parse_date("1994-05-01"));
  CHECK(result.inspected == *parse_date("2026-09-14"));
  CHECK(result.region == "europe");
  CHECK_FALSE(result.odometer_km.has_value());
  REQUIRE(result.nodes.size() == 2);
  CHECK(result.nodes[0].name == "unit box");
  CHECK(result.nodes[1].name == "rail");
  REQUIRE(result.looms.size() == 1);
  CHECK(result.looms[0].fitted == result.entered_service);
  CHECK(result.looms[0].date_code == "05/94");
  CHECK(result.looms[0].copper == Copper::tinned);
  CHECK(result.looms[0].region == "europe");
}

TEST_CASE("case reader: segments keep route, covers, stretches and wires", "[casefile]") {
  const Case result = read(sample_case());
  REQUIRE(result.segments.size() == 2);
  const Segment& first = result.segments[0];
  CHECK(first.pointer == "/segments/0");
  CHECK(first.name == "box to rail");
  CHECK((first.from == "box" && first.to == "rail"));
  CHECK(first.length.value() == 0.9);
  CHECK(in_millimetres(first.route_radius.value()) == Approx(30.0));
  CHECK(first.cover_group == "trim");
  CHECK(first.to_open.value() == 15.0_min);
  CHECK_FALSE(first.airbag);
  CHECK(first.stretches.at(0).id == "a");
  CHECK(first.stretches[0].share == 1.0);
  CHECK(first.groups.at(0).count == 12);
  CHECK(first.groups[0].function == "sensors");
  const Segment& second = result.segments[1];
  CHECK(second.airbag);
  REQUIRE(second.stretches.size() == 2);
  CHECK(second.stretches[0].covering.empty());
  CHECK(second.stretches[0].damp);
  CHECK(second.stretches[1].covering == "sleeve-glass");
  CHECK(second.stretches[1].share == 0.75);
  CHECK(second.leaks.at(0).fluid == Fluid::oil);
  CHECK(second.leaks[0].since == *parse_date("2015-06-01"));
}

TEST_CASE("case reader: a case that states everything rests on zone temperatures and the speed", "[casefile]") {
  const Case result = read(sample_case());
  REQUIRE(result.assumptions.size() == 2);
  CHECK(result.assumptions[0].pointer == "/segments/0/stretches/0/zone");
  CHECK(result.assumptions[1].pointer == "/service/0/km");
  CHECK_THAT(result.assumptions[1].text, Contains("km/h"));
  CHECK(result.unused.empty());
}

TEST_CASE("case reader: a loop in the route is allowed", "[casefile]") {
  CHECK(problems_of(changed([](Json& c) { c["segments"][0]["to"] = "box"; })).empty());
  CHECK(problems_of(sample_case()).empty());  // box - rail - box
}

TEST_CASE("case reader: all problems come at once, in the order of the text", "[casefile][error]") {
  const auto problems = problems_of(changed([](Json& c) {
    c["assumed"] = Json::array({{{"at", "/nowhere/at/all"}, {"text", "x"}, {"grade", "judgement"}}});
    c["segments"][1]["length_m"] = -1;
    c["segments"][0]["from"] = "bux";
    c["vehicle"]["region"] = "eurpe";
    c["looms"][0]["copper"] = "gold";
  }));
  REQUIRE(problems.size() == 5);
  CHECK_THAT(problems[0], Contains("/vehicle/region") && Contains("nearest is \"europe\""));
  CHECK_THAT(problems[1], Contains("/looms/0/copper") && Contains("allowed: bare, tinned"));
  CHECK_THAT(problems[2], Contains("/segments/0/from") && Contains("nearest is \"box\""));
  CHECK_THAT(problems[3], Contains("/segments/1/length_m") && Contains("0.01 to 30 m"));
  CHECK_THAT(problems[4], Contains("/assumed/0/at"));
}

TEST_CASE("case reader: problems carry the name of the file", "[casefile][error]") {
  try {
    static_cast<void>(read_case("{}", "van.case.json", records()));
    FAIL("an empty object is no case");
  } catch (const InputError& error) {
    CHECK(error.problems().front().file == "van.case.json");
  }
}

TEST_CASE("case reader: another kind of text is refused at once, without a list of its keys", "[casefile][error]") {
  const auto problems = problems_of(read_strict_json(R"({"format": "heatside-record", "version": 1, "kind": "zone"})", "x"));
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems[0], Contains("/format") && Contains("expected \"heatside-case\""));
  CHECK_THAT(problems_of(Json::array()).at(0), Contains("expected an object, found an array"));
  CHECK_THAT(problems_of(changed([](Json& c) { c["version"] = 2; })).at(0), Contains("reads version 1"));
}

TEST_CASE("case reader: an unknown key is refused with the nearest one that is free", "[casefile][error]") {
  const auto problems = problems_of(changed([](Json& c) { c["segments"][0]["notes"] = "x"; }));
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems[0], Contains("/segments/0/notes") && Contains("nearest is \"note\""));
}

TEST_CASE("case reader: a wrong id is reported where it stands, not where it is named", "[casefile][error]") {
  const auto problems = problems_of(changed([](Json& c) { c["nodes"][1]["id"] = "the rail"; }));
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems[0], Contains("/nodes/1/id"));
}

TEST_CASE("case reader: what the case lists as assumed comes first and keeps its order", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["assumed"] = Json::array({{{"at", "/service/0/duty"}, {"text", "second-hand knowledge"}, {"grade", "memory"}},
                                {{"at", "/lots/0/note"}, {"text", "print not read"}, {"grade", "common-practice"}}});
    c["looms"][0].erase("copper");
  }));
  REQUIRE(result.assumptions.size() == 5);
  CHECK(result.assumptions[0].text == "second-hand knowledge");
  CHECK(result.assumptions[0].grade == Grade::memory);
  CHECK(result.assumptions[1].pointer == "/lots/0/note");
  CHECK(result.assumptions[1].grade == Grade::common_practice);
  CHECK(assumptions_at(result, "/looms/0/copper").size() == 1);
}

TEST_CASE("case reader: what matters most is listed first, dates last", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["lots"][0]["insulation"] = "unknown";
    c["looms"][0].erase("copper");
    c["looms"][0]["made"] = "1994-02";
  }));
  REQUIRE(result.assumptions.size() == 5);
  CHECK(result.assumptions[0].pointer == "/lots/0/insulation");
  CHECK(result.assumptions[1].pointer == "/segments/0/stretches/0/zone");
  CHECK(result.assumptions[2].pointer == "/service/0/km");
  CHECK(result.assumptions[3].pointer == "/looms/0/copper");
  CHECK(result.assumptions[4].pointer == "/looms/0/made");
  CHECK_FALSE(result.lots[0].compound_known);
}

TEST_CASE("case reader: dates known to the month or year are listed with the day taken", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["vehicle"]["built"] = "1994";
    c["looms"][0]["made"] = "1994-02";
  }));
  // The middle of 1994 comes after the entry into service, so the day gives way.
  CHECK(result.built.day == parse_date("1994-05-01")->day);
  CHECK_THAT(assumptions_at(result, "/vehicle/built").at(0), Contains("1994 is taken as 1994-05-01"));
  CHECK_THAT(assumptions_at(result, "/looms/0/made").at(0), Contains("1994-02 is taken as 1994-02-14"));
}

TEST_CASE("case reader: every single wrong type is refused, none goes unnoticed", "[casefile][error]") {
  // Each leaf of the sample in turn becomes something that its member never is.
  const Json flat = sample_case().flatten();
  for (const auto& [pointer, value] : flat.items()) {
    if (value.is_array()) continue;  // an empty list flattens to itself
    CAPTURE(pointer);
    CHECK_FALSE(problems_of(changed([&](Json& c) { c[Json::json_pointer(pointer)] = nullptr; })).empty());
    CHECK_FALSE(problems_of(changed([&](Json& c) { c[Json::json_pointer(pointer)] = Json::array({1}); })).empty());
    CHECK_FALSE(problems_of(changed([&](Json& c) { c[Json::json_pointer(pointer)] = Json{{"x", 1}}; })).empty());
  }
}

TEST_CASE("case reader: what is left out is a problem, an assumption, or says nothing about ageing", "[casefile][error]") {
  // Names, money and access; the last period ends with the inspection; km gives way to one assumption for another.
  const std::set<std::string> free{"invented",        "currency", "name", "date_code", "cover_group",
                                   "minutes_to_open", "function", "id",   "to",        "km"};
  const std::size_t stated = read(sample_case()).assumptions.size();
  const Json flat = sample_case().flatten();
  for (const auto& entry : flat.items()) {
    for (Json::json_pointer pointer(entry.key()); !pointer.empty(); pointer.pop_back()) {
      CAPTURE(pointer.to_string());
      Json document = sample_case();
      Json& parent = document[pointer.parent_pointer()];
      if (!parent.is_object()) continue;
      parent.erase(pointer.back());
      if (!problems_of(document).empty() || free.count(pointer.back()) == 1) continue;
      CHECK(read(document).assumptions.size() > stated);
    }
  }
}
