// The same draws under other wires and use: against the estimate, against an Arrhenius line by hand, and what common draws
// are good for.
#include "heatside/population/alternative.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/base/error.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "population/cases.hpp"

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

// The library with one exact compound in a climate that is always as warm: nothing but the zones, use and stretch is drawn,
// and none of these matters to a vehicle that stands.
library::Library exact_library(double celsius) {
  library::Library library = records();
  library::Insulation& insulation = library.insulations.at("mppe");
  const auto exact = [](Sourced& number, double value) {
    number.value = value;
    number.low.reset();
    number.high.reset();
    number.sd.reset();
  };
  exact(insulation.initial_elongation, 200.0);
  exact(insulation.end_elongation, 50.0);
  exact(insulation.life_temperature, 100.0);
  exact(insulation.life_hours, 3000.0);
  exact(insulation.lot_median, 1.5);
  exact(insulation.lot_ln_sd, 0.0);
  exact(insulation.paths.front().activation_energy, 110.0);
  exact(insulation.life_factors.bare_copper, 1.0);
  exact(library.model.condition.notch_factor, 1.5);
  exact(library.model.ageing.stretch_ln_sd, 0.0);
  library::Climate& climate = library.climates.at("mediterranean");
  climate.monthly_mean.fill(celsius);
  climate.daily_range.fill(0.0);
  climate.deviation_sd.fill(0.0);
  return library;
}

// New wires of a vehicle that stands from the day of their fitting on.
casefile::Case new_and_standing(const library::Library& library) {
  Scene scene;
  scene.insulation = "mppe";
  scene.zones = {"head-cover"};
  casefile::Case job = read(case_of(scene), library);
  job.future.duty = "laid-up";
  job.looms.front().made = job.looms.front().fitted = job.inspected;
  return job;
}

Population population_of(const casefile::Case& job, std::size_t draws, std::uint64_t seed = 0) {
  return {Normals{seed, draws}, even_belief(draws), exposure::zone_scores(job, records()), true};
}

double mean_ln(const std::vector<double>& years) {
  double sum = 0.0;
  for (const double one : years) sum += std::log(one) / static_cast<double>(years.size());
  return sum;
}

double variance(const std::vector<double>& values) {
  double mean = 0.0, sum = 0.0;
  for (const double value : values) mean += value / static_cast<double>(values.size());
  for (const double value : values) sum += (value - mean) * (value - mean);
  return sum / static_cast<double>(values.size() - 1);
}

double mean_of(const std::vector<double>& values) {
  double mean = 0.0;
  for (const double value : values) mean += value / static_cast<double>(values.size());
  return mean;
}

casefile::Case hotter(casefile::Case job) {
  job.segments.front().stretches.front().zone = "engine-valley";
  return job;
}

}  // namespace

TEST_CASE("alternative: the case itself gives the quantiles of its estimate", "[population][alternative]") {
  Scene scene;
  scene.zones = {"head-cover", "cabin-bulkhead"};
  const casefile::Case job = read(case_of(scene));
  DrawOptions options;
  options.draws = 500;
  const DrawnAnswer answer = drawn_answer(job, records(), options);
  const auto years = years_to_conditions(job, records(), answer.population, {0, 1});
  const auto stretches = years_by_stretch(job, job, records(), answer.population, {0, 1});
  for (std::size_t k = 0; k < 2; ++k) {
    const SegmentEstimate& one = segment(answer.estimate, job.segments[k].id);
    CHECK(quantiles(answer.population.belief, years[k].until[1], {0.5}).front() == one.flex_cracks.p50.value());
    CHECK(quantiles(answer.population.belief, years[k].until[2], {0.1}).front() == one.cracked.p10.value());
    // One stretch: it is the segment.
    CHECK(stretches[k].front().flex_cracks == years[k].until[1]);
    CHECK(stretches[k].front().cracked == years[k].until[2]);
  }
}

TEST_CASE("alternative: new wires at a constant temperature follow the Arrhenius line by hand",
          "[population][alternative]") {
  // life = A 1.5 3000 h exp[(Ea/R)(1/T - 1/373.15 K)], straight in ln t over 1/T as in IEC 60216-1, with Ea 110 kJ/mol.
  // A = ln(1 - x_25)/ln(1 - x_50) = 1.5989, x_e = ln(200/e)/ln(200/0.2): from 200 % down to the 25 % of ordinary handling.
  struct Line {
    double celsius, years;
  };
  const Line at = GENERATE(Line{60.0, 57.939706}, Line{70.0, 18.212951}, Line{80.0, 6.112910});
  const library::Library library = exact_library(at.celsius);
  const casefile::Case job = new_and_standing(library);
  const auto years = years_by_stretch(job, job, library, population_of(job, 100), {0});
  for (const double one : years.front().front().flex_cracks) REQUIRE_THAT(one, WithinRel(at.years, 1.0e-3));
}

