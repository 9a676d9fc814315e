#pragma once

#include <array>
#include <string_view>

#include "heatside/base/units.hpp"
#include "heatside/library/records.hpp"

namespace heatside::ageing {

/// What heat has made of insulation, from good to bad.
enum class Condition { supple, stiff, flex_cracks, cracked, crumbling };
inline constexpr std::array<std::string_view, 5> condition_names{"supple", "stiff", "flex-cracks", "cracked", "crumbling"};
[[nodiscard]] std::string_view name_of(Condition condition);

/// Elongations at break below which each condition begins: crumbling <= cracked <= flex_cracks <= stiff.
struct ConditionThresholds {
  Strain stiff, flex_cracks, cracked, crumbling;
};

/// Where and what a wire is.
struct WireShape {
  Metres outer_diameter;  ///< nominal, of the thinnest wire
  Metres route_radius;    ///< inner radius of the tightest relaxed bend
};

/// Outer-fibre strain of a round wire bent over an inner diameter D: d / (D + d).
/// @par Source  beam bending with the neutral axis at the centre
[[nodiscard]] Strain bend_strain(Metres outer_diameter, Metres inner_diameter);

/// Thresholds of a wire:
///
///     stiff        0.4 e0
///     flex_cracks  1.5 d/(d + 5d)                                        ordinary handling
///     cracked      1.5 (0.3 d/(d + 2R) + (alpha - 17e-6/K) 100 K + 0.5 %)  as it lies
///     crumbling    1 %
///
/// 1.5 stands for notches, print and hardened skin. Where a milder condition would begin below a worse one, it begins with
/// it.
/// @par Source  strain geometry; the factors are judgement, see materials/model.json
[[nodiscard]] ConditionThresholds condition_thresholds(Strain initial_elongation, PerKelvin expansion, WireShape wire,
                                                       const library::ModelConstants& model);

/// As above with a factor for notches of its own.
[[nodiscard]] ConditionThresholds condition_thresholds(Strain initial_elongation, PerKelvin expansion, WireShape wire,
                                                       const library::ModelConstants& model, double notch);

/// The worst condition whose threshold lies above `elongation`.
[[nodiscard]] Condition condition_at(Strain elongation, const ConditionThresholds& thresholds);

}  // namespace heatside::ageing
