// What an owner does about a loom that is left in: one fault, and then the renewal. Closed forms: exponential lives and
// competing risks, Barlow & Proschan 1965, Mathematical Theory of Reliability (from memory).
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "heatside/remedy/faults.hpp"
#include "heatside/remedy/remedies.hpp"
#include "population/cases.hpp"

using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::remedy;
using heatside::population::testing::case_of;
using heatside::population::testing::Json;
using heatside::population::testing::read;
using heatside::population::testing::records;
using library::RemedyAct;

namespace {

constexpr double never = std::numeric_limits<double>::infinity();

// One hazard from a time on.
RunningRisk constant(double from, double per_year, double stops) {
  return {{RateStep{from, per_year}, RateStep{never, 0.0}, RateStep{never, 0.0}, RateStep{never, 0.0}}, stops, stops};
}

// Segments of which every draw faults at the same constant rate, whatever their condition.
library::Library with_one_hazard(double chance_in_ten_years) {
  library::Library library = records();
  for (Sourced* chance : {&library.model.opening.fault_stiff, &library.model.opening.fault_flex_cracks,
                          &library.model.opening.fault_cracked, &library.model.opening.fault_crumbling}) {
    chance->value = chance_in_ten_years;
    chance->low = chance->high = std::nullopt;
  }
  library.model.opening.fault_years.value = 10.0;
  return library;
}

casefile::Case two_segments(const library::Library& library) {
  heatside::population::testing::Scene scene;
  scene.insulation = "short-lived-1990s";
  scene.zones = {"head-cover", "upper-bulkhead"};
  Json document = case_of(scene);
  document["currency"] = "EUR";
  casefile::Case job = read(document, library);
  job.costs.per_minute = 2.0;
  job.costs.stop = 500.0;
  return job;
}

// A part that lasts: its own faults are none.
casefile::Remedy lasting_part(const casefile::Case& job, double price) {
  casefile::Remedy remedy;
  remedy.id = "new";
  remedy.kind = "new-part";
  for (const casefile::Segment& segment : job.segments) remedy.segments.push_back(segment.id);
  remedy.candidates = {{"etfe", 1.0}};
  remedy.compound_known = true;
  remedy.made = job.inspected;
  remedy.parts_cost = price;
  remedy.minutes = Minutes{100.0};
  return remedy;
}

}  // namespace

TEST_CASE("policy: the first of two exponential faults, in closed form", "[remedy][policy]") {
  const double one = GENERATE(0.02, 0.5), other = 0.1, rate = GENERATE(0.0, 0.04), horizon = 10.0;
  CAPTURE(one, rate);
  const std::array<RunningRisk, 2> risks{constant(-3.0, one, 0.25), constant(0.0, other, 1.0)};
  const FirstFault first = first_fault(risks, Years{horizon}, rate);
  const double sum = one + other, d = std::log(1.0 + rate), k = sum + d;
  const double lost = (1.0 - std::exp(-k * horizon)) / k;
  CHECK_THAT(first.chance, WithinRel(1.0 - std::exp(-sum * horizon), 1e-12));
  CHECK_THAT(first.discounted, WithinRel(sum * lost, 1e-12));
  CHECK_THAT(first.stops, WithinRel((0.25 * one + other) * lost, 1e-12));
  CHECK_THAT(first.stop_chance, WithinRel((0.25 * one + other) / sum * (1.0 - std::exp(-sum * horizon)), 1e-12));
  // int_0^H (1 - t/H) sum exp(-k t) dt = sum (1/k - lost/(k H)), by parts.
  CHECK_THAT(first.left, WithinRel(sum * (1.0 / k - lost / (k * horizon)), 1e-12));
}

