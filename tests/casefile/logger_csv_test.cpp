#include "casefile/logger_csv.hpp"

#include <catch2/catch.hpp>
#include <string>

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;
using Catch::Matchers::WithinAbs;

namespace {

// The one thing that is wrong with a file.
std::string fault_of(const std::string& text) {
  const LoggerTable table = read_logger_csv(text);
  REQUIRE(table.faults.size() == 1);
  return table.faults.front();
}

std::vector<double> minutes_of(const LoggerTable& table) {
  std::vector<double> minutes;
  for (const LoggedTemperature& row : table.rows) minutes.push_back(row.at.value());
  return minutes;
}

}  // namespace

// All files of these tests are invented.

TEST_CASE("logger file: minutes are kept as they stand", "[casefile][logger]") {
  const LoggerTable table = read_logger_csv("minutes,temperature_Cel\n-5,20\n0,20.5\n 2.5 , 31 \n1e1,4.2e1\n");
  CHECK(table.faults.empty());
  CHECK(table.remarks.empty());
  CHECK(minutes_of(table) == std::vector<double>{-5.0, 0.0, 2.5, 10.0});
  CHECK_THAT(in_celsius(table.rows[3].temperature), WithinAbs(42.0, 1e-9));
}

TEST_CASE("logger file: times count from the first row", "[casefile][logger]") {
  CHECK(minutes_of(read_logger_csv("time,temperature_Cel\n2026-07-31T23:58,30\n2026-08-01T00:00:30,31\n")) ==
        std::vector<double>{0.0, 2.5});
  CHECK(minutes_of(read_logger_csv("time,temperature_Cel\n8:05,30\n08:06,31\n8:06:45,32\n")) ==
        std::vector<double>{0.0, 1.0, 1.75});
  CHECK(minutes_of(read_logger_csv("time,temperature_Cel\n23:50,30\n0:10,31\n0:20,32\n")) ==
        std::vector<double>{0.0, 20.0, 30.0});
}

TEST_CASE("logger file: marks of spreadsheets, comments and empty lines do no harm", "[casefile][logger]") {
  const LoggerTable table = read_logger_csv(
      "\xEF\xBB\xBF# probe at the rail\r\n\r\nminutes,temperature_Cel\r\n0,20\r\n# key on\r\n1,21\r\n\r\n2,22");
  CHECK(table.faults.empty());
  CHECK(table.remarks.empty());
  CHECK(minutes_of(table) == std::vector<double>{0.0, 1.0, 2.0});
}

TEST_CASE("logger file: rows that cannot be read are counted and left out", "[casefile][logger]") {
  const LoggerTable table =
      read_logger_csv("minutes,temperature_Cel\n0,20\n1,n/a\n2,\n,23\n4,24,x\nfive,25\n6,26\n7,NaN\n8,28\n");
  CHECK(table.faults.empty());
  CHECK(minutes_of(table) == std::vector<double>{0.0, 6.0, 8.0});
  REQUIRE(table.remarks.size() == 1);
  CHECK_THAT(table.remarks[0], Contains("6 rows cannot be read") && Contains("first in line 3: \"1,n/a\""));
}

TEST_CASE("logger file: gaps longer than five usual steps are counted, not filled", "[casefile][logger]") {
  const LoggerTable table = read_logger_csv("minutes,temperature_Cel\n0,20\n1,20\n2,20\n8,20\n9,20\n10,20\n15,20\n16,20\n");
  CHECK(table.rows.size() == 8);
  REQUIRE(table.remarks.size() == 1);
  // 6 min from 2 to 8 are more than 5 times 1 min; 5 min from 10 to 15 are not.
  CHECK_THAT(table.remarks[0], Contains("1 gap longer") && Contains("first of 6 min before line 5"));
}

