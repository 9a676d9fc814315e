#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "base/fields.hpp"

using namespace heatside;
using Catch::Contains;

namespace {

// An object being read, with everything that must outlive the reader.
struct Read {
  Json document;
  std::string file = "x.json";
  std::vector<Problem> problems{};

  explicit Read(const char* text) : document(Json::parse(text)) {}

  Fields fields() { return {document, "/at", file, problems}; }
  [[nodiscard]] std::vector<std::string> pointers() const {
    std::vector<std::string> list;
    for (const Problem& problem : problems) list.push_back(problem.pointer);
    return list;
  }
};

}  // namespace

TEST_CASE("fields: values within their rules are read without a word", "[base][fields]") {
  Read read{R"({"number": 2.5, "count": 3, "flag": true, "text": "a\tb", "choice": "open", "date": "1994-05",
                "object": {"x": 1}, "list": [{"x": 1}, {"x": 2}]})"};
  Fields fields = read.fields();
  CHECK(fields.number("number", {2.5, 2.5, "h"}) == 2.5);
  CHECK(fields.count("count", 3, 3) == 3);
  CHECK(fields.flag("flag"));
  CHECK(fields.text("text") == "a\tb");
  CHECK(fields.choice("choice", {"shade", "open"}) == "open");
  CHECK(format_date_as_known(fields.date("date")) == "1994-05");
  Fields object = fields.object("object");
  CHECK(object.number("x", {0.0, 1.0, ""}) == 1.0);
  auto list = fields.objects("list", 2);
  REQUIRE(list.size() == 2);
  CHECK(list[1].number("x", {0.0, 9.0, ""}) == 2.0);
  CHECK(list[1].pointer() == "/at/list/1");
  fields.refuse_unknown();
  object.refuse_unknown();
  CHECK(read.problems.empty());
}

TEST_CASE("fields: all problems are found in one go, each with its pointer", "[base][fields][error]") {
  Read read{R"({"hours": -1, "length": "long", "count": 1.5, "flag": 1, "text": "", "kind": "opne", "date": "2023-02-29",
                "object": [], "list": {}, "colour": 1})"};
  Fields fields = read.fields();
  fields.number("hours", {0.0, 100.0, "h"});
  fields.number("length", {0.0, 10.0, "m"});
  fields.count("count", 1, 9);
  fields.flag("flag");
  fields.text("text");
  fields.choice("kind", {"open", "shade"});
  fields.date("date");
  fields.object("object");
  fields.objects("list", 0);
  fields.text("missing");
  fields.refuse_unknown();
  CHECK(read.pointers() == std::vector<std::string>{"/at/hours", "/at/length", "/at/count", "/at/flag", "/at/text",
                                                    "/at/kind", "/at/date", "/at/object", "/at/list", "/at", "/at/colour"});
  CHECK_THAT(read.problems[0].message, Contains("-1 h") && Contains("allowed: 0 to 100 h"));
  CHECK_THAT(read.problems[1].message, Contains("found a text") && Contains("allowed: 0 to 10 m"));
  CHECK_THAT(read.problems[2].message, Contains("1.5 is not a whole number"));
  CHECK_THAT(read.problems[3].message, Contains("true or false") && Contains("a number"));
  CHECK_THAT(read.problems[5].message,
             Contains("\"opne\"") && Contains("nearest is \"open\"") && Contains("allowed: open, shade"));
  CHECK_THAT(read.problems[6].message, Contains("YYYY-MM-DD"));
  CHECK_THAT(read.problems[7].message, Contains("expected an object, found an array"));
  CHECK_THAT(read.problems[8].message, Contains("expected an array, found an object"));
  CHECK_THAT(read.problems[9].message, Contains("\"missing\" is missing"));
  for (const Problem& problem : read.problems) CHECK(problem.file == "x.json");
}

TEST_CASE("fields: both ends of a range are allowed and nothing beyond", "[base][fields]") {
  Read read{R"({"low": 0, "high": 100, "below": -1e-9, "above": 100.0000001})"};
  Fields fields = read.fields();
  CHECK(fields.number("low", {0.0, 100.0, "%"}) == 0.0);
  CHECK(fields.number("high", {0.0, 100.0, "%"}) == 100.0);
  CHECK(read.problems.empty());
  fields.number("below", {0.0, 100.0, "%"});
  fields.number("above", {0.0, 100.0, "%"});
  CHECK(read.pointers() == std::vector<std::string>{"/at/below", "/at/above"});
  CHECK_THAT(read.problems[1].message, Contains("100.0000001 %"));
}

TEST_CASE("fields: counts far beyond any range are refused, not cast", "[base][fields][error]") {
  Read read{R"({"huge": 1e300, "negative": -3, "word": "3"})"};
  Fields fields = read.fields();
  CHECK(fields.count("huge", 1, 1000) == 1);
  CHECK(fields.count("negative", 1, 1000) == 1);
  CHECK(fields.count("word", 1, 1000) == 1);
  CHECK(read.problems.size() == 3);
}

