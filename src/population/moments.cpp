#include "population/moments.hpp"

#include <algorithm>

#include "base/four_doubles.hpp"

namespace heatside::population {

namespace {

constexpr std::size_t conditions = 5;
constexpr std::size_t block = 512;  // draws; the chances of a segment then stay in the fastest memory, a multiple of 4

using FiveLists = std::array<const double*, conditions>;

HEATSIDE_INLINE_ALWAYS void add_product(FourDoubles& sum, const double* chance, const FourDoubles& x) {
  FourDoubles p;
  load(p, chance);
  sum += p * x;
}

// sums[c] += sum of chance[c] * x
HEATSIDE_INLINE_ALWAYS void add_all_products(const FiveLists& chance, const double* x, std::size_t count,
                                             ConditionRow& sums) {
  FourDoubles s0{}, s1{}, s2{}, s3{}, s4{};
  for (std::size_t n = 0; n < count; n += 4) {
    FourDoubles v;
    load(v, x + n);
    add_product(s0, chance[0] + n, v);
    add_product(s1, chance[1] + n, v);
    add_product(s2, chance[2] + n, v);
    add_product(s3, chance[3] + n, v);
    add_product(s4, chance[4] + n, v);
  }
  const auto whole = [](const FourDoubles& s) { return (s[0] + s[1]) + (s[2] + s[3]); };
  sums[0] += whole(s0);
  sums[1] += whole(s1);
  sums[2] += whole(s2);
  sums[3] += whole(s3);
  sums[4] += whole(s4);
}

void add_products_baseline(const FiveLists& chance, const double* x, std::size_t count, ConditionRow& sums) {
  add_all_products(chance, x, count, sums);
}

HEATSIDE_WIDE_REGISTERS void add_products_wide(const FiveLists& chance, const double* x, std::size_t count,
                                               ConditionRow& sums) {
  add_all_products(chance, x, count, sums);
}

// rest = column - weight * part
HEATSIDE_INLINE_ALWAYS void set_all_rest(const double* column, const double* weight, const double* part, std::size_t count,
                                         double* rest) {
  for (std::size_t n = 0; n < count; n += 4) {
    FourDoubles c, w, p;
    load(c, column + n);
    load(w, weight + n);
    load(p, part + n);
    c -= w * p;
    store(c, rest + n);
  }
}

void set_rest_baseline(const double* column, const double* weight, const double* part, std::size_t count, double* rest) {
  set_all_rest(column, weight, part, count, rest);
}

HEATSIDE_WIDE_REGISTERS void set_rest_wide(const double* column, const double* weight, const double* part, std::size_t count,
                                           double* rest) {
  set_all_rest(column, weight, part, count, rest);
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
    const auto add_products = wide_ ? add_products_wide : add_products_baseline;
    add_products(chance_, weight, count_, moments.weight);
    for (std::size_t i = 1; i < columns_.count; ++i) {
      const double* column = standing.column[i].data() + from_;
      const std::vector<double>& expect = columns_.expect[i][segment_];
      std::array<double, block> rest;
      if (!expect.empty()) {
        (wide_ ? set_rest_wide : set_rest_baseline)(column, weight, expect.data() + from_, count_, rest.data());
        column = rest.data();
      }
      add_products(chance_, column, count_, moments.without[i - 1]);
    }
  }

 private:
  const Columns& columns_;
  std::size_t segment_, from_, count_;
  FiveLists chance_{};
  bool wide_ = wide_registers();
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
