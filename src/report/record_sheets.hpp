#pragma once

#include <string>

#include "heatside/library/library.hpp"

/// One record as text: every number with its range, grade and source, and the sources at the end.

namespace heatside::report {

[[nodiscard]] std::string sheet_of(const library::Library& library, const library::Insulation& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::Covering& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::Zone& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::Climate& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::Duty& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::Conductors& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::Era& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::Method& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::Clue& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::Consequence& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::RemedyKind& record);
[[nodiscard]] std::string sheet_of(const library::Library& library, const library::ModelConstants& record);

/// A case template: its segments and the zones they lie in.
[[nodiscard]] std::string template_sheet(const std::string& text);

}  // namespace heatside::report
