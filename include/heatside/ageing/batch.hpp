#pragma once

#include <cstddef>
#include <vector>

#include "heatside/ageing/kinetics.hpp"
#include "heatside/base/units.hpp"

/// The closed kinetics for many draws at once: the same law with other numbers, draw by draw.
///
/// @par Tested by  tests/ageing/batch_test.cpp, against the scalar closed form

namespace heatside::ageing {

/// What a spending stabiliser lets through: F(y) = E1(strength e^-y) with y = -ln s, and its inverse, from tables.
/// F' = exp(-strength e^-y) rises from nearly 0 to 1, and F becomes y - gamma - ln(strength).
///
/// @par Accuracy  F and F' to 1e-13 of themselves at a strength of 8, the inverse to 1e-12 in y
struct GuardTable {
  double strength{};
  double far_offset{};                ///< gamma + ln(strength)
  double root_scale{};                ///< fourth root of the last F of the table
  std::vector<double> series;         ///< Taylor coefficients about equally spaced y
  std::vector<double> start_of_root;  ///< y and its slope over equally spaced fourth roots of F
};

/// F and F' at one y.
struct LetThrough {
  double value, slope;
};

/// @param strength  above 0, at most 12
/// @throws DomainError  otherwise
[[nodiscard]] GuardTable guard_table(double strength);

/// @param y  >= 0
[[nodiscard]] LetThrough let_through(const GuardTable& table, double y);

/// y at which F reaches a value, at least F(0).
[[nodiscard]] double spent_for(const GuardTable& table, double value);

/// A compound whose elongations differ from draw to draw.
struct DrawnKinetics {
  Kinetics law;                 ///< what all draws share; its `rate` and `initial` have no meaning here
  std::vector<double> rate;     ///< c [-], draw by draw
  std::vector<Strain> initial;  ///< e0, draw by draw
  std::vector<double> width;    ///< W = ln(e0 / floor), draw by draw
  GuardTable guard;             ///< guarded only
};

/// @param initial  elongation at break when new, draw by draw
/// @param end      elongation at the thermal-life point: one for each draw, or a single one for all
/// @throws DomainError  in a draw the elongations are not in the order floor < end < initial
[[nodiscard]] DrawnKinetics drawn_kinetics(const library::Insulation& insulation, const library::ModelConstants& model,
                                           const std::vector<Strain>& initial, const std::vector<Strain>& end);

/// Clock rates draw by draw [1/h].
struct DrawnRates {
  std::vector<double> extent;  ///< a_x
  std::vector<double> guard;   ///< a_s; empty: as `extent`
};

/// A time at constant clock rates, the same time in all draws.
struct DrawnSpan {
  Hours length{0.0};
  DrawnRates rates;
};

/// What has become of each draw, and what will.
struct DrawnLife {
  std::vector<Strain> elongation;         ///< at break, after all spans of the past
  std::vector<std::vector<Years>> until;  ///< by threshold and draw
};

/// Elongation at break after the past, and for each threshold the years from its end until elongation falls to it, on the
/// future rates for ever; negative where it was reached that many years ago. As the scalar `elongation_after` and
/// `years_until` with the closed form, to 1e-10.
///
/// @param thresholds  each above the floor, with one value for each draw or a single one for all; may be none
/// @param future      not looked at when there are no thresholds
/// @throws DomainError  rates or a threshold do not fit the number of draws
[[nodiscard]] DrawnLife drawn_life(const DrawnKinetics& kinetics, const std::vector<DrawnSpan>& past,
                                   const DrawnRates& future, const std::vector<std::vector<Strain>>& thresholds);

/// Factor on all clocks of the past with which the threshold would be reached just at its end: below 1 where it has been
/// reached. Chances of a condition over a spread of that factor follow without drawing it. Infinite where the clocks stood
/// still, 0 where a new wire has reached the threshold.
[[nodiscard]] std::vector<double> clock_factors_until(const DrawnKinetics& kinetics, const std::vector<DrawnSpan>& past,
                                                      const std::vector<Strain>& threshold);

}  // namespace heatside::ageing
