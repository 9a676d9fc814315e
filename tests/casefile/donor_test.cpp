#include <catch2/catch.hpp>

#include "heatside/casefile/read.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;

namespace {

// A used part made on 2012-03-10, with that donor.
Json with_donor(const std::string& donor) {
  return changed([&](Json& c) {
    c["remedies"] = Json::array(
        {{{"id", "R"}, {"kind", "used-part"}, {"insulation", "xlpo-125"}, {"made", "2012-03-10"}, {"parts_cost", 300}}});
    c["remedies"][0]["donor"] = read_strict_json(donor, "donor");
  });
}

PartPast past_of(const std::string& donor) { return read(with_donor(donor)).remedies.at(0).past.value(); }

std::string first_problem(const std::string& donor) { return problems_of(with_donor(donor)).at(0); }

const char* all_of_it = R"({"from": "2012-06-01", "to": "2020-06-01", "climate": "continental", "duty": "commuter",
                            "usage": 1.5, "parking": "garage"})";

}  // namespace

TEST_CASE("donor: all that is stated is kept", "[casefile][donor]") {
  const PartPast past = past_of(all_of_it);
  CHECK(format_date(past.from) == "2012-06-01");
  CHECK(format_date(past.to) == "2020-06-01");
  CHECK(past.climate == "continental");
  CHECK(std::get<std::string>(past.duty) == "commuter");
  CHECK(past.usage == 1.5);
  CHECK(past.parking == Parking::garage);
}

TEST_CASE("donor: years stand for either date", "[casefile][donor]") {
  const auto span = [](const char* donor) {
    const PartPast past = past_of(donor);
    return format_date(past.from) + " " + format_date(past.to);
  };
  CHECK(span(R"({"from": "2013-01-01", "years": 4})") == "2013-01-01 2017-01-01");
  CHECK(span(R"({"to": "2021-01-01", "years": 4})") == "2017-01-01 2021-01-01");
  CHECK(span(R"({"years": 4})") == "2022-09-14 2026-09-14");  // until the inspection
  CHECK(span(R"({"from": "2013-01-01"})") == "2013-01-01 2026-09-14");
  CHECK(span(R"({"to": "2021-01-01"})") == "2012-03-10 2021-01-01");  // since it was made
  CHECK(span("{}") == "2012-03-10 2026-09-14");
}

TEST_CASE("donor: the kilometres of all its years make its use", "[casefile][donor]") {
  // km / speed = usage x years x hours a year of the duty: the definition of the usage.
  const PartPast past = past_of(R"({"from": "2012-06-01", "to": "2020-06-01", "duty": "commuter", "km": 120000})");
  const double hours = 120000.0 / records().model.usage.mean_speed.value;
  const double a_week = library::weekly_running_time(records().duties.at("commuter")).value() / 60.0;
  const double years = years_between(past.from.day, past.to.day).value();
  CHECK(past.usage * a_week / 168.0 * hours_per_year * years == Approx(hours).epsilon(1e-9));
}

TEST_CASE("donor: the less is known, the wider is the spread of its wear", "[casefile][donor][property]") {
  const double known = past_of(all_of_it).ln_sd;
  CHECK(known == 0.15);  // judgement of this project
  Json rest = read_strict_json(all_of_it, "donor");
  double narrower = known;
  for (const char* key : {"parking", "usage", "climate", "duty", "from"}) {
    rest.erase(key);
    const double wider = past_of(rest.dump()).ln_sd;
    CAPTURE(key);
    CHECK(wider > narrower);
    narrower = wider;
  }
  CHECK(past_of("{}").ln_sd > 0.6);
  // Years without dates tell as much of the wear as dates do.
  CHECK(past_of(R"({"years": 8, "climate": "continental", "duty": "commuter", "usage": 1.5, "parking": "garage"})").ln_sd ==
        known);
}

