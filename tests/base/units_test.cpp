#include <catch2/catch.hpp>
#include <limits>
#include <type_traits>

#include "heatside/base/constants.hpp"
#include "heatside/base/error.hpp"
#include "heatside/base/units.hpp"

using namespace heatside;
using namespace heatside::literals;
using Catch::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

template <class A, class B>
concept CanAdd = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept CanSubtract = requires(A a, B b) {
  a - b;
};
template <class A, class B>
concept CanMultiply = requires(A a, B b) {
  a* b;
};
template <class A, class B>
concept CanDivide = requires(A a, B b) {
  a / b;
};
template <class A, class B>
concept CanCompare = requires(A a, B b) {
  a < b;
};
template <class A, class B>
concept CanEqual = requires(A a, B b) {
  a == b;
};

// The mistakes that the types exist to stop must not compile. Own rules of the project, no outside source.
static_assert(!CanAdd<Kelvin, Kelvin>, "two absolute temperatures have no sum");
static_assert(!CanMultiply<Kelvin, double> && !CanMultiply<double, Kelvin>, "twice as hot means nothing");
static_assert(!CanDivide<Kelvin, Kelvin> && !CanDivide<Kelvin, double>);
static_assert(!CanAdd<Kelvin, double> && !CanSubtract<Kelvin, double>, "a bare number is no temperature rise");
static_assert(!CanSubtract<KelvinRise, Kelvin>, "a rise less a temperature is neither");
static_assert(!CanCompare<Kelvin, KelvinRise> && !CanCompare<Kelvin, double> && !CanEqual<Kelvin, double>);
static_assert(!CanAdd<Hours, Years> && !CanSubtract<Hours, Years> && !CanDivide<Hours, Years>);
static_assert(!CanAdd<Hours, Minutes> && !CanCompare<Hours, Minutes> && !CanEqual<Years, Hours>);
static_assert(!CanAdd<JoulePerMole, Hours> && !CanAdd<Metres, SquareMetres> && !CanAdd<Strain, double>);
static_assert(!CanMultiply<Hours, Hours>, "no type stands for hours squared");
static_assert(!CanDivide<double, Hours>, "no type stands for one over hours");
static_assert(!std::is_convertible_v<double, Kelvin>, "no silent 150 for 150 K");
static_assert(!std::is_convertible_v<double, Hours> && !std::is_convertible_v<int, Years>);
static_assert(!std::is_convertible_v<Minutes, Hours> && !std::is_constructible_v<Hours, Minutes>);
static_assert(!std::is_convertible_v<Hours, Years> && !std::is_constructible_v<Years, Hours>);
static_assert(!std::is_constructible_v<Kelvin, KelvinRise> && !std::is_constructible_v<KelvinRise, Kelvin>);
static_assert(!std::is_convertible_v<Kelvin, double> && !std::is_convertible_v<Hours, double>);
static_assert(!std::is_default_constructible_v<Kelvin> && !std::is_default_constructible_v<Hours>, "no silent zero");
static_assert(!std::is_assignable_v<Hours&, Years> && !std::is_assignable_v<Hours&, double>);

// What must compile, and to what.
static_assert(CanAdd<Kelvin, KelvinRise> && CanSubtract<Kelvin, KelvinRise>);
static_assert(std::is_same_v<decltype(400.0_K_rise + 1.0_K_rise), KelvinRise>);
static_assert(std::is_same_v<decltype(150.0_degC - 100.0_degC), KelvinRise>);
static_assert(std::is_same_v<decltype(1.0_h / 2.0_h), double>, "a ratio has no unit");
static_assert(sizeof(Kelvin) == sizeof(double) && std::is_trivially_copyable_v<Kelvin>);
static_assert(sizeof(Hours) == sizeof(double) && std::is_trivially_copyable_v<Hours>);
static_assert((150.0_degC - 100.0_degC) == 50.0_K_rise);
static_assert(20.0_degC < 20.5_degC && 1.0_h == 1.0_h);

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();

}  // namespace

TEST_CASE("units: degrees Celsius and kelvins differ by 273.15", "[base][units]") {
  // SI Brochure, 9th edition (2019), section 2.3.1: t/degC = T/K - 273.15, exact.
  CHECK(celsius(0.0).value() == 273.15);
  CHECK(celsius(100.0).value() == 373.15);
  CHECK_THAT(in_celsius(celsius(83.0)), WithinAbs(83.0, 1e-12));
  CHECK_THAT(in_celsius(Kelvin{300.0}), WithinAbs(26.85, 1e-12));
  CHECK((25.0_degC).value() == 298.15);
}

TEST_CASE("units: there is no temperature at or below absolute zero", "[base][units][error]") {
  // SI Brochure, 9th edition (2019): thermodynamic temperature is above 0 K.
  CHECK_THROWS_AS(celsius(-273.15), DomainError);
  CHECK_THROWS_AS(celsius(-300.0), DomainError);
  CHECK_THROWS_AS(Kelvin{0.0}, DomainError);
  CHECK_THROWS_AS(Kelvin{not_a_number}, DomainError);
  CHECK_THROWS_AS(Kelvin{infinite}, DomainError);
  CHECK_THROWS_AS(100.0_degC - KelvinRise{400.0}, DomainError);
  CHECK_THROWS_AS(100.0_degC + KelvinRise{not_a_number}, DomainError);
  CHECK_THROWS_WITH(celsius(-273.15), Contains(" K ") && Contains("above 0 K"));
  CHECK(celsius(-273.0).value() > 0.0);
}

