#include "labfit/likelihood.hpp"

#include <cmath>

namespace heatside::labfit {

namespace {

constexpr double ln_sqrt_two_pi = 0.91893853320467274178;

double ln_normal_density(double z) { return -0.5 * z * z - ln_sqrt_two_pi; }

// ln(1 - exp(-gap)) for gap > 0.
double ln_one_less_exp(double gap) {
  constexpr double ln_two = 0.69314718055994530942;
  return gap < ln_two ? std::log(-std::expm1(-gap)) : std::log1p(-std::exp(-gap));
}

// A function of z with its first two derivatives.
struct Curve {
  double value, first, second;
};

// ln density, ln upper tail, ln lower tail of the standardised distribution.
Curve density(Distribution distribution, double z) {
  if (distribution == Distribution::log_normal) return {ln_normal_density(z), -z, -1.0};
  const double e = std::exp(z);
  return {z - e, 1.0 - e, -e};
}

Curve upper_tail(Distribution distribution, double z) {
  if (distribution == Distribution::weibull) {
    const double e = std::exp(z);
    return {-e, -e, -e};
  }
  const double tail = ln_normal_survival(z);
  const double hazard = std::exp(ln_normal_density(z) - tail);
  return {tail, -hazard, -hazard * (hazard - z)};
}

Curve lower_tail(Distribution distribution, double z) {
  if (distribution == Distribution::log_normal) {
    const Curve mirrored = upper_tail(distribution, -z);
    return {mirrored.value, -mirrored.first, mirrored.second};
  }
  const double e = std::exp(z);
  const double tail = ln_one_less_exp(e);
  const double hazard = std::exp(z - e - tail);
  return {tail, hazard, hazard * (1.0 - e - hazard)};
}

// Probability between two points: its ln, and the densities at both ends over it.
struct Between {
  double ln, lo, hi;
};

Between weibull_between(double lo, double hi) {
  const double e_lo = std::exp(lo), gap = e_lo * std::expm1(hi - lo);
  const double share = -std::expm1(-gap);  // of those that reached the first point
  return {-e_lo + std::log(share), e_lo / share, (e_lo + gap) * std::exp(-gap) / share};
}

Between normal_between(double lo, double hi) {
  constexpr double sqrt_half = 0.70710678118654752440, root = 0.39894228040143267794, smallest = 1.0e-250;
  // From the tail on whose side both points lie, so that no digits cancel.
  double p = 0.0;
  if (lo < 0.0 && hi > 0.0) {
    p = 0.5 * (std::erf(hi * sqrt_half) - std::erf(lo * sqrt_half));
  } else {
    const double near = lo >= 0.0 ? lo : -hi, far = lo >= 0.0 ? hi : -lo;
    p = 0.5 * (std::erfc(near * sqrt_half) - std::erfc(far * sqrt_half));
    if (!(p > smallest)) {
      const double tail = ln_normal_survival(near);
      const double ln = tail + ln_one_less_exp(tail - ln_normal_survival(far));
      return {ln, std::exp(ln_normal_density(lo) - ln), std::exp(ln_normal_density(hi) - ln)};
    }
  }
  return {std::log(p), root * std::exp(-0.5 * lo * lo) / p, root * std::exp(-0.5 * hi * hi) / p};
}

// Adds count times a function of z = w - shift, where w = (y - m) exp(-s).
void add(Slopes& sum, const Curve& curve, double w, double inverse_scale, double count) {
  sum.value += count * curve.value;
  sum.m -= count * curve.first * inverse_scale;
  sum.s -= count * curve.first * w;
  sum.mm += count * curve.second * inverse_scale * inverse_scale;
  sum.ms += count * (curve.second * w + curve.first) * inverse_scale;
  sum.ss += count * (curve.second * w + curve.first) * w;
}

void add_span(Slopes& sum, Distribution distribution, double lo, double hi, double shift, double inverse_scale,
              double count) {
  const bool normal = distribution == Distribution::log_normal;
  const double from = lo - shift, to = hi - shift;
  const Between between = normal ? normal_between(from, to) : weibull_between(from, to);
  const double value = between.ln, g_lo = -between.lo, g_hi = between.hi;
  // The slope of a ln density is -z for the normal, 1 - exp(z) for the smallest extreme value.
  const double bend_lo = normal ? -from : 1.0 - std::exp(from), bend_hi = normal ? -to : 1.0 - std::exp(to);
  const double g_lo_lo = g_lo * bend_lo - g_lo * g_lo, g_hi_hi = g_hi * bend_hi - g_hi * g_hi, g_lo_hi = -g_lo * g_hi;
  const double first = g_lo + g_hi, first_w = g_lo * lo + g_hi * hi;
  sum.value += count * value;
  sum.m -= count * first * inverse_scale;
  sum.s -= count * first_w;
  sum.mm += count * (g_lo_lo + 2.0 * g_lo_hi + g_hi_hi) * inverse_scale * inverse_scale;
  sum.ms += count * (g_lo_lo * lo + g_lo_hi * (lo + hi) + g_hi_hi * hi + first) * inverse_scale;
  sum.ss += count * (g_lo_lo * lo * lo + 2.0 * g_lo_hi * lo * hi + g_hi_hi * hi * hi + first_w);
}

// Exact lives of a log-normal: the moments say it all, however many there are.
void add_exact_normal(Slopes& sum, const TemperatureSample& sample, double location, double inverse_scale, double shift) {
  const double n = sample.exact_count;
  const double away = (sample.exact_mean - location) * inverse_scale;
  const double w = n * away;
  const double ww = sample.exact_squares * inverse_scale * inverse_scale + n * away * away;
  const double z = w - n * shift, zw = ww - shift * w, zz = ww - 2.0 * shift * w + n * shift * shift;
  sum.value -= 0.5 * zz + n * ln_sqrt_two_pi;
  sum.m += z * inverse_scale;
  sum.s += zw;
  sum.mm -= n * inverse_scale * inverse_scale;
  sum.ms -= (w + z) * inverse_scale;
  sum.ss -= ww + zw;
}

}  // namespace

double ln_normal_survival(double z) {
  constexpr double sqrt_half = 0.70710678118654752440;
  // erfc still holds all its digits here; beyond, the continued fraction of the tail converges in a few terms.
  if (z < 20.0) return std::log(0.5 * std::erfc(z * sqrt_half));
  double fraction = z;
  for (int term = 12; term > 0; --term) fraction = z + term / fraction;
  return ln_normal_density(z) - std::log(fraction);
}

Slopes log_likelihood(Distribution distribution, const TemperatureSample& sample, double location, const Scale& scale,
                      double shift) {
  Slopes sum;
  const double inverse_scale = scale.inverse;
  const auto standardised = [&](double y) { return (y - location) * inverse_scale; };
  if (distribution == Distribution::log_normal) {
    add_exact_normal(sum, sample, location, inverse_scale, shift);
  } else if (sample.exact.size() == 1) {
    // Where every life has a temperature of its own, what stands in the sample itself saves a look far away in memory.
    const double w = standardised(sample.exact_mean);
    add(sum, density(distribution, w - shift), w, inverse_scale, sample.exact_count);
  } else {
    for (const auto& point : sample.exact) {
      const double w = standardised(point.y);
      add(sum, density(distribution, w - shift), w, inverse_scale, point.count);
    }
  }
  // The density by hours: 1/(scale t) times that of z.
  sum.value -= sample.exact_count * (scale.ln + sample.exact_mean);
  sum.s -= sample.exact_count;
  for (const auto& point : sample.alive) {
    const double w = standardised(point.y);
    add(sum, upper_tail(distribution, w - shift), w, inverse_scale, point.count);
  }
  for (const auto& point : sample.early) {
    const double w = standardised(point.y);
    add(sum, lower_tail(distribution, w - shift), w, inverse_scale, point.count);
  }
  for (const auto& span : sample.spans) {
    add_span(sum, distribution, standardised(span.lo), standardised(span.hi), shift, inverse_scale, span.count);
  }
  return sum;
}

double TemperatureSample::failures() const {
  double sum = exact_count;
  for (const Point& point : early) sum += point.count;
  for (const Span& span : spans) sum += span.count;
  return sum;
}

double TemperatureSample::specimens() const {
  double sum = failures();
  for (const Point& point : alive) sum += point.count;
  return sum;
}

namespace {

void add_life(TemperatureSample& sample, const Life& life) {
  const auto count = static_cast<double>(life.count);
  const double from = life.from.value() > 0.0 ? std::log(life.from.value()) : 0.0;
  if (!life.to) {
    sample.alive.push_back({from, count});
  } else if (life.is_exact()) {
    sample.exact.push_back({from, count});
  } else if (life.from.value() > 0.0) {
    sample.spans.push_back({from, std::log(life.to->value()), count});
  } else {
    sample.early.push_back({std::log(life.to->value()), count});
  }
}

void sum_up(TemperatureSample& sample) {
  for (const auto& point : sample.exact) sample.exact_count += point.count;
  if (sample.exact_count == 0.0) return;
  for (const auto& point : sample.exact) sample.exact_mean += point.count / sample.exact_count * point.y;
  for (const auto& point : sample.exact) {
    const double away = point.y - sample.exact_mean;
    sample.exact_squares += point.count * away * away;
  }
}

}  // namespace

std::vector<TemperatureSample> samples_of(const LifeTest& test) {
  std::vector<TemperatureSample> samples;
  for (const Life& life : test.lives) {
    if (samples.empty() || samples.back().temperature != life.temperature) {
      samples.emplace_back();
      samples.back().temperature = life.temperature;
      samples.back().x = 1.0 / life.temperature.value();
    }
    add_life(samples.back(), life);
  }
  for (TemperatureSample& sample : samples) sum_up(sample);
  return samples;
}

}  // namespace heatside::labfit
