#include <catch2/catch.hpp>

#include <algorithm>

#include "heatside/casefile/read.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;

TEST_CASE("loom: the first one is made as the vehicle was built when nobody says otherwise", "[casefile]") {
  const Case result = read(changed([](Json& c) { c["looms"][0].erase("made"); }));
  CHECK(result.looms[0].made == result.built);
  CHECK(result.looms[0].fitted == result.entered_service);
  CHECK_THAT(assumptions_at(result, "/looms/0/made").at(0), Contains("date code"));
}

TEST_CASE("loom: a replacement is made shortly before it was fitted", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["looms"][0].erase("made");
    c["looms"][0]["fitted"] = "2004-01-20";
  }));
  CHECK(result.looms[0].made == *parse_date("2004-01-20"));
  CHECK(result.looms[0].fitted == *parse_date("2004-01-20"));
  CHECK(assumptions_at(result, "/looms/0/made").size() == 1);
}

TEST_CASE("loom: a used part may be older than the vehicle", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["looms"][0]["made"] = "1990-06-01";
    c["looms"][0]["fitted"] = "2004-01-20";
  }));
  CHECK(result.looms[0].made.day < result.built.day);
}

TEST_CASE("loom: made after entry into service asks for the date of fitting", "[casefile][error]") {
  CHECK_THAT(problems_of(changed([](Json& c) { c["looms"][0]["made"] = "1994-05-02"; })).at(0),
             Contains("/looms/0/made") && Contains("a replaced loom needs \"fitted\""));
  CHECK(problems_of(changed([](Json& c) { c["looms"][0]["made"] = "1994-05"; })).empty());
}

TEST_CASE("loom: made, fitted and inspected come one after the other", "[casefile][error]") {
  const auto with_dates = [](const char* made, const char* fitted) {
    return changed([&](Json& c) {
      c["looms"][0]["made"] = made;
      c["looms"][0]["fitted"] = fitted;
    });
  };
  CHECK(problems_of(with_dates("2004", "2004-01-20")).empty());
  CHECK(read(with_dates("2004", "2004-01-20")).looms[0].made.day <= parse_date("2004-01-20")->day);
  CHECK_THAT(problems_of(with_dates("2005", "2004-01-20")).at(0), Contains("made after it was fitted"));
  CHECK_THAT(problems_of(with_dates("2004", "2027")).at(0), Contains("fitted after the inspection"));
  CHECK_THAT(problems_of(with_dates("1990", "1993")).at(0), Contains("before the vehicle was built"));
}

TEST_CASE("loom: bare copper is an assumption, a statement is none", "[casefile]") {
  const Case silent = read(changed([](Json& c) { c["looms"][0].erase("copper"); }));
  CHECK(silent.looms[0].copper == Copper::bare);
  CHECK(assumptions_at(silent, "/looms/0/copper").size() == 1);
  const Case stated = read(changed([](Json& c) { c["looms"][0]["copper"] = "bare"; }));
  CHECK(assumptions_at(stated, "/looms/0/copper").empty());
}

TEST_CASE("lot: a known insulation is its only candidate", "[casefile]") {
  const Lot lot = read(sample_case()).lots.at(0);
  REQUIRE(lot.candidates.size() == 1);
  CHECK(lot.candidates[0].insulation == "xlpo-125");
  CHECK(lot.candidates[0].weight == 1.0);
}

TEST_CASE("lot: an unknown insulation takes the weights of its region and year of make", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["lots"][0]["insulation"] = "unknown";
    c["looms"][0]["region"] = "japan";
    c["looms"][0]["made"] = "1985";
    c["looms"][0]["fitted"] = "1996-01-01";
  }));
  const auto expected = library::era_candidates(records(), "japan", 1985);
  REQUIRE(result.lots[0].candidates.size() == expected.size());
  double sum = 0.0;
  for (std::size_t i = 0; i < expected.size(); ++i) {
    const InsulationCandidate& candidate = result.lots[0].candidates[i];
    sum += candidate.weight;
    if (i > 0) CHECK(candidate.weight <= result.lots[0].candidates[i - 1].weight);
    CHECK(std::any_of(expected.begin(), expected.end(), [&](const library::EraCandidate& one) {
      return one.insulation == candidate.insulation && one.weight == candidate.weight;
    }));
  }
  CHECK(sum == Approx(1.0));
  CHECK_THAT(assumptions_at(result, "/lots/0/insulation").at(0), Contains("japan around 1985"));
}

TEST_CASE("lot: stated candidates are kept heaviest first, ties by id", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["lots"][0]["insulation"] = Json{{"candidates", {{"xlpo-125", 0.25}, {"pvc-std", 0.5}, {"pvc-105", 0.25}}}};
  }));
  REQUIRE(result.lots[0].candidates.size() == 3);
  CHECK(result.lots[0].candidates[0].insulation == "pvc-std");
  CHECK(result.lots[0].candidates[1].insulation == "pvc-105");
  CHECK(result.lots[0].candidates[2].insulation == "xlpo-125");
  CHECK(assumptions_at(result, "/lots/0/insulation").empty());
}

