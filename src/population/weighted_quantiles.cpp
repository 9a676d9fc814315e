#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <string>

#include "base/four_doubles.hpp"
#include "heatside/base/error.hpp"
#include "heatside/population/belief.hpp"

namespace heatside::population {

namespace {

struct Weighted {
  double value, weight;
};

// A rounding error of a sum of weights must not decide between two draws.
constexpr double rounding = 1.0e-12;

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
    while (split < last && shares_[split] <= left + rounding) ++split;
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
  std::vector<Weighted> draws;
  draws.reserve(values.size());
  for (std::size_t n = 0; n < values.size(); ++n) {
    if (belief.weights[n] > 0.0) draws.push_back({values[n], belief.weights[n]});
  }
  if (draws.empty()) throw DomainError("no draw has any weight");
  return draws;
}

// Equal parts of the range of the finite values; infinite ones fall into the outermost.
struct Bins {
  static constexpr std::size_t count = 1024;
  double low = 0.0, per_unit = 0.0;
};

using BinNumber = std::uint16_t;

struct Extremes {
  double low, high;  // of the finite values
  double not_numbers;
  double lightest, heaviest;
};

HEATSIDE_INLINE_ALWAYS Extremes extremes_of(const double* values, const double* weights, std::size_t count) {
  constexpr double most = std::numeric_limits<double>::max();
  constexpr std::size_t lanes = 8;
  std::array<double, lanes> low, high, light, heavy, odd{};
  low.fill(most);
  high.fill(-most);
  light.fill(weights[0]);
  heavy.fill(weights[0]);
  for (std::size_t i = 0; i + lanes <= count; i += lanes) {
    for (std::size_t lane = 0; lane < lanes; ++lane) {
      const double value = values[i + lane], weight = weights[i + lane];
      odd[lane] += value == value ? 0.0 : 1.0;
      const double from_below = value >= -most ? value : most, from_above = value <= most ? value : -most;
      low[lane] = from_below < low[lane] ? from_below : low[lane];
      high[lane] = from_above > high[lane] ? from_above : high[lane];
      light[lane] = weight < light[lane] ? weight : light[lane];
      heavy[lane] = weight > heavy[lane] ? weight : heavy[lane];
    }
  }
  Extremes all{most, -most, 0.0, weights[0], weights[0]};
  for (std::size_t lane = 0; lane < lanes; ++lane) {
    all.low = std::min(all.low, low[lane]);
    all.high = std::max(all.high, high[lane]);
    all.not_numbers += odd[lane];
    all.lightest = std::min(all.lightest, light[lane]);
    all.heaviest = std::max(all.heaviest, heavy[lane]);
  }
  for (std::size_t i = count / lanes * lanes; i < count; ++i) {
    if (values[i] != values[i]) all.not_numbers += 1.0;
    if (values[i] >= -most) all.low = std::min(all.low, values[i]);
    if (values[i] <= most) all.high = std::max(all.high, values[i]);
    all.lightest = std::min(all.lightest, weights[i]);
    all.heaviest = std::max(all.heaviest, weights[i]);
  }
  return all;
}

HEATSIDE_INLINE_ALWAYS void number_bins(const double* values, std::size_t count, const Bins& bins, BinNumber* numbers) {
  constexpr double last = static_cast<double>(Bins::count - 1);
  for (std::size_t i = 0; i < count; ++i) {
    const double place = (values[i] - bins.low) * bins.per_unit;
    const double from_first = place > 0.0 ? place : 0.0;
    const double within = from_first < last ? from_first : last;
    numbers[i] = static_cast<BinNumber>(static_cast<std::int32_t>(within));
  }
}

constexpr std::size_t most_wanted = 4;
using Wanted = std::array<BinNumber, most_wanted>;
constexpr std::size_t stride = 32;

HEATSIDE_INLINE_ALWAYS bool any_wanted(const BinNumber* numbers, const Wanted& wanted) {
  std::uint16_t hit = 0;
  for (std::size_t i = 0; i < stride; ++i) {
    const BinNumber n = numbers[i];
    hit = static_cast<std::uint16_t>(hit | (n == wanted[0] ? 1 : 0) | (n == wanted[1] ? 1 : 0) | (n == wanted[2] ? 1 : 0) |
                                     (n == wanted[3] ? 1 : 0));
  }
  return hit != 0;
}

// Positions of the draws in wanted bins.
HEATSIDE_INLINE_ALWAYS void find_wanted(const std::vector<BinNumber>& numbers, const Wanted& wanted,
                                        std::vector<std::uint32_t>& found) {
  const auto is_wanted = [&](BinNumber n) { return n == wanted[0] || n == wanted[1] || n == wanted[2] || n == wanted[3]; };
  std::size_t i = 0;
  for (; i + stride <= numbers.size(); i += stride) {
    if (!any_wanted(numbers.data() + i, wanted)) continue;
    for (std::size_t n = i; n < i + stride; ++n) {
      if (is_wanted(numbers[n])) found.push_back(static_cast<std::uint32_t>(n));
    }
  }
  for (; i < numbers.size(); ++i) {
    if (is_wanted(numbers[i])) found.push_back(static_cast<std::uint32_t>(i));
  }
}

Extremes extremes_baseline(const double* values, const double* weights, std::size_t count) {
  return extremes_of(values, weights, count);
}
HEATSIDE_WIDE_REGISTERS Extremes extremes_wide(const double* values, const double* weights, std::size_t count) {
  return extremes_of(values, weights, count);
}
void number_baseline(const double* values, std::size_t count, const Bins& bins, BinNumber* numbers) {
  number_bins(values, count, bins, numbers);
}
HEATSIDE_WIDE_REGISTERS void number_wide(const double* values, std::size_t count, const Bins& bins, BinNumber* numbers) {
  number_bins(values, count, bins, numbers);
}
void find_baseline(const std::vector<BinNumber>& numbers, const Wanted& wanted, std::vector<std::uint32_t>& found) {
  find_wanted(numbers, wanted, found);
}
HEATSIDE_WIDE_REGISTERS void find_wide(const std::vector<BinNumber>& numbers, const Wanted& wanted,
                                       std::vector<std::uint32_t>& found) {
  find_wanted(numbers, wanted, found);
}

using BinWeights = std::array<double, Bins::count>;

// Even weights are counted, in four tables so that neighbours in one bin do not wait for each other.
void count_bins(const std::vector<BinNumber>& numbers, double weight, BinWeights& sums) {
  std::array<std::array<std::uint32_t, Bins::count>, 4> counts{};
  std::size_t i = 0;
  for (; i + 4 <= numbers.size(); i += 4) {
    for (std::size_t table = 0; table < 4; ++table) ++counts[table][numbers[i + table]];
  }
  for (; i < numbers.size(); ++i) ++counts[0][numbers[i]];
  for (std::size_t bin = 0; bin < Bins::count; ++bin) {
    const std::uint32_t count = (counts[0][bin] + counts[1][bin]) + (counts[2][bin] + counts[3][bin]);
    sums[bin] = weight * static_cast<double>(count);
  }
}

void weigh_bins(const std::vector<BinNumber>& numbers, const std::vector<double>& weights, BinWeights& sums) {
  std::array<BinWeights, 2> tables{};
  std::size_t i = 0;
  for (; i + 2 <= numbers.size(); i += 2) {
    tables[0][numbers[i]] += weights[i];
    tables[1][numbers[i + 1]] += weights[i + 1];
  }
  for (; i < numbers.size(); ++i) tables[0][numbers[i]] += weights[i];
  for (std::size_t bin = 0; bin < Bins::count; ++bin) sums[bin] = tables[0][bin] + tables[1][bin];
}

// The bin of each wanted share, and the weight below that bin.
struct Place {
  std::size_t bin;
  double below;
};

std::vector<Place> places_of(const std::vector<double>& shares, const BinWeights& sums) {
  std::vector<Place> places;
  double below = 0.0, last_below = 0.0;
  std::size_t last = 0;
  for (std::size_t bin = 0; bin < Bins::count && places.size() < shares.size(); ++bin) {
    if (sums[bin] <= 0.0) continue;
    last = bin;
    last_below = below;
    const double reached = below + sums[bin];
    while (places.size() < shares.size() && shares[places.size()] <= reached + rounding) places.push_back({bin, below});
    below = reached;
  }
  while (places.size() < shares.size()) places.push_back({last, last_below});
  return places;
}

// Counts the draws by value in a thousand bins, and looks closer only into those where a wanted share falls.
class Binned {
 public:
  Binned(const Belief& belief, const std::vector<double>& values, const Extremes& extremes)
      : belief_{belief}, values_{values}, numbers_(values.size()) {
    const Bins bins{extremes.low, static_cast<double>(Bins::count) / (extremes.high - extremes.low)};
    (wide_registers() ? number_wide : number_baseline)(values.data(), values.size(), bins, numbers_.data());
    if (extremes.lightest == extremes.heaviest) {
      count_bins(numbers_, extremes.heaviest, sums_);
    } else {
      weigh_bins(numbers_, belief.weights, sums_);
    }
  }

