#include <catch2/catch.hpp>

#include "heatside/casefile/read.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;

namespace {

Json period(const std::string& from, const std::string& to, const std::string& duty) {
  Json result{{"from", from}, {"climate", "mediterranean"}, {"duty", duty}, {"parking", "shade"}};
  if (!to.empty()) result["to"] = to;
  return result;
}

Json with_service(const std::vector<Json>& periods) {
  return changed([&](Json& c) { c["service"] = periods; });
}

double years_of(const ServicePeriod& period) { return years_between(period.from.day, period.to.day).value(); }

double weekly_hours(const std::string& duty) {
  return hours(library::weekly_running_time(records().duties.at(duty))).value();
}

// Running hours a year of a duty, from the definition of the year: 8766 h, a week of 168 h.
double yearly_hours_of(const std::string& duty) { return weekly_hours(duty) * 8766.0 / 168.0; }

double speed() { return records().model.usage.mean_speed.value; }

Json own_trips(int a_week, double length) {
  return {{"trips_per_week", a_week},
          {"trip_minutes", length},
          {"running_mix", {{"cruise", 0.4}, {"city", 0.4}, {"idle", 0.15}, {"hill", 0.05}}}};
}

}  // namespace

TEST_CASE("service: kilometres of a period become its usage", "[casefile][usage]") {
  const ServicePeriod period = read(sample_case()).service.at(0);
  const double expected = 150000.0 / speed() / years_of(period) / yearly_hours_of("family");
  CHECK(period.usage == Approx(expected).epsilon(1e-12));
  CHECK((period.usage > 0.2 && period.usage < 0.5));
}

TEST_CASE("service: running hours need no speed", "[casefile][usage]") {
  const Case result = read(changed([](Json& c) {
    c["service"][0].erase("km");
    c["service"][0]["running_hours"] = 4000;
  }));
  CHECK(result.service[0].usage == Approx(4000.0 / years_of(result.service[0]) / yearly_hours_of("family")).epsilon(1e-12));
  for (const Assumption& assumption : result.assumptions) CHECK(assumption.pointer.rfind("/service", 0) != 0);
}

TEST_CASE("service: without km, hours or odometer the duty is driven in full, and said to be", "[casefile][usage]") {
  const Case result = read(changed([](Json& c) { c["service"][0].erase("km"); }));
  CHECK(result.service[0].usage == 1.0);
  CHECK_THAT(assumptions_at(result, "/service/0").at(0), Contains("family") && Contains("state km"));
}

TEST_CASE("service: the odometer is shared by silent periods in proportion to time and duty", "[casefile][usage]") {
  Json document = with_service({period("1994-05-01", "2004-05-01", "family"), period("2004-05-01", "2014-05-01", "laid-up"),
                                period("2014-05-01", "", "weekend")});
  document["vehicle"]["odometer_km"] = 90000;
  const Case result = read(document);
  CHECK(result.service[0].usage == result.service[2].usage);
  CHECK(result.service[1].usage == 1.0);
  const double driven = speed() * (result.service[0].usage * years_of(result.service[0]) * yearly_hours_of("family") +
                                   result.service[2].usage * years_of(result.service[2]) * yearly_hours_of("weekend"));
  CHECK(driven == Approx(90000.0).epsilon(1e-12));
  CHECK_THAT(assumptions_at(result, "/vehicle/odometer_km").at(0), Contains("shared"));
}

TEST_CASE("service: what stated periods leave of the odometer goes to the others", "[casefile][usage]") {
  Json first = period("1994-05-01", "2004-05-01", "family");
  Json document = with_service({first, period("2004-05-01", "", "family")});
  document["service"][0]["km"] = 60000;
  document["vehicle"]["odometer_km"] = 100000;
  const Case result = read(document);
  const double left = speed() * result.service[1].usage * years_of(result.service[1]) * yearly_hours_of("family");
  CHECK(left == Approx(40000.0).epsilon(1e-12));

  document["vehicle"]["odometer_km"] = 50000;  // less than stated: one of the two is wrong
  CHECK_THAT(problems_of(document).at(0), Contains("/vehicle/odometer_km") && Contains("60000") && Contains("50000"));
}

