#pragma once

#include <array>
#include <cstddef>

#include "heatside/exposure/zone_at_score.hpp"

/// How the coefficients of a rate table are laid out: by panel (scores above 0 first), decay term, score term, energy term.

namespace heatside::exposure {

inline constexpr std::size_t score_panels = 2;  ///< they share z = 0, where the zone's bands change their width
inline constexpr double score_panel_width = score_limit;
inline constexpr std::size_t score_terms = 8;
inline constexpr std::size_t decay_terms = 7;
inline constexpr std::size_t energy_terms = 16;

using EnergyTerms = std::array<double, energy_terms>;

}  // namespace heatside::exposure
