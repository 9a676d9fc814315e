#pragma once

#include <string>

/// What all drawings have in common: SVG 1.1 as text, by attributes alone. Nothing in a drawing comes from outside it, no
/// style sheet and no script is in it, and every one reads in grey.

namespace heatside::report {

/// Where a drawing will stand.
struct DrawingPlace {
  std::string prefix;    ///< of every id in it: a letter, then letters, digits, - and _; another one for each on a page
  double width = 360.0;  ///< units of the drawing, 320 to 1200; letters are 10 to 13 of them high, so 360 suits a phone
};

}  // namespace heatside::report
