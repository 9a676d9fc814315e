#pragma once

#include <compare>
#include <limits>
#include <string>

#include "heatside/base/error.hpp"

/// Quantities that carry their unit in the type, and every conversion between spellings of a unit.
/// A bare `double` elsewhere in a public signature is dimensionless.

namespace heatside {

/// A number of one unit. Sums stay in the unit; the ratio of two is a plain `double`.
template <class Unit>
class Quantity {
 public:
  constexpr explicit Quantity(double value) : value_{value} {}
  [[nodiscard]] constexpr double value() const { return value_; }

  friend constexpr auto operator<=>(Quantity, Quantity) = default;
  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity{a.value_ + b.value_}; }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity{a.value_ - b.value_}; }
  friend constexpr Quantity operator-(Quantity a) { return Quantity{-a.value_}; }
  friend constexpr Quantity operator*(Quantity a, double factor) { return Quantity{a.value_ * factor}; }
  friend constexpr Quantity operator*(double factor, Quantity a) { return a * factor; }
  friend constexpr Quantity operator/(Quantity a, double divisor) { return Quantity{a.value_ / divisor}; }
  friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }

 private:
  double value_;
};

using KelvinRise = Quantity<struct KelvinRiseUnit>;                    ///< temperature difference [K]
using Minutes = Quantity<struct MinutesUnit>;                          ///< duration [min]
using Hours = Quantity<struct HoursUnit>;                              ///< duration [h]
using Years = Quantity<struct YearsUnit>;                              ///< duration [a] of 365.25 days
using JoulePerMole = Quantity<struct JoulePerMoleUnit>;                ///< molar energy [J/mol]
using Metres = Quantity<struct MetresUnit>;                            ///< length [m]
using SquareMetres = Quantity<struct SquareMetresUnit>;                ///< area [m2]
using Amperes = Quantity<struct AmperesUnit>;                          ///< electric current [A]
using Strain = Quantity<struct StrainUnit>;                            ///< stretch over length [m/m]; 0.5 is 50 %
using PerKelvin = Quantity<struct PerKelvinUnit>;                      ///< thermal expansion [1/K]
using MetresPerSecond = Quantity<struct MetresPerSecondUnit>;          ///< air speed [m/s]
using OhmsPerMetre = Quantity<struct OhmsPerMetreUnit>;                ///< conductor resistance [Ohm/m]
using WattsPerMetre = Quantity<struct WattsPerMetreUnit>;              ///< heat flow of a length of wire [W/m]
using WattsPerMetreKelvin = Quantity<struct WattsPerMetreKelvinUnit>;  ///< thermal conductivity [W/(m K)]

/// Absolute temperature [K], always finite and above 0. Two of them can be subtracted, never added or scaled.
class Kelvin {
 public:
  /// @throws DomainError  `value` is not finite or not above 0
  constexpr explicit Kelvin(double value) : value_{value} {
    if (!(value > 0.0 && value <= std::numeric_limits<double>::max())) {
      throw DomainError("temperature " + std::to_string(value) + " K is not finite and above 0 K");
    }
  }
  [[nodiscard]] constexpr double value() const { return value_; }

  friend constexpr auto operator<=>(Kelvin, Kelvin) = default;
  friend constexpr KelvinRise operator-(Kelvin a, Kelvin b) { return KelvinRise{a.value_ - b.value_}; }
  friend constexpr Kelvin operator+(Kelvin a, KelvinRise rise) { return Kelvin{a.value_ + rise.value()}; }
  friend constexpr Kelvin operator-(Kelvin a, KelvinRise rise) { return Kelvin{a.value_ - rise.value()}; }

 private:
  double value_;
};

inline constexpr double ice_point_kelvin = 273.15;  ///< 0 degC [K], exact by definition of the degree Celsius
inline constexpr double hours_per_year = 8766.0;    ///< 365.25 d of 24 h
inline constexpr double days_per_year = 365.25;

/// Absolute temperature from degrees Celsius.  @throws DomainError  at or below -273.15 degC
[[nodiscard]] constexpr Kelvin celsius(double degrees) { return Kelvin{degrees + ice_point_kelvin}; }
[[nodiscard]] constexpr double in_celsius(Kelvin temperature) { return temperature.value() - ice_point_kelvin; }

[[nodiscard]] constexpr JoulePerMole kilojoule_per_mole(double value) { return JoulePerMole{1.0e3 * value}; }
[[nodiscard]] constexpr double in_kilojoule_per_mole(JoulePerMole energy) { return 1.0e-3 * energy.value(); }

[[nodiscard]] constexpr Hours hours(Years time) { return Hours{time.value() * hours_per_year}; }
[[nodiscard]] constexpr Hours hours(Minutes time) { return Hours{time.value() / 60.0}; }
[[nodiscard]] constexpr Years years(Hours time) { return Years{time.value() / hours_per_year}; }
[[nodiscard]] constexpr Minutes minutes(Hours time) { return Minutes{time.value() * 60.0}; }

[[nodiscard]] constexpr Metres millimetres(double value) { return Metres{1.0e-3 * value}; }
[[nodiscard]] constexpr double in_millimetres(Metres length) { return 1.0e3 * length.value(); }
[[nodiscard]] constexpr SquareMetres square_millimetres(double value) { return SquareMetres{1.0e-6 * value}; }
[[nodiscard]] constexpr double in_square_millimetres(SquareMetres area) { return 1.0e6 * area.value(); }

[[nodiscard]] constexpr OhmsPerMetre milliohm_per_metre(double value) { return OhmsPerMetre{1.0e-3 * value}; }

[[nodiscard]] constexpr Strain percent(double value) { return Strain{1.0e-2 * value}; }
[[nodiscard]] constexpr double in_percent(Strain strain) { return 1.0e2 * strain.value(); }

inline namespace literals {
consteval Kelvin operator""_degC(long double v) { return celsius(static_cast<double>(v)); }
consteval KelvinRise operator""_K_rise(long double v) { return KelvinRise{static_cast<double>(v)}; }
consteval JoulePerMole operator""_kJ_per_mol(long double v) { return kilojoule_per_mole(static_cast<double>(v)); }
consteval Minutes operator""_min(long double v) { return Minutes{static_cast<double>(v)}; }
consteval Hours operator""_h(long double v) { return Hours{static_cast<double>(v)}; }
consteval Years operator""_a(long double v) { return Years{static_cast<double>(v)}; }
consteval Metres operator""_mm(long double v) { return millimetres(static_cast<double>(v)); }
consteval Strain operator""_percent(long double v) { return percent(static_cast<double>(v)); }
}  // namespace literals

}  // namespace heatside
