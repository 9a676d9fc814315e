// A case in many draws: the tables and closed kinetics of the draws against the integrated path, one draw at a time.
#include "heatside/population/drawn_estimate.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "population/cases.hpp"
#include "population/drawn_case.hpp"

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

Json scene_in(const std::vector<std::string>& zones, const std::string& insulation = "short-lived-1990s") {
  Scene scene;
  scene.insulation = insulation;
  scene.zones = zones;
  return case_of(scene);
}

Estimate drawn(const Json& document, DrawOptions options = {.draws = 2000}) {
  return drawn_estimate(read(document), records(), options);
}

// The library with one compound and the notch factor as a draw has them.
library::Library with_draw(const LotDraws& lot, std::size_t draw, double notch_score) {
  library::Library library = records();
  const CompoundDraws& compound = lot.compounds.front();
  library::Insulation& insulation = library.insulations.at(compound.insulation->head.id);
  insulation.lot_median.value = compound.lot[draw];
  insulation.initial_elongation.value = 100.0 * compound.initial[draw];
  insulation.end_elongation.value = std::min(insulation.end_elongation.value, 50.0 * compound.initial[draw]);
  for (std::size_t path = 0; path < insulation.paths.size(); ++path) {
    insulation.paths[path].activation_energy.value = 1.0e-3 * compound.paths[path].energy[draw];
    insulation.paths[path].share.value = compound.paths[path].share[draw];
  }
  const Sourced& notch = records().model.condition.notch_factor;
  const double end = notch_score > 0.0 ? *notch.high : *notch.low;
  library.model.condition.notch_factor.value = notch.value * std::pow(end / notch.value, std::abs(notch_score) / 1.645);
  return library;
}

// Years until flex-cracks of the only place of a case with the draw's numbers, its kinetics integrated step by step.
double integrated_years(casefile::Case job, const library::Library& library, double score, double decay, double usage,
                        double factor) {
  for (casefile::ServicePeriod& period : job.service) period.usage *= usage;
  job.future.usage *= usage;
  const std::string zone = job.segments.front().stretches.front().zone;
  LikelyPlaces places{job, library, false, {{zone, score}}, decay};
  const Place at = places.places(0).front();
  const ageing::Kinetics kinetics = ageing::likely_kinetics(at.insulation, library.model);
  const ageing::ConditionThresholds limits =
      ageing::condition_thresholds(kinetics.initial, PerKelvin{at.insulation.expansion.value},
                                   {at.group.outer_diameter, *at.segment.route_radius}, library.model);
  std::vector<ageing::ClockSpan> past;
  for (const AgedSpan& span : places.past(at))
    past.push_back({span.length, {factor * exposure::total(span.extent), factor * span.guard}});
  const AgedSpan future = places.future(at);
  return ageing::years_until(kinetics, past, {factor * exposure::total(future.extent), factor * future.guard},
                             limits.flex_cracks, ageing::Solution::integrated)
      .value();
}

const SegmentEstimate& same(const Estimate& estimate, const std::string& id) { return segment(estimate, id); }

}  // namespace

TEST_CASE("draws: tables and closed kinetics agree with the integrated path in every draw", "[population][draws]") {
  struct Scenery {
    std::string zone, insulation, climate, duty;
    std::size_t draws;
  };
  const Scenery scenery = GENERATE(Scenery{"head-cover", "short-lived-1990s", "mediterranean", "family", 500},
                                   Scenery{"upper-bulkhead", "pvc-105", "continental", "commuter", 250},
                                   Scenery{"engine-valley", "xlpo-125", "cold", "taxi", 250});
  Scene scene;
  scene.zones = {scenery.zone};
  scene.insulation = scenery.insulation;
  scene.climate = scenery.climate;
  scene.duty = scenery.duty;
  const casefile::Case job = read(case_of(scene));
  Normals normals{7, scenery.draws};
  const exposure::ZoneScores scores = exposure::zone_scores(job, records());
  DrawnCase drawn_case{job, records(), scores, true};
  const SegmentDraws draws = drawn_case.segment(0, normals);
  const std::vector<double> fast = years_until(draws, 1);
  const LotDraws lot = lot_draws(job, job.lots.front(), records(), normals);
  const std::vector<double> bay = normals.of(quantity::bay), zone = normals.of(quantity::zone(scenery.zone)),
                            decay = normals.of(quantity::soak_decay), usage = normals.of(quantity::usage),
                            notch = normals.of(quantity::notch);
  const double age = years_between(job.looms.front().made.day, job.inspected.day).value();
  double worst = 0.0;
  for (std::size_t n = 0; n < scenery.draws; ++n) {
    const double score = std::clamp(std::sqrt(0.5) * (bay[n] + zone[n]), -4.0, 4.0);
    const double direct =
        integrated_years(job, with_draw(lot, n, notch[n]), score, std::exp(0.25 * std::clamp(decay[n], -4.0, 4.0)),
                         std::exp(0.28 * usage[n]), draws.stretches.front().factor[n]);
    worst = std::max(worst, std::abs(fast[n] - direct) / (age + direct));
  }
  CAPTURE(scenery.zone, worst);
  CHECK(worst < 1.0e-3);
}

