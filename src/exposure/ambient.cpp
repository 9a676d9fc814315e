#include "heatside/exposure/ambient.hpp"

#include <array>
#include <cmath>

namespace heatside::exposure {

std::vector<DailyCourse> days_of_year(const library::Climate& climate) {
  struct Node {
    double deviations, weight;
  };
  const std::array<Node, 3> nodes{{{-std::sqrt(3.0), 1.0 / 6.0}, {0.0, 2.0 / 3.0}, {std::sqrt(3.0), 1.0 / 6.0}}};

  std::vector<DailyCourse> days;
  days.reserve(12 * nodes.size());
  for (std::size_t month = 0; month < 12; ++month) {
    for (const Node& node : nodes) {
      const double mean = climate.monthly_mean[month] + node.deviations * climate.deviation_sd[month];
      days.push_back({celsius(mean), KelvinRise{0.5 * climate.daily_range[month]}, node.weight / 12.0});
    }
  }
  return days;
}

}  // namespace heatside::exposure