  [[nodiscard]] std::vector<double> at(const std::vector<double>& shares) const {
    const std::vector<Place> places = places_of(shares, sums_);
    std::vector<double> found(shares.size());
    std::size_t first = 0;
    while (first < places.size()) {
      // As many shares at once as fall into four bins.
      Wanted wanted;
      wanted.fill(static_cast<BinNumber>(places[first].bin));
      std::size_t last = first, different = 0;
      for (; last < places.size(); ++last) {
        const bool is_new = last == first || places[last].bin != places[last - 1].bin;
        if (is_new && different == most_wanted) break;
        if (is_new) wanted[different++] = static_cast<BinNumber>(places[last].bin);
      }
      look_into(places, shares, wanted, first, last, found);
      first = last;
    }
    return found;
  }

 private:
  void look_into(const std::vector<Place>& places, const std::vector<double>& shares, const Wanted& wanted,
                 std::size_t first, std::size_t last, std::vector<double>& found) const {
    std::vector<std::uint32_t> draws;
    (wide_registers() ? find_wide : find_baseline)(numbers_, wanted, draws);
    while (first < last) {
      const Place& place = places[first];
      std::size_t same = first;
      while (same < last && places[same].bin == place.bin) ++same;
      std::vector<Weighted> inside;
      for (const std::uint32_t n : draws) {
        if (numbers_[n] == place.bin && belief_.weights[n] > 0.0) inside.push_back({values_[n], belief_.weights[n]});
      }
      Halving{shares, found}.find(inside.data(), inside.data() + inside.size(), place.below, first, same);
      first = same;
    }
  }

