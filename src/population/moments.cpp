#include "population/moments.hpp"

#include <algorithm>
#include <cstring>

#include "base/four_doubles.hpp"

namespace heatside::population {

namespace {

constexpr std::size_t conditions = 5;
constexpr std::size_t block = 512;  // draws; the chances of a segment then stay in the fastest memory, a multiple of 4

using FiveLists = std::array<const double*, conditions>;

// Two lanes fill a register of every processor of the family; twice two of them hide the time that an addition takes.
using TwoDoubles = double __attribute__((vector_size(16)));

HEATSIDE_INLINE_ALWAYS void add_product(TwoDoubles& sum, const double* chance, const TwoDoubles& x) {
  TwoDoubles p;
  std::memcpy(&p, chance, sizeof p);
  sum += p * x;
}

// sums[c] += sum of chance[c] * x
void add_products(const FiveLists& chance, const double* x, std::size_t count, ConditionRow& sums) {
  TwoDoubles a0{}, a1{}, a2{}, a3{}, a4{}, b0{}, b1{}, b2{}, b3{}, b4{};
  for (std::size_t n = 0; n < count; n += 4) {
    TwoDoubles v, w;
    std::memcpy(&v, x + n, sizeof v);
    std::memcpy(&w, x + n + 2, sizeof w);
    add_product(a0, chance[0] + n, v);
    add_product(a1, chance[1] + n, v);
    add_product(a2, chance[2] + n, v);
    add_product(a3, chance[3] + n, v);
    add_product(a4, chance[4] + n, v);
    add_product(b0, chance[0] + n + 2, w);
    add_product(b1, chance[1] + n + 2, w);
    add_product(b2, chance[2] + n + 2, w);
    add_product(b3, chance[3] + n + 2, w);
    add_product(b4, chance[4] + n + 2, w);
  }
  const auto whole = [](const TwoDoubles& a, const TwoDoubles& b) { return (a[0] + a[1]) + (b[0] + b[1]); };
  sums[0] += whole(a0, b0);
  sums[1] += whole(a1, b1);
  sums[2] += whole(a2, b2);
  sums[3] += whole(a3, b3);
  sums[4] += whole(a4, b4);
}

// Draws from, from + 1, ... of one segment.
class Block {
 public:
  Block(const Columns& columns, std::size_t segment, std::size_t from)
      : columns_{columns}, segment_{segment}, from_{from}, count_{std::min(block, columns.draws - from)} {
    for (std::size_t c = 0; c < conditions; ++c) chance_[c] = columns.segments[segment].by_condition[c].data() + from;
  }

  void add(const Standing& standing, SegmentMoments& moments) const {
    const double* weight = standing.weight.data() + from_;
    add_products(chance_, weight, count_, moments.weight);
    for (std::size_t i = 1; i < columns_.count; ++i) {
      const double* column = standing.column[i].data() + from_;
      const std::vector<double>& expect = columns_.expect[i][segment_];
      std::array<double, block> rest;
      if (!expect.empty()) {
        const double* part = expect.data() + from_;
        for (std::size_t n = 0; n < count_; ++n) rest[n] = column[n] - weight[n] * part[n];
        column = rest.data();
      }
      add_products(chance_, column, count_, moments.without[i - 1]);
    }
  }

 private:
  const Columns& columns_;
  std::size_t segment_, from_, count_;
  FiveLists chance_{};
};

}  // namespace

std::vector<std::vector<SegmentMoments>> moments_of(const Columns& columns, const std::vector<const Standing*>& standings,
                                                    const std::vector<std::size_t>& segments) {
  SegmentMoments none;
  none.without.resize(columns.count - 1, ConditionRow{});
  std::vector moments(standings.size(), std::vector(segments.size(), none));
  for (std::size_t from = 0; from < columns.draws; from += block) {
    for (std::size_t k = 0; k < segments.size(); ++k) {
      const Block part{columns, segments[k], from};
      for (std::size_t s = 0; s < standings.size(); ++s) part.add(*standings[s], moments[s][k]);
    }
  }
  return moments;
}

}  // namespace heatside::population