TEST_CASE("alternative: common draws give the same difference with a smaller error", "[population][alternative]") {
  // Common random numbers: the covariance of the two sides takes its part of the variance of their difference away
  // (Law & Kelton, Simulation Modeling and Analysis, chapter on variance reduction; from memory).
  Scene scene;
  scene.zones = {"head-cover"};
  scene.insulation = "xlpo-125";
  casefile::Case job = read(case_of(scene));
  job.looms.front().made = job.looms.front().fitted = job.inspected;
  casefile::Case other = job;  // driven twice as much
  other.future.usage *= 2.0;
  std::vector<double> common, independent;
  for (std::uint64_t seed = 0; seed < 12; ++seed) {
    const auto mean = [&](const casefile::Case& one, std::uint64_t of) {
      return mean_ln(years_by_stretch(one, one, records(), population_of(one, 150, of), {0}).front().front().flex_cracks);
    };
    const double here = mean(job, seed);
    common.push_back(mean(other, seed) - here);
    independent.push_back(mean(other, seed + 100) - here);
  }
  CHECK(variance(common) < 0.25 * variance(independent));
  const double error = std::sqrt((variance(common) + variance(independent)) / 12.0);
  CHECK_THAT(mean_of(common), WithinAbs(mean_of(independent), 4.0 * error));
  CHECK(mean_of(common) < 0.0);
}

TEST_CASE("alternative: a change from now on leaves the past as it was", "[population][alternative]") {
  Scene scene;
  scene.zones = {"upper-bulkhead"};
  scene.insulation = "pvc-105";
  const casefile::Case job = read(case_of(scene));
  const casefile::Case changed = hotter(job);
  const Population population = population_of(job, 2000);
  const std::vector<double> before = years_by_stretch(job, job, records(), population, {0})[0][0].flex_cracks;
  const std::vector<double> after = years_by_stretch(job, changed, records(), population, {0})[0][0].flex_cracks;
  std::size_t cracked = 0, sooner = 0;
  for (std::size_t n = 0; n < before.size(); ++n) {
    if (before[n] <= 0.0) {
      ++cracked;
      CHECK(after[n] == before[n]);
    } else {
      CHECK(after[n] > 0.0);
      if (after[n] < before[n]) ++sooner;
    }
  }
  CHECK(cracked > 20);
  CHECK(static_cast<double>(sooner) > 0.95 * static_cast<double>(before.size() - cracked));
}

TEST_CASE("alternative: a used part has the years of its donor behind it", "[population][alternative]") {
  Scene scene;
  scene.zones = {"head-cover"};
  casefile::Case job = read(case_of(scene));
  casefile::Loom& loom = job.looms.front();
  loom.made = loom.fitted = job.inspected;
  const Population population = population_of(job, 300);
  const std::vector<double> fresh = years_by_stretch(job, job, records(), population, {0})[0][0].flex_cracks;
  const auto year = [&](int years) { return exact_date(job.inspected.day - std::chrono::days{365 * years}); };
  loom.made = year(4);
  loom.elsewhere = casefile::PartPast{year(3), year(0), "mediterranean", "family", 1.0, casefile::Parking::garage, 0.0};
  const std::vector<double> used = years_by_stretch(job, job, records(), population, {0})[0][0].flex_cracks;
  // The same compound made four years earlier is another make: compare the middle, not draw by draw.
  const double lost = quantiles(population.belief, fresh, {0.5})[0] - quantiles(population.belief, used, {0.5})[0];
  CHECK_THAT(lost, WithinAbs(3.0, 1.0));
  loom.elsewhere->ln_sd = 0.7;
  const std::vector<double> unsure = years_by_stretch(job, job, records(), population, {0})[0][0].flex_cracks;
  CHECK(variance(unsure) > variance(used));
}

TEST_CASE("alternative: segments that do not match are named", "[population][alternative]") {
  Scene scene;
  scene.zones = {"head-cover"};
  const casefile::Case job = read(case_of(scene));
  casefile::Case changed = job;
  changed.segments.front().stretches.front().id = "other";
  const Population population = population_of(job, 100);
  CHECK_THROWS_AS(years_by_stretch(job, changed, records(), population, {0}), DomainError);
  CHECK_THROWS_AS(years_by_stretch(job, job, records(), population, {7}), DomainError);
  CHECK_THROWS_AS(years_to_conditions(job, records(), population, {7}), DomainError);
}
