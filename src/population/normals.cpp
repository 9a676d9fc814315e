#include "heatside/population/normals.hpp"

#include <algorithm>
#include <array>

#include "heatside/base/random.hpp"

namespace heatside::population {

namespace {

// Quantities that every segment shares. A new one goes to the end: the others keep their points.
const std::array<std::string, 4>& spread_quantities() {
  static const std::array<std::string, 4> names{quantity::usage, quantity::soak_decay, quantity::bay, quantity::notch};
  return names;
}

}  // namespace

Normals::Normals(std::uint64_t seed, std::size_t draws) : seed_{seed}, draws_{draws} {
  const auto& names = spread_quantities();
  std::vector<std::vector<double>> points = spread_points(seed, names.size(), draws);
  for (std::size_t i = 0; i < names.size(); ++i) {
    for (double& point : points[i]) point = normal_quantile(point);
    columns_[names[i]] = std::move(points[i]);
  }
}

const std::vector<double>& Normals::of(const std::string& name) {
  const auto known = columns_.find(name);
  if (known != columns_.end()) return known->second;
  return columns_.emplace(name, normal_draws(random_quantity(seed_, name), draws_)).first->second;
}

}  // namespace heatside::population
