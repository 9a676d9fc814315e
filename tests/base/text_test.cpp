#include <catch2/catch.hpp>
#include <limits>
#include <string>
#include <vector>

#include "base/text.hpp"

using namespace heatside;

TEST_CASE("text: the nearest word is the one with the fewest edits", "[base][text]") {
  // Edits are insertions, deletions, replacements and swaps of neighbours: Damerau 1964, Commun. ACM 7(3), 171-176.
  const std::vector<std::string> known{"cruise", "city", "idle", "hill"};
  CHECK(nearest_word("crusie", known) == "cruise");
  CHECK(nearest_word("cruse", known) == "cruise");
  CHECK(nearest_word("cruisee", known) == "cruise");
  CHECK(nearest_word("crvise", known) == "cruise");
  CHECK(nearest_word("hill", known) == "hill");
  CHECK(nearest_word("hil", known) == "hill");
  CHECK(nearest_word("ciyt", known) == "city");
}

TEST_CASE("text: no word is named when none is near", "[base][text]") {
  const std::vector<std::string> known{"cruise", "city", "idle", "hill"};
  CHECK(nearest_word("parking", known).empty());
  CHECK(nearest_word("abcdefghijkl", known).empty());
  CHECK(nearest_word("xyzzy", {}).empty());
  CHECK(nearest_word(std::string(100'000, 'h'), known).empty());
  CHECK(nearest_word("", {"longer"}).empty());
}

TEST_CASE("text: of equally near words the first is named", "[base][text]") {
  CHECK(nearest_word("bat", {"cat", "hat"}) == "cat");
  CHECK(nearest_word("bat", {"hat", "cat"}) == "hat");
}

TEST_CASE("text: words are joined by their separator", "[base][text]") {
  CHECK(join({"a", "b", "c"}) == "a, b, c");
  CHECK(join({"a"}) == "a");
  CHECK(join({}).empty());
  CHECK(join({"a", "b"}, " ") == "a b");
}

TEST_CASE("text: what is no number is written as such", "[base][text]") {
  CHECK(plain_number(std::numeric_limits<double>::quiet_NaN()) == "nan");
  CHECK(plain_number(std::numeric_limits<double>::infinity()) == "inf");
  CHECK(plain_number(-std::numeric_limits<double>::infinity()) == "-inf");
}

TEST_CASE("text: numbers of every size keep a plain form where they can", "[base][text]") {
  CHECK(plain_number(2608.9, 3) == "2609");
  CHECK(plain_number(3.0e6) == "3000000");
  CHECK(plain_number(0.0004567, 2) == "0.00046");
  CHECK(plain_number(-40.0) == "-40");
  CHECK(plain_number(0.0) == "0");
}

TEST_CASE("text: numbers are written without ornament", "[base][text]") {
  CHECK(plain_number(0.1) == "0.1");
  CHECK(plain_number(3000.0) == "3000");
  CHECK(plain_number(-2.50) == "-2.5");
  CHECK(plain_number(0.0) == "0");
  CHECK(plain_number(1.0 / 3.0) == "0.333333");
  CHECK(plain_number(1.0 / 3.0, 10) == "0.3333333333");
  CHECK(plain_number(100.0000001, 10) == "100.0000001");
  CHECK(plain_number(0.00015) == "0.00015");
}
