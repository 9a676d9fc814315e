#include <catch2/catch.hpp>

#include <algorithm>

#include "heatside/casefile/read.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;

namespace {

using Segments = std::vector<std::string>;

Json with_remedies(const std::string& text) {
  return changed([&](Json& c) { c["remedies"] = read_strict_json(text, "remedies"); });
}

Case read_remedies_of(const std::string& text) { return read(with_remedies(text)); }

Remedy only_remedy(const std::string& text) {
  const Case result = read_remedies_of("[" + text + "]");
  REQUIRE(result.remedies.size() == 1);
  return result.remedies.front();
}

std::string first_problem(const std::string& text) { return problems_of(with_remedies("[" + text + "]")).at(0); }

}  // namespace

TEST_CASE("remedies: all that is stated is kept, in the order of the case", "[casefile][remedies]") {
  const Case result = read_remedies_of(R"([
    {"id": "new-a", "kind": "new-part", "name": "from the parts counter", "loom": "top", "insulation": "xlpo-125",
     "made": "2026-02-10", "date_code": "07/26", "covering": "tube-pp", "parts_cost": 720, "minutes": 110, "lead_days": 10,
     "note": "Asked by phone."},
    {"id": "wait", "kind": "leave"}])");
  REQUIRE(result.remedies.size() == 2);
  const Remedy& part = result.remedies[0];
  CHECK(part.pointer == "/remedies/0");
  CHECK(part.id + ", " + part.name + ", " + part.kind == "new-a, from the parts counter, new-part");
  CHECK(part.segments == Segments{"S1", "S2"});
  REQUIRE(part.candidates.size() == 1);
  CHECK(part.candidates[0].insulation == "xlpo-125");
  CHECK(part.compound_known);
  CHECK(format_date(part.made.value()) == "2026-02-10");
  CHECK(part.date_code + part.note == "07/26Asked by phone.");
  CHECK_FALSE(part.past);
  CHECK(part.covering == "tube-pp");
  CHECK(part.parts_cost == 720.0);
  CHECK(part.minutes.value() == Minutes{110.0});
  CHECK(part.lead_days == 10.0);

  const Remedy& leave = result.remedies[1];
  CHECK(leave.name == "wait");
  CHECK(leave.segments.empty());
  CHECK(leave.candidates.empty());
  CHECK_FALSE(leave.parts_cost);
  CHECK_FALSE(leave.minutes);
  CHECK(result.unused.empty());
}

TEST_CASE("remedies: segments are named, those of a loom, or all where whole looms go", "[casefile][remedies]") {
  CHECK(only_remedy(R"({"id": "R", "kind": "branches", "segments": ["S1"], "insulation": "xlpo-150"})").segments ==
        Segments{"S1"});
  CHECK(only_remedy(R"({"id": "R", "kind": "new-part", "segments": ["S2", "S1"]})").segments == Segments{"S1", "S2"});
  CHECK(only_remedy(R"({"id": "R", "kind": "rebuilt", "insulation": "xlpo-125"})").segments == Segments{"S1", "S2"});
  CHECK_THAT(first_problem(R"({"id": "R", "kind": "rewire", "insulation": "xlpo-125"})"),
             Contains("/remedies/0: ") && Contains("\"segments\" is missing"));
  CHECK_THAT(first_problem(R"({"id": "R", "kind": "new-part", "segments": []})"), Contains("at least one segment"));
}

TEST_CASE("remedies: with several looms it is listed that all of them go", "[casefile][remedies]") {
  const auto two_looms = [](const char* remedy) {
    return read(changed([&](Json& c) {
      c["looms"].push_back({{"id", "lower"}, {"made", "1994-02-01"}, {"copper", "bare"}});
      c["lots"].push_back(c["lots"][0]);
      c["lots"][1]["id"] = "cable";
      c["lots"][1]["loom"] = "lower";
      c["segments"][1]["loom"] = "lower";
      c["segments"][1]["groups"][0]["lot"] = "cable";
      c["remedies"] = Json::array({read_strict_json(remedy, "remedy")});
    }));
  };
  const Case both = two_looms(R"({"id": "R", "kind": "new-part"})");
  CHECK(both.remedies[0].segments == Segments{"S1", "S2"});
  CHECK_THAT(assumptions_at(both, "/remedies/0/loom").at(0), Contains("every loom"));
  const Case one = two_looms(R"({"id": "R", "kind": "new-part", "loom": "lower"})");
  CHECK(one.remedies[0].segments == Segments{"S2"});
  CHECK(assumptions_at(one, "/remedies/0/loom").empty());
}

TEST_CASE("remedies: nobody but a licensed practice works on airbag circuits", "[casefile][remedies][error]") {
  // Common practice, no source. S2 of the sample carries them.
  for (const char* text : {R"({"id": "R", "kind": "sleeve-and-tape", "covering": "tape-cloth", "loom": "top"})",
                           R"({"id": "R", "kind": "branches", "insulation": "xlpo-125", "segments": ["S1", "S2"]})",
                           R"({"id": "R", "kind": "rewire", "insulation": "xlpo-125", "segments": ["S2"]})"}) {
    CHECK_THAT(first_problem(text), Contains("S2") && Contains("licensed practice"));
  }
  CHECK(problems_of(with_remedies(
                        R"([{"id": "R", "kind": "rewire", "insulation": "xlpo-125", "segments": ["S1"]}, {"id": "N", "kind":
                            "new-part"}])"))
            .empty());
}

