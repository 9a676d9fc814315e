#include "casefile/place.hpp"

#include <catch2/catch.hpp>

using namespace heatside;
using namespace heatside::casefile;

namespace {

Json document() { return read_strict_json(R"({"b": [10, {"x": 1}], "a": {"sl/ash": 1, "til~de": 2}, "": 3})", "doc"); }

}  // namespace

// Pointers as RFC 6901 defines them: sections 3 (syntax), 4 (evaluation, no leading zeros) and 5 (escapes).
TEST_CASE("place: pointers to what is there", "[casefile][place]") {
  const std::string pointer = GENERATE("", "/b", "/b/0", "/b/1/x", "/a/sl~1ash", "/a/til~0de", "/");
  CAPTURE(pointer);
  CHECK(has_value(document(), pointer));
  CHECK(has_place(document(), pointer));
}

TEST_CASE("place: a member that an object could have is a place without a value", "[casefile][place]") {
  const std::string pointer = GENERATE("/c", "/a/new", "/b/1/y");
  CAPTURE(pointer);
  CHECK_FALSE(has_value(document(), pointer));
  CHECK(has_place(document(), pointer));
}

TEST_CASE("place: pointers that lead nowhere", "[casefile][place]") {
  const std::string pointer = GENERATE("b", "/b/2", "/b/01", "/b/-", "/b/x", "/b/0/x", "/c/d", "/a/til~de", "/a/x~",
                                       "/a/x~2", "/b/99999999999999999999");
  CAPTURE(pointer);
  CHECK_FALSE(has_value(document(), pointer));
  CHECK_FALSE(has_place(document(), pointer));
}

TEST_CASE("place: order is that of the text, not of the alphabet", "[casefile][place]") {
  CHECK(order_in_text(document(), "/b/1") < order_in_text(document(), "/a"));
  CHECK(order_in_text(document(), "/b") < order_in_text(document(), "/b/0"));
  CHECK(order_in_text(document(), "/b/0") < order_in_text(document(), "/b/1/x"));
  CHECK(order_in_text(document(), "/a/missing") == order_in_text(document(), "/a"));
}
