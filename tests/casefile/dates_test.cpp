#include "casefile/dates.hpp"

#include <catch2/catch.hpp>

using namespace heatside;
using namespace heatside::casefile;

namespace {

struct Pair {
  std::string earlier, later;
};

}  // namespace

TEST_CASE("dates: an order is wrong only when no days make it right", "[casefile][dates]") {
  CHECK(certainly_after(*parse_date("1995"), *parse_date("1994")));
  CHECK(certainly_after(*parse_date("1994-06-02"), *parse_date("1994-06-01")));
  CHECK_FALSE(certainly_after(*parse_date("1994"), *parse_date("1994-01-01")));
  CHECK_FALSE(certainly_after(*parse_date("1994-12-31"), *parse_date("1994")));
  CHECK_FALSE(certainly_after(*parse_date("1994-06-01"), *parse_date("1994-06-01")));
}

TEST_CASE("dates: put in order, both keep to what their texts allow", "[casefile][dates]") {
  const Pair pair = GENERATE(Pair{"1994", "1994-02-10"}, Pair{"1994-08", "1994"}, Pair{"1994", "1994"},
                             Pair{"1994-03", "1994-03-01"}, Pair{"1993", "1994"}, Pair{"1994-12-31", "1994"});
  CAPTURE(pair.earlier, pair.later);
  Date earlier = *parse_date(pair.earlier);
  Date later = *parse_date(pair.later);
  REQUIRE_FALSE(certainly_after(earlier, later));
  put_in_order(earlier, later);
  CHECK(earlier.day <= later.day);
  CHECK((earlier.first <= earlier.day && earlier.day <= earlier.last));
  CHECK((later.first <= later.day && later.day <= later.last));
}

TEST_CASE("dates: what is in order already stays as it is", "[casefile][dates]") {
  Date earlier = *parse_date("1993");
  Date later = *parse_date("1994-02");
  put_in_order(earlier, later);
  CHECK(earlier == *parse_date("1993"));
  CHECK(later == *parse_date("1994-02"));
}