TEST_CASE("draws: the likely case lies among them", "[population][draws]") {
  const Json document = scene_in({"head-cover", "upper-bulkhead", "cabin-bulkhead"});
  const Estimate likely = estimate_of(document);
  const Estimate many = drawn(document);
  for (const SegmentEstimate& one : many.segments) {
    INFO(one.id);
    const double years = same(likely, one.id).flex_cracks.p50.value();
    CHECK(one.flex_cracks.p10.value() < years);
    CHECK(one.flex_cracks.p90.value() > years);
    CHECK(one.flex_cracks.p10 < one.flex_cracks.p50);
    CHECK(one.elongation.p10 <= one.elongation.p50);
    double sum = 0.0;
    for (const double chance : one.chance) sum += chance;
    CHECK_THAT(sum, WithinRel(1.0, 1e-9));
  }
}

TEST_CASE("draws: chances with the stretch integrated out are those of the drawn years", "[population][draws]") {
  const casefile::Case job = read(scene_in({"upper-bulkhead"}));
  const std::size_t count = 4000;
  Normals normals{11, count};
  const exposure::ZoneScores scores = exposure::zone_scores(job, records());
  DrawnCase drawn_case{job, records(), scores, true};
  const SegmentDraws draws = drawn_case.segment(0, normals);
  for (const double after : {-5.0, 0.0, 6.0}) {
    const ConditionRow chances = mean_chances(even_belief(count), chances_at(draws, Years{after}, 0.25));
    double cracked = 0.0, flex = 0.0;
    for (const double years : years_until(draws, 2)) cracked += years <= after ? 1.0 / static_cast<double>(count) : 0.0;
    for (const double years : years_until(draws, 1)) flex += years <= after ? 1.0 / static_cast<double>(count) : 0.0;
    // Four standard errors of a fraction of 4000.
    CHECK_THAT(chances[3] + chances[4], WithinAbs(cracked, 4.0 * 0.5 / std::sqrt(4000.0)));
    CHECK_THAT(chances[2] + chances[3] + chances[4], WithinAbs(flex, 4.0 * 0.5 / std::sqrt(4000.0)));
  }
}

TEST_CASE("draws: order of segments and unrelated ones change nothing", "[population][draws]") {
  const Json few = scene_in({"head-cover", "upper-bulkhead"});
  Json more = scene_in({"upper-bulkhead", "cabin-bulkhead", "head-cover"});
  const Estimate one = drawn(few), other = drawn(more);
  for (const char* id : {"head-cover", "upper-bulkhead"}) {
    CHECK(same(one, id).flex_cracks.p50.value() == same(other, id).flex_cracks.p50.value());
    CHECK(same(one, id).chance == same(other, id).chance);
  }
}

TEST_CASE("draws: another seed moves quantiles by no more than chance", "[population][draws]") {
  const Json document = scene_in({"upper-bulkhead"});
  const SegmentEstimate a = drawn(document, {.draws = 4000, .seed = 1}).segments.front();
  const SegmentEstimate b = drawn(document, {.draws = 4000, .seed = 2}).segments.front();
  const double spread = a.flex_cracks.p90.value() - a.flex_cracks.p10.value();
  CHECK_THAT(a.flex_cracks.p50.value(), WithinAbs(b.flex_cracks.p50.value(), 0.06 * spread));
  CHECK(a.flex_cracks.p50.value() != b.flex_cracks.p50.value());
}

