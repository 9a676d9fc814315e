#include "heatside/ageing/condition.hpp"

#include <catch2/catch.hpp>
#include <string>

#include "ageing/compounds.hpp"

using namespace heatside;
using namespace heatside::ageing;
using namespace heatside::tests;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

ConditionThresholds thresholds_of(Strain initial, double expansion, double diameter_mm, double radius_mm) {
  return condition_thresholds(initial, PerKelvin{expansion}, {millimetres(diameter_mm), millimetres(radius_mm)},
                              model_constants());
}

}  // namespace

TEST_CASE("bend strain: a wire round mandrels of 1 to 20 times its diameter", "[ageing][condition]") {
  // d/(D + d), neutral axis at the centre: strain geometry of any text on bending, printed here to a tenth of a per cent.
  struct Row {
    double diameters, strain_percent;
  };
  const Row row = GENERATE(Row{1, 50.0}, Row{2, 33.3}, Row{3, 25.0}, Row{4, 20.0}, Row{5, 16.7}, Row{6, 14.3}, Row{8, 11.1},
                           Row{10, 9.1}, Row{15, 6.2}, Row{20, 4.8});
  const Metres diameter = millimetres(GENERATE(1.1, 1.9, 6.0));
  CAPTURE(row.diameters, diameter.value());
  CHECK_THAT(in_percent(bend_strain(diameter, diameter * row.diameters)), WithinAbs(row.strain_percent, 0.0501));
}

TEST_CASE("condition: thresholds of a 1.6 mm wire of 250 % on a 30 mm bend", "[ageing][condition]") {
  // Worked by hand, own arithmetic of the test:
  //   stiff        0.4 * 250 %                                             = 100 %
  //   flex-cracks  1.5 * 1/6                                               = 25 %
  //   cracked      1.5 * (0.3 * 1.6/61.6 + (180e-6 - 17e-6) * 100 + 0.005)
  //                = 1.5 * (0.00779220779 + 0.0163 + 0.005)                = 4.36383116883 %
  //   crumbling                                                            = 1 %
  const ConditionThresholds found = thresholds_of(250.0_percent, 180e-6, 1.6, 30.0);
  CHECK_THAT(in_percent(found.stiff), WithinRel(100.0, 1e-12));
  CHECK_THAT(in_percent(found.flex_cracks), WithinRel(25.0, 1e-12));
  CHECK_THAT(in_percent(found.cracked), WithinRel(4.36383116883117, 1e-12));
  CHECK_THAT(in_percent(found.crumbling), WithinRel(1.0, 1e-12));
}

TEST_CASE("condition: a thick cable on a tight bend cracks earlier as it lies", "[ageing][condition]") {
  // 9 mm on a radius of 15 mm, 120e-6/K: 1.5 * (0.3 * 9/39 + 0.0103 + 0.005) = 12.6796153846 %; handling stays at 25 %.
  const ConditionThresholds found = thresholds_of(300.0_percent, 120e-6, 9.0, 15.0);
  CHECK_THAT(in_percent(found.cracked), WithinRel(12.6796153846154, 1e-12));
  CHECK_THAT(in_percent(found.flex_cracks), WithinRel(25.0, 1e-12));
  CHECK_THAT(in_percent(found.stiff), WithinRel(120.0, 1e-12));
}

TEST_CASE("condition: thermal mismatch alone cracks insulation that is left below a few per cent", "[ageing][condition]") {
  // common practice, no source: cracks at rest are expected below about 2 to 4 % of elongation. A straight wire, 100e-6 to
  // 200e-6/K against copper: 1.5 * (0.0083 + 0.005) = 1.995 % and 1.5 * (0.0183 + 0.005) = 3.495 %.
  CHECK_THAT(in_percent(thresholds_of(250.0_percent, 100e-6, 1.0, 1.0e12).cracked), WithinRel(1.995, 1e-9));
  CHECK_THAT(in_percent(thresholds_of(250.0_percent, 200e-6, 1.0, 1.0e12).cracked), WithinRel(3.495, 1e-9));
}

