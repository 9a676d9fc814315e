#pragma once

#include <vector>

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

  /// The same for many draws: each elongation at break is replaced by the age at which it is reached, and each age by the
  /// elongation that is left; as one by one, to 1e-12. The ages of elongations at or below the floor are infinite.
  /// @par Tested by  tests/population/age_law_test.cpp
  void replace_by_ages(const std::vector<Scale>& scales, std::vector<double>& elongations) const;
  void replace_by_elongations(const std::vector<Scale>& scales, std::vector<double>& ages) const;

 private:
  [[nodiscard]] double progress(double extent) const;
  [[nodiscard]] double extent(double progress) const;
  [[nodiscard]] double opening(double age) const;

  bool guarded_;

  double floor_, end_, seed_, guard_rate_ = 1.0, at_start_ = 0.0, end_opening_ = 1.0;
  const ageing::GuardTable& guard_;
};

}  // namespace heatside::population
