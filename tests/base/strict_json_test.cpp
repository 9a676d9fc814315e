#include <catch2/catch.hpp>
#include <string>

#include "base/strict_json.hpp"
#include "heatside/base/error.hpp"

using namespace heatside;
using namespace std::string_literals;
using Catch::Contains;
using Catch::EndsWith;
using Catch::StartsWith;

namespace {

// What the reader says about a text that it refuses; fails the test when it does not refuse.
std::string complaint(const std::string& text, JsonLimits limits = {}) {
  try {
    (void)read_strict_json(text, "van.case.json", limits);
  } catch (const InputError& error) {
    REQUIRE(error.problems().size() == 1);
    CHECK(error.problems().front().file == "van.case.json");
    return error.what();
  }
  FAIL("accepted: " + text.substr(0, 80));
  return {};
}

struct LineColumn {
  std::size_t line = 0, column = 0;
};

// The place in "file: line L, column C: ...".
LineColumn place_in(const std::string& message) {
  const auto number_after = [&](const std::string& word) {
    const auto at = message.find(word);
    REQUIRE(at != std::string::npos);
    return static_cast<std::size_t>(std::stoul(message.substr(at + word.size())));
  };
  return {number_after("line "), number_after("column ")};
}

std::string repeated(const std::string& part, std::size_t times) {
  std::string text;
  for (std::size_t i = 0; i < times; ++i) text += part;
  return text;
}

}  // namespace

TEST_CASE("strict JSON: every kind of value of RFC 8259 is read", "[base][json]") {
  // RFC 8259 sections 2 to 7.
  const Json document = read_strict_json(
      " \t\r\n{\"a\": [1, -2, 0.5, -1.5e3, 1E-2], \"b\": {}, \"c\": [], \"d\": null,"
      " \"e\": true, \"f\": false, \"g\": \"\\u00e9\\n\\\"\\\\\\/\", \"\": 0}\n ",
      "x");
  CHECK(document["a"][0] == 1);
  CHECK(document["a"][1] == -2);
  CHECK(document["a"][3].get<double>() == -1500.0);
  CHECK(document["a"][4].get<double>() == 0.01);
  CHECK(document["b"].is_object());
  CHECK(document["d"].is_null());
  CHECK(document["e"] == true);
  CHECK(document["g"] == "\xC3\xA9\n\"\\/");
  CHECK(document[""] == 0);
  CHECK(read_strict_json("42", "x") == 42);
  CHECK(read_strict_json("\"t\"", "x") == "t");
  // RFC 8259 section 7: the G clef U+1D11E as a pair of escapes is the same as its UTF-8 bytes.
  CHECK(read_strict_json("\"\\uD834\\uDD1E\"", "x") == "\xF0\x9D\x84\x9E");
}

TEST_CASE("strict JSON: keys keep the order of the text", "[base][json]") {
  const std::string text = "{\"z\":1,\"a\":{\"y\":2,\"b\":3},\"m\":[]}";
  CHECK(read_strict_json(text, "x").dump() == text);
}

TEST_CASE("strict JSON: a key given twice is refused with its place", "[base][json][error]") {
  // RFC 8259 section 4 leaves the meaning of repeated names open; this project refuses them.
  CHECK_THAT(complaint(R"({"a": 1, "b": 2, "a": 3})"), Contains("\"a\" is given twice"));
  CHECK_THAT(complaint(R"({"looms": [{"id": "x"}, {"id": "y", "made": 1, "id": "z"}]})"),
             StartsWith("van.case.json: /looms/1: ") && Contains("\"id\" is given twice"));
  CHECK_THAT(complaint(R"({"a/b": {"c~d": {"k": {}, "k": []}}})"), Contains("/a~1b/c~0d: "));
  // The same name written with an escape is the same name.
  CHECK_THAT(complaint("{\"a\": 1, \"\\u0061\": 2}"), Contains("given twice"));
  CHECK_NOTHROW(read_strict_json(R"({"a": {"a": 1}, "b": {"a": 1}, "A": 2})", "x"));
}

