#include "heatside/labfit/study.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "labfit/data.hpp"

using namespace heatside;
using namespace heatside::labfit;
using Catch::Contains;

namespace {

bool warns(const Study& study, const std::string& words) {
  return std::any_of(study.warnings.begin(), study.warnings.end(),
                     [&](const std::string& warning) { return warning.find(words) != std::string::npos; });
}

Study study_of_table(const std::string& table, StudyRequest request = {}) {
  return study_of(read_oven_test(table, "t.csv"), request);
}

const std::string complete =
    "temperature_Cel,hours\n150,9000\n150,9900\n150,10800\n165,3900\n165,4300\n165,4700\n180,1600\n180,1800\n180,2000\n";

}  // namespace

TEST_CASE("study: both distributions, the chain and the one of lower AIC", "[labfit][study]") {
  const Study study = study_of(life_data("class-h-motorettes.csv"), {});
  REQUIRE(study.models.size() == 2);
  CHECK(study.models[0].distribution == Distribution::log_normal);
  // R: ln likelihoods -313.56 and -318.05.
  CHECK(study.preferred == std::size_t{0});
  REQUIRE(study.iec);
  // Asked for nothing, the coolest oven answers.
  CHECK(study.models[0].lives.front().temperature == celsius(190.0));
}

TEST_CASE("study: what the data do not bear is said in words", "[labfit][study]") {
  StudyRequest request;
  SECTION("spread that differs, and what it means") {
    const Study study = study_of(life_data("class-h-motorettes.csv"), request);
    CHECK(warns(study, "do not scatter equally"));
    CHECK(warns(study, "widest at 260 Cel"));
    CHECK_FALSE(warns(study, "the straight line does not hold"));
  }
  SECTION("a bent line") {
    const Study study =
        study_of_table("temperature_Cel,hours\n150,9900\n150,10100\n165,9400\n165,9600\n180,1700\n180,1750\n");
    CHECK(warns(study, "the straight line does not hold"));
    CHECK(warns(study, "is not borne out by these data"));
  }
  SECTION("far below the coolest oven") {
    request.temperatures = {celsius(110.0)};
    CHECK(warns(study_of_table(complete, request), "more than 25 K below the coolest oven (150 Cel)"));
  }
  SECTION("a little below") {
    request.temperatures = {celsius(140.0)};
    const Study study = study_of_table(complete, request);
    CHECK(warns(study, "140 Cel: below the coolest oven"));
    CHECK_FALSE(warns(study, "more than 25 K"));
  }
  SECTION("inside the ovens there is nothing to say of it") {
    request.temperatures = {celsius(160.0)};
    CHECK_FALSE(warns(study_of_table(complete, request), "below the coolest oven"));
  }
  SECTION("a group with one specimen") {
    const Study study = study_of_table(complete + "172,2700\n");
    CHECK(warns(study, "One specimen only at 172 Cel"));
    CHECK(study.iec);
  }
  SECTION("short lives at the coolest oven") {
    const Study study = study_of_table("temperature_Cel,hours\n150,900\n150,990\n165,390\n165,430\n180,160\n180,180\n");
    CHECK(warns(study, "asks for 5000 h"));
  }
  SECTION("two temperatures") {
    CHECK(warns(study_of_table("temperature_Cel,hours\n150,9000\n150,9900\n180,1600\n180,1800\n"),
                "whether it is straight cannot be tested"));
  }
  SECTION("lives that rise with temperature") {
    CHECK(warns(study_of_table("temperature_Cel,hours\n150,900\n150,990\n180,1600\n180,1800\n"),
                "life rises with temperature"));
  }
  SECTION("an oven without failures") {
    CHECK(warns(study_of_table("temperature_Cel,hours,status\n140,9000,0\n150,9000,1\n150,9900,1\n180,1600,1\n180,1800,1\n"),
                "No failures at 140 Cel"));
  }
}

TEST_CASE("study: groups are one population until one of them is asked for", "[labfit][study]") {
  // Two lots that live equally long but for a factor of four.
  std::string table = "temperature_Cel,hours,group\n";
  for (const auto& [degrees, hours] : std::vector<std::pair<int, double>>{{150, 9000}, {165, 4000}, {180, 1800}}) {
    for (const double factor : {0.92, 1.0, 1.09}) {
      table += std::to_string(degrees) + "," + std::to_string(hours * factor) + ",old\n";
      table += std::to_string(degrees) + "," + std::to_string(0.25 * hours * factor) + ",new\n";
    }
  }
  const Study both = study_of(read_oven_test(table, "t.csv"), {});
  CHECK(warns(both, "2 groups (old, new) were fitted as one population"));
  CHECK(warns(both, "one line for all groups"));
  const Study one = study_of(read_oven_test(table, "t.csv", {"old", false}), {});
  CHECK_FALSE(warns(one, "fitted as one population"));
  CHECK(one.models[0].scales.front() < 0.2 * both.models[0].scales.front());
}

TEST_CASE("study: readings need an end point", "[labfit][study][error]") {
  CHECK_THROWS_WITH(study_of(reading_data("resistors.csv"), {}), Contains("--end-point") && Contains("--retained"));
}

TEST_CASE("study: readings of the same specimens become lives and a line of lives", "[labfit][study]") {
  StudyRequest request;
  request.end_point = EndPoint{30.0, {}, 0.0, CrossingRule::through_start};
  const Study study = study_of(reading_data("resistors.csv"), request);
  REQUIRE(study.lives);
  CHECK(study.lives->specimens == 20);
  REQUIRE(study.models.size() == 2);
  // Two temperatures, complete: the log-normal slope is the difference of the mean ln lives over that of 1/T (means computed
  // in R).
  const double slope = (7.08041390052 - 5.73156311714) / (1.0 / 378.15 - 1.0 / 398.15);
  CHECK_THAT(study.models[0].slope, Catch::Matchers::WithinRel(slope, 1.0e-8));
}

TEST_CASE("study: a test that tells nothing is refused whole", "[labfit][study][error]") {
  CHECK_THROWS_WITH(study_of_table("temperature_Cel,hours\n150,9000\n150,9900\n"), Contains("one temperature only"));
  CHECK_THROWS_WITH(study_of_table("temperature_Cel,hours,status\n150,9000,0\n180,9900,0\n"),
                    Contains("no specimen has failed"));
}
