// What 10 000 draws cost, piece by piece. Processor time of one core.
#include <benchmark/benchmark.h>

#include <cmath>
#include <string>
#include <vector>

#include "heatside/ageing/batch.hpp"
#include "heatside/base/random.hpp"
#include "heatside/exposure/ambient.hpp"
#include "heatside/exposure/rate_table.hpp"
#include "heatside/library/library.hpp"

namespace {

using namespace heatside;

constexpr std::size_t draws = 10'000;

const library::Library& records() {
  static const library::Library library = library::built_in_library();
  return library;
}

exposure::PlaceOfDraws place_of(const std::string& climate, const std::string& duty) {
  const library::Duty& record = records().duties.at(duty);
  return {exposure::gauss_days(records().climates.at(climate)), exposure::weekly_drives(record), record.running_mix, {}};
}

std::vector<double> spread(const std::string& name, double median, double ln_sd) {
  std::vector<double> values = normal_draws(random_quantity(1, name), draws);
  for (double& value : values) value = median * std::exp(ln_sd * value);
  return values;
}

exposure::ZoneDraws zone_draws() {
  exposure::ZoneDraws zone{normal_draws(random_quantity(1, "z"), draws), normal_draws(random_quantity(1, "decay"), draws)};
  for (double& ln_decay : zone.ln_decay) ln_decay *= 0.25;
  return zone;
}

void draws_of_60_normals(benchmark::State& state) {
  for (auto _ : state) {
    for (std::uint64_t quantity = 0; quantity < 60; ++quantity)
      benchmark::DoNotOptimize(normal_draws({1, quantity * 0x9e3779b97f4a7c15u}, draws));
  }
}

void draws_of_20_spread_columns(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(spread_points(1, 20, draws));
}

void days_that_are_enough(benchmark::State& state) {
  const library::Climate& climate = records().climates.at("barrow");
  for (auto _ : state) benchmark::DoNotOptimize(exposure::gauss_days(climate));
}

void rate_table_of(benchmark::State& state, const std::string& zone, const std::string& climate, const std::string& duty) {
  const exposure::PlaceOfDraws place = place_of(climate, duty);
  const exposure::TraceConstants constants = exposure::trace_constants(records().model);
  for (auto _ : state) benchmark::DoNotOptimize(exposure::rate_table(records().zones.at(zone), constants, place));
}

exposure::RateTable a_table() {
  return exposure::rate_table(records().zones.at("head-cover"), exposure::trace_constants(records().model),
                              place_of("continental", "family"));
}

void rate_curves_of_one_place(benchmark::State& state) {
  const exposure::RateTable table = a_table();
  const exposure::ZoneDraws zone = zone_draws();
  for (auto _ : state) benchmark::DoNotOptimize(exposure::rate_curves(table, zone));
}

void rates_of_one_path(benchmark::State& state) {
  const exposure::RateCurves curves = exposure::rate_curves(a_table(), zone_draws());
  std::vector<JoulePerMole> energies;
  for (const double z : normal_draws(random_quantity(1, "energy"), draws)) energies.emplace_back(95.0e3 + 10.0e3 * z);
  for (auto _ : state) benchmark::DoNotOptimize(exposure::mean_accelerations(curves, energies, celsius(125.0)));
}

// Twenty segments, three periods, two thresholds.
void kinetics_of_20_segments(benchmark::State& state, const std::string& insulation) {
  const library::Insulation& record = records().insulations.at(insulation);
  std::vector<Strain> initial;
  for (const double value : spread("e0", 0.01 * record.initial_elongation.value, 0.1)) initial.emplace_back(value);
  const std::vector<Strain> end{percent(record.end_elongation.value)};
  const std::vector<ageing::DrawnSpan> past{{hours(8.0_a), {spread("a", 3.0e-6, 1.0), spread("b", 2.0e-6, 1.0)}},
                                            {hours(12.0_a), {spread("c", 5.0e-6, 1.0), {}}},
                                            {hours(7.0_a), {spread("d", 1.0e-6, 1.0), {}}}};
  const ageing::DrawnRates future{spread("f", 4.0e-6, 1.0), {}};
  for (auto _ : state) {
    for (int segment = 0; segment < 20; ++segment) {
      const ageing::DrawnKinetics kinetics = ageing::drawn_kinetics(record, records().model, initial, end);
      benchmark::DoNotOptimize(ageing::drawn_life(kinetics, past, future, {{percent(25.0)}, {percent(5.0)}}));
    }
  }
}

void clock_factors_of_20_segments(benchmark::State& state) {
  const library::Insulation& record = records().insulations.at("short-lived-1990s");
  const std::vector<Strain> initial(draws, percent(record.initial_elongation.value));
  const std::vector<ageing::DrawnSpan> past{{hours(8.0_a), {spread("a", 3.0e-6, 1.0), {}}},
                                            {hours(12.0_a), {spread("c", 5.0e-6, 1.0), {}}}};
  const ageing::DrawnKinetics kinetics =
      ageing::drawn_kinetics(record, records().model, initial, {percent(record.end_elongation.value)});
  for (auto _ : state) {
    for (int segment = 0; segment < 20; ++segment)
      benchmark::DoNotOptimize(ageing::clock_factors_until(kinetics, past, {percent(25.0)}));
  }
}

BENCHMARK(draws_of_60_normals)->Unit(benchmark::kMillisecond);
BENCHMARK(draws_of_20_spread_columns)->Unit(benchmark::kMillisecond);
BENCHMARK(days_that_are_enough)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(rate_table_of, family, "head-cover", "mediterranean", "family")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(rate_table_of, taxi, "engine-valley", "cold", "taxi")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(rate_table_of, delivery, "alternator", "tropical", "delivery")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(rate_table_of, varied_half_range, "upper-bay", "chicago", "family")->Unit(benchmark::kMillisecond);
BENCHMARK(rate_curves_of_one_place)->Unit(benchmark::kMillisecond);
BENCHMARK(rates_of_one_path)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(kinetics_of_20_segments, guarded, "short-lived-1990s")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(kinetics_of_20_segments, gradual, "pvc-std")->Unit(benchmark::kMillisecond);
BENCHMARK(clock_factors_of_20_segments)->Unit(benchmark::kMillisecond);

}  // namespace
