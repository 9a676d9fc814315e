#include <catch2/catch.hpp>
#include <map>

#include "heatside/casefile/read.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;
using Catch::Matchers::WithinAbs;

namespace {

using Files = std::map<std::string, std::string>;

Json with_measured(const std::string& entries) {
  return changed([&](Json& c) { c["measured"] = read_strict_json(entries, "measured"); });
}

ReadBeside beside(Files files) {
  return [files = std::move(files)](const std::string& name) -> std::optional<std::string> {
    const auto file = files.find(name);
    return file == files.end() ? std::nullopt : std::optional{file->second};
  };
}

Case read_with(const std::string& entries, Files files = {}) {
  return read_case(with_measured(entries).dump(), "sample", records(), beside(std::move(files)));
}

// The one problem of a case with these entries.
std::string problem_of(const std::string& entries, Files files = {}) {
  std::vector<std::string> lines;
  try {
    static_cast<void>(read_with(entries, std::move(files)));
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems()) lines.push_back(problem.pointer + ": " + problem.message);
  }
  CAPTURE(entries, lines);
  REQUIRE(lines.size() == 1);
  return lines.front();
}

const Files trip{{"trip.csv", "minutes,temperature_Cel\n0,20\n10,45\n20,60\n30,72\n"}};

}  // namespace

TEST_CASE("measured: a spot reading says what, where and when", "[casefile][measured]") {
  const Case job = read_with(R"([{"segment": "S2", "stretch": "rear", "temperature_Cel": 80, "ambient_Cel": 20,
    "state": "hill", "minutes_running": 25, "bonnet": "shut", "instrument": "infrared", "shiny": true, "on": "2026-08-01"}])");
  REQUIRE(job.measured.size() == 1);
  const Measured& measured = job.measured[0];
  CHECK(measured.pointer == "/measured/0");
  CHECK(measured.segment == "S2");
  CHECK(measured.stretch == "rear");
  CHECK_THAT(in_celsius(measured.ambient), WithinAbs(20.0, 1e-9));
  CHECK(measured.instrument == Instrument::infrared);
  CHECK(measured.shiny);
  CHECK_FALSE(measured.bonnet_open);
  CHECK(format_date(*measured.on) == "2026-08-01");
  const auto& spot = std::get<SpotReading>(measured.reading);
  CHECK_THAT(in_celsius(spot.temperature), WithinAbs(80.0, 1e-9));
  CHECK(spot.running == library::RunningState::hill);
  CHECK(spot.since_key_on == Minutes{25.0});
  CHECK_FALSE(spot.since_key_off);
  CHECK(assumptions_at(job, "/measured/0/bonnet").empty());
  CHECK(job.unused.empty());
}

TEST_CASE("measured: soak and parked stand after key-off", "[casefile][measured]") {
  const Case job = read_with(R"([
    {"segment": "S1", "temperature_Cel": 80, "ambient_Cel": 20, "state": "soak", "minutes_since_key_off": 20},
    {"segment": "S1", "temperature_Cel": 30, "ambient_Cel": 20, "state": "parked"}])");
  const auto& soak = std::get<SpotReading>(job.measured.at(0).reading);
  CHECK_FALSE(soak.running);
  CHECK(soak.since_key_off == Minutes{20.0});
  CHECK_FALSE(std::get<SpotReading>(job.measured.at(1).reading).since_key_off);
}

TEST_CASE("measured: an indicator keeps the highest temperature", "[casefile][measured]") {
  const Case job = read_with(R"([{"segment": "S1", "temperature_Cel": 88, "ambient_Cel": 24, "state": "peak",
                                  "instrument": "indicator", "days": 14}])");
  const auto& peak = std::get<PeakReading>(job.measured.at(0).reading);
  CHECK_THAT(in_celsius(peak.temperature), WithinAbs(88.0, 1e-9));
  CHECK(peak.days == 14.0);
  CHECK_FALSE(job.measured[0].bonnet_open);
}

TEST_CASE("measured: a logger's file comes from beside the case", "[casefile][measured][logger]") {
  const Case job = read_with(R"([{"segment": "S1", "file": "trip.csv", "ambient_Cel": 20, "state": "city", "key_on_min": 5,
                                  "key_off_min": 20, "bonnet": "shut"}])",
                             trip);
  const auto& logger = std::get<LoggerReading>(job.measured.at(0).reading);
  CHECK(logger.file == "trip.csv");
  CHECK(logger.driving == library::RunningState::city);
  CHECK(logger.key_on == Minutes{5.0});
  CHECK(logger.key_off == Minutes{20.0});
  REQUIRE(logger.rows.size() == 4);
  CHECK_THAT(in_celsius(logger.rows[3].temperature), WithinAbs(72.0, 1e-9));
  CHECK(job.measured[0].instrument == Instrument::logger);
  for (const Assumption& assumption : job.assumptions) CHECK_THAT(assumption.pointer, !Contains("/measured"));
}

