#include <catch2/catch.hpp>

#include <algorithm>

#include "heatside/casefile/read.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;

namespace {

Json with_recorded(const char* key, const char* text) {
  return changed([&](Json& c) { c[key] = read_strict_json(text, key); });
}

bool says_unused(const Case& result, const std::string& part) {
  return std::count_if(result.unused.begin(), result.unused.end(),
                       [&](const std::string& words) { return words.rfind(part + ":", 0) == 0; }) == 1;
}

}  // namespace

TEST_CASE("recorded: each part that the estimate does not use is named once", "[casefile]") {
  CHECK(says_unused(read(with_recorded("symptoms", R"({"none": true})")), "symptoms"));
}

TEST_CASE("recorded: what warms a wire is computed with and so not listed", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    for (Json& segment : c["segments"]) {
      segment["stretches"][0]["air_speed_m_per_s"] = 2;
      segment["stretches"][0]["hot_bodies"] =
          Json::array({{{"shape", "plate"},
                        {"size_mm", 100},
                        {"distance_mm", 90},
                        {"surface_Cel", {{"cruise", 200}, {"city", 180}, {"idle", 150}, {"hill", 250}}},
                        {"shield", "none"}}});
      segment["groups"][0]["current_A"] = 1;
    }
  }));
  CHECK(result.unused.empty());
}

TEST_CASE("recorded: empty lists are not worth a word", "[casefile]") {
  CHECK(read(with_recorded("findings", "[]")).unused.empty());
  CHECK(read(with_recorded("findings", R"([{"segment": "S1", "seen": "not-seen"}])")).unused.empty());
  CHECK(read(with_recorded("openings", R"({"allowed": 3})")).unused.empty());
  CHECK(read(with_recorded("circuits", "[]")).unused.empty());
}

TEST_CASE("recorded: a limit of cost needs a currency", "[casefile][error]") {
  Json document = with_recorded("openings", R"({"cost_limit": 400})");
  CHECK(problems_of(document).empty());
  document.erase("currency");
  CHECK_THAT(problems_of(document).at(0), Contains("/openings/cost_limit") && Contains("currency"));
}

TEST_CASE("recorded: symptoms do not say none and some at once", "[casefile][error]") {
  CHECK_THAT(problems_of(with_recorded("symptoms", R"({"none": true, "blown_fuses": ["7"]})")).at(0),
             Contains("listed beside"));
  CHECK(problems_of(with_recorded("symptoms", R"({"none": true, "blown_fuses": []})")).empty());
}
