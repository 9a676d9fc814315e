#pragma once

#include <string>
#include <string_view>

#include "heatside/casefile/beside.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"

namespace heatside::casefile {

/// Reads and checks a case.
///
/// @param text         JSON of format "heatside-case" version 1, see `materials/schema/case.schema.json`
/// @param file         its name in messages
/// @param library      the records that the case may name
/// @param read_beside  gives the texts of the loggers' files that the case names; empty: none of them is found
/// @return             the case with every assumption that was made on its way
/// @throws InputError  with all problems of the text: shape, unknown keys, ranges, ids that do not resolve,
///                     dates out of order, shares that do not sum to 1, loggers' files that cannot be used
[[nodiscard]] Case read_case(std::string_view text, const std::string& file, const library::Library& library,
                             const ReadBeside& read_beside = {});

}  // namespace heatside::casefile