TEST_CASE("remedies: each kind takes what belongs to it", "[casefile][remedies][error]") {
  CHECK(problems_of(with_remedies(R"([{"id": "R", "kind": "leave", "loom": "top", "insulation": "xlpo-125", "made": "2026",
                                       "donor": {}, "covering": "tape-cloth", "date_code": "1", "segments": ["S1"]}])"))
            .size() == 7);
  CHECK_THAT(first_problem(R"({"id": "R", "kind": "rebuilt", "insulation": "xlpo-125", "donor": {"years": 3}})"),
             Contains("/remedies/0/donor") && Contains("does not belong to the kind \"rebuilt\""));
  CHECK_THAT(first_problem(R"({"id": "R", "kind": "sleeve-and-tape", "segments": ["S1"]})"),
             Contains("\"covering\" is missing") && Contains("tape-cloth"));
  CHECK_THAT(first_problem(R"({"id": "R", "kind": "rebuilt"})"),
             Contains("\"insulation\" is missing") && Contains("xlpo-125"));
}

TEST_CASE("remedies: a part of unknown compound is one of region and year of make, and says so", "[casefile][remedies]") {
  const auto heaviest = [](int year) {
    const std::vector<library::EraCandidate> era = library::era_candidates(records(), "europe", year);
    return *std::max_element(era.begin(), era.end(), [](const auto& a, const auto& b) { return a.weight < b.weight; });
  };
  const auto expect_of_year = [&](const char* text, int year) {
    const Case result = read_remedies_of(text);
    CHECK(result.remedies[0].candidates.front().insulation == heaviest(year).insulation);
    CHECK(result.remedies[0].candidates.front().weight == Approx(heaviest(year).weight));
    CHECK_FALSE(result.remedies[0].compound_known);
    CHECK_THAT(assumptions_at(result, "/remedies/0/insulation").at(0), Contains(std::to_string(year)));
  };
  expect_of_year(R"([{"id": "R", "kind": "new-part"}])", 2026);   // the inspection
  expect_of_year(R"([{"id": "R", "kind": "used-part"}])", 1994);  // as the vehicle
  expect_of_year(R"([{"id": "R", "kind": "used-part", "made": "2004"}])", 2004);
  expect_of_year(R"([{"id": "R", "kind": "rebuilt", "insulation": "unknown"}])", 2026);
}

TEST_CASE("remedies: a part without a date of make is listed", "[casefile][remedies]") {
  for (const char* kind : {"new-part", "used-part"}) {
    const Case result = read_remedies_of(std::string{R"([{"id": "R", "insulation": "xlpo-125", "kind": ")"} + kind + "\"}]");
    CHECK_FALSE(result.remedies[0].made);
    CHECK_THAT(assumptions_at(result, "/remedies/0/made").at(0), Contains("date code"));
  }
  // New wire for the job is made for the job.
  const Case rebuilt = read_remedies_of(R"([{"id": "R", "kind": "rebuilt", "insulation": "xlpo-125"}])");
  CHECK(assumptions_at(rebuilt, "/remedies/0/made").empty());
}

TEST_CASE("remedies: money needs a currency, numbers a range", "[casefile][remedies][error]") {
  Json document = with_remedies(R"([{"id": "A", "kind": "new-part", "insulation": "xlpo-125", "parts_cost": 700},
                                    {"id": "B", "kind": "leave", "minutes": -1, "lead_days": 2000, "parts_cost": -5}])");
  document["costs"] = {{"stop", 200}, {"per_minute", 1}};
  CHECK(problems_of(document).size() == 3);
  document.erase("currency");
  const std::vector<std::string> problems = problems_of(document);
  CHECK(std::count_if(problems.begin(), problems.end(), [](const std::string& line) {
          return line.find("money needs a currency") != std::string::npos;
        }) >= 3);
}

TEST_CASE("remedies: with an unknown kind nothing else is held against it", "[casefile][remedies][error]") {
  const std::vector<std::string> problems =
      problems_of(with_remedies(R"([{"id": "R", "kind": "used-prt", "donor": {"years": 3}}])"));
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems[0], Contains("/remedies/0/kind") && Contains("nearest is \"used-part\""));
}

TEST_CASE("costs: kept, and ten years without discount where nothing is stated", "[casefile][costs]") {
  const Costs stated = read(changed([](Json& c) {
                         c["costs"] = {{"per_minute", 1.4}, {"stop", 240}, {"horizon_years", 12}, {"discount_percent", 3}};
                       })).costs;
  CHECK(stated.per_minute == 1.4);
  CHECK(stated.stop == 240.0);
  CHECK(stated.horizon == Years{12.0});
  CHECK(stated.discount_per_year == Approx(0.03).epsilon(1e-12));
  const Costs silent = read(sample_case()).costs;
  CHECK_FALSE(silent.per_minute);
  CHECK_FALSE(silent.stop);
  CHECK(silent.horizon == Years{10.0});
  CHECK(silent.discount_per_year == 0.0);
}

TEST_CASE("costs: hostile numbers are refused with what is allowed", "[casefile][costs][error]") {
  const auto problem = [](const char* key, const Json& value) {
    const std::vector<std::string> problems = problems_of(changed([&](Json& c) { c["costs"][key] = value; }));
    return problems.size() == 1 ? problems.front() : "not one problem";
  };
  CHECK_THAT(problem("horizon_years", 0), Contains("/costs/horizon_years") && Contains("1 to 50 a"));
  CHECK_THAT(problem("horizon_years", 200), Contains("1 to 50 a"));
  CHECK_THAT(problem("discount_percent", 30.5), Contains("0 to 30 %"));
  CHECK_THAT(problem("discount_percent", -1), Contains("0 to 30 %"));
  CHECK_THAT(problem("per_minute", 0), Contains("/costs/per_minute"));
  CHECK_THAT(problem("stop", "240"), Contains("/costs/stop"));
  CHECK_THAT(problem("discount_percents", 3), Contains("nearest is \"discount_percent\""));
}