TEST_CASE("units: a year is 365.25 days of 24 hours", "[base][units]") {
  // The Julian year, UCUM code a_j = 365.25 d.
  CHECK(hours(Years{1.0}).value() == 8766.0);
  CHECK(years(Hours{8766.0}).value() == 1.0);
  CHECK(hours_per_year == 24.0 * days_per_year);
  CHECK(hours(2.5_a).value() == 21915.0);
  CHECK_THAT(years(hours(Years{33.3})).value(), WithinRel(33.3, 1e-15));
}

TEST_CASE("units: an hour is 60 minutes", "[base][units]") {
  // SI Brochure, 9th edition (2019), table 8.
  CHECK(hours(90.0_min).value() == 1.5);
  CHECK(minutes(Hours{0.25}).value() == 15.0);
}

TEST_CASE("units: metric prefixes and per cent", "[base][units]") {
  // SI Brochure, 9th edition (2019), table 7.
  CHECK_THAT(millimetres(2.54).value(), WithinRel(0.00254, 1e-15));
  CHECK_THAT(in_millimetres(Metres{0.0127}), WithinRel(12.7, 1e-15));
  CHECK_THAT(square_millimetres(0.5).value(), WithinRel(0.5e-6, 1e-15));
  CHECK_THAT(in_square_millimetres(square_millimetres(120.0)), WithinRel(120.0, 1e-15));
  CHECK_THAT(kilojoule_per_mole(95.0).value(), WithinRel(95000.0, 1e-15));
  CHECK_THAT(in_kilojoule_per_mole(JoulePerMole{42500.0}), WithinRel(42.5, 1e-15));
  CHECK_THAT(percent(50.0).value(), WithinRel(0.5, 1e-15));
  CHECK_THAT(in_percent(Strain{2.0}), WithinRel(200.0, 1e-15));
  CHECK_THAT((0.35_mm).value(), WithinRel(0.35e-3, 1e-15));
  CHECK_THAT((50.0_percent).value(), WithinRel(0.5, 1e-15));
  CHECK_THAT((100.0_kJ_per_mol).value(), WithinRel(1.0e5, 1e-15));
}

TEST_CASE("units: arithmetic stays in the unit", "[base][units]") {
  // Own arithmetic of the test.
  CHECK((Hours{3.0} + Hours{4.5}).value() == 7.5);
  CHECK((Hours{3.0} - Hours{4.5}).value() == -1.5);
  CHECK((-Hours{3.0}).value() == -3.0);
  CHECK((2.0 * Hours{3.0}).value() == 6.0);
  CHECK((Hours{3.0} * 2.0).value() == 6.0);
  CHECK((Hours{3.0} / 2.0).value() == 1.5);
  CHECK(Hours{3.0} / Hours{2.0} == 1.5);
  CHECK((20.0_degC + KelvinRise{5.0}) == 25.0_degC);
  CHECK((20.0_degC - KelvinRise{5.0}) == 15.0_degC);
}

TEST_CASE("constants: the exact values of the SI of 2019", "[base][constants]") {
  // CODATA 2018 and 2022; SI Brochure, 9th edition (2019), table 1. The products were recomputed with SciPy constants.
  CHECK_THAT(boltzmann_constant, WithinRel(1.380649e-23, 1e-12));
  CHECK_THAT(elementary_charge, WithinRel(1.602176634e-19, 1e-12));
  CHECK_THAT(avogadro_constant, WithinRel(6.02214076e23, 1e-12));
  CHECK_THAT(molar_gas_constant, WithinRel(8.31446261815324, 1e-12));
  CHECK_THAT(molar_gas_constant, WithinRel(boltzmann_constant * avogadro_constant, 1e-12));
  CHECK_THAT(boltzmann_electronvolt, WithinRel(8.617333262145179e-5, 1e-12));
  CHECK_THAT(boltzmann_electronvolt, WithinRel(boltzmann_constant / elementary_charge, 1e-12));
  CHECK_THAT(1.0 / boltzmann_electronvolt, WithinRel(11604.518121550082, 1e-12));
}

TEST_CASE("constants: one electron volt a particle is 96.485 kJ/mol", "[base][constants]") {
  // e N_A, CODATA 2018 and 2022.
  CHECK_THAT(in_kilojoule_per_mole(electronvolt(1.0)), WithinRel(96.48533212331, 1e-12));
  CHECK_THAT(in_kilojoule_per_mole(electronvolt(0.7)), WithinRel(67.539732486317, 1e-12));
  CHECK_THAT(electronvolt(1.0).value() / molar_gas_constant, WithinRel(11604.518121550082, 1e-12));
}