TEST_CASE("strict JSON: what is no JSON is refused", "[base][json][error]") {
  // RFC 8259: no comments, trailing commas, other number forms, other quotes, bare control characters.
  const std::string text = GENERATE(values<std::string>({"",
                                                         " ",
                                                         "{",
                                                         "}",
                                                         "[",
                                                         "[1",
                                                         "[1,]",
                                                         "{\"a\":1,}",
                                                         "{\"a\"}",
                                                         "{\"a\":}",
                                                         "{a:1}",
                                                         "{1:1}",
                                                         "[1 2]",
                                                         "// note\n{}",
                                                         "{} // note",
                                                         "/**/{}",
                                                         "NaN",
                                                         "[NaN]",
                                                         "[-NaN]",
                                                         "[Infinity]",
                                                         "[-Infinity]",
                                                         "[nan]",
                                                         "[+1]",
                                                         "[01]",
                                                         "[-01]",
                                                         "[.5]",
                                                         "[1.]",
                                                         "[1e]",
                                                         "[0x10]",
                                                         "[1_000]",
                                                         "[--1]",
                                                         "'a'",
                                                         "[True]",
                                                         "[nul]",
                                                         "\"tab\there\"",
                                                         "\"line\nbreak\"",
                                                         "\"open",
                                                         "\"\\x41\"",
                                                         "\"\\u12\"",
                                                         "\"\\u12G4\"",
                                                         "{} {}",
                                                         "{}{}",
                                                         "{} x",
                                                         "{}]",
                                                         "1 2",
                                                         "null,"}));
  CAPTURE(text);
  CHECK_THAT(complaint(text), StartsWith("van.case.json: line "));
}

TEST_CASE("strict JSON: bytes that are no UTF-8 are refused", "[base][json][error]") {
  // RFC 3629 section 3 and 4, and the byte sequences of the Unicode standard, table 3-7.
  const std::string bytes = GENERATE(values<std::string>({
      "\x80"s,              // continuation without a start
      "\xFF"s,              // never in UTF-8
      "\xFE"s,              // never in UTF-8
      "\xC0\x80"s,          // overlong NUL
      "\xC1\xBF"s,          // overlong
      "\xE0\x80\xAF"s,      // overlong
      "\xF0\x80\x80\xAF"s,  // overlong
      "\xED\xA0\x80"s,      // surrogate U+D800
      "\xED\xBF\xBF"s,      // surrogate U+DFFF
      "\xF4\x90\x80\x80"s,  // beyond U+10FFFF
      "\xF5\x80\x80\x80"s,  // beyond U+10FFFF
      "\xE2\x82"s,          // cut short
      "\xC3"s,              // cut short
      "\xE9t\xE9"s,         // Latin-1
  }));
  CHECK_THAT(complaint("{\"title\": \"" + bytes + "\"}"), Contains("UTF-8") && Contains("line 1"));
  CHECK_THAT(complaint("{\"" + bytes + "\": 1}"), Contains("UTF-8"));
  CHECK_THAT(complaint(bytes + "{}"), Contains("UTF-8"));
}

TEST_CASE("strict JSON: half a surrogate pair is refused", "[base][json][error]") {
  // RFC 8259 section 8.2 leaves it open; it has no UTF-8 form (RFC 3629 section 3), so this project refuses it.
  const std::string text = GENERATE("\"\\uD800\"", "\"\\uDC00\"", "\"\\uD834x\"", "\"\\uD834\\u0041\"", "\"\\uDD1E\\uD834\"",
                                    "\"\\uD834\\uD834\"");
  CAPTURE(text);
  CHECK_THAT(complaint(text), Contains("not valid JSON"));
}

TEST_CASE("strict JSON: a NUL byte is refused wherever it stands", "[base][json][error]") {
  CHECK_THAT(complaint("{}\0"s), Contains("line 1, column 3") && Contains("NUL"));
  CHECK_THAT(complaint("{}\0 and more"s), Contains("NUL"));
  CHECK_THAT(complaint("\0{}"s), Contains("line 1, column 1: NUL"));
  CHECK_THAT(complaint("{\n \"a\": \"b\0c\"}"s), Contains("line 2, column 9: NUL"));
}

