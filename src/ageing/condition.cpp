#include "heatside/ageing/condition.hpp"

#include <algorithm>

namespace heatside::ageing {

std::string_view name_of(Condition condition) { return condition_names[static_cast<std::size_t>(condition)]; }

Strain bend_strain(Metres outer_diameter, Metres inner_diameter) {
  return Strain{outer_diameter / (inner_diameter + outer_diameter)};
}

ConditionThresholds condition_thresholds(Strain initial_elongation, PerKelvin expansion, WireShape wire,
                                         const library::ModelConstants& model) {
  return condition_thresholds(initial_elongation, expansion, wire, model, model.condition.notch_factor.value);
}

ConditionThresholds condition_thresholds(Strain initial_elongation, PerKelvin expansion, WireShape wire,
                                         const library::ModelConstants& model, double notch) {
  const library::ModelConstants::Condition& constants = model.condition;
  const Strain handling = bend_strain(wire.outer_diameter, wire.outer_diameter * constants.handling_diameters.value);
  const Strain relaxed = bend_strain(wire.outer_diameter, 2.0 * wire.route_radius) * constants.relaxed_bend_share.value;
  const Strain mismatch{(expansion.value() - constants.copper_expansion.value) * constants.thermal_swing.value};

  const Strain crumbling = percent(constants.crumbling_elongation.value);
  const Strain cracked = std::max(crumbling, (relaxed + mismatch + percent(constants.vibration_strain.value)) * notch);
  const Strain flex_cracks = std::max(cracked, handling * notch);
  const Strain stiff = std::max(flex_cracks, initial_elongation * constants.stiff_share.value);
  return {stiff, flex_cracks, cracked, crumbling};
}

Condition condition_at(Strain elongation, const ConditionThresholds& thresholds) {
  if (elongation < thresholds.crumbling) return Condition::crumbling;
  if (elongation < thresholds.cracked) return Condition::cracked;
  if (elongation < thresholds.flex_cracks) return Condition::flex_cracks;
  return elongation < thresholds.stiff ? Condition::stiff : Condition::supple;
}

}  // namespace heatside::ageing
