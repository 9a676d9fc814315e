#pragma once

#include <optional>
#include <string>
#include <variant>

#include "base/fields.hpp"
#include "heatside/base/units.hpp"
#include "heatside/library/library.hpp"

namespace heatside::casefile {

struct Reading;

struct WallMeasures {
  Metres wall{0.0};
  Metres outer_diameter{0.0};
};

/// A wall as the case states it: a word of the conductor tables, or both measures.
using StatedWall = std::variant<std::string, WallMeasures>;

/// What a lot or a wire group says about its wires; absent where it says nothing or something wrong.
struct StatedWire {
  std::optional<std::string> size;
  std::optional<StatedWall> wall;
};

/// The label in `size`; absent when there is none or no conductor table has it, which is a problem.
std::optional<std::string> read_optional_size(Fields& fields, const library::Library& library);

/// `size` and `wall` as far as they are there.
StatedWire read_stated_wire(Fields& fields, Reading& reading);

/// What a group says, with the lot's statement where it says nothing.
/// A lot's measures hold for its own size alone; another size without a wall is a problem.
StatedWire with_lot_values(StatedWire group, const StatedWire& lot, Fields& fields);

/// The measures of a wire: looked up where the wall is a word. A wall that the tables do not have is a problem, and so are
/// measures that leave no room for the copper or far too much.
std::optional<WallMeasures> measures_of(const StatedWire& wire, Fields& fields, Reading& reading);

}  // namespace heatside::casefile
