#pragma once

#include "exposure/sampled_week.hpp"

namespace heatside::exposure {

/// The year of a mixture of air alone, one part of each zone: as `year_of_samples` to the last digit, four running states
/// at a time.
///
/// @param weights  of the zones' air
/// @par Tested by  tests/exposure/air_mixture_year_test.cpp
[[nodiscard]] TemperatureMeasure year_of_air_mixture(const std::vector<SampledZone>& zones,
                                                     const std::vector<double>& weights, const YearOfUse& use,
                                                     const Quadrature& quadrature = {});

}  // namespace heatside::exposure
