// Where the time of one estimate goes, room by room. Run from anywhere: heatside_bench
#include <benchmark/benchmark.h>

#include <fstream>
#include <sstream>
#include <string>

#include "heatside/estimate.hpp"
#include "heatside/exposure/likely_years.hpp"
#include "heatside/exposure/wire_heat.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/population/explanation.hpp"
#include "heatside/population/segment_trip.hpp"
#include "population/loom_copper.hpp"

namespace {

using namespace heatside;

std::string demo_text() {
  std::ifstream file{HEATSIDE_SOURCE_DIR "/examples/hillside-estate.case.json"};
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

const library::Library& records() {
  static const library::Library library = library::built_in_library();
  return library;
}

const casefile::Case& demo() {
  static const casefile::Case job = casefile::read_case(demo_text(), "demo", records());
  return job;
}

void library_of_built_in_records(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(library::built_in_library());
}

void casefile_of_the_demo(benchmark::State& state) {
  const std::string text = demo_text();
  for (auto _ : state) benchmark::DoNotOptimize(casefile::read_case(text, "demo", records()));
}

void exposure_of_one_zone(benchmark::State& state) {
  const exposure::UseSpan use = exposure::future_use(demo(), records());
  for (auto _ : state) {
    exposure::LikelyYears years{records(), 1.0, {}, {}, {}, {}};
    benchmark::DoNotOptimize(exposure::likely_year(years, "head-cover", use, true, nullptr));
  }
}

void exposure_mean_of_one_path(benchmark::State& state) {
  const exposure::UseSpan use = exposure::future_use(demo(), records());
  exposure::LikelyYears years{records(), 1.0, {}, {}, {}, {}};
  const exposure::TemperatureMeasure& year = exposure::likely_year(years, "head-cover", use, true, nullptr);
  for (auto _ : state) {
    benchmark::DoNotOptimize(exposure::mean_acceleration(year, kilojoule_per_mole(95.0), celsius(100.0)));
  }
}

void exposure_heat_balance_of_a_bundle(benchmark::State& state) {
  const exposure::WireBuild wire{millimetres(1.1), millimetres(1.9), milliohm_per_metre(18.5), WattsPerMetreKelvin{0.19},
                                 0.9};
  exposure::WireSetting setting;
  setting.air = celsius(80.0);
  for (auto _ : state) {
    benchmark::DoNotOptimize(exposure::wire_temperatures(wire, {12, 2, WattsPerMetre{0.0}}, {}, Amperes{8.0}, setting));
  }
}

void exposure_trip_of_one_wire(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(population::segment_trip(demo(), records(), "to-coil-2", {}));
}

void population_copper_of_the_demo(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(population::loom_copper(demo(), records()));
}

void population_likely_case_without_conduction(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(population::likely_estimate(demo(), records(), {.conduction = false}));
}

void population_ten_thousand_draws(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(population::drawn_estimate(demo(), records(), {}));
}

void population_explanation(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(population::explain_segment(demo(), records(), "box-corner"));
}

void ageing_of_one_wire(benchmark::State& state) {
  const auto solution = state.range(0) == 0 ? ageing::Solution::closed_form : ageing::Solution::integrated;
  const ageing::Kinetics kinetics = ageing::likely_kinetics(records().insulations.at("short-lived-1990s"), records().model);
  const std::vector<ageing::ClockSpan> past{{hours(Years{15.0}), {1.0e-5, 1.0e-5}}, {hours(Years{5.0}), {8.0e-6, 8.0e-6}}};
  for (auto _ : state) {
    benchmark::DoNotOptimize(ageing::years_until(kinetics, past, {8.0e-6, 8.0e-6}, percent(25.0), solution));
  }
}

void population_likely_case(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(population::likely_estimate(demo(), records()));
}

void report_text(benchmark::State& state) {
  const population::Estimate estimate = population::likely_estimate(demo(), records());
  for (auto _ : state) benchmark::DoNotOptimize(report::estimate_text(estimate, demo(), records(), {"heatside", "", "", 0}));
}

BENCHMARK(library_of_built_in_records)->Unit(benchmark::kMicrosecond);
BENCHMARK(casefile_of_the_demo)->Unit(benchmark::kMicrosecond);
BENCHMARK(exposure_of_one_zone)->Unit(benchmark::kMicrosecond);
BENCHMARK(exposure_mean_of_one_path)->Unit(benchmark::kMicrosecond);
BENCHMARK(ageing_of_one_wire)->Arg(0)->Arg(1)->Unit(benchmark::kMicrosecond);
BENCHMARK(exposure_heat_balance_of_a_bundle)->Unit(benchmark::kMicrosecond);
BENCHMARK(exposure_trip_of_one_wire)->Unit(benchmark::kMicrosecond);
BENCHMARK(population_copper_of_the_demo)->Unit(benchmark::kMicrosecond);
BENCHMARK(population_likely_case)->Unit(benchmark::kMicrosecond);
BENCHMARK(population_likely_case_without_conduction)->Unit(benchmark::kMicrosecond);
BENCHMARK(population_ten_thousand_draws)->Unit(benchmark::kMillisecond);
BENCHMARK(population_explanation)->Unit(benchmark::kMillisecond);
BENCHMARK(report_text)->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
