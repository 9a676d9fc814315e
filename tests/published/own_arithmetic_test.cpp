#include <catch2/catch.hpp>
#include <cmath>

/// Rules of standards for which the program has no function. What stands here is the test's own arithmetic: it guards the
/// figures that people compare the program with, not the program.

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

double oven_temperature(double rated) { return 1.02 * rated + 5.463; }

}  // namespace

TEST_CASE("own arithmetic: oven temperature of long-term wire ageing", "[published][own-arithmetic]") {
  // UL 2556 clause 4.3, as quoted elsewhere: 1.02 * rated + 5.463 degC, 112 degC for a rating of 105 (rounded down).
  struct Row {
    double rated, oven;
  };
  const Row row = GENERATE(Row{60, 66.663}, Row{75, 81.963}, Row{80, 87.063}, Row{90, 97.263}, Row{105, 112.563},
                           Row{125, 132.963}, Row{150, 158.463}, Row{200, 209.463}, Row{250, 260.463});
  CHECK_THAT(oven_temperature(row.rated), WithinAbs(row.oven, 1e-9));
  CHECK(std::floor(oven_temperature(105.0)) == 112.0);
}

TEST_CASE("own arithmetic: temperature cycles of a mission profile", "[published][own-arithmetic]") {
  // AEC-Q100 appendix 7, power temperature cycles: 54750 swings of 76 K as swings of 205 K, exponent 4: 1034 (from memory).
  const double factor = std::pow(205.0 / 76.0, 4.0);
  CHECK_THAT(factor, WithinRel(52.93721324, 1e-9));
  CHECK_THAT(54750.0 / factor, WithinAbs(1034.0, 1.0));
  CHECK_THAT(54750.0 / factor, WithinRel(1034.2441, 1e-7));
}
