#include "heatside/exposure/ambient.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>

#include "heatside/base/constants.hpp"

namespace heatside::exposure {

namespace {

using Eigen::VectorXd;

struct Range {
  double low, high;
};

Range half_ranges(const std::vector<DailyCourse>& days) {
  const auto [low, high] = std::minmax_element(
      days.begin(), days.end(), [](const DailyCourse& a, const DailyCourse& b) { return a.half_range < b.half_range; });
  return {low->half_range.value(), high->half_range.value()};
}

bool varies(const Range& range) { return range.high - range.low > 1.0e-9; }

// Rates grow about exponentially with temperature. A rule that is exact for polynomials times the rate of a middling
// process is far better over all processes than one for bare polynomials, which wastes its nodes on the cold days.
// Which process is middling was measured: the half ranges ask for more care on the warm days.
struct Emphasis {
  double slope;  // Ea/R [K]

  explicit Emphasis(const Range& half_range) : slope{(varies(half_range) ? 90.0e3 : 50.0e3) / molar_gas_constant} {}
  [[nodiscard]] double at(double kelvin) const { return std::exp(slope * (1.0 / 290.0 - 1.0 / kelvin)); }
};

// Orthonormal polynomials on the days: their recurrence, and each one's values times the root of the weights.
struct Polynomials {
  std::vector<double> diagonal, below;
  std::vector<VectorXd> values;
};

// Lanczos with full reorthogonalisation; ends early where the days have no more different temperatures.
Polynomials orthonormal_polynomials(const VectorXd& from_centre, const VectorXd& root_weight, std::size_t count) {
  Polynomials found;
  found.values.push_back(root_weight);
  const double negligible = 1.0e-10 * (1.0 + from_centre.cwiseAbs().maxCoeff());
  while (true) {
    const VectorXd& last = found.values.back();
    VectorXd next = from_centre.cwiseProduct(last);
    found.diagonal.push_back(next.dot(last));
    if (found.diagonal.size() == count) return found;
    for (int pass = 0; pass < 2; ++pass) {
      for (const VectorXd& earlier : found.values) next -= earlier.dot(next) * earlier;
    }
    const double norm = next.norm();
    if (norm < negligible) return found;
    found.below.push_back(norm);
    found.values.push_back(next / norm);
  }
}

// One mean temperature and the half ranges that go with it.
struct WarmthNode {
  double kelvin, weight;
  double half, half_squared, half_cubed;  // conditional moments of the half range
};

// Polynomials can leave the range of the half ranges they were fitted to; only a negative one has no meaning.
void add_days(std::vector<DailyCourse>& days, const WarmthNode& node) {
  const double mean = std::max(node.half, 0.0);
  const double variance = node.half_squared - mean * mean;
  const auto add = [&](double half, double share) {
    days.push_back({Kelvin{node.kelvin}, KelvinRise{std::max(half, 0.0)}, node.weight * share});
  };
  if (variance < 1.0e-9) return add(mean, 1.0);
  // The two-point rule of a distribution with this mean, variance and skewness.
  const double deviation = std::sqrt(variance);
  const double third = node.half_cubed - 3.0 * mean * variance - mean * mean * mean;
  constexpr double most = 2.0;  // beyond this the polynomials say nothing of the skewness
  const double lean = 0.5 * std::clamp(third / (variance * deviation), -most, most);
  const double root = std::sqrt(1.0 + lean * lean);
  add(mean + deviation * (lean + root), 0.5 * (root - lean) / root);
  add(mean + deviation * (lean - root), 0.5 * (root + lean) / root);
}

std::vector<DailyCourse> reduced(const std::vector<DailyCourse>& days, std::size_t nodes) {
  const Emphasis emphasis{half_ranges(days)};
  const auto count = static_cast<Eigen::Index>(days.size());
  VectorXd kelvin{count}, half{count}, root_weight{count};
  for (Eigen::Index i = 0; i < count; ++i) {
    const DailyCourse& day = days[static_cast<std::size_t>(i)];
    kelvin[i] = day.mean.value();
    half[i] = day.half_range.value();
    root_weight[i] = std::sqrt(day.weight * emphasis.at(kelvin[i]));
  }
  root_weight.normalize();
  const double centre = root_weight.cwiseAbs2().dot(kelvin);
  const Polynomials polynomials =
      orthonormal_polynomials((kelvin.array() - centre).matrix(), root_weight, std::min(nodes, days.size()));

  const auto order = static_cast<Eigen::Index>(polynomials.diagonal.size());
  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver;
  solver.computeFromTridiagonal(Eigen::Map<const VectorXd>(polynomials.diagonal.data(), order),
                                Eigen::Map<const VectorXd>(polynomials.below.data(), order - 1));
  std::vector<DailyCourse> few;
  for (Eigen::Index node = 0; node < order; ++node) {
    // Row k of an eigenvector over its first row is polynomial k at the node.
    const VectorXd vector = solver.eigenvectors().col(node);
    VectorXd kernel = VectorXd::Zero(count);  // weights that pick the node's conditional mean from the days
    for (Eigen::Index k = 0; k < order; ++k)
      kernel += vector[k] / vector[0] * polynomials.values[static_cast<std::size_t>(k)].cwiseProduct(root_weight);
    const double temperature = solver.eigenvalues()[node] + centre;
    add_days(few, {temperature, vector[0] * vector[0] / emphasis.at(temperature), kernel.dot(half),
                   kernel.dot(half.cwiseAbs2()), kernel.dot(half.array().cube().matrix())});
  }
  return few;
}

// Energies over which a few days must do [kJ/mol].
constexpr std::array<double, 5> tried_energies{15.0, 45.0, 95.0, 150.0, 190.0};
using TriedRates = std::array<double, tried_energies.size()>;

// Mean rates of a laid-up year. It feels the whole ambient, so a driven one is easier to get right.
TriedRates laid_up_rates(const std::vector<DailyCourse>& days) {
  const double half_root = std::sqrt(0.5);
  const std::array<double, 8> cosines{1.0, half_root, 0.0, -half_root, -1.0, -half_root, 0.0, half_root};
  TriedRates rates{};
  for (const DailyCourse& day : days) {
    for (const double cosine : cosines) {
      const double colder = 1.0 / 290.0 - 1.0 / (day.mean.value() + day.half_range.value() * cosine);
      for (std::size_t i = 0; i < rates.size(); ++i)
        rates[i] += day.weight * std::exp(1.0e3 * tried_energies[i] / molar_gas_constant * colder);
    }
  }
  return rates;
}

double largest_error(const TriedRates& rates, const TriedRates& exact) {
  double largest = 0.0;
  for (std::size_t i = 0; i < rates.size(); ++i) largest = std::max(largest, std::abs(rates[i] / exact[i] - 1.0));
  return largest;
}

}  // namespace

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

std::vector<DailyCourse> gauss_days(const library::Climate& climate, std::size_t nodes) {
  if (nodes == 0) throw DomainError("a year needs at least one kind of day");
  std::vector<DailyCourse> few = reduced(days_of_year(climate), nodes);
  double sum = 0.0;
  for (const DailyCourse& day : few) sum += day.weight;
  for (DailyCourse& day : few) day.weight /= sum;
  return few;
}

std::vector<DailyCourse> gauss_days(const library::Climate& climate) {
  constexpr double allowed_error = 7.5e-5;
  constexpr std::size_t most_nodes = 9;
  std::vector<DailyCourse> all = days_of_year(climate);
  const TriedRates exact = laid_up_rates(all);
  for (std::size_t nodes = 1; nodes <= most_nodes; ++nodes) {
    std::vector<DailyCourse> few = gauss_days(climate, nodes);
    if (largest_error(laid_up_rates(few), exact) < allowed_error) return few;
  }
  return all;
}

}  // namespace heatside::exposure
