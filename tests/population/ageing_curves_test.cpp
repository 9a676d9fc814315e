#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "cases.hpp"
#include "heatside/population/ageing_curves.hpp"
#include "heatside/population/drawn_estimate.hpp"

using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

constexpr std::size_t draws = 400;

DrawnAnswer answer_of(const casefile::Case& job, const library::Library& library = records()) {
  return drawn_answer(job, library, {.draws = draws});
}

const ElongationAt& point_at(const AgeingCurve& curve, Years after) {
  return *std::min_element(curve.points.begin(), curve.points.end(), [&](const ElongationAt& a, const ElongationAt& b) {
    return std::abs((a.after - after).value()) < std::abs((b.after - after).value());
  });
}

void check_equal(const Quantiles<Strain>& a, const Quantiles<Strain>& b, double tolerance = 1e-9) {
  CHECK(a.p10.value() == Approx(b.p10.value()).epsilon(tolerance));
  CHECK(a.p50.value() == Approx(b.p50.value()).epsilon(tolerance));
  CHECK(a.p90.value() == Approx(b.p90.value()).epsilon(tolerance));
}

// A compound that ages by one process of exactly 100 kJ/mol.
library::Library with_one_process() {
  library::Library library = records();
  library::Insulation& insulation = library.insulations.at("xlpo-125");
  insulation.paths.resize(1);
  insulation.paths.front().kind = library::PathKind::oxidation;
  insulation.paths.front().reference_wall.reset();
  insulation.paths.front().share.value = 1.0;
  Sourced& energy = insulation.paths.front().activation_energy;
  energy.value = 100.0;
  energy.sd = energy.low = energy.high = std::nullopt;
  insulation.fit_covariance.reset();
  return library;
}

}  // namespace

TEST_CASE("ageing curve: at any time it is the estimate of the case inspected then", "[population][curves]") {
  // Rules of this project: the same draws, the same law, whichever day the inspection is. Other code: the estimate moves
  // the dates of the case, the curve moves along its spans.
  const casefile::Case job = read(case_of({}));
  const DrawnAnswer answer = answer_of(job);
  for (const SegmentEstimate& segment : answer.estimate.segments) {
    const AgeingCurve curve = ageing_curve(job, records(), answer.population, segment, Years{20.0}, 41);
    check_equal(point_at(curve, Years{0.0}).elongation, segment.elongation);
    CHECK(point_at(curve, Years{0.0}).after.value() == 0.0);
    CHECK(curve.points.front().after.value() == Approx(-20.0).epsilon(1e-3));
    CHECK(curve.points.back().after.value() == Approx(20.0));
    for (std::size_t i = 1; i < curve.points.size(); ++i) {
      CHECK(curve.points[i].after > curve.points[i - 1].after);
      CHECK(curve.points[i].elongation.p50.value() <= curve.points[i - 1].elongation.p50.value());
      CHECK(curve.points[i].elongation.p10 <= curve.points[i].elongation.p90);
    }
  }
  for (const char* day : {"2004-01-01", "2024-01-01"}) {
    const casefile::Case other = read(case_of({.inspected = day}));
    const Years after = years_between(job.inspected.day, other.inspected.day);
    for (const SegmentEstimate& segment : answer_of(other).estimate.segments) {
      const SegmentEstimate& here = testing::segment(answer.estimate, segment.id);
      const bool later = after.value() > 0.0;
      const AgeingCurve curve =
          ageing_curve(job, records(), answer.population, here, later ? after : Years{1.0}, later ? 41 : 4000);
      const ElongationAt& near = point_at(curve, after);
      REQUIRE(near.after.value() == Approx(after.value()).margin(later ? 1e-9 : 0.004));
      // Before, the nearest point of the curve is a day or so away.
      check_equal(near.elongation, segment.elongation, later ? 1e-7 : 0.005);
    }
  }
}