TEST_CASE("policy: a hazard that begins later, and one that rises, against summing up small steps", "[remedy][policy]") {
  const std::array<RunningRisk, 2> risks{
      RunningRisk{{RateStep{-5.0, 0.01}, RateStep{-1.0, 0.02}, RateStep{4.0, 0.2}, RateStep{7.0, 0.6}}, 0.5, 0.0},
      RunningRisk{{RateStep{2.0, 0.05}, RateStep{2.0, 0.1}, RateStep{12.0, 0.3}, RateStep{never, 0.9}}, 1.0, 0.0}};
  const auto hazard = [](double t) { return t < 4.0 ? 0.02 : (t < 7.0 ? 0.2 : 0.6); };
  const auto second = [](double t) { return t < 2.0 ? 0.0 : 0.1; };
  constexpr double step = 1.0e-4;
  double passed = 0.0, discounted = 0.0, stops = 0.0, left = 0.0;
  for (double t = 0.5 * step; t < 10.0; t += step) {
    const double both = hazard(t) + second(t), now = std::exp(-passed - 0.5 * step * both - std::log(1.03) * t) * step;
    discounted += both * now;
    stops += (0.5 * hazard(t) + second(t)) * now;
    left += (1.0 - t / 10.0) * both * now;
    passed += step * both;
  }
  const FirstFault first = first_fault(risks, Years{10.0}, 0.03);
  CHECK_THAT(first.chance, WithinRel(1.0 - std::exp(-passed), 1e-6));
  CHECK_THAT(first.discounted, WithinRel(discounted, 1e-5));
  CHECK_THAT(first.stops, WithinRel(stops, 1e-5));
  CHECK_THAT(first.left, WithinRel(left, 1e-5));
  CHECK(first.stop_chance == 0.0);
}

TEST_CASE("policy: one segment is its own first fault", "[remedy][policy]") {
  const std::array<RateStep, 4> steps{RateStep{-2.0, 0.01}, RateStep{1.0, 0.05}, RateStep{3.0, 0.1}, RateStep{20.0, 0.4}};
  const std::array<RunningRisk, 1> alone{RunningRisk{steps, 1.0, 1.0}};
  const FirstFault first = first_fault(alone, Years{10.0}, 0.05);
  const FaultRisk risk = fault_risk(steps, Years{10.0}, 0.05);
  CHECK_THAT(first.chance, WithinRel(risk.chance, 1e-12));
  CHECK_THAT(first.discounted, WithinRel(risk.discounted, 1e-12));
  CHECK_THAT(first_fault(alone, Years{10.0}, 0.0).left, WithinRel(1.0 - risk.years_without / 10.0, 1e-9));
}

TEST_CASE("policy: two segments left in cost one fault and one renewal, by hand", "[remedy][policy]") {
  // Both stiff or worse at once in every draw that counts: h = -ln(1 - 0.3) / 10 in each from its year of stiffness on.
  const library::Library library = with_one_hazard(0.3);
  casefile::Case job = two_segments(library);
  job.remedies = {lasting_part(job, 900.0)};
  const auto answer = population::drawn_answer(job, library, {.draws = 1000});
  const auto years = population::years_to_conditions(job, library, answer.population, {0, 1});
  const double h = -std::log(0.7) / 10.0, mending = library.model.opening.break_cost.value * 2.0;
  double chance = 0.0;
  for (std::size_t n = 0; n < 1000; ++n) {
    double exposed = 0.0;  // [a] of both together
    for (const auto& segment : years) exposed += 10.0 - std::clamp(segment.until[0][n], 0.0, 10.0);
    chance += 1.0e-3 * (1.0 - std::exp(-h * exposed));
  }
  REQUIRE(chance > 0.4);
  const Question question = remedies(job, library, answer, {.knowing = false}).questions.front();
  const Result &leave = question.results[0], &fresh = question.results[1];
  REQUIRE(leave.after.size() == 1);
  REQUIRE(leave.after.front().renewal == std::optional<std::size_t>{1});
  CHECK(fresh.after.empty());
  CHECK_THAT(fresh.fault_count, WithinAbs(0.0, 1e-3));
  CHECK_THAT(leave.after.front().chance, WithinAbs(chance, 1e-9));
  CHECK_THAT(leave.after.front().price, WithinAbs(900.0 + 2.0 * 100.0, 1e-9));
  CHECK_THAT(leave.fault_chance, WithinAbs(chance, 1e-9));
  CHECK_THAT(leave.fault_count, WithinAbs(chance, 1e-9));
  CHECK_THAT(leave.stops, WithinAbs(chance, 1e-3));
  CHECK_THAT(leave.expected, WithinRel(chance * (500.0 + mending + 1100.0), 1e-3));
  // Nobody pays more than one of each, whatever turns out.
  CHECK(leave.high <= 500.0 + mending + 1100.0 + 1.0);
  CHECK(leave.low == 0.0);
}

