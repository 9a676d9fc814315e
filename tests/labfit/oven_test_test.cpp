#include "heatside/labfit/oven_test.hpp"

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "labfit/data.hpp"

using namespace heatside;
using namespace heatside::labfit;
using Catch::Contains;
using Catch::Matchers::WithinAbs;

namespace {

std::vector<std::string> problems_of(const std::string& table, const TableRules& rules = {}) {
  std::vector<std::string> list;
  try {
    (void)read_oven_test(table, "t.csv", rules);
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems()) list.push_back(describe(problem));
  }
  return list;
}

LifeTest lives(const std::string& table, const TableRules& rules = {}) {
  return std::get<LifeTest>(read_oven_test(table, "t.csv", rules));
}

}  // namespace

TEST_CASE("oven test: equal rows stand together, coolest first", "[labfit][table]") {
  const LifeTest test = lives("temperature_Cel,hours\n170,900\n150,4000\n150,4000\n150,3000\n");
  REQUIRE(test.lives.size() == 3);
  CHECK(test.specimens == 4);
  CHECK_THAT(in_celsius(test.lives[0].temperature), WithinAbs(150.0, 1.0e-9));
  CHECK(test.lives[0].from == Hours{3000.0});
  CHECK(test.lives[1].count == 2);
  CHECK(test.lives[1].is_exact());
  CHECK(test.groups == std::vector<std::string>{""});
}

TEST_CASE("oven test: the ways to write a table down", "[labfit][table]") {
  SECTION("comments, empty lines, blanks, quotes, a byte order mark and another line end") {
    const LifeTest test = lives("\xEF\xBB\xBF# oven 3\r\n\r\n hours , \"temperature_Cel\"\r\n\r\n# later\r\n1e3 , 150\r\n");
    REQUIRE(test.lives.size() == 1);
    CHECK(test.lives[0].from == Hours{1000.0});
  }
  SECTION("status and count") {
    const LifeTest test = lives("temperature_Cel,hours,status,count\n150,500,1,2\n150,1000,0,7\n");
    CHECK(test.specimens == 9);
    CHECK(test.lives[0].is_exact());
    CHECK_FALSE(test.lives[1].to);
  }
  SECTION("intervals") {
    const LifeTest test = lives("temperature_Cel,hours_lo,hours_hi\n150,100,200\n150,,100\n150,200,\n150,50,50\n");
    REQUIRE(test.lives.size() == 4);
    CHECK(test.lives[0].from == Hours{0.0});
    CHECK(*test.lives[0].to == Hours{100.0});
    CHECK(test.lives[1].is_exact());
    CHECK_FALSE(test.lives[3].to);
  }
  SECTION("kelvin") {
    CHECK_THAT(in_celsius(lives("temperature_K,hours\n423.15,100\n").lives[0].temperature), WithinAbs(150.0, 1.0e-9));
  }
  SECTION("groups, of which one is asked for") {
    const std::string table = "temperature_Cel,hours,group\n150,100,A\n150,200,B\n170,50,B\n";
    CHECK(lives(table).groups == std::vector<std::string>{"A", "B"});
    const LifeTest one = lives(table, {"B", false});
    CHECK(one.specimens == 2);
    CHECK(one.groups == std::vector<std::string>{"B"});
  }
  SECTION("readings") {
    const auto test =
        std::get<ReadingTest>(read_oven_test("temperature_Cel,hours,specimen,value\n150,0,a,200\n150,10,a,180\n", "t"));
    CHECK(test.readings.size() == 2);
    CHECK(test.specimens == std::vector<std::string>{"a"});
  }
  SECTION("readings of pieces without a name") {
    const auto test = std::get<ReadingTest>(read_oven_test("temperature_Cel,hours,value\n150,0,200\n150,10,-3\n", "t"));
    CHECK(test.specimens == std::vector<std::string>{""});
  }
}