TEST_CASE("logger file: each fault names its line, its column and what is allowed", "[casefile][logger][error]") {
  SECTION("empty") { CHECK_THAT(fault_of(""), Contains("empty") && Contains("time,temperature_Cel")); }
  SECTION("only comments") { CHECK_THAT(fault_of("# nothing\n"), Contains("empty")); }
  SECTION("one row") {
    CHECK_THAT(fault_of("minutes,temperature_Cel\n0,20\n"), Contains("1 row with") && Contains("at least 2"));
  }
  SECTION("no usable row") {
    CHECK_THAT(fault_of("minutes,temperature_Cel\n0,n/a\n1,\n"), Contains("0 rows") && Contains("line 2 cannot be read"));
  }
  SECTION("decimal commas") {
    CHECK_THAT(fault_of("minutes,temperature_Cel\n0,20,5\n1,21,5\n"), Contains("line 2 cannot be read: \"0,20,5\""));
  }
  SECTION("semicolons") {
    CHECK_THAT(fault_of("minutes;temperature_Cel\n0;20\n"), Contains("line 1") && Contains("parted by a comma"));
  }
  SECTION("unknown first column") {
    CHECK_THAT(fault_of("# a\nseconds,temperature_Cel\n0,20\n1,20\n"),
               Contains("line 2, column 1") && Contains("\"seconds\"") && Contains("minutes,temperature_Cel"));
  }
  SECTION("unknown second column") {
    CHECK_THAT(fault_of("minutes,temp\n0,20\n1,20\n"), Contains("line 1, column 2") && Contains("\"temp\""));
  }
  SECTION("a header in degrees Fahrenheit") {
    const std::string header = GENERATE("temperature_F", "temperature_degF", "Temp (F)", "fahrenheit");
    CHECK_THAT(fault_of("minutes," + header + "\n0,70\n1,71\n"), Contains("line 1, column 2") && Contains("degF"));
  }
  SECTION("values in degrees Fahrenheit") {
    // (392 - 32) / 1.8 = 200, own arithmetic of the test.
    CHECK_THAT(fault_of("minutes,temperature_Cel\n0,212\n1,392\n2,401\n"),
               Contains("line 3, column 2") && Contains("-60 to 300 degC") && Contains("if that is degF, it is 200 degC") &&
                   Contains("2 such rows"));
  }
  SECTION("far too cold") {
    CHECK_THAT(fault_of("minutes,temperature_Cel\n0,20\n1,-61\n2,20\n"),
               Contains("line 3, column 2") && Contains("-60 to 300 degC") && !Contains("degF"));
  }
  SECTION("reversed time") {
    CHECK_THAT(fault_of("minutes,temperature_Cel\n0,20\n2,20\n1,20\n0.5,20\n"),
               Contains("line 4, column 1") && Contains("in order of time") && Contains("2 such rows"));
    CHECK_THAT(fault_of("time,temperature_Cel\n2026-07-31T12:00,20\n2026-07-30T12:00,20\n"), Contains("line 3, column 1"));
    CHECK_THAT(fault_of("time,temperature_Cel\n12:00,20\n11:00,20\n"), Contains("line 3, column 1"));
  }
}

TEST_CASE("logger file: all faults are found in one go", "[casefile][logger][error]") {
  CHECK(read_logger_csv("seconds,temperature_F\n0,20\n1,20\n").faults.size() == 2);
  CHECK(read_logger_csv("minutes,temperature_Cel\n0,20\n2,320\n1,20\n").faults.size() == 2);
}

TEST_CASE("logger file: equal times are two rows", "[casefile][logger]") {
  CHECK(read_logger_csv("time,temperature_Cel\n8:05,30\n8:05,31\n8:06,31\n").faults.empty());
}

TEST_CASE("logger file: malformed times are no times", "[casefile][logger]") {
  const std::string time =
      GENERATE("24:00", "8:60", "8:5", "08:05:60", "8:05:1", "8", "2026-02-30T08:05", "2026-02T08:05", "T08:05", "8:05pm");
  const LoggerTable table = read_logger_csv("time,temperature_Cel\n" + time + ",20\n8:10,20\n8:11,20\n");
  CAPTURE(time);
  CHECK(table.rows.size() == 2);
  CHECK(table.remarks.size() == 1);
}
