// The speed of the air along a stretch: one for all running states, or one for each. Rules of the case format.
#include <array>
#include <catch2/catch.hpp>

#include "casefile/sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Matchers::Contains;

namespace {

Json with_air_speed(const char* speed) {
  return changed([speed](Json& c) { c["segments"][0]["stretches"][0]["air_speed_m_per_s"] = Json::parse(speed); });
}

std::string only_problem(const char* speed) {
  const std::vector<std::string> problems = problems_of(with_air_speed(speed));
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems.front(), Contains("/segments/0/stretches/0/air_speed_m_per_s"));
  return problems.front();
}

}  // namespace

TEST_CASE("air speed: one number holds for all running states", "[casefile]") {
  const auto speed = read(with_air_speed("2.5")).segments[0].stretches[0].air_speed_m_per_s;
  CHECK(speed == std::array<double, 4>{2.5, 2.5, 2.5, 2.5});
}

TEST_CASE("air speed: each running state may have its own", "[casefile]") {
  const auto speed =
      read(with_air_speed(R"({"city": 1.5, "cruise": 4, "hill": 3, "idle": 0})")).segments[0].stretches[0].air_speed_m_per_s;
  CHECK(speed == std::array<double, 4>{4.0, 1.5, 0.0, 3.0});
}

TEST_CASE("air speed: none stated is none", "[casefile]") {
  CHECK_FALSE(read(sample_case()).segments[0].stretches[0].air_speed_m_per_s.has_value());
}

TEST_CASE("air speed: what is wrong with it is said at its place", "[casefile][error]") {
  CHECK_THAT(only_problem("41"), Contains("allowed: 0 to 40"));
  CHECK_THAT(only_problem("-1"), Contains("allowed: 0 to 40"));
  CHECK_THAT(only_problem(R"("fast")"), Contains("cruise, city, idle and hill") && Contains("found a text"));
  CHECK_THAT(only_problem("[1, 2, 3, 4]"), Contains("found an array"));
  CHECK_THAT(only_problem(R"({"cruise": 4, "city": 1, "idle": 0})"), Contains("\"hill\" is missing"));
  CHECK_THAT(only_problem(R"({"cruise": 44, "city": 1, "idle": 0, "hill": 2})"), Contains("cruise") && Contains("44"));
  CHECK_THAT(only_problem(R"({"cruise": 4, "city": 1, "idle": 0, "hill": 2, "towing": 1})"), Contains("towing"));
}
