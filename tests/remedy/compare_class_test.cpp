// Classes of compounds against the standard types that their records name.
#include <catch2/catch.hpp>
#include <regex>

#include "heatside/library/library.hpp"
#include "heatside/remedy/temperature_class.hpp"

using namespace heatside;
using namespace heatside::remedy;

TEST_CASE("temperature class: the temperatures of ISO 6722-1 and ISO 19642", "[remedy][class]") {
  // ISO 6722-1:2011 table 1 and ISO 19642-1:2019: A 85, B 100, C 125, D 150, E 175, F 200, G 225, H 250 degC (from memory).
  CHECK(lowest_class_for(celsius(84.9))->letter == 'A');
  CHECK(lowest_class_for(celsius(85.0))->letter == 'A');
  CHECK(lowest_class_for(celsius(85.1))->letter == 'B');
  CHECK(lowest_class_for(celsius(100.1))->letter == 'C');
  CHECK(lowest_class_for(celsius(125.0))->letter == 'C');
  CHECK(lowest_class_for(celsius(125.1))->letter == 'D');
  CHECK(lowest_class_for(celsius(150.1))->letter == 'E');
  CHECK(lowest_class_for(celsius(175.1))->letter == 'F');
  CHECK(lowest_class_for(celsius(200.1))->letter == 'G');
  CHECK(lowest_class_for(celsius(225.1))->letter == 'H');
  CHECK_FALSE(lowest_class_for(celsius(250.1)));
}

TEST_CASE("temperature class: a compound is of a class that its standard types name", "[remedy][class]") {
  // Catalogues and standards as each record cites them: "ISO class C", "ISO classes E and F", "ISO classes A to C".
  static const std::regex named{R"(ISO class(?:es)? ([A-H])(?: (?:and|to) ([A-H]))?)"};
  std::size_t found = 0;
  for (const auto& [id, insulation] : library::built_in_library().insulations) {
    std::smatch match;
    const std::string& text = insulation.standard_types.text;
    // Of the rubber only some grades are said to be of that class.
    if (!std::regex_search(text, match, named) || id == "epdm") continue;
    CAPTURE(id, text);
    ++found;
    const Rated of = rated(insulation);
    REQUIRE(of.of_class);
    const char low = match[1].str().front(), high = match[2].matched ? match[2].str().front() : low;
    CHECK(of.of_class->letter >= low);
    CHECK(of.of_class->letter <= high);
    CHECK(in_celsius(of.temperature) == Approx(of.of_class->celsius));
  }
  CHECK(found >= 10);
}

TEST_CASE("temperature class: what lasts no 3000 h at 85 degC has none and keeps its rating", "[remedy][class]") {
  // Rubber under a braid is older than the classes: rated to 60 degC by its record.
  const Rated of = rated(library::built_in_library().insulations.at("nr-sbr-braid"));
  CHECK_FALSE(of.of_class);
  CHECK(in_celsius(of.temperature) == Approx(60.0));
}