TEST_CASE("ageing curve: a new wire has the elongation of its record", "[population][curves]") {
  const casefile::Case job = read(case_of({}));
  const DrawnAnswer answer = answer_of(job);
  const SegmentEstimate& segment = answer.estimate.segments.front();
  const AgeingCurve curve = ageing_curve(job, records(), answer.population, segment, Years{5.0});
  const double initial = 0.01 * records().insulations.at("short-lived-1990s").initial_elongation.value;
  CHECK(curve.points.front().elongation.p50.value() == Approx(initial).epsilon(0.03));
  // Thresholds of this project for the record's elongation: 0.4 e0; ordinary handling 1.5 d/(d + 5 d); 1 %.
  CHECK(curve.thresholds.stiff.value() == Approx(0.4 * initial));
  CHECK(curve.thresholds.flex_cracks.value() == Approx(0.25));
  CHECK(curve.thresholds.crumbling.value() == Approx(0.01));
  // Half the draws crack when handled by the year in which the middle of the elongations falls below that threshold; the
  // threshold itself differs from draw to draw, so about.
  const Years half = segment.flex_cracks.p50;
  const AgeingCurve far = ageing_curve(job, records(), answer.population, segment, Years{std::max(half.value(), 1.0)}, 400);
  CHECK(point_at(far, half).elongation.p50.value() == Approx(0.25).epsilon(0.35));
}

TEST_CASE("life line: one process follows the Arrhenius law", "[population][curves]") {
  const library::Library library = with_one_process();
  const casefile::Case job = read(case_of({.insulation = "xlpo-125"}), library);
  const DrawnAnswer answer = answer_of(job, library);
  const SegmentEstimate& segment = answer.estimate.segments.front();
  const LifeLine line =
      life_line(job, library, answer.population, segment, {celsius(100.0), celsius(125.0), celsius(150.0)});
  REQUIRE(line.points.size() == 3);
  // exp(1e5/8.31446261815324 * (1/373.15 - 1/423.15)), evaluated with 30 digits.
  constexpr double factor = 45.084372360624759;
  CHECK(line.points[0].life.p10 / line.points[2].life.p10 == Approx(factor).epsilon(1e-9));
  CHECK(line.points[0].life.p50 / line.points[2].life.p50 == Approx(factor).epsilon(1e-9));
  CHECK(line.points[0].life.p90 / line.points[2].life.p90 == Approx(factor).epsilon(1e-9));
  // A straight law is its own straight line.
  for (const LifeAt& one : line.points) CHECK(one.straight.value() == Approx(one.life.p50.value()).epsilon(1e-9));
  const library::Insulation& record = library.insulations.at("xlpo-125");
  CHECK(in_celsius(line.oven) == Approx(record.life_temperature.value));
  CHECK(line.oven_hours.value() == record.life_hours.value);
}

TEST_CASE("life line: two processes bend it, and the straight line from the ovens promises too much where it is cool",
          "[population][curves]") {
  // Curvature of this kind below the temperatures of the ovens: published for polypropylene, Celina, Gillen & Assink 2005,
  // Polym. Degrad. Stab. 90, 395-404 (from memory).
  const casefile::Case job = read(case_of({}));
  const DrawnAnswer answer = answer_of(job);
  const SegmentEstimate& segment = answer.estimate.segments.front();
  REQUIRE(records().insulations.at(segment.insulation).paths.size() > 1);
  std::vector<Kelvin> temperatures;
  for (double degrees = 0.0; degrees <= 140.0; degrees += 20.0) temperatures.push_back(celsius(degrees));
  const LifeLine line = life_line(job, records(), answer.population, segment, temperatures);
  CHECK(line.points.front().straight.value() > 2.0 * line.points.front().life.p50.value());
  for (std::size_t i = 1; i < line.points.size(); ++i) {
    CHECK(line.points[i].life.p50 < line.points[i - 1].life.p50);
    CHECK(line.points[i].life.p10 < line.points[i].life.p50);
    CHECK(line.points[i].life.p50 < line.points[i].life.p90);
  }
  // The life in service lies near the line at the temperature that ages as much.
  const LifeLine here = life_line(job, records(), answer.population, segment, {segment.equivalent_temperature});
  const double in_service = 20.0 + segment.flex_cracks.p50.value();
  CHECK(here.points.front().life.p50.value() == Approx(in_service).epsilon(0.35));
}

