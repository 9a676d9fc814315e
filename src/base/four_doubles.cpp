#include "base/four_doubles.hpp"

#include <algorithm>
#include <array>

namespace heatside {

namespace {

struct Exponential {
  HEATSIDE_INLINE_ALWAYS void operator()(FourDoubles& x) const { exponential(x); }
};
struct Logarithm {
  HEATSIDE_INLINE_ALWAYS void operator()(FourDoubles& x) const { logarithm(x); }
};
struct NormalShare {
  HEATSIDE_INLINE_ALWAYS void operator()(FourDoubles& x) const { normal_share(x); }
};

template <class Function>
HEATSIDE_INLINE_ALWAYS void replace_all(double* values, std::size_t count, const Function& function) {
  constexpr std::size_t lanes = 4;
  FourDoubles four;
  std::size_t i = 0;
  for (; i + lanes <= count; i += lanes) {
    load(four, values + i);
    function(four);
    store(four, values + i);
  }
  if (i == count) return;
  std::array<double, lanes> rest{1.0, 1.0, 1.0, 1.0};
  std::copy(values + i, values + count, rest.begin());
  load(four, rest.data());
  function(four);
  store(four, rest.data());
  std::copy_n(rest.begin(), count - i, values + i);
}

template <class Function>
void replace_baseline(double* values, std::size_t count) {
  replace_all(values, count, Function{});
}

template <class Function>
HEATSIDE_WIDE_REGISTERS void replace_wide(double* values, std::size_t count) {
  replace_all(values, count, Function{});
}

template <class Function>
void replace(double* values, std::size_t count) {
  (wide_registers() ? replace_wide<Function> : replace_baseline<Function>)(values, count);
}

}  // namespace

void exponentials(double* values, std::size_t count) { replace<Exponential>(values, count); }

void logarithms(double* values, std::size_t count) { replace<Logarithm>(values, count); }

void normal_shares(double* values, std::size_t count) { replace<NormalShare>(values, count); }

}  // namespace heatside