  const Belief& belief_;
  const std::vector<double>& values_;
  std::vector<BinNumber> numbers_;
  BinWeights sums_{};
};

}  // namespace

std::vector<double> quantiles(const Belief& belief, const std::vector<double>& values, const std::vector<double>& shares) {
  expect_shares(shares);
  if (values.size() != belief.weights.size()) {
    throw DomainError(std::to_string(values.size()) + " values for " + std::to_string(belief.weights.size()) + " draws");
  }
  if (values.empty()) throw DomainError("no draw has any weight");
  const Extremes extremes =
      (wide_registers() ? extremes_wide : extremes_baseline)(values.data(), belief.weights.data(), values.size());
  if (extremes.not_numbers > 0.0) throw DomainError("a draw without a value has no quantile");
  constexpr std::size_t few = 256;
  const double range = extremes.high - extremes.low;
  const bool spread = range >= std::numeric_limits<double>::min() * static_cast<double>(Bins::count) &&
                      range <= std::numeric_limits<double>::max();
  if (spread && values.size() > few && extremes.heaviest > 0.0) return Binned{belief, values, extremes}.at(shares);
  std::vector<Weighted> draws = weighted(belief, values);
  std::vector<double> found(shares.size());
  Halving{shares, found}.find(draws.data(), draws.data() + draws.size(), 0.0, 0, shares.size());
  return found;
}

}  // namespace heatside::population