TEST_CASE("oven test: numbers are read to the last digit", "[labfit][table]") {
  CHECK(lives("temperature_Cel,hours\n150,0.1\n").lives[0].from.value() == 0.1);
  CHECK(lives("temperature_Cel,hours\n150,1234567.890123456789\n").lives[0].from.value() == 1234567.890123456789);
  CHECK(lives("temperature_Cel,hours\n150,+2.5E+2\n").lives[0].from.value() == 250.0);
  CHECK(lives("temperature_Cel,hours\n150,.5\n").lives[0].from.value() == 0.5);
}

TEST_CASE("oven test: one fault, one message with its line and column", "[labfit][table][error]") {
  struct Case {
    const char* table;
    const char* message;
  };
  const Case fault = GENERATE(values<Case>({
      {"", "t.csv: no header line and no rows"},
      {"# nothing\n", "t.csv: no header line and no rows"},
      {"temperature_Cel,hours\n", "t.csv: there are no rows below the header"},
      {"temperature_Cel,hours,hours\n150,1,1\n", "line 1, column 3 (heading): \"hours\" stands twice, in columns 2 and 3"},
      {"temperature_Cel,hour\n150,1\n", "line 1, column 2 (heading): unknown heading \"hour\"; nearest is \"hours\""},
      {"temperature_F,hours\n300,1\n",
       "line 1, column 1 (heading): \"temperature_F\": temperatures are read in degrees Celsius"},
      {"temperature_Cel;hours\n150;1\n", "columns are separated by commas"},
      {"temperature_Cel,hours,\n150,1,\n", "line 1, column 3 (heading): is empty"},
      {"hours\n1\n", "line 1: no column temperature_Cel"},
      {"temperature_Cel,temperature_K,hours\n150,423,1\n", "line 1: temperature_Cel and temperature_K: keep one"},
      {"temperature_Cel\n150\n", "line 1: no column hours"},
      {"temperature_Cel,hours_lo\n150,1\n", "line 1: hours_lo and hours_hi come together"},
      {"temperature_Cel,hours,hours_lo,hours_hi\n150,1,1,2\n", "keep one of the two ways"},
      {"temperature_Cel,hours_lo,hours_hi,status\n150,1,2,1\n", "status does not go with hours_lo and hours_hi"},
      {"temperature_Cel,hours,specimen\n150,1,a\n", "specimen needs a column value"},
      {"temperature_Cel,hours,value,status\n150,1,2,1\n", "status does not go with readings"},
      {"temperature_Cel,hours\n150,1\n150,about 900\n", "line 3, column 2 (hours): \"about 900\" is not a number"},
      {"temperature_Cel,hours\n150,0x10\n", "line 2, column 2 (hours): \"0x10\" is not a number"},
      {"temperature_Cel,hours\n150,nan\n", "line 2, column 2 (hours): \"nan\" is not a number"},
      {"temperature_Cel,hours\n150,1e400\n", "line 2, column 2 (hours): \"1e400\" is not a number"},
      {"temperature_Cel,hours\n150,\n", "line 2, column 2 (hours): is empty; a number is needed"},
      {"temperature_Cel,hours\n150,-5\n", "line 2, column 2 (hours): -5 h is outside the range; allowed: above 0"},
      {"temperature_Cel,hours\n150,0\n", "line 2, column 2 (hours): 0 h is outside the range"},
      {"temperature_Cel,hours\n150,1e8\n", "line 2, column 2 (hours): 100000000 h is outside the range"},
      {"temperature_Cel,hours,value\n150,-1,5\n", "line 2, column 2 (hours): -1 h is outside the range; allowed: from 0"},
      {"temperature_Cel,hours\n482,900\n",
       "line 2, column 1 (temperature_Cel): 482 Cel is outside the range; allowed: -60 to 400 "
       "Cel; were degrees Fahrenheit or kelvin meant?"},
      {"temperature_Cel,hours\n150,1,5\n", "line 2: 3 cells; the header has 2; a decimal is written with a point"},
      {"temperature_Cel,hours\n150\n", "line 2: 1 cells; the header has 2"},
      {"temperature_Cel,hours,status\n150,1,yes\n",
       "line 2, column 3 (status): \"yes\" is no status; allowed: 1 failed, 0 still alive"},
      {"temperature_Cel,hours,count\n150,1,2.5\n", "line 2, column 3 (count): 2.5 is not a whole number"},
      {"temperature_Cel,hours,count\n150,1,0\n", "line 2, column 3 (count): 0 is not a whole number"},
      {"temperature_Cel,hours,group\n150,1,\n", "line 2, column 3 (group): is empty"},
      {"temperature_Cel,hours_lo,hours_hi\n150,200,100\n", "line 2, column 3 (hours_hi): 100 h lies before hours_lo, 200 h"},
      {"temperature_Cel,hours_lo,hours_hi\n150,,\n", "nothing is known of these specimens"},
  }));
  CAPTURE(fault.table);
  const auto problems = problems_of(fault.table);
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems.front(), Contains(fault.message));
}

