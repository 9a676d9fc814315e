#include "report/tidy_table.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <limits>

using namespace heatside;
using namespace heatside::report;

namespace {

TidyTable table_of(std::vector<std::vector<Cell>> rows) {
  return {"some",
          "Some",
          "One row a thing.",
          {{"word", FieldType::text, "", "a word"},
           {"size", FieldType::number, "mm", "how big"},
           {"count", FieldType::whole, "", "how many"},
           {"there", FieldType::truth, "", "whether"}},
          {"word"},
          std::move(rows)};
}

}  // namespace

TEST_CASE("tidy table: texts that need it are quoted", "[report][export]") {
  // RFC 4180, rules 5 to 7.
  CHECK(csv_cell("plain") == "plain");
  CHECK(csv_cell("a,b") == "\"a,b\"");
  CHECK(csv_cell("say \"no\"") == "\"say \"\"no\"\"\"");
  CHECK(csv_cell("two\r\nlines") == "\"two\r\nlines\"");
}

TEST_CASE("tidy table: rows as CSV and as JSON", "[report][export]") {
  const TidyTable table = table_of({{std::string{"a"}, 0.1, 3ll, true}, {std::string{"b"}, Cell{}, Cell{}, false}});
  CHECK(csv_of(table) == "word,size,count,there\r\na,0.1,3,true\r\nb,,,false\r\n");
  const Json rows = rows_of(table);
  CHECK(rows[0]["size"] == 0.1);
  CHECK(rows[1]["size"].is_null());
  CHECK(rows[1]["there"] == false);
}

TEST_CASE("tidy table: doubles read back to the same value", "[report][export]") {
  for (const double value : {0.1, 1.0 / 3.0, -1.0e-300, 123456789.123456789, std::nextafter(1.0, 2.0),
                             std::numeric_limits<double>::max(), std::numeric_limits<double>::denorm_min()}) {
    const std::string csv = csv_of(table_of({{std::string{"x"}, value, 0ll, true}}));
    const std::size_t from = csv.find("x,") + 2;
    CHECK(std::strtod(csv.c_str() + from, nullptr) == value);
  }
  CHECK(csv_of(table_of({{std::string{"x"}, -0.0, 0ll, true}})).find("x,0,0,true") != std::string::npos);
}

TEST_CASE("tidy table: a schema names every column", "[report][export]") {
  // Data Package standard 2.0, Table Schema.
  const Json schema = schema_of(table_of({}));
  REQUIRE(schema["fields"].size() == 4);
  CHECK(schema["fields"][1] == Json({{"name", "size"}, {"type", "number"}, {"description", "how big"}, {"unit", "mm"}}));
  CHECK(schema["fields"][3]["type"] == "boolean");
  CHECK_FALSE(schema["fields"][0].contains("unit"));
  CHECK(schema["primaryKey"] == Json::array({"word"}));
}
