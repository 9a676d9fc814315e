#include "population/age_law.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/four_doubles.hpp"

namespace heatside::population {

AgeLaw::AgeLaw(const library::Insulation& insulation, const library::ModelConstants& model, const ageing::GuardTable& guard)
    : guarded_{insulation.law == library::KineticsLaw::guarded},
      floor_{1.0e-2 * model.ageing.floor_elongation.value},
      end_{1.0e-2 * insulation.end_elongation.value},
      seed_{model.ageing.seed_extent.value},
      guard_{guard} {
  if (!guarded_) return;
  guard_rate_ = std::log(model.ageing.guard_strength.value) / insulation.induction_share->value;
  at_start_ = ageing::let_through(guard, 0.0).value;
  end_opening_ = opening(1.0);
}

double AgeLaw::opening(double age) const { return ageing::let_through(guard_, guard_rate_ * age).value - at_start_; }

double AgeLaw::progress(double extent) const {
  if (!guarded_) return -std::log1p(-extent);
  return (std::log1p(extent / seed_) - std::log1p(-extent)) / (1.0 + seed_);
}

double AgeLaw::extent(double progress) const {
  if (!guarded_) return -std::expm1(-progress);
  const double stretched = (1.0 + seed_) * progress;
  constexpr double complete = 60.0;  // beyond e^60 the extent is 1 in double
  if (stretched > complete) return 1.0;
  return seed_ * std::expm1(stretched) / (1.0 + seed_ * std::exp(stretched));
}

AgeLaw::Scale AgeLaw::scale(double initial) const {
  Scale scale;
  // A lot that is new with little more than the end point ends at half of what it had.
  scale.initial = std::max(initial, 4.0 * floor_);
  scale.ln_range = std::log(scale.initial / floor_);
  const double end = std::min(end_, 0.5 * scale.initial);
  scale.end_progress = progress(std::log(scale.initial / end) / scale.ln_range);
  return scale;
}

double AgeLaw::age_at(const Scale& scale, double elongation) const {
  if (elongation >= scale.initial) return 0.0;
  const double share = progress(std::log(scale.initial / elongation) / scale.ln_range) / scale.end_progress;
  return guarded_ ? ageing::spent_for(guard_, at_start_ + share * end_opening_) / guard_rate_ : share;
}

double AgeLaw::elongation_at(const Scale& scale, double age) const {
  const double share = guarded_ ? opening(age) / end_opening_ : age;
  return scale.initial * std::exp(-extent(share * scale.end_progress) * scale.ln_range);
}

// Column by column, so that logarithms and exponentials run side by side.
void AgeLaw::replace_by_ages(const std::vector<Scale>& scales, std::vector<double>& elongations) const {
  const std::size_t draws = scales.size();
  constexpr double nearly_all = 1.0 - 0x1p-53;
  std::vector<double> logs(draws);  // ln of initial over the elongation, and then of what progress comes from
  for (std::size_t i = 0; i < draws; ++i) logs[i] = std::max(scales[i].initial / elongations[i], 1.0);
  logarithms(logs.data(), draws);
  for (std::size_t i = 0; i < draws; ++i) {
    const double extent = std::min(logs[i] / scales[i].ln_range, nearly_all);
    logs[i] = guarded_ ? (1.0 + extent / seed_) / (1.0 - extent) : 1.0 / (1.0 - extent);
  }
  logarithms(logs.data(), draws);
  const double stretch = guarded_ ? 1.0 + seed_ : 1.0;
  for (std::size_t i = 0; i < draws; ++i) {
    const double share = logs[i] / (stretch * scales[i].end_progress);
    if (elongations[i] >= scales[i].initial) {
      elongations[i] = 0.0;
    } else if (elongations[i] <= floor_) {
      elongations[i] = std::numeric_limits<double>::infinity();
    } else {
      elongations[i] = guarded_ ? ageing::spent_for(guard_, at_start_ + share * end_opening_) / guard_rate_ : share;
    }
  }
}

void AgeLaw::replace_by_elongations(const std::vector<Scale>& scales, std::vector<double>& ages) const {
  const std::size_t draws = scales.size();
  constexpr double complete = 60.0;  // beyond e^60 the extent is 1 in double
  if (guarded_) {
    for (double& age : ages) age = opening(age) / end_opening_;
  }
  const double stretch = guarded_ ? 1.0 + seed_ : -1.0;
  for (std::size_t i = 0; i < draws; ++i)
    ages[i] = std::clamp(stretch * ages[i] * scales[i].end_progress, -complete, complete);
  exponentials(ages.data(), draws);
  for (std::size_t i = 0; i < draws; ++i) {
    const double extent = guarded_ ? seed_ * (ages[i] - 1.0) / (1.0 + seed_ * ages[i]) : 1.0 - ages[i];
    ages[i] = -extent * scales[i].ln_range;
  }
  exponentials(ages.data(), draws);
  for (std::size_t i = 0; i < draws; ++i) ages[i] *= scales[i].initial;
}

}  // namespace heatside::population