TEST_CASE("fields: an unknown key names the nearest one that is still free", "[base][fields][error]") {
  Read read{R"({"lenght_m": 1, "widht": 2, "width": 3, "entirely-different": 4})"};
  Fields fields = read.fields();
  fields.optional_number("length_m", {0.0, 9.0, "m"});
  fields.optional_number("width", {0.0, 9.0, "m"});
  fields.refuse_unknown();
  REQUIRE(read.pointers() == std::vector<std::string>{"/at/lenght_m", "/at/widht", "/at/entirely-different"});
  CHECK_THAT(read.problems[0].message, Contains("unknown key; nearest is \"length_m\""));
  // "width" is taken, so "widht" cannot be meant as it.
  CHECK_THAT(read.problems[1].message, !Contains("\"width\""));
  CHECK_THAT(read.problems[2].message, Contains("unknown key") && Contains("length_m"));
}

TEST_CASE("fields: what may be absent is absent without a word", "[base][fields]") {
  Read read{"{}"};
  Fields fields = read.fields();
  CHECK_FALSE(fields.optional_number("a", {0.0, 1.0, ""}));
  CHECK_FALSE(fields.optional_count("b", 0, 1));
  CHECK_FALSE(fields.optional_flag("c"));
  CHECK_FALSE(fields.optional_text("d"));
  CHECK_FALSE(fields.optional_choice("e", {"x"}));
  CHECK_FALSE(fields.optional_date("f"));
  CHECK_FALSE(fields.optional_object("g"));
  CHECK(fields.optional_objects("h").empty());
  CHECK(read.problems.empty());
}

TEST_CASE("fields: a value that may be absent is still checked when it is there", "[base][fields][error]") {
  Read read{R"({"a": 2, "b": 0.5, "c": "yes", "d": null, "e": 1, "f": "soon", "g": 3, "h": "x"})"};
  Fields fields = read.fields();
  fields.optional_number("a", {0.0, 1.0, ""});
  fields.optional_count("b", 0, 1);
  fields.optional_flag("c");
  fields.optional_text("d");
  fields.optional_choice("e", {"x"});
  fields.optional_date("f");
  fields.optional_object("g");
  fields.optional_objects("h");
  CHECK(read.pointers() == std::vector<std::string>{"/at/a", "/at/b", "/at/c", "/at/d", "/at/e", "/at/f", "/at/g", "/at/h"});
}

TEST_CASE("fields: control characters in texts are refused", "[base][fields][error]") {
  Read read{R"({"a": "bell\u0007", "b": "nul\u0000", "c": "delete\u007f", "d": "escape\u001b[31m", "e": "line\nbreak"})"};
  Fields fields = read.fields();
  for (const char* key : {"a", "b", "c", "d", "e"}) fields.text(key);
  CHECK(read.pointers() == std::vector<std::string>{"/at/a", "/at/b", "/at/c", "/at/d"});
}

TEST_CASE("fields: too few elements and elements that are no objects", "[base][fields][error]") {
  Read read{R"({"list": [1, {}]})"};
  Fields fields = read.fields();
  auto list = fields.objects("list", 3);
  REQUIRE(list.size() == 2);
  CHECK(read.pointers() == std::vector<std::string>{"/at/list", "/at/list/0"});
  // What is missing in an element that is no object has been said once.
  list[0].text("id");
  CHECK(read.problems.size() == 2);
  list[1].text("id");
  CHECK(read.problems.back().pointer == "/at/list/1");
}

TEST_CASE("fields: pointers escape odd keys", "[base][fields]") {
  // RFC 6901 section 3.
  Read read{R"({"a/b": {"c~d": 1}})"};
  Fields fields = read.fields();
  fields.object("a/b").text("c~d");
  CHECK(read.pointers() == std::vector<std::string>{"/at/a~1b/c~0d"});
}

TEST_CASE("fields: long lists of allowed words are not printed", "[base][fields]") {
  std::vector<std::string> words;
  for (int i = 0; i < 31; ++i) words.push_back("word" + std::to_string(i));
  CHECK_THAT(unknown_word("thing", "wrod1", words), Contains("nearest is \"word1\"") && !Contains("allowed"));
  words.pop_back();
  CHECK_THAT(unknown_word("thing", "wrod1", words), Contains("allowed: word0, word1"));
  CHECK_THAT(unknown_word("thing", "x", {}), Contains("none is defined"));
}

TEST_CASE("errors: a problem is one line with file, pointer and message", "[base][error]") {
  CHECK(describe({"f.json", "/a/0", "wrong"}) == "f.json: /a/0: wrong");
  CHECK(describe({"f.json", "", "wrong"}) == "f.json: wrong");
  CHECK(describe({"", "/a", "wrong"}) == "/a: wrong");
  CHECK(describe({"", "", "wrong"}) == "wrong");
  const InputError error{{{"f", "/a", "one"}, {"f", "/b", "two"}}};
  CHECK(error.problems().size() == 2);
  CHECK(std::string{error.what()} == "f: /a: one\nf: /b: two");
}
