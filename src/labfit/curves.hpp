#pragma once

#include <vector>

#include "heatside/labfit/reading_study.hpp"

/// Readings gathered into one curve a temperature, or one a specimen.

namespace heatside::labfit {

/// Readings taken at one hour.
struct CurvePoint {
  double hours{}, mean{}, count{};
  double squares{};  ///< about the mean
};

struct Curve {
  Kelvin temperature{ice_point_kelvin};
  std::vector<CurvePoint> points;  ///< by hour
  bool start_given = false;        ///< the first point is the initial value, not a reading at this temperature
};

/// What counts as the end of life in a test, once the readings themselves have been asked.
struct Ending {
  double value{};
  std::optional<double> initial;
  bool falling{};

  /// Positive before the end point, negative beyond.
  [[nodiscard]] double left(double reading) const { return falling ? reading - value : value - reading; }
};

/// @throws DomainError  see `reading_study`
[[nodiscard]] Ending ending_of(const ReadingTest& test, const EndPoint& end_point);

/// One curve a temperature, or one a specimen and temperature. A curve without a reading at 0 h begins at the initial value.
[[nodiscard]] std::vector<Curve> curves_of(const ReadingTest& test, const Ending& ending, bool each_specimen);

/// The curve runs past the end point between points `before` and `before + 1`.
struct Passage {
  std::size_t before;
  double hours;
  bool again;  ///< a later point lies before the end point once more
};
[[nodiscard]] std::optional<Passage> passage(const Curve& curve, const Ending& ending);

/// Laid over each other; empty curves are left out.
/// @throws DomainError  fewer than two curves share values of the property; the text says which
[[nodiscard]] Superposition superpose(const std::vector<Curve>& curves, const Ending& ending);

}  // namespace heatside::labfit