TEST_CASE("condition: a milder condition never begins below a worse one", "[ageing][condition]") {
  SECTION("insulation that was never very supple") {
    // 0.4 * 40 % = 16 % lies below the 25 % of ordinary handling: stiff begins there.
    const ConditionThresholds found = thresholds_of(40.0_percent, 180e-6, 1.6, 30.0);
    CHECK_THAT(in_percent(found.flex_cracks), WithinRel(25.0, 1e-12));
    CHECK(found.stiff == found.flex_cracks);
    CHECK(condition_at(24.0_percent, found) == Condition::flex_cracks);
    CHECK(condition_at(26.0_percent, found) == Condition::supple);
  }
  SECTION("a bend so tight that it cracks before it is handled") {
    // d = 3 mm on a radius of 0.1 mm: 1.5 * (0.3 * 3/3.2 + 0.0163 + 0.005) = 45.3825 %, above handling's 25 %.
    const ConditionThresholds found = thresholds_of(100.0_percent, 180e-6, 3.0, 0.1);
    CHECK_THAT(in_percent(found.cracked), WithinRel(45.3825, 1e-12));
    CHECK(found.flex_cracks == found.cracked);
    CHECK(found.stiff == found.cracked);
    CHECK(condition_at(45.0_percent, found) == Condition::cracked);
  }
  SECTION("a wire that lies with almost no strain") {
    // Expansion of copper itself, straight: 1.5 * 0.5 % = 0.75 %, below crumbling's 1 %.
    const ConditionThresholds found = thresholds_of(250.0_percent, 17e-6, 1.0, 1.0e12);
    CHECK(found.cracked == found.crumbling);
    CHECK(condition_at(0.9_percent, found) == Condition::crumbling);
    CHECK(condition_at(1.1_percent, found) == Condition::flex_cracks);
  }
}

TEST_CASE("condition: the order of thresholds holds for every wire", "[ageing][condition][property]") {
  const Strain initial = percent(GENERATE(5.0, 60.0, 250.0, 600.0));
  const double expansion = GENERATE(0.0, 17e-6, 150e-6, 1e-3);
  const double diameter = GENERATE(0.8, 2.0, 20.0);
  const double radius = GENERATE(1.0, 30.0, 500.0);
  const ConditionThresholds found = thresholds_of(initial, expansion, diameter, radius);
  CAPTURE(initial.value(), expansion, diameter, radius);
  CHECK(found.crumbling <= found.cracked);
  CHECK(found.cracked <= found.flex_cracks);
  CHECK(found.flex_cracks <= found.stiff);
}

TEST_CASE("condition: the worst threshold crossed wins, and none is crossed by touching it", "[ageing][condition]") {
  const ConditionThresholds thresholds{100.0_percent, 25.0_percent, 4.0_percent, 1.0_percent};
  CHECK(condition_at(300.0_percent, thresholds) == Condition::supple);
  CHECK(condition_at(100.0_percent, thresholds) == Condition::supple);
  CHECK(condition_at(99.9_percent, thresholds) == Condition::stiff);
  CHECK(condition_at(25.0_percent, thresholds) == Condition::stiff);
  CHECK(condition_at(24.9_percent, thresholds) == Condition::flex_cracks);
  CHECK(condition_at(4.0_percent, thresholds) == Condition::flex_cracks);
  CHECK(condition_at(3.9_percent, thresholds) == Condition::cracked);
  CHECK(condition_at(1.0_percent, thresholds) == Condition::cracked);
  CHECK(condition_at(0.9_percent, thresholds) == Condition::crumbling);
}

TEST_CASE("condition: names from good to bad", "[ageing][condition]") {
  CHECK(std::string{name_of(Condition::supple)} == "supple");
  CHECK(std::string{name_of(Condition::stiff)} == "stiff");
  CHECK(std::string{name_of(Condition::flex_cracks)} == "flex-cracks");
  CHECK(std::string{name_of(Condition::cracked)} == "cracked");
  CHECK(std::string{name_of(Condition::crumbling)} == "crumbling");
}