TEST_CASE("measured: what nobody stated is listed as assumed", "[casefile][measured]") {
  SECTION("instrument and bonnet of a reading by hand") {
    const Case job = read_with(R"([{"segment": "S1", "temperature_Cel": 80, "ambient_Cel": 20, "state": "city"}])");
    CHECK_THAT(assumptions_at(job, "/measured/0/instrument").at(0), Contains("infrared"));
    CHECK_THAT(assumptions_at(job, "/measured/0/bonnet").at(0), Contains("was open"));
    CHECK(job.measured[0].bonnet_open);
    CHECK(assumptions_at(job, "/measured/0/stretch").empty());
  }
  SECTION("the longest of several stretches") {
    const Case job = read_with(R"([{"segment": "S2", "temperature_Cel": 80, "ambient_Cel": 20, "state": "city"}])");
    CHECK(job.measured.at(0).stretch == "front");
    CHECK_THAT(assumptions_at(job, "/measured/0/stretch").at(0), Contains("front in head-cover") && Contains("rear"));
  }
  SECTION("a logger's drive and bonnet, rows left out and gaps") {
    const Case job = read_with(R"([{"segment": "S1", "file": "logs/a.csv", "ambient_Cel": 20, "key_off_min": 30}])",
                               {{"logs/a.csv", "minutes,temperature_Cel\n0,20\n1,21\n2,-\n3,22\n4,23\n40,30\n"}});
    CHECK_THAT(assumptions_at(job, "/measured/0/state").at(0), Contains("in town"));
    CHECK_THAT(assumptions_at(job, "/measured/0/bonnet").at(0), Contains("was shut"));
    const auto of_file = assumptions_at(job, "/measured/0/file");
    REQUIRE(of_file.size() == 2);
    CHECK_THAT(of_file[0], Contains("logs/a.csv: 1 row cannot be read") && Contains("line 4"));
    CHECK_THAT(of_file[1], Contains("1 gap longer") && Contains("line 7"));
  }
}

TEST_CASE("measured: degrees Fahrenheit by mistake are refused with what they would be", "[casefile][measured][error]") {
  // (356 - 32) / 1.8 = 180 and (86 - 32) / 1.8 = 30, own arithmetic of the test.
  CHECK_THAT(problem_of(R"([{"segment": "S1", "temperature_Cel": 356, "ambient_Cel": 30, "state": "hill"}])"),
             Contains("/measured/0/temperature_Cel") && Contains("-60 to 300 degC") && Contains("it is 180 degC"));
  CHECK_THAT(problem_of(R"([{"segment": "S1", "temperature_Cel": 80, "ambient_Cel": 86, "state": "hill"}])"),
             Contains("/measured/0/ambient_Cel") && Contains("-60 to 60 degC") && Contains("it is 30 degC"));
  CHECK_THAT(problem_of(R"([{"segment": "S1", "temperature_Cel": -70, "ambient_Cel": 20, "state": "hill"}])"),
             Contains("-60 to 300 degC") && !Contains("degF"));
}

TEST_CASE("measured: members that contradict each other are refused one by one", "[casefile][measured][error]") {
  const auto entry = [](const std::string& more) {
    return R"([{"segment": "S1", "temperature_Cel": 80, "ambient_Cel": 20, )" + more + "}]";
  };
  CHECK_THAT(problem_of(entry(R"("state": "soak")")), Contains("\"minutes_since_key_off\" is missing"));
  CHECK_THAT(problem_of(entry(R"("state": "city", "minutes_since_key_off": 5)")),
             Contains("/measured/0/minutes_since_key_off") && Contains("soak and parked"));
  CHECK_THAT(problem_of(entry(R"("state": "parked", "minutes_running": 5)")), Contains("/measured/0/minutes_running"));
  CHECK_THAT(problem_of(entry(R"("state": "city", "days": 5)")), Contains("/measured/0/days") && Contains("peak"));
  CHECK_THAT(problem_of(entry(R"("state": "peak")")), Contains("\"instrument\" is missing"));
  CHECK_THAT(problem_of(entry(R"("state": "peak", "instrument": "contact")")), Contains("/measured/0/instrument"));
  CHECK_THAT(problem_of(entry(R"("state": "city", "instrument": "indicator")")), Contains("\"state\": \"peak\""));
  CHECK_THAT(problem_of(entry(R"("state": "peak", "instrument": "indicator", "minutes_running": 9)")),
             Contains("/measured/0/minutes_running"));
  CHECK_THAT(problem_of(entry(R"("state": "city", "instrument": "contact", "shiny": true)")), Contains("/measured/0/shiny"));
  CHECK_THAT(problem_of(entry(R"("state": "city", "key_off_min": 9)")), Contains("/measured/0/key_off_min"));
  CHECK_THAT(problem_of(entry(R"("state": "soack", "minutes_since_key_off": 9)")), Contains("nearest is \"soak\""));
  CHECK_THAT(problem_of(entry(R"("state": "city", "stretch": "b")")), Contains("unknown stretch \"b\"; nearest is \"a\""));
  CHECK_THAT(problem_of(entry(R"("state": "city", "on": "1993")")), Contains("before the vehicle was built"));
  CHECK_THAT(problem_of(entry(R"("state": "city", "bonet": "open")")), Contains("unknown key") && Contains("bonnet"));
}

