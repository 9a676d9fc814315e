#include "heatside/exposure/temperature_measure.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "heatside/base/constants.hpp"

namespace heatside::exposure {

namespace {

// By how much each regime of a year grows or shrinks when there is more driving than its schedule says.
PerRegime crowded_factors(const TemperatureMeasure& driven, double usage) {
  PerRegime shares{};
  for (std::size_t regime = 0; regime < shares.size(); ++regime) {
    const std::vector<double>& share = driven.by_regime[regime].share;
    shares[regime] = std::accumulate(share.begin(), share.end(), 0.0);
  }
  const double running = std::min(usage, 1.0 / std::max(shares[0], 1.0e-12));
  const double left = 1.0 - running * shares[0];
  const double soak = shares[1] > 0.0 ? std::min(usage, left / shares[1]) : 0.0;
  const double parked = shares[2] > 0.0 ? std::max(0.0, left - soak * shares[1]) / shares[2] : 0.0;
  return {running, soak, parked};
}

}  // namespace

PerRegime mean_acceleration(const TemperatureMeasure& year, JoulePerMole activation_energy, Kelvin reference) {
  const double slope = activation_energy.value() / molar_gas_constant;  // [K]
  const double inverse_reference = 1.0 / reference.value();
  PerRegime mean{};
  for (std::size_t regime = 0; regime < mean.size(); ++regime) {
    const Nodes& nodes = year.by_regime[regime];
    double sum = 0.0;
    for (std::size_t i = 0; i < nodes.kelvin.size(); ++i) {
      sum += nodes.share[i] * std::exp(slope * (inverse_reference - 1.0 / nodes.kelvin[i]));
    }
    mean[regime] = sum;
  }
  return mean;
}

PerRegime mean_wet_acceleration(const TemperatureMeasure& year, JoulePerMole activation_energy, Kelvin reference,
                                const Humidity& humidity) {
  const double slope = activation_energy.value() / molar_gas_constant;
  const double drying = humidity.vaporisation.value() / molar_gas_constant;
  const double inverse_reference = 1.0 / reference.value();
  const bool trapped = humidity.trapped_percent > 0.0;
  const double wet = std::pow((trapped ? humidity.trapped_percent : humidity.ambient_percent) / humidity.reference_percent,
                              humidity.exponent);
  PerRegime mean{};
  for (std::size_t regime = 0; regime < mean.size(); ++regime) {
    const Nodes& nodes = year.by_regime[regime];
    for (std::size_t i = 0; i < nodes.kelvin.size(); ++i) {
      const double inverse = 1.0 / nodes.kelvin[i];
      const double dried = trapped ? 0.0 : humidity.exponent * drying * (inverse - 1.0 / nodes.ambient_kelvin[i]);
      mean[regime] += wet * nodes.share[i] * std::exp(slope * (inverse_reference - inverse) + dried);
    }
  }
  return mean;
}

std::vector<HoursAtTemperature> hours_at_temperature(const TemperatureMeasure& driven, const TemperatureMeasure& laid_up,
                                                     double usage) {
  std::map<int, PerRegime> bins;
  const auto add = [&](const TemperatureMeasure& year, const PerRegime& factors) {
    for (std::size_t regime = 0; regime < year.by_regime.size(); ++regime) {
      const Nodes& nodes = year.by_regime[regime];
      if (factors[regime] <= 0.0) continue;
      for (std::size_t i = 0; i < nodes.kelvin.size(); ++i) {
        const int bin = static_cast<int>(std::lround(in_celsius(Kelvin{nodes.kelvin[i]})));
        bins[bin][regime] += factors[regime] * nodes.share[i] * hours_per_year;
      }
    }
  };
  if (usage > 1.0) {
    add(driven, crowded_factors(driven, usage));
  } else {
    add(driven, {usage, usage, usage});
    add(laid_up, {1.0 - usage, 1.0 - usage, 1.0 - usage});
  }

  std::vector<HoursAtTemperature> histogram;
  for (const auto& [celsius, hours] : bins) histogram.push_back({celsius, hours});
  return histogram;
}

Kelvin equivalent_temperature(double mean_acceleration, JoulePerMole activation_energy, Kelvin reference) {
  const double slope = activation_energy.value() / molar_gas_constant;
  return Kelvin{1.0 / (1.0 / reference.value() - std::log(mean_acceleration) / slope)};
}

}  // namespace heatside::exposure