TEST_CASE("strict JSON: numbers beyond the range of double are refused", "[base][json][error]") {
  // IEEE 754 binary64: the greatest finite number is about 1.797e308.
  const std::string text = GENERATE("1e999", "-1e999", "[1, 2, 1.8e308]", "{\"a\": 1e309}");
  CAPTURE(text);
  CHECK_THAT(complaint(text), Contains("range of double"));
  CHECK(read_strict_json("1.7976931348623157e308", "x").get<double>() == 1.7976931348623157e308);
  CHECK(read_strict_json("1e-999", "x").get<double>() == 0.0);
  CHECK(read_strict_json("123456789012345678901234567890", "x").get<double>() == 123456789012345678901234567890.0);
}

TEST_CASE("strict JSON: 64 levels are read and 65 are refused", "[base][json][error]") {
  // Limit of the project; RFC 8259 section 9 allows one.
  CHECK_NOTHROW(read_strict_json(repeated("[", 64) + repeated("]", 64), "x"));
  CHECK_THAT(complaint(repeated("[", 65) + repeated("]", 65)), Contains("deeper than 64"));
  CHECK_NOTHROW(read_strict_json(repeated("{\"a\":", 63) + "{}" + repeated("}", 63), "x"));
  CHECK_THAT(complaint(repeated("{\"a\":", 64) + "{}" + repeated("}", 64)), Contains("deeper than 64"));
  // Side by side is not inside each other.
  CHECK_NOTHROW(read_strict_json("[" + repeated("[],", 1000) + "[]]", "x"));
}

TEST_CASE("strict JSON: very deep texts end in a message, not in a crash", "[base][json][error]") {
  const std::string part = GENERATE("[", "{\"a\":", "[{\"a\":");
  CAPTURE(part);
  CHECK_THAT(complaint(repeated(part, 100'000)), Contains("deeper than 64"));
}

TEST_CASE("strict JSON: texts above the size limit are refused", "[base][json][error]") {
  CHECK_NOTHROW(read_strict_json("[1,2,3,45]", "x", {.bytes = 10, .depth = 64}));
  CHECK_THAT(complaint("[1,2,3,456]", {.bytes = 10, .depth = 64}), Contains("11 bytes") && Contains("at most 10"));
  CHECK_THAT(complaint("[[1]]", {.bytes = 10, .depth = 1}), Contains("deeper than 1 level"));
  CHECK(JsonLimits{}.bytes == std::size_t{64} * 1024 * 1024);
  CHECK(JsonLimits{}.depth == 64);
}

TEST_CASE("strict JSON: line and column point at the first wrong token", "[base][json][error]") {
  // Own count of the test; lines and columns begin at 1, and a column may be anywhere in the wrong token.
  struct Row {
    std::string text;
    std::size_t line, first_column, last_column;
  };
  const Row row = GENERATE(values<Row>({
      {"{\"a\" 1}", 1, 6, 6},
      {"{\n  \"a\": 1\n  \"b\": 2\n}", 3, 3, 5},
      {"[\n1,\n2,\n]\n", 4, 1, 1},
      {"{\n  \"a\": 1,\n  \"b\": nul\n}", 3, 8, 11},
      {"{}\n\n\n  x", 4, 3, 3},
      {"[\"ab\xFF\"]", 1, 5, 5},
      {"{\r\n\"a\": 1e999\r\n}", 2, 6, 10},
  }));
  CAPTURE(row.text);
  const LineColumn place = place_in(complaint(row.text));
  CHECK(place.line == row.line);
  CHECK(place.column >= row.first_column);
  CHECK(place.column <= row.last_column);
}

TEST_CASE("strict JSON: pointers are escaped", "[base][json]") {
  // RFC 6901 section 3 and the examples of section 5.
  CHECK(child_pointer("", "foo") == "/foo");
  CHECK(child_pointer("/foo", std::size_t{0}) == "/foo/0");
  CHECK(child_pointer("", "") == "/");
  CHECK(child_pointer("", "a/b") == "/a~1b");
  CHECK(child_pointer("", "m~n") == "/m~0n");
  CHECK(child_pointer("", "~1") == "/~01");
}