TEST_CASE("oven test: every fault of a table in one go", "[labfit][table][error]") {
  const auto problems = problems_of("temperature_Cel,hours\n150,x\n9999,-1\n150\n160,900\n");
  REQUIRE(problems.size() == 4);
  CHECK_THAT(problems[0], Contains("line 2"));
  CHECK_THAT(problems[1], Contains("line 3, column 1"));
  CHECK_THAT(problems[2], Contains("line 3, column 2"));
  CHECK_THAT(problems[3], Contains("line 4"));
}

TEST_CASE("oven test: a thousand faults are counted, not all listed", "[labfit][table][error]") {
  std::string table = "temperature_Cel,hours\n";
  for (int i = 0; i < 1000; ++i) table += "150,x\n";
  const auto problems = problems_of(table);
  CHECK(problems.size() == 101);
  CHECK_THAT(problems.back(), Contains("and 900 more"));
}

TEST_CASE("oven test: ovens set in degrees Fahrenheit are noticed", "[labfit][table][error]") {
  // 302, 338 and 374 degrees Fahrenheit are 150, 170 and 190 degrees Celsius.
  const std::string table = "temperature_Cel,hours\n302,4000\n338,2000\n374,900\n";
  const auto problems = problems_of(table);
  REQUIRE(problems.size() == 1);
  CHECK_THAT(problems.front(), Contains("look like degrees Fahrenheit (150, 170, 190 Cel)") && Contains("--celsius"));
  CHECK(problems_of(table, {{}, true}).empty());
  // Whole fives of degrees Celsius are taken for what they say, and so are temperatures that fit neither scale.
  CHECK(problems_of("temperature_Cel,hours\n140,4000\n230,900\n").empty());
  CHECK(problems_of("temperature_Cel,hours\n151,4000\n172,900\n").empty());
}

TEST_CASE("oven test: a group that is not there", "[labfit][table][error]") {
  CHECK_THAT(problems_of("temperature_Cel,hours,group\n150,1,lot-1\n", {"lot-2", false}).at(0),
             Contains("unknown group \"lot-2\""));
  CHECK_THAT(problems_of("temperature_Cel,hours\n150,1\n", {"A", false}).at(0), Contains("no column group"));
}

TEST_CASE("oven test: lives put together by hand are checked too", "[labfit][table][error]") {
  CHECK_THROWS_AS(life_test({{celsius(150.0), Hours{-1.0}, Hours{-1.0}, 1, 0}}), DomainError);
  CHECK_THROWS_AS(life_test({{celsius(150.0), Hours{10.0}, Hours{5.0}, 1, 0}}), DomainError);
  CHECK_THROWS_AS(life_test({{celsius(150.0), Hours{0.0}, std::nullopt, 1, 0}}), DomainError);
}
