#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"

/// Where everything of a loom map lies: rows below each other in fields, lines in lanes. Lengths are units of the drawing.

namespace heatside::report {

/// Heights of what lies below each other.
namespace map_height {
inline constexpr double field_head = 42.0;  ///< name of the cover
inline constexpr double start = 28.0;       ///< the node that a run of segments starts at
inline constexpr double segment = 52.0;
inline constexpr double field_end = 8.0;
}  // namespace map_height

/// A node where it lies in a field.
struct MapNode {
  std::size_t node{};  ///< in the case
  std::size_t lane{};
  double y{};            ///< below the top of its field
  double branches_to{};  ///< its branches leave down to here; `y` where there are none
  std::string letter;    ///< of nodes that lie in more than one place; else empty
  bool start = false;    ///< a run begins here: its name stands beside it
  bool again = false;    ///< the end of a line that closes a loop: the node itself lies elsewhere
};

/// A segment where it lies in a field.
struct MapLine {
  std::size_t segment{};  ///< in the case
  std::size_t from_lane{}, lane{};
  double from_y{}, to_y{};
  double row_y{};  ///< top of its row
};

/// What comes free when one cover is off.
struct MapField {
  std::string cover;  ///< empty: in the open
  double height{};
  std::size_t lanes = 1;
  std::vector<MapNode> nodes;
  std::vector<MapLine> lines;  ///< each segment of the case is in exactly one field
};

/// The fields of a case: what lies open first, then covers in the order of their first segment.
///
/// In each field the segments of a loom that hang together make one run. It starts where it comes from a field above; along
/// it the branch with most behind it goes on in its lane and the others leave to the right, so that n segments take no more
/// than 1 + log2(n) lanes.
/// @throws DomainError  a segment between nodes that the case does not have
[[nodiscard]] std::vector<MapField> map_fields(const casefile::Case& job);

}  // namespace heatside::report
