#include "base/json_text.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>
#include <string>
#include <vector>

using namespace heatside;

/// Pointers and their escapes are those of RFC 6901, the texts those of RFC 8259; what the layout should be is our own rule.

namespace {

const std::string by_hand = R"({
  "note" : "kept, with \"quotes\" and a brace {",
  "length": 0.30,
  "list": [
    {"a": 1.0e0},
    {"a": 2}
  ],
  "none": [ ],
  "box": {"x": true}
}
)";

}  // namespace

TEST_CASE("json text: a value is found as it is spelled", "[base][json_text]") {
  CHECK(value_text(by_hand, "/length") == "0.30");
  CHECK(value_text(by_hand, "/list/0/a") == "1.0e0");
  CHECK(value_text(by_hand, "/note") == R"("kept, with \"quotes\" and a brace {")");
  CHECK(value_text(by_hand, "/none") == "[ ]");
  CHECK(value_text(by_hand, "") == by_hand.substr(0, by_hand.size() - 1));
  CHECK_FALSE(value_text(by_hand, "/list/2"));
  CHECK_FALSE(value_text(by_hand, "/length/0"));
  CHECK_FALSE(value_text(by_hand, "/lengt"));
}

TEST_CASE("json text: keys are compared as what they spell, pointers without their escapes", "[base][json_text]") {
  // RFC 6901, section 5: the pointer /a~1b names the member a/b, /m~0n the member m~n.
  const std::string text = R"({"a/b": 1, "m~n": 8, "\u0066ive": 5, "": 0})";
  CHECK(value_text(text, "/a~1b") == "1");
  CHECK(value_text(text, "/m~0n") == "8");
  CHECK(value_text(text, "/five") == "5");
  CHECK(value_text(text, "/") == "0");
}

TEST_CASE("json text: an element stands as its neighbours do", "[base][json_text]") {
  const std::string text = with_element(by_hand, "/list", {{"a", 3}, {"b", "x"}});
  CHECK(text.find("    {\"a\": 2},\n    {\"a\": 3, \"b\": \"x\"}\n  ],") != std::string::npos);
  CHECK(with_element("[1,2]", "", 3) == "[1,2,3]");
  CHECK(with_element("[]", "", 3) == "[3]");
  CHECK(with_element(R"({"k": [1]})", "/k", 2) == R"({"k": [1, 2]})");
  CHECK(with_element(R"({"k":[1]})", "/k", 2) == R"({"k":[1,2]})");
}

TEST_CASE("json text: a list that is new at the top is laid out for many", "[base][json_text]") {
  const std::string text = with_member("{\n  \"a\": 1\n}\n", "", "list", Json::array({{{"b", 2}}}));
  CHECK(text == "{\n  \"a\": 1,\n  \"list\": [\n    {\"b\": 2}\n  ]\n}\n");
  CHECK(with_member(R"({"a":1})", "", "list", Json::array({2})) == R"({"a":1,"list":[2]})");
}

TEST_CASE("json text: what is added can be taken away to the byte", "[base][json_text][property]") {
  const std::vector<std::string> texts{by_hand, R"({"list":[1],"none":[],"box":{}})",
                                       R"({"list": [1], "none": [], "box": {}})",
                                       "{\"list\":\t[\r\n1\r\n] ,\r\n\"none\" : [\r\n],\"box\":{ }}  ",
                                       "\xEF\xBB\xBF{\n\t\"list\": [1, 2], \"none\": [], \"box\": {\"y\": [\"]\", \"}\"]}}"};
  for (const std::string& text : texts) {
    CAPTURE(text);
    const Json before = read_strict_json(text, "text");
    const std::string last = "/list/" + std::to_string(before["list"].size());
    const std::string longer = with_element(text, "/list", {{"new", "\xC3\xBC"}});
    CHECK(read_strict_json(longer, "longer")["list"].back()["new"] == "\xC3\xBC");
    CHECK(without(longer, last) == text);
    CHECK(without(with_element(text, "/none", 5), "/none/0") == text);
    CHECK(without(with_member(text, "/box", "z/", false), "/box/z~1") == text);
    CHECK(without(with_member(text, "", "new", Json::array({1})), "/new") == text);
    CHECK(without(without(with_element(longer, "/list", 7), "/list/" + std::to_string(before["list"].size() + 1)), last) ==
          text);
  }
}

TEST_CASE("json text: the first and a middle part can be taken away", "[base][json_text]") {
  CHECK(without("[1, 2, 3]", "/0") == "[2, 3]");
  CHECK(without("[1, 2, 3]", "/1") == "[1, 3]");
  CHECK(without("[ 1 ]", "/0") == "[  ]");
  CHECK(without(R"({"a": 1, "b": 2})", "/a") == R"({"b": 2})");
}

TEST_CASE("json text: a value can be changed in its place", "[base][json_text]") {
  CHECK(with_value(R"({"a" : false , "b": 1})", "/a", true) == R"({"a" : true , "b": 1})");
  CHECK(with_value(R"([0.50])", "/0", Json::array()) == "[[]]");
}

TEST_CASE("json text: a place that is not there is a fault of the caller", "[base][json_text][error]") {
  CHECK_THROWS_AS(without("{}", "/a"), std::logic_error);
  CHECK_THROWS_AS(with_value("[]", "/0", 1), std::logic_error);
  CHECK_THROWS_AS(with_element("{}", "/a", 1), std::logic_error);
}