TEST_CASE("donor: what it leaves out is as here, and is listed", "[casefile][donor]") {
  const Case nothing = read(with_donor("{}"));
  const PartPast& past = nothing.remedies[0].past.value();
  CHECK(past.climate == "mediterranean");
  CHECK(std::get<std::string>(past.duty) == "family");
  CHECK(past.usage == 1.0);
  CHECK(past.parking == Parking::open);
  const std::vector<std::string> listed = assumptions_at(nothing, "/remedies/0/donor");
  REQUIRE(listed.size() == 1);
  for (const char* part : {"2012-03-10", "2026-09-14", "mediterranean", "in the open", "last service period", "factor"}) {
    CHECK_THAT(listed[0], Contains(part));
  }
  // A part without a word about its donor has one all the same.
  Json silent = with_donor("{}");
  silent["remedies"][0].erase("donor");
  CHECK(read(silent).remedies[0].past.value().ln_sd == past.ln_sd);
  const std::vector<std::string> known = assumptions_at(read(with_donor(all_of_it)), "/remedies/0/donor");
  REQUIRE(known.size() == 1);
  CHECK_THAT(known[0], !Contains("not known") && Contains("factor of 1.3"));  // exp(1.645 x 0.15) = 1.28
}

TEST_CASE("donor: its times must be possible", "[casefile][donor][error]") {
  CHECK_THAT(first_problem(R"({"from": "2013", "to": "2020", "years": 7})"), Contains("/donor/years"));
  CHECK_THAT(first_problem(R"({"from": "2010", "to": "2020"})"), Contains("/donor/from") && Contains("before it was made"));
  CHECK_THAT(first_problem(R"({"years": 20})"), Contains("/donor/years") && Contains("before it was made"));
  CHECK_THAT(first_problem(R"({"from": "2020", "to": "2019"})"), Contains("/donor/from") && Contains("before it went in"));
  CHECK_THAT(first_problem(R"({"from": "2020", "to": "2027"})"), Contains("/donor/to") && Contains("can be fitted"));
  CHECK_THAT(first_problem(R"({"from": "2020", "years": 9})"), Contains("/donor/from") && Contains("can be fitted"));
  CHECK_THAT(first_problem(R"({"from": "2020", "to": "2020"})"), Contains("no days are left"));
  CHECK_THAT(first_problem(R"({"years": 0})"), Contains("/donor/years") && Contains("0.01 to 120 a"));
}

TEST_CASE("donor: its use must be possible, and everything wrong is said at once", "[casefile][donor][error]") {
  CHECK_THAT(first_problem(R"({"km": 1000, "usage": 1})"), Contains("/remedies/0/donor: ") && Contains("keep one"));
  CHECK_THAT(first_problem(R"({"years": 1, "duty": "weekend", "km": 300000})"),
             Contains("/donor/km") && Contains("choose a busier duty"));
  CHECK(problems_of(with_donor(R"({"years": -1, "climate": "mars", "duty": "race", "parking": "roof", "usage": 9,
                                   "owner": "x"})"))
            .size() == 6);
  CHECK_THAT(problems_of(changed([](Json& c) {
               c["remedies"] = Json::array({{{"id", "R"}, {"kind", "used-part"}, {"donor", "a van"}}});
             })).at(0),
             Contains("/remedies/0/donor"));
}

TEST_CASE("donor: a used loom that is fitted already has a past as well", "[casefile][donor][looms]") {
  const auto used = [](const char* donor) {
    return changed([&](Json& c) {
      c["looms"][0]["made"] = "2003-10-01";
      c["looms"][0]["fitted"] = "2014-06-01";
      c["looms"][0]["donor"] = read_strict_json(donor, "donor");
    });
  };
  const Case result = read(used(R"({"from": "2004-01-10", "to": "2013", "climate": "alpine", "duty": "taxi"})"));
  const PartPast& past = result.looms[0].elsewhere.value();
  CHECK(format_date(past.from) == "2004-01-10");
  CHECK(past.climate == "alpine");
  CHECK_THAT(assumptions_at(result, "/looms/0/donor/to").at(0), Contains("2013"));
  // Without dates: since it was made, until it was fitted here.
  CHECK(format_date(read(used("{}")).looms[0].elsewhere.value().to) == "2014-06-01");
  CHECK_THAT(problems_of(used(R"({"from": "2004", "to": "2015"})")).at(0), Contains("/looms/0/donor/to"));
  CHECK_THAT(problems_of(changed([](Json& c) {
               c["looms"][0]["donor"] = {{"years", 3}};
             })).at(0),
             Contains("\"fitted\" is missing"));
  CHECK_FALSE(read(sample_case()).looms[0].elsewhere);
}