TEST_CASE("heat bands: they add up to the estimate's shares and to a year", "[population][curves]") {
  const library::Library library = with_one_process();
  const casefile::Case job = read(case_of({.insulation = "xlpo-125"}), library);
  const Estimate estimate = likely_estimate(job, library);
  for (const SegmentEstimate& segment : estimate.segments) {
    const auto bands = heat_bands(job, library, estimate.zone_scores, true, segment);
    exposure::PerRegime shares{};
    double hours = 0.0;
    for (const HeatBand& band : bands) {
      CHECK(band.to_celsius - band.from_celsius == 10);
      hours += exposure::total(band.hours_a_year);
      for (std::size_t i = 0; i < shares.size(); ++i) shares[i] += band.share[i];
    }
    CHECK(hours == Approx(hours_per_year).epsilon(1e-9));
    CHECK(exposure::total(shares) == Approx(1.0).epsilon(1e-9));
    for (std::size_t i = 0; i < shares.size(); ++i) CHECK(shares[i] == Approx(segment.damage_share[i]).margin(1e-9));

    // Arrhenius law with 100 kJ/mol: ageing per hour between the rates at a band's edges, half a degree for the rounding.
    const auto rate = [](double degrees) { return std::exp(-1.0e5 / 8.31446261815324 / (degrees + 273.15)); };
    for (const HeatBand& band : bands) {
      if (exposure::total(band.hours_a_year) < 20.0) continue;
      for (const HeatBand& other : bands) {
        if (other.from_celsius <= band.to_celsius || exposure::total(other.hours_a_year) < 20.0) continue;
        const double ratio = (exposure::total(other.share) / exposure::total(other.hours_a_year)) /
                             (exposure::total(band.share) / exposure::total(band.hours_a_year));
        CHECK(ratio >= rate(other.from_celsius - 0.5) / rate(band.to_celsius + 0.5));
        CHECK(ratio <= rate(other.to_celsius + 0.5) / rate(band.from_celsius - 0.5));
      }
    }
  }
}

TEST_CASE("curves: of all segments at once as one by one, and without what was known of the heat", "[population][curves]") {
  // Rules of this project: what is remembered between questions changes no answer. Another way: every question starts anew.
  Scene scene;
  scene.zones = {"head-cover", "cabin-bulkhead"};
  const casefile::Case job = read(case_of(scene));
  const DrawnAnswer answer = answer_of(job);
  Population forgetful = answer.population;
  forgetful.memory.reset();
  const std::vector<Kelvin> at{celsius(90.0), celsius(130.0)};
  const std::vector<SegmentEstimate>& segments = answer.estimate.segments;
  const auto all = segment_curves(job, records(), answer.population, segments, Years{10.0}, at, 9);
  REQUIRE(all.size() == segments.size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    const AgeingCurve ageing = ageing_curve(job, records(), forgetful, segments[i], Years{10.0}, 9);
    const LifeLine life = life_line(job, records(), forgetful, segments[i], at);
    const auto heat = heat_bands(job, records(), answer.estimate.zone_scores, true, segments[i]);
    REQUIRE(all[i].ageing.points.size() == ageing.points.size());
    for (std::size_t k = 0; k < ageing.points.size(); ++k)
      check_equal(all[i].ageing.points[k].elongation, ageing.points[k].elongation);
    for (std::size_t k = 0; k < at.size(); ++k)
      CHECK(all[i].life.points[k].life.p50.value() == Approx(life.points[k].life.p50.value()).epsilon(1e-12));
    REQUIRE(all[i].heat.size() == heat.size());
    for (std::size_t k = 0; k < heat.size(); ++k)
      CHECK(exposure::total(all[i].heat[k].share) == Approx(exposure::total(heat[k].share)).margin(1e-12));
  }
}

TEST_CASE("curves: what does not belong to the case is refused", "[population][curves][error]") {
  const casefile::Case job = read(case_of({}));
  const DrawnAnswer answer = answer_of(job);
  SegmentEstimate other = answer.estimate.segments.front();
  CHECK_THROWS_AS(ageing_curve(job, records(), answer.population, other, Years{0.0}), DomainError);
  CHECK_THROWS_AS(ageing_curve(job, records(), answer.population, other, Years{5.0}, 1), DomainError);
  other.worst_stretch = "nowhere";
  CHECK_THROWS_AS(ageing_curve(job, records(), answer.population, other, Years{5.0}), DomainError);
  CHECK_THROWS_AS(life_line(job, records(), answer.population, other, {celsius(50.0)}), DomainError);
  other.id = "no such segment";
  CHECK_THROWS_AS(heat_bands(job, records(), answer.estimate.zone_scores, true, other), DomainError);
}
