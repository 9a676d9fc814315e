#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>

#include "heatside/base/error.hpp"
#include "heatside/population/belief.hpp"

namespace heatside::population {

namespace {

struct Weighted {
  double value, weight;
};

// Finds the wanted shares among `range` by halving it: only the halves that hold one are looked at again, so a few
// quantiles cost a few passes instead of a sort.
class Halving {
 public:
  Halving(const std::vector<double>& shares, std::vector<double>& found) : shares_{shares}, found_{found} {}

  // `below` is the weight of everything left of the range; wanted shares first .. last - 1 lie in it.
  void find(Weighted* begin, Weighted* end, double below, std::size_t first, std::size_t last) {
    if (first == last) return;
    if (end - begin == 1) {
      for (std::size_t i = first; i < last; ++i) found_[i] = begin->value;
      return;
    }
    Weighted* middle = begin + (end - begin) / 2;
    std::nth_element(begin, middle, end, [](const Weighted& a, const Weighted& b) { return a.value < b.value; });
    double left = below;
    for (const Weighted* draw = begin; draw != middle; ++draw) left += draw->weight;
    std::size_t split = first;
    // A rounding error of a sum of weights must not decide between two draws.
    while (split < last && shares_[split] <= left + 1.0e-12) ++split;
    find(begin, middle, below, first, split);
    find(middle, end, left, split, last);
  }

 private:
  const std::vector<double>& shares_;
  std::vector<double>& found_;
};

void expect_shares(const std::vector<double>& shares) {
  double before = 0.0;
  for (const double share : shares) {
    if (!(share >= before && share <= 1.0)) {
      throw DomainError("share " + std::to_string(share) + " of a quantile is not within 0 and 1 in rising order");
    }
    before = share;
  }
}

std::vector<Weighted> weighted(const Belief& belief, const std::vector<double>& values) {
  if (values.size() != belief.weights.size()) {
    throw DomainError(std::to_string(values.size()) + " values for " + std::to_string(belief.weights.size()) + " draws");
  }
  std::vector<Weighted> draws;
  draws.reserve(values.size());
  for (std::size_t n = 0; n < values.size(); ++n) {
    if (std::isnan(values[n])) throw DomainError("a draw without a value has no quantile");
    if (belief.weights[n] > 0.0) draws.push_back({values[n], belief.weights[n]});
  }
  if (draws.empty()) throw DomainError("no draw has any weight");
  return draws;
}

}  // namespace

std::vector<double> quantiles(const Belief& belief, const std::vector<double>& values, const std::vector<double>& shares) {
  expect_shares(shares);
  std::vector<Weighted> draws = weighted(belief, values);
  std::vector<double> found(shares.size());
  Halving{shares, found}.find(draws.data(), draws.data() + draws.size(), 0.0, 0, shares.size());
  return found;
}

}  // namespace heatside::population