TEST_CASE("draws: an unknown compound is drawn by its weights and explains most of the spread", "[population][draws]") {
  Json document = scene_in({"head-cover"});
  document["lots"][0]["insulation"] = {{"candidates", {{"short-lived-1990s", 0.5}, {"etfe", 0.5}}}};
  const SegmentEstimate one = drawn(document).segments.front();
  REQUIRE_FALSE(one.spread.empty());
  CHECK(one.spread.front().cause == "compound");
  CHECK(one.spread.front().share > 0.6);
  CHECK_THAT(one.chance[0], WithinAbs(0.5, 0.1));
}

TEST_CASE("draws: main effects of a spread sum to one with what acts together", "[population][draws]") {
  const Estimate estimate = drawn(scene_in({"head-cover", "cabin-bulkhead"}), {.draws = 4000});
  for (const SegmentEstimate& one : estimate.segments) {
    double sum = 0.0;
    for (const SpreadShare& part : one.spread) {
      CHECK(part.share >= 0.0);
      sum += part.share;
    }
    CHECK_THAT(sum, WithinAbs(1.0, 1e-9));
    CHECK(one.spread.back().cause == "together");
    CHECK(one.spread.back().share < 0.2);
  }
}

TEST_CASE("draws: later is worse", "[population][draws]") {
  const SegmentEstimate one =
      drawn(scene_in({"cabin-bulkhead"}), {.draws = 500, .at = {Years{5.0}, Years{20.0}}}).segments.front();
  REQUIRE(one.chance_at.size() == 2);
  CHECK(one.chance_at[0].chance[0] < one.chance[0]);
  CHECK(one.chance_at[1].chance[0] < one.chance_at[0].chance[0]);
}

TEST_CASE("draws: every column that is drawn is a named unknown", "[population][draws]") {
  Json document = scene_in({"head-cover"});
  document["lots"][0]["insulation"] = {{"candidates", {{"short-lived-1990s", 0.5}, {"pvc-105", 0.5}}}};
  document["segments"][0].erase("route_radius_mm");
  const casefile::Case job = read(document);
  Normals normals{1, 200};
  const exposure::ZoneScores scores = exposure::zone_scores(job, records());
  DrawnCase drawn_case{job, records(), scores, true};
  const SegmentDraws draws = drawn_case.segment(0, normals);
  std::vector<std::string> named;
  for (const Unknown& unknown : unknowns(job, records())) named.push_back(unknown.name);
  for (const auto& [name, column] : normals.columns()) {
    INFO(name);
    CHECK(std::find(named.begin(), named.end(), name) != named.end());
  }
}

TEST_CASE("draws: a record from a fit is drawn with the fit's covariance", "[population][draws]") {
  library::Library fitted = records();
  library::Insulation& insulation = fitted.insulations.at("xlpo-125");
  const Provenance from{"judgement", Grade::measured, ""};
  insulation.fit_covariance = library::FitCovariance{
      {0.04, "1", {}, {}, {}, from}, {0.6, "kJ/mol", {}, {}, {}, from}, {25.0, "kJ2/mol2", {}, {}, {}, from}};
  insulation.lot_ln_sd.value = 0.0;
  const casefile::Case job = read(scene_in({"head-cover"}, "xlpo-125"), fitted);
  const std::size_t count = 20000;
  Normals normals{3, count};
  const CompoundDraws compound = lot_draws(job, job.lots.front(), fitted, normals).compounds.front();
  double energy = 0.0, hours = 0.0, both = 0.0;
  for (std::size_t n = 0; n < count; ++n) {
    const double e = 1.0e-3 * compound.paths.front().energy[n] - insulation.paths.front().activation_energy.value;
    const double h = std::log(compound.lot[n] / insulation.lot_median.value);
    energy += e * e / static_cast<double>(count);
    hours += h * h / static_cast<double>(count);
    both += e * h / static_cast<double>(count);
  }
  // Sample (co)variances of 20 000 draws: four standard errors are 0.04 of a variance.
  CHECK_THAT(energy, WithinRel(25.0, 0.04));
  CHECK_THAT(hours, WithinRel(0.04, 0.04));
  CHECK_THAT(both, WithinAbs(0.6, 0.04));
}

TEST_CASE("draws: too few are refused", "[population][draws][error]") {
  CHECK_THROWS_AS(drawn(scene_in({"head-cover"}), {.draws = 20}), DomainError);
}
