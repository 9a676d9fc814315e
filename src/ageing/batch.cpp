#include "heatside/ageing/batch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

namespace heatside::ageing {

namespace {

using library::KineticsLaw;

// A value of each draw, or one for all of them.
template <class Value>
const Value& value_of(const std::vector<Value>& values, std::size_t draw) {
  return values.size() == 1 ? values.front() : values[draw];
}

void check_count(std::size_t count, std::size_t draws, const char* what) {
  if (count == draws) return;
  throw DomainError(std::to_string(count) + " " + what + " for " + std::to_string(draws) + " draws");
}

const std::vector<double>& guard_rates(const DrawnRates& rates) { return rates.guard.empty() ? rates.extent : rates.guard; }

void check_rates(const DrawnRates& rates, std::size_t draws) {
  check_count(rates.extent.size(), draws, "clock rates");
  check_count(guard_rates(rates).size(), draws, "stabiliser rates");
}

// Of -ln s: over less than this the difference of two values of F has lost digits, and F' is nearly constant.
constexpr double short_growth = 1.0e-6;

// Mean of F' over a growth of -ln s, from F at both ends.
double mean_slope(const LetThrough& before, const LetThrough& after, double growth) {
  // Where it grows by less than 1e-6 the mean of both ends is closer than 1e-11.
  return growth < short_growth ? 0.5 * (before.slope + after.slope) : (after.value - before.value) / growth;
}

// ln(threshold / floor) of each draw, or one for all of them.
std::vector<double> widths_left(const DrawnKinetics& kinetics, const std::vector<Strain>& threshold) {
  if (threshold.size() != 1) check_count(threshold.size(), kinetics.rate.size(), "thresholds");
  std::vector<double> left;
  left.reserve(threshold.size());
  for (const Strain elongation : threshold) left.push_back(std::log(elongation / kinetics.law.floor));
  return left;
}

// Progress at which elongation has fallen so far that `left` of its width is left; 0 where a new wire has no more.
double progress_to(const Kinetics& law, double width, double left) {
  const double extent = 1.0 - left / width;
  if (extent <= 0.0) return 0.0;
  if (law.law == KineticsLaw::gradual) return std::log(width / left);
  constexpr double near_start = 1.0e-3;  // there a logarithm of nearly 1 would lose digits
  if (extent < near_start) return progress_at(law, extent);
  return std::log((law.seed + extent) * width / (law.seed * left)) / (1.0 + law.seed);
}

// State of one draw at the start of a span or of the future.
struct Start {
  double progress = 0.0, spent = 0.0;
  LetThrough opened{0.0, 1.0};  // guarded only
};

// c a_x and g a_s [1/h].
struct Clocks {
  double extent, guard;
};

Clocks clocks_of(const DrawnKinetics& kinetics, const DrawnRates& rates, std::size_t draw) {
  return {kinetics.rate[draw] * rates.extent[draw], kinetics.law.guard_rate * guard_rates(rates)[draw]};
}

// Hours from a start until progress reaches its goal; 0 when it has.
double hours_until(const DrawnKinetics& kinetics, const Start& start, const Clocks& clocks, double goal) {
  const double missing = goal - start.progress;
  if (missing <= 0.0) return 0.0;
  if (clocks.extent <= 0.0) return std::numeric_limits<double>::infinity();
  if (kinetics.law.law == KineticsLaw::gradual) return missing / clocks.extent;
  const LetThrough& now = start.opened;
  if (clocks.guard <= 0.0 || now.slope == 1.0) return missing / (clocks.extent * now.slope);
  const double needed = missing * clocks.guard / clocks.extent;  // of F
  const double straight = needed / now.slope;
  if (straight < short_growth) {
    // F''/F' bends the straight line.
    const double bend = 0.5 * kinetics.law.guard_strength * std::exp(-start.spent);
    return straight * (1.0 - bend * straight) / clocks.guard;
  }
  return (spent_for(kinetics.guard, now.value + needed) - start.spent) / clocks.guard;
}

// What a span adds in one draw when the clocks run as they do.
struct Reach {
  double progress, spent;  // c a_x t and g a_s t [-]
};

Reach reach_of(const DrawnKinetics& kinetics, const DrawnSpan& span, std::size_t draw) {
  const Clocks clocks = clocks_of(kinetics, span.rates, draw);
  return {clocks.extent * span.length.value(), clocks.guard * span.length.value()};
}

Reach whole_reach(const DrawnKinetics& kinetics, const std::vector<DrawnSpan>& past, std::size_t draw) {
  Reach whole{0.0, 0.0};
  for (const DrawnSpan& span : past) {
    const Reach reach = reach_of(kinetics, span, draw);
    whole.progress += reach.progress;
    whole.spent += reach.spent;
  }
  return whole;
}

// State at the start of each span and at the end of the past.
void age_draw(const DrawnKinetics& kinetics, const std::vector<DrawnSpan>& past, std::size_t draw,
              std::vector<Start>& starts) {
  const bool guarded = kinetics.law.law == KineticsLaw::guarded;
  starts.front() = {};
  if (guarded) starts.front().opened = let_through(kinetics.guard, 0.0);
  for (std::size_t span = 0; span < past.size(); ++span) {
    const Reach reach = reach_of(kinetics, past[span], draw);
    const Start& before = starts[span];
    Start& after = starts[span + 1];
    if (!guarded) {
      after = {before.progress + reach.progress, 0.0, before.opened};
      continue;
    }
    after.spent = before.spent + reach.spent;
    after.opened = let_through(kinetics.guard, after.spent);
    after.progress = before.progress + reach.progress * mean_slope(before.opened, after.opened, reach.spent);
  }
}

Years crossing(const DrawnKinetics& kinetics, const std::vector<DrawnSpan>& past, const DrawnRates& future, std::size_t draw,
               const std::vector<Start>& starts, double goal) {
  Hours to_end{0.0};
  for (const DrawnSpan& span : past) to_end = to_end + span.length;
  if (goal <= 0.0) return years(-to_end);
  std::size_t span = 0;
  for (; span < past.size() && starts[span + 1].progress < goal; ++span) to_end = to_end - past[span].length;
  if (span == past.size()) to_end = Hours{0.0};
  const DrawnRates& rates = span < past.size() ? past[span].rates : future;
  return years(Hours{hours_until(kinetics, starts[span], clocks_of(kinetics, rates, draw), goal)} - to_end);
}

// Progress at the end of the past, and its growth with the factor, when all clocks run `factor` times as fast.
struct ScaledProgress {
  double value = 0.0, slope = 0.0;
};

ScaledProgress scaled_progress(const DrawnKinetics& kinetics, const std::vector<DrawnSpan>& past, std::size_t draw,
                               double factor) {
  ScaledProgress scaled;
  double spent = 0.0;
  LetThrough before = let_through(kinetics.guard, 0.0);
  for (const DrawnSpan& span : past) {
    const Reach reach = reach_of(kinetics, span, draw);
    const double spent_after = spent + reach.spent;
    const LetThrough after = let_through(kinetics.guard, factor * spent_after);
    scaled.value += factor * reach.progress * mean_slope(before, after, factor * reach.spent);
    scaled.slope += factor * reach.spent < short_growth
                        ? reach.progress * before.slope
                        : reach.progress / reach.spent * (spent_after * after.slope - spent * before.slope);
    spent = spent_after;
    before = after;
  }
  return scaled;
}

// The factor if the clocks of extent and stabiliser kept their mean ratio all along: exact where they do.
double factor_at_mean_ratio(const DrawnKinetics& kinetics, const Reach& whole, double goal) {
  const LetThrough new_wire = let_through(kinetics.guard, 0.0);
  if (whole.spent < short_growth) return goal / (whole.progress * new_wire.slope);
  return spent_for(kinetics.guard, new_wire.value + goal * whole.spent / whole.progress) / whole.spent;
}

// Newton in ln factor, kept within what has been seen to be too little and too much.
double guarded_factor(const DrawnKinetics& kinetics, const std::vector<DrawnSpan>& past, std::size_t draw, double goal,
                      double factor) {
  double low = 0.0, high = std::numeric_limits<double>::infinity();
  constexpr int most = 200;
  constexpr double last_step = 1.0e-6;  // Newton squares it
  for (int i = 0; i < most; ++i) {
    const ScaledProgress at = scaled_progress(kinetics, past, draw, factor);
    (at.value < goal ? low : high) = factor;
    const double step = at.slope > 0.0 && at.value > 0.0 ? std::log(goal / at.value) * at.value / (at.slope * factor) : 0.0;
    double next = factor * std::exp(std::clamp(step, -2.0, 2.0));
    if (std::abs(step) < last_step) return next;
    if (!(next > low && next < high)) next = std::isinf(high) ? 2.0 * low : 0.5 * (low + high);
    factor = next;
  }
  return factor;
}

bool one_clock(const std::vector<DrawnSpan>& past) {
  return std::all_of(past.begin(), past.end(), [](const DrawnSpan& span) { return span.rates.guard.empty(); });
}

}  // namespace

DrawnKinetics drawn_kinetics(const library::Insulation& insulation, const library::ModelConstants& model,
                             const std::vector<Strain>& initial, const std::vector<Strain>& end) {
  if (end.size() != 1) check_count(end.size(), initial.size(), "end elongations");
  DrawnKinetics kinetics;
  kinetics.law = likely_kinetics(insulation, model);
  const bool guarded = kinetics.law.law == KineticsLaw::guarded;
  double per_progress = 1.0;  // c over the progress of the thermal-life point
  if (guarded) {
    kinetics.guard = guard_table(kinetics.law.guard_strength);
    const double opening =
        let_through(kinetics.guard, kinetics.law.guard_rate).value - let_through(kinetics.guard, 0.0).value;
    per_progress = kinetics.law.guard_rate / opening;
  }
  kinetics.initial = initial;
  kinetics.rate.reserve(initial.size());
  for (std::size_t draw = 0; draw < initial.size(); ++draw) {
    const Strain at_end = value_of(end, draw);
    if (!(kinetics.law.floor < at_end && at_end < initial[draw])) {
      throw DomainError("end elongation " + std::to_string(in_percent(at_end)) + " % must lie between " +
                        std::to_string(in_percent(kinetics.law.floor)) + " % and " +
                        std::to_string(in_percent(initial[draw])) + " %");
    }
    kinetics.width.push_back(std::log(initial[draw] / kinetics.law.floor));
    kinetics.rate.push_back(per_progress *
                            progress_to(kinetics.law, kinetics.width.back(), std::log(at_end / kinetics.law.floor)));
  }
  return kinetics;
}

DrawnLife drawn_life(const DrawnKinetics& kinetics, const std::vector<DrawnSpan>& past, const DrawnRates& future,
                     const std::vector<std::vector<Strain>>& thresholds) {
  const std::size_t draws = kinetics.rate.size();
  for (const DrawnSpan& span : past) check_rates(span.rates, draws);
  if (!thresholds.empty()) check_rates(future, draws);
  std::vector<std::vector<double>> left;
  for (const std::vector<Strain>& threshold : thresholds) left.push_back(widths_left(kinetics, threshold));

  DrawnLife life;
  life.elongation.reserve(draws);
  life.until.resize(thresholds.size());
  for (std::vector<Years>& until : life.until) until.reserve(draws);
  std::vector<Start> starts(past.size() + 1);
  for (std::size_t draw = 0; draw < draws; ++draw) {
    age_draw(kinetics, past, draw, starts);
    const double extent = extent_of(kinetics.law, {starts.back().progress, 0.0});
    life.elongation.push_back(kinetics.initial[draw] * std::exp(-extent * kinetics.width[draw]));
    for (std::size_t i = 0; i < left.size(); ++i) {
      const double goal = progress_to(kinetics.law, kinetics.width[draw], value_of(left[i], draw));
      life.until[i].push_back(crossing(kinetics, past, future, draw, starts, goal));
    }
  }
  return life;
}

std::vector<double> clock_factors_until(const DrawnKinetics& kinetics, const std::vector<DrawnSpan>& past,
                                        const std::vector<Strain>& threshold) {
  const std::size_t draws = kinetics.rate.size();
  for (const DrawnSpan& span : past) check_rates(span.rates, draws);
  const std::vector<double> left = widths_left(kinetics, threshold);
  const bool single = one_clock(past);
  std::vector<double> factors;
  factors.reserve(draws);
  for (std::size_t draw = 0; draw < draws; ++draw) {
    const double goal = progress_to(kinetics.law, kinetics.width[draw], value_of(left, draw));
    const Reach whole = whole_reach(kinetics, past, draw);
    if (goal <= 0.0) {
      factors.push_back(0.0);
    } else if (whole.progress <= 0.0) {
      factors.push_back(std::numeric_limits<double>::infinity());
    } else if (kinetics.law.law == KineticsLaw::gradual) {
      factors.push_back(goal / whole.progress);
    } else {
      const double at_mean_ratio = factor_at_mean_ratio(kinetics, whole, goal);
      factors.push_back(single ? at_mean_ratio : guarded_factor(kinetics, past, draw, goal, at_mean_ratio));
    }
  }
  return factors;
}

}  // namespace heatside::ageing
