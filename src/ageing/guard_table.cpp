#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <string>

#include "heatside/ageing/batch.hpp"

namespace heatside::ageing {

namespace {

constexpr std::size_t terms = 10;  // beside F' the n-th adds (strength/64)^n/n!: the last below 1e-14 at a strength of 8
static_assert(terms % 2 == 0);

// Narrow cells where the stabiliser goes, wide ones where strength e^-y is small: a table that stays in the nearest cache.
constexpr double near_y = 8.0;
constexpr double last_y = 44.0;  // from here on strength e^-y is nothing beside F in double
constexpr double near_cells_per_unit = 32.0, far_cells_per_unit = 4.0;
constexpr int near_cells = static_cast<int>(near_y * near_cells_per_unit);
constexpr int cells = near_cells + static_cast<int>((last_y - near_y) * far_cells_per_unit);
constexpr double strongest = 12.0;

double centre_of(int cell) {
  if (cell < near_cells) return (cell + 0.5) / near_cells_per_unit;
  return near_y + (cell - near_cells + 0.5) / far_cells_per_unit;
}

// With u = strength e^-y: f = F' = e^-u obeys f' = u f, and u' = -u.
std::array<double, terms> series_about(double strength, double y) {
  std::array<double, terms> u{}, f{}, integral{};
  u[0] = strength * std::exp(-y);
  f[0] = std::exp(-u[0]);
  integral[0] = exponential_integral_of_exp(std::log(strength) - y);
  for (std::size_t n = 0; n + 1 < terms; ++n) {
    const auto next = static_cast<double>(n + 1);
    u[n + 1] = -u[n] / next;
    for (std::size_t k = 0; k <= n; ++k) f[n + 1] += u[k] * f[n - k];
    f[n + 1] /= next;
    integral[n + 1] = f[n] / next;
  }
  return integral;
}

// Even and odd powers apart: chains of half the length.
LetThrough value_and_slope(const GuardTable& table, double y) {
  // Looked up rather than branched on: which range y lies in is chance.
  struct Range {
    double start, per_unit, length;
    int first_cell, last_cell;
  };
  static constexpr std::array<Range, 2> ranges{
      {{0.0, near_cells_per_unit, 1.0 / near_cells_per_unit, 0, near_cells - 1},
       {near_y, far_cells_per_unit, 1.0 / far_cells_per_unit, near_cells, cells - near_cells - 1}}};
  const Range& range = ranges[static_cast<std::size_t>(y >= near_y)];
  const double place = (y - range.start) * range.per_unit;
  const int cell = std::min(static_cast<int>(place), range.last_cell);
  const double* c = table.series.data() + static_cast<std::size_t>(range.first_cell + cell) * terms;
  const double d = (place - (cell + 0.5)) * range.length;
  const double d2 = d * d;
  static_assert(terms == 10);
  const double even = (((c[8] * d2 + c[6]) * d2 + c[4]) * d2 + c[2]) * d2 + c[0];
  const double odd = (((c[9] * d2 + c[7]) * d2 + c[5]) * d2 + c[3]) * d2 + c[1];
  const double even_slope = ((8.0 * c[8] * d2 + 6.0 * c[6]) * d2 + 4.0 * c[4]) * d2 + 2.0 * c[2];
  const double odd_slope = (((9.0 * c[9] * d2 + 7.0 * c[7]) * d2 + 5.0 * c[5]) * d2 + 3.0 * c[3]) * d2 + c[1];
  return {even + d * odd, odd_slope + d * even_slope};
}

// Starts of the root search: y over the fourth root of F is nearly straight. Each start has its slope over one cell beside
// it.
constexpr std::size_t starts = 256;

double value_at_start(const GuardTable& table, std::size_t i) {
  const double root = table.root_scale * static_cast<double>(i) / static_cast<double>(starts);
  return root * root * (root * root);
}

// Cubic through the values and slopes at both ends of the cell.
double start_of_root(const GuardTable& table, double value) {
  const double place = std::sqrt(std::sqrt(value)) / table.root_scale * static_cast<double>(starts);
  const std::size_t cell = std::min(static_cast<std::size_t>(place), starts - 1);
  const double* ends = table.start_of_root.data() + 2 * cell;
  const double t = place - static_cast<double>(cell), u = 1.0 - t;
  return u * u * (ends[0] * (1.0 + 2.0 * t) + ends[1] * t) + t * t * (ends[2] * (1.0 + 2.0 * u) - ends[3] * u);
}

// Newton squares its error: a step of 1e-8 leaves less than 1e-14.
double polished(const GuardTable& table, double y, double value, int most_steps) {
  constexpr double last_step = 1.0e-8;
  for (int i = 0; i < most_steps; ++i) {
    const LetThrough at = value_and_slope(table, y);
    const double next = std::clamp(y - (at.value - value) / at.slope, 0.0, last_y);
    const double step = std::abs(next - y);
    y = next;
    if (step < last_step) break;
  }
  return y;
}

void fill_starts(GuardTable& table) {
  double y = 0.0;
  for (std::size_t i = 0; i <= starts; ++i) {
    const double value = value_at_start(table, i);
    // F is convex, so from above Newton comes down without overshooting; each root starts a little above the last.
    constexpr double headroom = 1.0;
    constexpr int enough = 40;
    const bool within = value > value_and_slope(table, 0.0).value;
    y = within ? polished(table, std::min(y + headroom, last_y), value, enough) : 0.0;
    const double root = table.root_scale * static_cast<double>(i) / static_cast<double>(starts);
    const double slope = 4.0 * root * root * root / value_and_slope(table, y).slope;
    table.start_of_root.push_back(y);
    table.start_of_root.push_back(within ? slope * table.root_scale / static_cast<double>(starts) : 0.0);
  }
}

}  // namespace

GuardTable guard_table(double strength) {
  if (!(strength > 0.0 && strength <= strongest)) {
    throw DomainError("a stabiliser's strength of " + std::to_string(strength) + " is not above 0 and at most 12");
  }
  GuardTable table;
  table.strength = strength;
  table.far_offset = std::numbers::egamma + std::log(strength);
  table.root_scale = std::sqrt(std::sqrt(last_y - table.far_offset));
  table.series.reserve(static_cast<std::size_t>(cells) * terms);
  for (int cell = 0; cell < cells; ++cell) {
    const std::array<double, terms> series = series_about(strength, centre_of(cell));
    table.series.insert(table.series.end(), series.begin(), series.end());
  }
  fill_starts(table);
  return table;
}

LetThrough let_through(const GuardTable& table, double y) {
  if (y >= last_y) return {y - table.far_offset, 1.0};
  return value_and_slope(table, y);
}

double spent_for(const GuardTable& table, double value) {
  const double far = value + table.far_offset;
  if (far >= last_y) return far;
  constexpr int steps = 10;  // one or two are taken
  return polished(table, start_of_root(table, value), value, steps);
}

}  // namespace heatside::ageing
