// Rules that no price overrides. Facts of the trade: common practice, no source.
#include "heatside/remedy/rules.hpp"

#include <catch2/catch.hpp>

#include "population/cases.hpp"

using Catch::Contains;
using namespace heatside;
using namespace heatside::remedy;
using heatside::population::testing::case_of;
using heatside::population::testing::read;
using library::RemedyAct;

namespace {

const std::vector<std::size_t> all{0, 1, 2};

// Consequence records and a case of three segments of one loom: head-cover, upper-bulkhead, cabin-bulkhead.
library::Library records_with_functions() {
  library::Library library = heatside::population::testing::records();
  library.consequences.clear();
  const auto add = [&](const std::string& id, bool fused, bool never_traded) {
    library::Consequence one;
    one.head.id = one.head.name = id;
    one.fused = fused;
    one.never_traded = never_traded;
    library.consequences.emplace(id, one);
  };
  add("injector", true, false);
  add("fuel-pump-feed", true, true);
  add("alternator-output", false, true);
  return library;
}

casefile::Circuit circuit(const std::string& function, const std::vector<std::string>& segments) {
  casefile::Circuit one;
  one.id = "c-" + function;
  one.function = function;
  one.segments = segments;
  return one;
}

casefile::Finding finding(const std::string& segment, library::Seen seen, const char* on = "2013-06-01") {
  casefile::Finding one;
  one.segment = segment;
  one.seen = seen;
  one.on = *parse_date(on);
  return one;
}

casefile::Remedy remedy_over(const std::vector<std::string>& segments) {
  casefile::Remedy one;
  one.id = "it";
  one.segments = segments;
  one.compound_known = true;
  one.made = parse_date("2013-01-01");
  return one;
}

Verdict asked(const casefile::Case& job, RemedyAct act, const casefile::Remedy& remedy,
              const std::vector<double>& cracked = {0.0, 0.0, 0.0}, bool stated = true) {
  return verdict(job, records_with_functions(), {remedy, act, stated, all, cracked});
}

}  // namespace

TEST_CASE("rules: leaving is struck out wherever bare conductor was seen", "[remedy][rules][trade]") {
  casefile::Case job = read(case_of({}));
  CHECK(asked(job, RemedyAct::leave, remedy_over({})).struck.empty());
  job.findings.push_back(finding("head-cover", GENERATE(library::Seen::cracked, library::Seen::crumbling)));
  REQUIRE(asked(job, RemedyAct::leave, remedy_over({})).struck.size() == 1);
  CHECK_THAT(asked(job, RemedyAct::leave, remedy_over({})).struck.front(), Contains("head-cover"));
  CHECK(asked(job, RemedyAct::branches, remedy_over({"head-cover"})).struck.empty());
  CHECK_FALSE(asked(job, RemedyAct::branches, remedy_over({"upper-bulkhead"})).struck.empty());
}

TEST_CASE("rules: what does not bare the copper strikes nothing out", "[remedy][rules]") {
  casefile::Case job = read(case_of({}));
  job.findings.push_back(finding("head-cover", GENERATE(library::Seen::supple, library::Seen::stiff,
                                                        library::Seen::flex_cracks, library::Seen::not_seen)));
  CHECK(asked(job, RemedyAct::leave, remedy_over({})).struck.empty());
  job.findings.front().signs = {"green-copper"};
  CHECK_FALSE(asked(job, RemedyAct::leave, remedy_over({})).struck.empty());
}

TEST_CASE("rules: a repair after the finding takes it back, one before does not", "[remedy][rules]") {
  casefile::Case job = read(case_of({}));
  job.findings.push_back(finding("head-cover", library::Seen::cracked));
  job.findings.push_back(finding("head-cover", library::Seen::altered, "2013-12-01"));
  job.findings.back().altered_on = parse_date("2010-01-01");
  CHECK(bare_conductor_seen(job, job.segments[0]) == std::string{"cracked, 2013-06-01"});
  job.findings.back().altered_on = parse_date("2013-11-01");
  CHECK_FALSE(bare_conductor_seen(job, job.segments[0]));
}