TEST_CASE("service: kilometres that no period accounts for are said to be left out", "[casefile][usage]") {
  const auto with_odometer = [](double km) { return changed([&](Json& c) { c["vehicle"]["odometer_km"] = km; }); };
  const double stated = sample_case()["service"][0]["km"].get<double>();
  CHECK(assumptions_at(read(with_odometer(1.05 * stated)), "/vehicle/odometer_km").empty());
  CHECK_THAT(assumptions_at(read(with_odometer(1.5 * stated)), "/vehicle/odometer_km").at(0), Contains("left out"));
  CHECK_FALSE(problems_of(with_odometer(0.5 * stated)).empty());
}

TEST_CASE("service: time that no period covers is listed as laid up", "[casefile]") {
  const Case result = read(with_service({period("1994-05-01", "2004-05-01", "family"), period("2008-05-01", "", "family")}));
  CHECK_THAT(assumptions_at(result, "/service").at(0), Contains("laid up from 2004-05-01 to 2008-05-01"));
}

TEST_CASE("service: more use than three times the duty is refused with its factor", "[casefile][usage][error]") {
  const double most_km = 3.0 * yearly_hours_of("family") * years_of(read(sample_case()).service[0]) * speed();
  CHECK(problems_of(changed([&](Json& c) { c["service"][0]["km"] = 0.999 * most_km; })).empty());
  const auto problems = problems_of(changed([&](Json& c) { c["service"][0]["km"] = 1.1 * most_km; }));
  CHECK_THAT(problems.at(0), Contains("this is 3.3 times") && Contains("choose a busier duty or check the kilometres"));
}

TEST_CASE("service: a vehicle that is laid up has no kilometres", "[casefile][usage][error]") {
  Json document = with_service({period("1994-05-01", "", "laid-up")});
  CHECK(read(document).service[0].usage == 1.0);
  document["service"][0]["km"] = 0;
  CHECK(problems_of(document).empty());
  document["service"][0]["km"] = 10;
  CHECK_THAT(problems_of(document).at(0), Contains("/service/0/km") && Contains("never runs"));
}

TEST_CASE("service: trips of its own are spread evenly over the driving hours of the week", "[casefile][usage]") {
  const Case result = read(changed([](Json& c) {
    c["service"][0].erase("km");
    c["service"][0]["duty"] = own_trips(14, 25.0);
  }));
  CHECK(result.service[0].usage == 1.0);
  CHECK(assumptions_at(result, "/service/0/duty").size() == 1);
  const auto& duty = std::get<library::Duty>(result.service[0].duty);
  CHECK(duty.running_mix[0] == Approx(0.4));
  CHECK(library::weekly_running_time(duty).value() == Approx(14 * 25.0));
  REQUIRE(duty.trips.size() == 14);
  // 84 driving hours over 14 trips: one every six hours, the first after three, at 10:00, the second at 16:00.
  CHECK(duty.trips[0].days == std::vector<int>{0});
  CHECK(duty.trips[0].start.value() == Approx(10 * 60.0));
  CHECK(duty.trips[1].start.value() == Approx(16 * 60.0));
  CHECK(duty.trips[13].days == std::vector<int>{6});
  CHECK(duty.trips[13].start.value() == Approx(16 * 60.0));
}

TEST_CASE("service: trips fill their spacing but do not run into each other", "[casefile][usage]") {
  const auto with_trips = [](int a_week, double length) {
    return changed([&](Json& c) {
      c["service"][0].erase("km");
      c["service"][0]["duty"] = own_trips(a_week, length);
    });
  };
  CHECK(problems_of(with_trips(84, 60.0)).empty());
  CHECK_THAT(problems_of(with_trips(85, 60.0)).at(0), Contains("trip_minutes") && Contains("too long"));
  CHECK(problems_of(with_trips(1, 1440.0)).empty());
}

