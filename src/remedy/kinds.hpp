#pragma once

#include <string>

#include "heatside/library/library.hpp"

namespace heatside::remedy {

/// @throws DomainError  there is no such kind of remedy
[[nodiscard]] const library::RemedyKind& kind_of(const library::Library& library, const std::string& id);

/// The first kind, by id, that does this.
/// @throws DomainError  there is none
[[nodiscard]] const library::RemedyKind& kind_that(const library::Library& library, library::RemedyAct act);

}  // namespace heatside::remedy
