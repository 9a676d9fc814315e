#pragma once

#include "heatside/ageing/batch.hpp"
#include "heatside/library/records.hpp"

namespace heatside::population {

/// The law of a compound as a function of its age in thermal-life times, for a drawn initial elongation.
///
/// Both laws add up a transformed extent K in proportion to a function F of the age: F = age where ageing is gradual, and
/// what a stabiliser has let through where it guards. K(age) / K(1) = F(age) / F(1), and K(1) belongs to the end point.
/// Holds where the stabiliser is spent by the same paths as ages the compound.
class AgeLaw {
 public:
  AgeLaw(const library::Insulation& insulation, const library::ModelConstants& model, const ageing::GuardTable& guard);

  /// How K runs for one initial elongation.
  struct Scale {
    double initial{};       ///< elongation at break when new [-]
    double ln_range{};      ///< ln of initial over floor
    double end_progress{};  ///< K at age 1
  };
  [[nodiscard]] Scale scale(double initial) const;

  /// Age at which elongation has fallen to `elongation`; 0 where it was never above it.
  [[nodiscard]] double age_at(const Scale& scale, double elongation) const;
  [[nodiscard]] double elongation_at(const Scale& scale, double age) const;

 private:
  [[nodiscard]] double progress(double extent) const;
  [[nodiscard]] double extent(double progress) const;

  bool guarded_;
  [[nodiscard]] double opening(double age) const;

  double floor_, end_, seed_, guard_rate_ = 1.0, at_start_ = 0.0, end_opening_ = 1.0;
  const ageing::GuardTable& guard_;
};

}  // namespace heatside::population
