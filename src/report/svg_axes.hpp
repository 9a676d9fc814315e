#pragma once

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "report/svg.hpp"

/// From numbers to places in a drawing.

namespace heatside::report::svg {

/// Something that runs evenly from one number to another: the number itself, its logarithm or its inverse.
struct Scale {
  enum class By { itself, logarithm, inverse };
  double from{}, to{};    ///< numbers at the two ends
  double start{}, end{};  ///< places of the two ends
  By by = By::itself;

  [[nodiscard]] double at(double value) const {
    const double share = (bent(value) - bent(from)) / (bent(to) - bent(from));
    return start + share * (end - start);
  }
  /// The place of what lies beyond an end is that end.
  [[nodiscard]] double within(double value) const { return at(value < from ? from : value > to ? to : value); }
  [[nodiscard]] bool holds(double value) const { return value >= from && value <= to; }

 private:
  [[nodiscard]] double bent(double value) const {
    return by == By::itself ? value : by == By::logarithm ? std::log(value) : -1.0 / value;
  }
};

/// The area between two lines over the same places.
[[nodiscard]] inline std::string between(const std::vector<Point>& upper, const std::vector<Point>& lower) {
  std::vector<Point> round = upper;
  round.insert(round.end(), lower.rbegin(), lower.rend());
  return through(round) + "Z";
}

}  // namespace heatside::report::svg
