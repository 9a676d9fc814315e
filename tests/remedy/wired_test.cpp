// A case once a remedy has been done.
#include "heatside/remedy/wired.hpp"

#include <catch2/catch.hpp>

#include "heatside/base/error.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "population/cases.hpp"

using namespace heatside;
using namespace heatside::remedy;
using heatside::population::testing::case_of;
using heatside::population::testing::read;
using heatside::population::testing::records;
using library::RemedyAct;

namespace {

casefile::Remedy new_part(const std::vector<std::string>& segments) {
  casefile::Remedy remedy;
  remedy.id = "new";
  remedy.kind = "new-part";
  remedy.segments = segments;
  remedy.candidates = {{"xlpo-125", 1.0}};
  remedy.compound_known = true;
  return remedy;
}

}  // namespace

TEST_CASE("wired: what goes in is a loom of its own, what stays keeps its own", "[remedy][wired]") {
  const casefile::Case job = read(case_of({}));
  casefile::Remedy remedy = new_part({"head-cover", "upper-bulkhead"});
  remedy.made = parse_date("2013-06");
  const casefile::Case changed = wired(job, remedy, RemedyAct::new_part);
  CHECK(changed.segments[0].loom == "new/top");
  CHECK(changed.segments[2].loom == "top");
  CHECK(changed.segments[2].groups.front().lot == "signal");
  const casefile::Loom& loom = *casefile::find_by_id(changed.looms, "new/top");
  CHECK(loom.fitted.day == job.inspected.day);
  CHECK(loom.made == *remedy.made);
  CHECK(casefile::find_by_id(changed.lots, "new/signal")->candidates.front().insulation == "xlpo-125");
  CHECK(wired(job, remedy, RemedyAct::leave).looms.size() == job.looms.size());
}

TEST_CASE("wired: a used part brings its past, and without a date it is as old as its donor", "[remedy][wired]") {
  const casefile::Case job = read(case_of({}));
  casefile::Remedy remedy = new_part({"head-cover"});
  CHECK(made_of(job, remedy, RemedyAct::new_part).day == job.inspected.day);
  CHECK(made_of(job, remedy, RemedyAct::used_part).day == job.built.day);
  casefile::PartPast past;
  past.from = *parse_date("2000-01-01");
  past.to = *parse_date("2010-01-01");
  past.climate = "mediterranean";
  past.duty = std::string{"family"};
  remedy.past = past;
  CHECK(made_of(job, remedy, RemedyAct::used_part).day == past.from.day);
  const casefile::Case changed = wired(job, remedy, RemedyAct::used_part);
  REQUIRE(casefile::find_by_id(changed.looms, "new/top")->elsewhere);
  CHECK_FALSE(casefile::find_by_id(wired(job, remedy, RemedyAct::new_part).looms, "new/top")->elsewhere);
}

TEST_CASE("wired: new insulation lives through its years again, and a used part has some of them behind it",
          "[remedy][wired]") {
  const casefile::Case job = read(case_of({}));
  const auto answer = population::drawn_answer(job, records(), {.draws = 400});
  const auto middle = [&](const casefile::Case& of) {
    const auto years = population::years_to_conditions(of, records(), answer.population, {0});
    return population::quantiles(answer.population.belief, years.front().until[1], {0.5}).front();
  };
  casefile::Remedy remedy = new_part({"head-cover"});
  remedy.candidates = {{"short-lived-1990s", 1.0}};
  // A part of the same compound, driven for 5 years elsewhere in the same way, and one that is new.
  casefile::PartPast past;
  past.to = job.inspected;
  past.from = exact_date(job.inspected.day - std::chrono::days{1826});
  past.climate = "mediterranean";
  past.duty = std::string{"family"};
  past.parking = casefile::Parking::garage;
  const double fresh = middle(wired(job, remedy, RemedyAct::new_part));
  remedy.past = past;
  const double used = middle(wired(job, remedy, RemedyAct::used_part));
  CHECK(fresh > middle(job));
  CHECK(used == Approx(fresh - 5.0).margin(1.0));  // the same use and climate: five years less, but for the lot's own draw
}

TEST_CASE("wired: a closed cover takes years, never gives any", "[remedy][wired]") {
  const casefile::Case job = read(case_of({}));
  const library::Insulation& insulation = records().insulations.at("short-lived-1990s");
  CHECK(life_under_cover(job, records(), 0, "tape-pvc") ==
        Approx(std::min(1.0, insulation.life_factors.closed_cover.value)));
  CHECK(life_under_cover(job, records(), 0, "sleeve-glass") == 1.0);
  CHECK_THROWS_AS(life_under_cover(job, records(), 0, "paper"), DomainError);
}