TEST_CASE("rules: a sleeve over bare wire asks for each wire by itself, and is none where fuel runs",
          "[remedy][rules][trade]") {
  casefile::Case job = read(case_of({}));
  job.findings.push_back(finding("head-cover", library::Seen::cracked));
  const Verdict cover = asked(job, RemedyAct::cover, remedy_over({"head-cover"}));
  CHECK(cover.struck.empty());
  REQUIRE(cover.conditions.size() == 1);
  CHECK_THAT(cover.conditions.front(), Contains("by itself"));
  job.circuits.push_back(circuit("fuel-pump-feed", {"head-cover"}));
  CHECK_THAT(asked(job, RemedyAct::cover, remedy_over({"head-cover"})).struck.front(), Contains("fuel-pump-feed"));
}

TEST_CASE("rules: circuits that are never traded may not stay where they are likely to have cracked",
          "[remedy][rules][trade]") {
  casefile::Case job = read(case_of({}));
  job.circuits.push_back(circuit("injector", {"head-cover"}));
  CHECK(asked(job, RemedyAct::leave, remedy_over({}), {0.9, 0.0, 0.0}).struck.empty());
  job.circuits.push_back(circuit("fuel-pump-feed", {"head-cover"}));
  CHECK_FALSE(asked(job, RemedyAct::leave, remedy_over({}), {0.6, 0.0, 0.0}).struck.empty());
  const Verdict perhaps = asked(job, RemedyAct::leave, remedy_over({}), {0.2, 0.0, 0.0});
  CHECK(perhaps.struck.empty());
  CHECK_THAT(perhaps.conditions.front(), Contains("look at head-cover"));
  CHECK(asked(job, RemedyAct::leave, remedy_over({}), {0.05, 0.0, 0.0}).conditions.empty());
}

TEST_CASE("rules: a feed without a fuse counts, one with a stated fuse does not", "[remedy][rules]") {
  casefile::Case job = read(case_of({}));
  const library::Library library = records_with_functions();
  const casefile::Segment& segment = job.segments[0];
  job.circuits.push_back(circuit("alternator-output", {"head-cover"}));
  CHECK(untraded_functions(job, library, segment).size() == 1);
  job.circuits.front().fuse_amperes = 100.0;
  CHECK(untraded_functions(job, library, segment).empty());
  job.circuits.front() = circuit("a feed of our own words", {"head-cover"});
  CHECK(untraded_functions(job, library, segment).empty());
  job.circuits.front().unfused = true;
  CHECK(untraded_functions(job, library, segment).size() == 1);
  CHECK(untraded_functions(job, library, job.segments[1]).empty());
}

TEST_CASE("rules: what is called new needs a date code and a compound", "[remedy][rules][trade]") {
  const casefile::Case job = read(case_of({}));
  casefile::Remedy remedy = remedy_over({"head-cover", "upper-bulkhead", "cabin-bulkhead"});
  CHECK(asked(job, RemedyAct::new_part, remedy).struck.empty());
  remedy.made.reset();
  CHECK_THAT(asked(job, RemedyAct::new_part, remedy).struck.front(), Contains("date code"));
  remedy.date_code = "13/22";
  CHECK(asked(job, RemedyAct::new_part, remedy).struck.empty());
  remedy.compound_known = false;
  CHECK_THAT(asked(job, RemedyAct::new_part, remedy).struck.front(), Contains("compound"));
  // What only stands for a part that could be had is no part yet.
  CHECK(asked(job, RemedyAct::new_part, remedy, {0.0, 0.0, 0.0}, false).struck.empty());
  CHECK_FALSE(asked(job, RemedyAct::new_part, remedy, {0.0, 0.0, 0.0}, false).conditions.empty());
  CHECK(asked(job, RemedyAct::used_part, remedy).struck.empty());
  CHECK_FALSE(asked(job, RemedyAct::used_part, remedy).conditions.empty());
}

TEST_CASE("rules: nobody mends airbag circuits wire by wire", "[remedy][rules][trade]") {
  casefile::Case job = read(case_of({}));
  job.segments[1].airbag = true;
  for (const RemedyAct act : {RemedyAct::cover, RemedyAct::branches, RemedyAct::rewire}) {
    CHECK_THAT(asked(job, act, remedy_over({"upper-bulkhead"})).struck.front(), Contains("airbag"));
    CHECK(asked(job, act, remedy_over({"head-cover"})).struck.empty());
  }
  const Verdict whole = asked(job, RemedyAct::new_part, remedy_over({"head-cover", "upper-bulkhead", "cabin-bulkhead"}));
  CHECK(whole.struck.empty());
  CHECK_FALSE(whole.conditions.empty());
}
