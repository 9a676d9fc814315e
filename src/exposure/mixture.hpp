#pragma once

#include <vector>

#include "heatside/exposure/local_heat.hpp"

namespace heatside::exposure {

/// The mixture of `mixed_temperature_in`, for those who ask it very often.
class Mixture {
 public:
  Mixture(const std::vector<std::string>& zones, const std::vector<LocalHeat>& parts,
          const std::vector<Temperature>& sources);

  /// The weights of the zones' air where the mixture is nothing but that; empty otherwise.
  [[nodiscard]] std::vector<double> weights_of_air() const;

  double operator()(const Instant& instant, bool loaded) const {
    double sum = 0.0;
    for (const Part& part : parts_)
      sum += part.weight * (part.differing ? beside(part, instant, loaded) : instant.air[part.zone]);
    return sum;
  }

 private:
  struct Part {
    double weight;
    std::size_t zone;
    Temperature differing;  // empty: that of the air
  };

  // Each part sees its own zone first.
  static double beside(const Part& part, const Instant& instant, bool loaded) {
    Instant own = instant;
    own.air += part.zone;
    own.engine_warmth += part.zone;
    return part.differing(own, loaded);
  }

  std::vector<Part> parts_;
};

}  // namespace heatside::exposure