TEST_CASE("policy: without a renewal of the whole loom, faults are mended one by one", "[remedy][policy]") {
  const library::Library library = with_one_hazard(0.3);
  casefile::Case job = two_segments(library);
  job.remedies = {lasting_part(job, 900.0)};
  job.remedies.front().segments.pop_back();
  const auto answer = population::drawn_answer(job, library, {.draws = 1000});
  const Question question = remedies(job, library, answer, {.knowing = false}).questions.front();
  const Result& leave = question.results.front();
  REQUIRE(leave.after.size() == 1);
  CHECK_FALSE(leave.after.front().renewal);
  CHECK(leave.fault_count > leave.fault_chance + 0.05);
  const double mending = library.model.opening.break_cost.value * 2.0;
  CHECK_THAT(leave.expected, WithinRel(leave.fault_count * (500.0 + mending), 1e-9));
}

TEST_CASE("policy: the cheaper renewal is taken, and one that is itself about to crack is not", "[remedy][policy]") {
  casefile::Case job = two_segments(records());
  casefile::Remedy dear = lasting_part(job, 900.0), cheap = lasting_part(job, 300.0);
  cheap.id = "cheap";
  job.remedies = {dear, cheap};
  const auto answer = population::drawn_answer(job, records(), {.draws = 500});
  const auto after = [&] {
    const Question question = remedies(job, records(), answer, {.knowing = false}).questions.front();
    return question.results[question.results.front().after.front().renewal.value()].offer.remedy.id;
  };
  CHECK(after() == "cheap");
  // As old as the loom that is ruined, and of the same compound.
  casefile::Remedy& ruined = job.remedies[1];
  ruined.kind = "used-part";
  ruined.candidates = {{"short-lived-1990s", 1.0}};
  ruined.made = job.looms.front().fitted;
  casefile::PartPast past;
  past.from = *ruined.made;
  past.to = job.inspected;
  past.climate = "mediterranean";
  past.duty = std::string{"family"};
  ruined.past = past;
  CHECK(after() == "new");
  const Question question = remedies(job, records(), answer, {.knowing = false}).questions.front();
  REQUIRE_FALSE(question.results[2].verdict.struck.empty());
  CHECK_THAT(question.results[2].verdict.struck.back(), Contains("no repair"));
}

TEST_CASE("policy: a sleeve prevents its share of the faults and gives no year back", "[remedy][policy]") {
  library::Library library = with_one_hazard(0.3);
  Sourced& prevents = library.remedies.at("sleeve-and-tape").prevents;
  prevents.low = prevents.high = std::nullopt;
  casefile::Case job = two_segments(library);
  casefile::Remedy sleeve;
  sleeve.id = "sleeve";
  sleeve.kind = "sleeve-and-tape";
  sleeve.covering = "sleeve-glass";
  for (const casefile::Segment& segment : job.segments) sleeve.segments.push_back(segment.id);
  job.remedies = {sleeve};
  const auto answer = population::drawn_answer(job, library, {.draws = 500});
  const auto asked = [&](double share) {
    prevents.value = share;
    return remedies(job, library, answer, {.knowing = false}).questions.front().results;
  };
  const auto none = asked(0.0), half = asked(0.5);
  // A hazard times 1 - s leaves the chance 1 - (1 - p)^(1 - s): between half and all of it at s = 0.5.
  CHECK(half[1].fault_count < none[1].fault_count);
  CHECK(half[1].fault_count > 0.5 * none[1].fault_count);
  CHECK(half[1].weakest.flex_cracks.p50.value() == none[1].weakest.flex_cracks.p50.value());
  CHECK(half[0].expected == none[0].expected);
}

TEST_CASE("policy: the opening order reckons with the same expected costs", "[remedy][policy][order]") {
  casefile::Case job = two_segments(records());
  job.remedies = {lasting_part(job, 900.0)};
  const auto answer = population::drawn_answer(job, records(), {.draws = 1000});
  const Question question = remedies(job, records(), answer, {.knowing = false}).questions.front();
  const auto losses = population::expected_losses(answer.knowledge, {question.choice}).by_action.front();
  REQUIRE(losses.size() == question.results.size());
  // Chances of conditions are soft and draws are not: they agree as samples do.
  CHECK_THAT(losses[0], WithinRel(question.results[0].expected, 0.1));
  CHECK_THAT(losses[1], WithinRel(question.results[1].expected, 0.02));
}
