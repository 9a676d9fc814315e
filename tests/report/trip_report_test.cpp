// The trace of a trip as CSV and JSON. Rules of this project's formats; CSV as RFC 4180 has it.
#include "heatside/report/trip_report.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "base/strict_json.hpp"

using namespace heatside;
using namespace heatside::report;

namespace {

exposure::TripRow row(double minutes, exposure::TripPhase phase, double insulation) {
  exposure::TripRow row;
  row.since_key_on = Minutes{minutes};
  row.phase = phase;
  row.air = Kelvin{300.0};
  row.conductor = Kelvin{310.5};
  row.insulation = Kelvin{insulation};
  row.surface = Kelvin{309.0};
  return row;
}

TripAnswer answer() {
  TripAnswer answer;
  answer.segment = "S1";
  answer.stretch = "a";
  answer.zone = "upper-bay";
  answer.lot = "signal";
  answer.trip.state = library::RunningState::hill;
  answer.trip.length = Minutes{20.0};
  answer.trip.key_on = Minutes{465.0};
  answer.trip.start = exposure::TripStart::week;
  answer.time_constant = Minutes{0.75};
  answer.rows = {row(0.0, exposure::TripPhase::warm_up, 311.0), row(20.0, exposure::TripPhase::run, 350.0),
                 row(26.0, exposure::TripPhase::soak, 352.0), row(300.0, exposure::TripPhase::parked, 305.0)};
  answer.rows[1].hot_body = Kelvin{600.0};
  return answer;
}

}  // namespace

TEST_CASE("trip report: the table has a heading with units and a line a row", "[report][trip]") {
  const std::string text = trip_csv(answer().rows);
  CHECK(text.substr(0, text.find('\r')) == "time_min,phase,air_Cel,conductor_Cel,insulation_Cel,surface_Cel,hot_body_Cel");
  CHECK(std::count(text.begin(), text.end(), '\n') == 5);
  CHECK(std::count(text.begin(), text.end(), '\r') == 5);
  CHECK(std::count(text.begin(), text.end(), ',') == 30);
  CHECK(text.find("\r\n0,warm-up,26.85") != std::string::npos);
  CHECK(text.find("\r\n26,soak,") != std::string::npos);
  CHECK(text.find(",\r\n300,parked,") != std::string::npos);  // no hot body: an empty field
}

TEST_CASE("trip report: numbers of the table read back to the same value", "[report][trip]") {
  exposure::TripRow odd = row(1.0 / 3.0, exposure::TripPhase::run, 351.23456789012345);
  const std::string text = trip_csv({odd});
  const std::string line = text.substr(text.find('\n') + 1);
  CHECK(std::stod(line) == 1.0 / 3.0);
  std::size_t at = 0;
  for (int column = 0; column < 4; ++column) at = line.find(',', at) + 1;
  CHECK(std::stod(line.substr(at)) == in_celsius(odd.insulation));
}

TEST_CASE("trip report: the document says where, which trip and when it is hottest", "[report][trip]") {
  BirthCertificate certificate;
  certificate.engine = "heatside 0";
  certificate.case_sha256 = "abc";
  const Json json =
      read_strict_json(trip_json(answer(), {{"/segments/0", "an assumption", Grade::judgement}}, certificate), "trip");
  CHECK(json["format"] == "heatside-trip");
  CHECK(json["version"] == 1);
  CHECK(json["engine"] == "heatside 0");
  CHECK(json["case_sha256"] == "abc");
  CHECK(json["segment"] == "S1");
  CHECK(json["trip"]["state"] == "hill");
  CHECK(json["trip"]["start"] == "week");
  CHECK(json["trip"]["length_min"] == 20.0);
  CHECK(json["hottest"]["time_min"] == 26.0);
  CHECK(json["hottest"]["phase"] == "soak");
  CHECK(json["rows"].size() == 4);
  CHECK(json["rows"][0]["hot_body_Cel"].is_null());
  CHECK(json["rows"][1]["hot_body_Cel"] == in_celsius(Kelvin{600.0}));
  CHECK(json["rows"][2]["insulation_Cel"] == in_celsius(Kelvin{352.0}));
  CHECK(json["assumptions"][0]["text"] == "an assumption");
  CHECK_FALSE(json["cautions"].empty());
}

TEST_CASE("trip report: without rows there is no hottest moment", "[report][trip]") {
  TripAnswer empty = answer();
  empty.rows.clear();
  const Json json = read_strict_json(trip_json(empty, {}, {}), "trip");
  CHECK(json["hottest"].is_null());
  CHECK(json["rows"].empty());
}
