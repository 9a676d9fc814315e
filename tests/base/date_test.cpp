#include <catch2/catch.hpp>
#include <chrono>
#include <string>

#include "heatside/base/date.hpp"

using namespace heatside;
using Catch::Matchers::WithinRel;

namespace {

std::chrono::sys_days day(const std::string& text) {
  const auto date = parse_date(text);
  REQUIRE(date.has_value());
  REQUIRE(date->exact());
  return date->day;
}

}  // namespace

TEST_CASE("date: leap days exist in leap years only", "[base][date]") {
  // Gregorian rule, ISO 8601-1:2019 section 4.2.1: every fourth year, of the full centuries only every fourth.
  const auto [text, exists] = GENERATE(table<std::string, bool>({
      {"2024-02-29", true},
      {"1996-02-29", true},
      {"2000-02-29", true},
      {"2023-02-29", false},
      {"1900-02-29", false},
      {"2100-02-29", false},
      {"2200-02-29", false},
  }));
  CAPTURE(text);
  CHECK(parse_date(text).has_value() == exists);
}

TEST_CASE("date: what is no date is refused", "[base][date][error]") {
  // ISO 8601-1:2019 calendar dates in extended form, cut down to years 1900 to 2200 by this project.
  const std::string text =
      GENERATE("", "1", "94", "199", "19944", "1994-", "1994-1", "1994-13", "1994-00", "1994-1-1", "1994-01-", "1994-01-1",
               "1994-01-00", "1994-01-32", "1994-04-31", "1994-06-31", "1994-09-31", "1994-11-31", "1994-02-30", "19940101",
               "1994/01/01", "01-01-1994", "1994.01.01", " 1994-01-01", "1994-01-01 ", "1994-01-01T00:00", "1994-0a-01",
               "-994-01-01", "+994", "1994-01x01", "1899", "1899-12-31", "2201", "2201-01-01", "0000-01-01");
  CAPTURE(text);
  CHECK_FALSE(parse_date(text).has_value());
}

TEST_CASE("date: every text that is a date reads back as it was written", "[base][date]") {
  const std::string text = GENERATE("1900", "2200", "1994", "1996", "1994-01", "1994-02", "1996-02", "1994-04", "1994-12",
                                    "1900-01-01", "2200-12-31", "1994-07-02", "2000-02-29");
  CAPTURE(text);
  const auto date = parse_date(text);
  REQUIRE(date.has_value());
  CHECK(format_date_as_known(*date) == text);
  CHECK(date->first <= date->day);
  CHECK(date->day <= date->last);
  CHECK(date->exact() == (text.size() == 10));
}

TEST_CASE("date: a month or a year stands for its middle day", "[base][date]") {
  // Own rule of the project; first and last days from the calendar, own arithmetic of the test.
  struct Row {
    std::string text, first, middle, last;
  };
  const Row row = GENERATE(values<Row>({
      {"1994", "1994-01-01", "1994-07-02", "1994-12-31"},     // day 183 of 365
      {"1996", "1996-01-01", "1996-07-01", "1996-12-31"},     // day 183 of 366
      {"1994-01", "1994-01-01", "1994-01-16", "1994-01-31"},  // day 16 of 31
      {"1994-02", "1994-02-01", "1994-02-14", "1994-02-28"},  // day 14 of 28
      {"1996-02", "1996-02-01", "1996-02-15", "1996-02-29"},  // day 15 of 29
      {"1994-04", "1994-04-01", "1994-04-15", "1994-04-30"},  // day 15 of 30
  }));
  CAPTURE(row.text);
  const auto date = parse_date(row.text);
  REQUIRE(date.has_value());
  CHECK(date->first == day(row.first));
  CHECK(date->last == day(row.last));
  CHECK(format_date(*date) == row.middle);
}

TEST_CASE("date: an exact date is its own first and last day", "[base][date]") {
  const Date date = exact_date(day("1995-03-31"));
  CHECK(date.exact());
  CHECK(date == *parse_date("1995-03-31"));
  CHECK(format_date(date) == "1995-03-31");
  CHECK_FALSE(date == *parse_date("1995-03"));
}

TEST_CASE("date: days are counted as the calendar counts them", "[base][date]") {
  // POSIX: 2000-01-01 00:00 UTC is second 946 684 800, that is day 10957 after 1970-01-01.
  CHECK((day("2000-01-01") - day("1970-01-01")).count() == 10957);
  // Julian day numbers 2415020.5 (1900-01-01) and 2451544.5 (2000-01-01), from memory of astronomical tables.
  CHECK((day("2000-01-01") - day("1900-01-01")).count() == 36524);
  CHECK((day("2000-03-01") - day("2000-02-28")).count() == 2);
}

TEST_CASE("date: years between two days are days over 365.25", "[base][date]") {
  // Own arithmetic of the test: 32 years with 8 leap days are 11688 days.
  CHECK(years_between(day("1994-01-01"), day("2026-01-01")).value() == 32.0);
  CHECK_THAT(years_between(day("1970-01-01"), day("2000-01-01")).value(), WithinRel(10957.0 / 365.25, 1e-15));
  CHECK_THAT(years_between(day("1995-01-01"), day("1996-01-01")).value(), WithinRel(365.0 / 365.25, 1e-15));
  CHECK(years_between(day("2026-01-01"), day("1994-01-01")).value() == -32.0);
  CHECK(years_between(day("1994-01-01"), day("1994-01-01")).value() == 0.0);
}
