// Remedies side by side. Facts of the trade: common practice, no source.
#include "heatside/remedy/remedies.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "heatside/base/error.hpp"
#include "heatside/remedy/faults.hpp"
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

casefile::Case job_of(const std::string& insulation) {
  heatside::population::testing::Scene scene;
  scene.insulation = insulation;
  Json document = case_of(scene);
  document["currency"] = "EUR";
  return read(document);
}

// A case in which the worst is known: what was seen there, by an opening.
casefile::Case seen_at(const std::string& insulation, const std::vector<std::pair<std::string, std::string>>& findings) {
  heatside::population::testing::Scene scene;
  scene.insulation = insulation;
  Json document = case_of(scene);
  document["currency"] = "EUR";
  document["findings"] = Json::array();
  for (const auto& [segment, seen] : findings)
    document["findings"].push_back(
        {{"segment", segment}, {"seen", seen}, {"method", "look-opening"}, {"cause", "heat"}, {"on", "2014-01-01"}});
  return read(document);
}

casefile::Remedy stated(const std::string& id, const std::string& kind, const std::string& insulation) {
  casefile::Remedy remedy;
  remedy.id = id;
  remedy.kind = kind;
  remedy.segments = {"head-cover", "upper-bulkhead", "cabin-bulkhead"};
  if (!insulation.empty()) remedy.candidates = {{insulation, 1.0}};
  remedy.compound_known = true;
  return remedy;
}

casefile::Remedy used_part(const std::string& insulation, int age, const casefile::Case& job, double price) {
  casefile::Remedy remedy = stated("used", "used-part", insulation);
  const auto made = job.inspected.day - std::chrono::days{std::lround(age * days_per_year)};
  remedy.made = exact_date(made);
  casefile::PartPast past;
  past.from = *remedy.made;
  past.to = job.inspected;
  past.climate = "mediterranean";
  past.duty = std::string{"family"};
  past.ln_sd = 0.15;
  remedy.past = past;
  remedy.parts_cost = price;
  return remedy;
}

casefile::Remedy new_part(const casefile::Case& job, double price) {
  casefile::Remedy remedy = stated("new", "new-part", "xlpo-125");
  remedy.made = job.inspected;
  remedy.parts_cost = price;
  return remedy;
}

Answer answered(const casefile::Case& job, const library::Library& library = records(), std::size_t draws = 1000) {
  return remedies(job, library, population::drawn_answer(job, library, {.draws = draws}));
}

const Result& result(const Question& question, const std::string& id) {
  for (const Result& one : question.results) {
    if (one.offer.remedy.id == id) return one;
  }
  throw std::runtime_error("no result " + id);
}

}  // namespace

TEST_CASE("remedies: on a loom that crumbles on the engine and is cracked at the bulkhead, leaving never wins",
          "[remedy][trade]") {
  const Answer answer = answered(seen_at("short-lived-1990s", {{"head-cover", "crumbling"}, {"upper-bulkhead", "cracked"}}));
  REQUIRE(answer.questions.size() == 1);
  const Question& question = answer.questions.front();
  const Result& leave = question.results.front();
  CHECK(leave.offer.act == RemedyAct::leave);
  CHECK_FALSE(leave.verdict.struck.empty());
  REQUIRE(question.best);
  CHECK(*question.best != 0);
  // Nor would it by its cost alone.
  CHECK(leave.expected > question.results[*question.best].expected);
}

TEST_CASE("remedies: a compound that lasts is left", "[remedy][trade]") {
  const Question question = answered(job_of("etfe")).questions.front();
  REQUIRE(question.best);
  CHECK(question.results[*question.best].offer.act == RemedyAct::leave);
  CHECK(question.results[*question.best].expected < 50.0);
}

TEST_CASE(
    "remedies: a dated used part of a modern compound is worth half the price of a new one, a short-lived one never is",
    "[remedy][trade]") {
  casefile::Case job = seen_at("short-lived-1990s", {{"head-cover", "crumbling"}});
  const int age = GENERATE(5, 10);
  CAPTURE(age);
  job.remedies = {new_part(job, 800.0), used_part("xlpo-125", age, job, 400.0)};
  const Question modern = answered(job).questions.front();
  REQUIRE(modern.best);
  CHECK(modern.results[*modern.best].offer.remedy.id == "used");
  job.remedies = {new_part(job, 800.0), used_part("short-lived-1990s", age, job, 400.0)};
  const Question again = answered(job).questions.front();
  REQUIRE(again.best);
  CHECK(again.results[*again.best].offer.remedy.id == "new");
  CHECK(result(again, "used").expected > result(again, "new").expected);
}

