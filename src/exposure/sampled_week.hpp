#pragma once

#include <vector>

#include "exposure/mixture.hpp"
#include "heatside/exposure/year.hpp"

namespace heatside::exposure {

/// A zone at one quadrature point of its week. Above the ambient it is
/// rise * response + soak + by_mean * (anchor - mean of the day) - by_half * half range of the day.
struct WeekSample {
  bool running{}, sunny{};
  double share{};  ///< of the week
  double day_cosine{};
  double engine{}, exhaust{};  ///< warmth
  double response{};           ///< to the rise of a running state
  double soak{};               ///< [K]
  double by_mean{}, by_half{};
};

/// A week at its quadrature points, whatever the days are like: weeks of one schedule, sun and quadrature have the same
/// ones.
using SampledWeek = std::vector<WeekSample>;

[[nodiscard]] SampledWeek sampled_week(const ZoneTrace& zone, const SunHeat& sun, const Quadrature& quadrature = {});

struct SampledZone {
  const ZoneTrace& trace;
  const SampledWeek& week;
};

/// As `year_of`, of weeks that were sampled before.
[[nodiscard]] TemperatureMeasure year_of_samples(const std::vector<SampledZone>& zones, const YearOfUse& use,
                                                 const Temperature& temperature, const Quadrature& quadrature = {});
[[nodiscard]] TemperatureMeasure year_of_samples(const std::vector<SampledZone>& zones, const YearOfUse& use,
                                                 const Mixture& mixture, const Quadrature& quadrature = {});

}  // namespace heatside::exposure