TEST_CASE("service: periods are read in any order and kept in order of time", "[casefile]") {
  const Case result = read(with_service({period("2015-01-01", "", "weekend"), period("1994-05-01", "2004-12-31", "taxi")}));
  REQUIRE(result.service.size() == 2);
  CHECK(std::get<std::string>(result.service[0].duty) == "taxi");
  CHECK(result.service[0].pointer == "/service/1");
  CHECK(result.service[1].to == result.inspected);
}

TEST_CASE("service: overlapping periods, and a period without end before another, are refused", "[casefile][error]") {
  CHECK_THAT(
      problems_of(with_service({period("1994-05-01", "2010-01-02", "taxi"), period("2010-01-01", "", "family")})).at(0),
      Contains("/service/1/from") && Contains("overlaps"));
  CHECK(problems_of(with_service({period("1994-05-01", "2010-01-01", "taxi"), period("2010-01-01", "", "family")})).empty());
  CHECK_THAT(problems_of(with_service({period("1994-05-01", "", "taxi"), period("2010-01-01", "", "family")})).at(0),
             Contains("/service/0") && Contains("only the last period"));
}

TEST_CASE("service: coarse dates of neighbours give way to each other", "[casefile]") {
  const Case result = read(with_service({period("1994", "2009", "taxi"), period("2009-03", "", "family")}));
  CHECK(result.service[0].to.day == result.service[1].from.day);
  CHECK(result.service[0].to.day == parse_date("2009-03")->day);
  CHECK_THAT(assumptions_at(result, "/service/0/to").at(0), Contains("2009 is taken as 2009-03-16"));
}

TEST_CASE("service: one year from its beginning to its end", "[casefile]") {
  const Case result = read(with_service({period("2009", "2009", "taxi"), period("2010", "", "family")}));
  CHECK(format_date(result.service[0].from) == "2009-01-01");
  CHECK(format_date(result.service[0].to) == "2009-12-31");
}

TEST_CASE("service: entry into service and parking that nobody stated are assumptions", "[casefile]") {
  const Case result = read(changed([](Json& c) {
    c["vehicle"].erase("entered_service");
    c["service"][0].erase("parking");
  }));
  CHECK(result.entered_service == result.service[0].from);
  CHECK(result.service[0].parking == Parking::shade);
  CHECK(assumptions_at(result, "/vehicle/entered_service").size() == 1);
  CHECK(assumptions_at(result, "/service/0/parking").size() == 1);
}

TEST_CASE("future: what is stated counts, the rest is as in the last period", "[casefile]") {
  const FutureUse stated = read(sample_case()).future;
  CHECK(stated.climate == "continental");
  CHECK(stated.usage == Approx(60.0 / yearly_hours_of("weekend")).epsilon(1e-12));
  CHECK(stated.parking == Parking::garage);

  const Case silent = read(changed([](Json& c) { c.erase("future"); }));
  CHECK(silent.future.climate == "mediterranean");
  CHECK(silent.future.usage == silent.service[0].usage);
  CHECK(silent.future.parking == Parking::open);
  CHECK_THAT(assumptions_at(silent, "/future").at(0), Contains("climate, duty, parking"));

  const Case moved = read(changed([](Json& c) { c["future"] = Json{{"climate", "cold"}}; }));
  CHECK(moved.future.climate == "cold");
  CHECK(moved.future.usage == moved.service[0].usage);
  CHECK_THAT(assumptions_at(moved, "/future").at(0), Contains("duty, parking") && !Contains("climate"));
}

TEST_CASE("future: another duty without kilometres is driven in full", "[casefile]") {
  const Case result = read(changed([](Json& c) { c["future"] = Json{{"duty", "commuter"}}; }));
  CHECK(result.future.usage == 1.0);
  CHECK(assumptions_at(result, "/future/duty").size() == 1);
  CHECK(read(changed([](Json& c) { c["future"] = Json{{"duty", "laid-up"}}; })).future.usage == 1.0);
}