TEST_CASE("lot: weights may miss 1 in the seventh digit, not in the fifth", "[casefile]") {
  const auto with_weights = [](double a, double b, double c3) {
    return changed([&](Json& c) {
      c["lots"][0]["insulation"] = Json{{"candidates", {{"xlpo-125", a}, {"pvc-std", b}, {"pvc-105", c3}}}};
    });
  };
  const Case result = read(with_weights(0.3333333, 0.3333333, 0.3333333));
  CHECK(result.lots[0].candidates[0].weight == Approx(1.0 / 3.0).epsilon(1e-12));
  CHECK_THAT(problems_of(with_weights(0.3333, 0.3333, 0.3333)).at(0), Contains("sum to 0.9999; they must sum to 1"));
}

TEST_CASE("lot: an unknown candidate and an impossible weight are named", "[casefile][error]") {
  const auto problems = problems_of(changed([](Json& c) {
    c["lots"][0]["insulation"] = Json{{"candidates", {{"xlpo-152", 0.5}, {"pvc-std", 1.5}}}};
  }));
  REQUIRE(problems.size() == 2);
  CHECK_THAT(problems[0], Contains("/candidates/xlpo-152") && Contains("nearest is"));
  CHECK_THAT(problems[1], Contains("/candidates/pvc-std") && Contains("0 to 1"));
}

TEST_CASE("wire: a word takes its measures from the conductor table", "[casefile]") {
  const Lot lot = read(sample_case()).lots.at(0);
  const auto& wall = library::find_conductor_size(records(), "0.5 mm2")->thin.value();
  CHECK(in_millimetres(lot.wall) == Approx(wall.wall.value));
  CHECK(in_millimetres(lot.outer_diameter) == Approx(wall.outer_diameter.value));
}

TEST_CASE("wire: measures of its own are kept", "[casefile]") {
  const Json wall{{"wall_mm", 0.35}, {"outer_diameter_mm", 1.7}};
  const Lot lot = read(changed([&](Json& c) { c["lots"][0]["wall"] = wall; })).lots.at(0);
  CHECK(in_millimetres(lot.wall) == Approx(0.35));
  CHECK(in_millimetres(lot.outer_diameter) == Approx(1.7));
}

TEST_CASE("wire: measures leave room for the copper and not for four times as much", "[casefile][error]") {
  // Own arithmetic: 0.5 mm2 as a circle is 0.798 mm, 4 times that area 1.596 mm; walls of 0.35 mm add 0.7 mm.
  const auto with = [](double outer) {
    return changed([&](Json& c) { c["lots"][0]["wall"] = Json{{"wall_mm", 0.35}, {"outer_diameter_mm", outer}}; });
  };
  CHECK_NOTHROW(read(with(1.50)));
  CHECK_NOTHROW(read(with(2.29)));
  CHECK_THAT(problems_of(with(1.49)).at(0), Contains("/lots/0/wall") && Contains("of copper"));
  CHECK_THAT(problems_of(with(2.31)).at(0), Contains("/lots/0/wall") && Contains("of copper"));
}

TEST_CASE("wire: a group takes what it does not state from its lot", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["segments"][0]["groups"][0]["size"] = "0.75 mm2";  // the wall stays thin, of the other size
    c["segments"][1]["groups"][0]["wall"] = "thick";     // the size stays that of the lot
  }));
  const WireGroup& other_size = result.segments[0].groups[0];
  CHECK(other_size.size == "0.75 mm2");
  const auto& thin = library::find_conductor_size(records(), "0.75 mm2")->thin.value();
  CHECK(in_millimetres(other_size.outer_diameter) == Approx(thin.outer_diameter.value));
  const WireGroup& other_wall = result.segments[1].groups[0];
  CHECK(other_wall.size == "0.5 mm2");
  CHECK(in_millimetres(other_wall.wall) ==
        Approx(library::find_conductor_size(records(), "0.5 mm2")->thick.value().wall.value));
}

TEST_CASE("wire: measures of a lot do not hold for another size", "[casefile][error]") {
  const auto problems = problems_of(changed([](Json& c) {
    c["lots"][0]["wall"] = Json{{"wall_mm", 0.35}, {"outer_diameter_mm", 1.7}};
    c["segments"][0]["groups"][0]["size"] = "2.5 mm2";
  }));
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems[0], Contains("/segments/0/groups/0") && Contains("\"wall\" is missing"));
}

TEST_CASE("wire: a wall that no table has asks for its measures", "[casefile][error]") {
  const auto problems = problems_of(changed([](Json& c) { c["lots"][0]["size"] = "AWG 30"; }));
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems[0], Contains("/lots/0/wall") && Contains("no thin wall") && Contains("wall_mm"));
}