TEST_CASE("measured: a logger's entry is refused with what is wrong with it", "[casefile][measured][logger][error]") {
  const auto entry = [](const std::string& more) {
    return R"([{"segment": "S1", "file": "trip.csv", "ambient_Cel": 20)" + more + "}]";
  };
  CHECK_THAT(problem_of(entry(""), trip), Contains("\"state\" is missing") && Contains("key_off_min"));
  CHECK_THAT(problem_of(entry(R"(, "state": "soak", "key_off_min": 9)"), trip), Contains("/measured/0/state"));
  CHECK_THAT(problem_of(entry(R"(, "state": "city", "temperature_Cel": 80)"), trip),
             Contains("/measured/0/temperature_Cel"));
  CHECK_THAT(problem_of(entry(R"(, "state": "city", "instrument": "contact")"), trip), Contains("/measured/0/instrument"));
  CHECK_THAT(problem_of(entry(R"(, "key_on_min": 9, "key_off_min": 9)"), trip), Contains("/measured/0/key_off_min"));
  CHECK_THAT(problem_of(entry(R"(, "state": "city", "key_on_min": 30)"), trip), Contains("no row comes after key-on"));
  CHECK_THAT(problem_of(entry(R"(, "state": "city")")), Contains("/measured/0/file") && Contains("not there"));
  CHECK_THAT(problem_of(entry(R"(, "state": "city")"), {{"trip.csv", "minutes,temperature_Cel\n0,20\n"}}),
             Contains("/measured/0/file: trip.csv, 1 row"));
  CHECK_THAT(problem_of(entry(R"(, "state": "city")"), {{"trip.csv", "minutes,temperature_Cel\n1,20\n0,20\n"}}),
             Contains("/measured/0/file: trip.csv, line 3, column 1"));
}

TEST_CASE("measured: only files beside the case are asked for", "[casefile][measured][logger][error]") {
  const std::string name = GENERATE("/etc/a.csv", "../a.csv", "logs/../../a.csv", "./a.csv", "logs//a.csv", "logs/",
                                    "c:a.csv", "logs\\\\a.csv", "..");
  const Json document =
      with_measured(R"([{"segment": "S1", "file": ")" + name + R"(", "ambient_Cel": 20, "state": "city"}])");
  CAPTURE(name);
  bool asked = false;
  const ReadBeside read_beside = [&](const std::string&) {
    asked = true;
    return std::optional<std::string>{"minutes,temperature_Cel\n0,20\n1,20\n"};
  };
  CHECK_THROWS_WITH(read_case(document.dump(), "sample", records(), read_beside),
                    Contains("/measured/0/file") && Contains("beside the case"));
  CHECK_FALSE(asked);
}

TEST_CASE("measured: without a reader of files none is found", "[casefile][measured][logger][error]") {
  const Json document = with_measured(R"([{"segment": "S1", "file": "trip.csv", "ambient_Cel": 20, "state": "city"}])");
  CHECK_THAT(problems_of(document).at(0), Contains("trip.csv is not there"));
}

TEST_CASE("measured: the faults of all files come in one go", "[casefile][measured][logger][error]") {
  const Json document = with_measured(R"([
    {"segment": "S1", "file": "a.csv", "ambient_Cel": 20, "state": "city"},
    {"segment": "S1", "file": "b.csv", "ambient_Cel": 20, "state": "city"}])");
  try {
    static_cast<void>(
        read_case(document.dump(), "sample", records(), beside({{"b.csv", "seconds,temperature_F\n0,20\n1,20\n"}})));
    FAIL("accepted");
  } catch (const InputError& error) {
    REQUIRE(error.problems().size() == 3);
    CHECK(error.problems()[0].pointer == "/measured/0/file");
    CHECK(error.problems()[2].pointer == "/measured/1/file");
  }
}
