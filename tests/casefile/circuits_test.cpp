#include <catch2/catch.hpp>

#include "heatside/casefile/read.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;

namespace {

Json with_circuits(const char* text) {
  return changed([&](Json& c) { c["circuits"] = read_strict_json(text, "circuits"); });
}

}  // namespace

TEST_CASE("circuits: all that is stated is kept, in the order of the case", "[casefile][circuits]") {
  const Case result = read(with_circuits(R"([
    {"id": "C2", "function": "crank-sensor", "segments": ["S2", "S1"], "plug": "X1", "cavity": "17", "colour": "brown/white",
     "size": "0.5 mm2", "fuse_A": 7.5, "splice": "J4", "screened": true, "twisted": true, "note": "Traced."},
    {"id": "C1", "function": "battery-feed", "unfused": true}])"));
  REQUIRE(result.circuits.size() == 2);
  const Circuit& sensor = result.circuits[0];
  CHECK(sensor.pointer == "/circuits/0");
  CHECK(sensor.id == "C2");
  CHECK(sensor.function == "crank-sensor");
  CHECK(sensor.segments == std::vector<std::string>{"S2", "S1"});
  CHECK(sensor.plug + sensor.cavity + sensor.colour + sensor.size == "X117brown/white0.5 mm2");
  CHECK(sensor.splice + sensor.note == "J4Traced.");
  CHECK(sensor.fuse_amperes == 7.5);
  CHECK(sensor.screened);
  CHECK(sensor.twisted);
  CHECK_FALSE(sensor.unfused);
  CHECK(result.circuits[1].unfused);
  CHECK_FALSE(result.circuits[1].fuse_amperes);
  // They serve the choice of a remedy.
  CHECK(result.unused.empty());
}

TEST_CASE("circuits: own words are kept, and that no consequence is known is said once", "[casefile][circuits]") {
  const Case result = read(with_circuits(R"([{"id": "C1", "function": "injector 3"}, {"id": "C2", "function": "injector 3"},
                                             {"id": "C3", "function": "injector"}, {"id": "C4"}])"));
  CHECK(result.circuits[1].function == "injector 3");
  CHECK_THAT(assumptions_at(result, "/circuits/0/function").at(0),
             Contains("injector 3") && Contains("nearest is \"injector\""));
  for (const char* at : {"/circuits/1/function", "/circuits/2/function", "/circuits/3/function"}) {
    CHECK(assumptions_at(result, at).empty());
  }
}

TEST_CASE("circuits: ids, sizes and segments must exist", "[casefile][circuits][error]") {
  const std::vector<std::string> problems = problems_of(with_circuits(R"([
    {"id": "C1"}, {"id": "C1", "size": "0.7 mm2"}, {"id": "C3", "segments": ["S1", "S1", "S7", 4]},
    {"id": "C4", "segments": "S1"}, {"id": "C5", "fuse_A": 0}, {"id": "C6", "colours": "red"}])"));
  REQUIRE(problems.size() == 8);
  CHECK_THAT(problems[0], Contains("/circuits/1/id"));
  CHECK_THAT(problems[1], Contains("/circuits/1/size"));
  CHECK_THAT(problems[2], Contains("/circuits/2/segments/1") && Contains("twice"));
  CHECK_THAT(problems[3], Contains("/circuits/2/segments/2") && Contains("unknown segment \"S7\""));
  CHECK_THAT(problems[4], Contains("/circuits/2/segments/3") && Contains("a number"));
  CHECK_THAT(problems[5], Contains("/circuits/3/segments"));
  CHECK_THAT(problems[6], Contains("/circuits/4/fuse_A") && Contains("0.1 to 600 A"));
  CHECK_THAT(problems[7], Contains("nearest is \"colour\""));
}

TEST_CASE("circuits: unfused and a fuse contradict each other", "[casefile][circuits][error]") {
  CHECK_THAT(problems_of(with_circuits(R"([{"id": "C1", "unfused": true, "fuse_A": 30}])")).at(0),
             Contains("/circuits/0/unfused"));
  CHECK(problems_of(with_circuits(R"([{"id": "C1", "unfused": false, "fuse_A": 30}])")).empty());
}

TEST_CASE("circuits: a segment with an airbag circuit must be marked", "[casefile][circuits][error]") {
  // Common practice, no source: nobody may be sent to open it. S2 of the sample is marked, S1 is not.
  CHECK(problems_of(with_circuits(R"([{"id": "C1", "function": "airbag", "segments": ["S2"]}])")).empty());
  CHECK_THAT(problems_of(with_circuits(R"([{"id": "C1", "function": "airbag", "segments": ["S2", "S1"]}])")).at(0),
             Contains("/circuits/0/segments") && Contains("S1"));
}