TEST_CASE("remedies: how old a used part may be depends on what it is of", "[remedy][used]") {
  casefile::Case job = seen_at("short-lived-1990s", {{"head-cover", "crumbling"}});
  job.remedies = {new_part(job, 800.0), used_part("xlpo-125", 12, job, 400.0)};
  const Question modern = answered(job).questions.front();
  REQUIRE(modern.used.size() == 1);
  REQUIRE(modern.used.front().oldest);
  CHECK(modern.used.front().oldest->day <= job.inspected.day - std::chrono::days{5 * 365});
  job.remedies[1] = used_part("short-lived-1990s", 12, job, 400.0);
  const Question again = answered(job).questions.front();
  CHECK((!again.used.front().oldest || again.used.front().oldest->day > modern.used.front().oldest->day));
  // At the price of a new one it is worth it at no age.
  job.remedies[1] = used_part("xlpo-125", 12, job, 900.0);
  CHECK_FALSE(answered(job).questions.front().used.front().oldest);
}

TEST_CASE("remedies: the parts of a cost add up and lie within its futures", "[remedy]") {
  const Question question = answered(job_of("short-lived-1990s")).questions.front();
  double cheapest = 0.0;
  for (const Result& one : question.results) {
    CAPTURE(one.offer.remedy.id);
    CHECK_THAT(one.parts + one.work + one.harm + one.faults, WithinRel(one.expected, 1e-9));
    CHECK(one.low <= one.high);
    CHECK(one.faults >= -1e-9);
    CHECK(one.fault_chance <= one.fault_count + 1e-9);  // Boole's inequality
    cheapest += one.cheapest;
  }
  CHECK_THAT(cheapest, WithinAbs(1.0, 1e-9));
}

TEST_CASE("remedies: two outcomes by hand", "[remedy]") {
  // With a chance of a fault of 0.3 in ten years in every condition but supple, one segment left in costs
  // (1 - 0.7^(t/10)) (stop + mending), t the years that it is stiff or worse within the ten to come.
  library::Library library = records();
  for (Sourced* chance : {&library.model.opening.fault_stiff, &library.model.opening.fault_flex_cracks,
                          &library.model.opening.fault_cracked, &library.model.opening.fault_crumbling}) {
    chance->value = 0.3;
    chance->low = chance->high = std::nullopt;
  }
  library.model.opening.fault_years.value = 10.0;
  heatside::population::testing::Scene scene;
  scene.zones = {"head-cover"};
  Json document = case_of(scene);
  document["currency"] = "EUR";
  casefile::Case job = read(document, library);
  job.costs.per_minute = 2.0;
  job.costs.stop = 500.0;
  // No whole loom is offered, so that its fault is mended and nothing follows.
  casefile::Remedy cover = stated("sleeve", "sleeve-and-tape", "");
  cover.covering = "tape-pvc";
  cover.segments = {job.segments.front().id};
  job.remedies = {cover};
  const double mending = library.model.opening.break_cost.value * 2.0;
  const auto answer = population::drawn_answer(job, library, {.draws = 1000});
  const auto years = population::years_to_conditions(job, library, answer.population, {0});
  double chance = 0.0;
  for (const double stiff : years.front().until[0])
    chance += 1.0e-3 * (1.0 - std::pow(0.7, (10.0 - std::clamp(stiff, 0.0, 10.0)) / 10.0));
  REQUIRE(chance > 0.25);  // old and of a short life: stiff in nearly every draw
  const Result leave = remedies(job, library, answer, {.knowing = false}).questions.front().results.front();
  CHECK_THAT(leave.fault_chance, WithinAbs(chance, 1e-9));
  CHECK_THAT(leave.expected, WithinAbs(chance * (500.0 + mending), 1e-6));
  CHECK_THAT(leave.stops, WithinAbs(chance, 1e-9));
  CHECK(leave.low == 0.0);
  CHECK_THAT(leave.high, WithinAbs(500.0 + mending, 1e-9));
}

TEST_CASE("remedies: the cost of a stop at which the choice changes, against working it out anew", "[remedy]") {
  casefile::Case job = job_of("xlpo-125");
  job.remedies = {new_part(job, 300.0)};
  const auto answer = population::drawn_answer(job, records(), {.draws = 1000});
  const Question question = remedies(job, records(), answer, {.knowing = false}).questions.front();
  REQUIRE(question.by_stop.size() == 2);
  const double at = question.by_stop[1].from_stop;
  for (const double stop : {0.5 * at, 0.999 * at, 1.001 * at, 2.0 * at}) {
    casefile::Case other = job;
    other.costs.stop = stop;
    const Question anew = remedies(other, records(), answer, {.knowing = false}).questions.front();
    CHECK(anew.results[*anew.best].offer.remedy.id ==
          question.results[question.by_stop[stop < at ? 0 : 1].line].offer.remedy.id);
    CHECK_THAT(anew.results[0].expected, WithinRel(question.results[0].expected_at(stop, worth_of(job, records())), 1e-9));
  }
}

TEST_CASE("remedies: a chance of a stop comes from the functions of circuits alone", "[remedy]") {
  casefile::Case job = job_of("short-lived-1990s");
  CHECK_FALSE(answered(job).questions.front().results.front().stop);
  library::Library library = records();
  library::Consequence harmless, stops;
  stops.stop_open.value = stops.stop_short.value = 1.0;
  library.consequences = {{"harmless", harmless}, {"stops", stops}};
  for (const char* const function : {"harmless", "stops"}) {
    casefile::Circuit circuit;
    circuit.id = function;
    circuit.function = function;
    circuit.segments = {"head-cover"};
    job.circuits = {circuit};
    const Result leave = answered(job, library).questions.front().results.front();
    REQUIRE(leave.stop);
    CHECK(leave.stop->counted == 1);
    CHECK(leave.stop->segments == 3);
    if (std::string{function} == "harmless") CHECK(leave.stop->chance == 0.0);
    if (std::string{function} == "stops") CHECK(leave.stop->chance > 0.1);
    CHECK(leave.stop->chance <= leave.fault_chance);
  }
}

TEST_CASE("remedies: a later fault costs less under a discount, and a longer look ahead costs more", "[remedy]") {
  casefile::Case job = job_of("xlpo-125");
  const auto answer = population::drawn_answer(job, records(), {.draws = 500});
  const auto leaving = [&](double discount, double years) {
    casefile::Case other = job;
    other.costs.discount_per_year = discount;
    other.costs.horizon = Years{years};
    return remedies(other, records(), answer, {.knowing = false}).questions.front().results.front().expected;
  };
  CHECK(leaving(0.05, 20.0) < leaving(0.0, 20.0));
  CHECK(leaving(0.0, 10.0) < leaving(0.0, 20.0));
}

TEST_CASE("remedies: a sleeve prevents some faults, costs its work and gives no year back", "[remedy][trade]") {
  casefile::Case job = job_of("short-lived-1990s");
  casefile::Remedy cover = stated("sleeve", "sleeve-and-tape", "");
  cover.covering = "tape-pvc";
  job.remedies = {cover};
  const Question question = answered(job).questions.front();
  const Result& sleeve = result(question, "sleeve");
  const Result& leave = question.results.front();
  CHECK(sleeve.faults < leave.faults);
  CHECK(sleeve.faults > 0.3 * leave.faults);  // the record says that it prevents no more than 0.7
  CHECK(sleeve.harm > 0.0);
  CHECK(sleeve.weakest.flex_cracks.p50.value() <= leave.weakest.flex_cracks.p50.value() + 1e-9);
}

TEST_CASE("remedies: looms that no remedy covers together are questions of their own", "[remedy][offered]") {
  heatside::population::testing::Scene scene;
  Json document = case_of(scene);
  document["looms"].push_back({{"id", "main"}, {"made", "1994-01-01"}, {"copper", "bare"}, {"region", "europe"}});
  document["lots"].push_back(heatside::population::testing::lot_of("pvc-105", "main-signal", "main"));
  document["segments"][2] = heatside::population::testing::segment_in("cabin-bulkhead", "main-signal", "main");
  casefile::Case job = read(document);
  const auto answer = population::drawn_answer(job, records(), {.draws = 300});
  std::vector<casefile::Assumption> assumptions;
  const auto built_in = offered(job, records(), answer, true, assumptions);
  REQUIRE(built_in.size() == 2);
  CHECK(built_in[0].offers.size() == 5);
  CHECK(built_in[0].offers.front().act == RemedyAct::leave);
  CHECK_FALSE(assumptions.empty());
  casefile::Remedy both = stated("both", "new-part", "xlpo-125");
  job.remedies = {both};
  const auto joined = offered(job, records(), answer, true, assumptions);
  REQUIRE(joined.size() == 1);
  CHECK(joined[0].looms.size() == 2);
  CHECK(joined[0].offers.size() == 2);
  both.segments = {"head-cover"};
  job.remedies = {both};
  CHECK(offered(job, records(), answer, true, assumptions).size() == 2);
  const auto stated_only = offered(job, records(), answer, false, assumptions);
  REQUIRE(stated_only.size() == 1);
  CHECK(stated_only[0].id == "top");
}

TEST_CASE("remedies: the opening order may use them", "[remedy][order]") {
  casefile::Case job = job_of("short-lived-1990s");
  job.remedies = {new_part(job, 800.0)};
  const auto answer = population::drawn_answer(job, records(), {.draws = 1000});
  const Question question = remedies(job, records(), answer, {.knowing = false}).questions.front();
  const population::ExpectedLosses losses = population::expected_losses(answer.knowledge, {question.choice});
  REQUIRE(losses.by_action.front().size() == 2);
  // Chances are soft, draws are not: they agree as samples do.
  CHECK_THAT(losses.by_action.front()[1], WithinRel(question.results[1].expected, 0.02));
  CHECK_THAT(losses.by_action.front()[0], WithinRel(question.results[0].expected, 0.1));
}

TEST_CASE("remedies: the same answer twice, and an unknown kind is named", "[remedy]") {
  casefile::Case job = job_of("xlpo-125");
  const auto answer = population::drawn_answer(job, records(), {.draws = 300});
  const Answer one = remedies(job, records(), answer), other = remedies(job, records(), answer);
  for (std::size_t i = 0; i < one.questions.front().results.size(); ++i)
    CHECK(one.questions.front().results[i].expected == other.questions.front().results[i].expected);
  job.remedies = {stated("odd", "prayer", "xlpo-125")};
  CHECK_THROWS_WITH(remedies(job, records(), answer), Contains("prayer"));
}
