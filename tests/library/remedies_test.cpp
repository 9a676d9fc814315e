#include <algorithm>
#include <catch2/catch.hpp>
#include <set>
#include <string>
#include <vector>

#include "base/strict_json.hpp"
#include "heatside/base/error.hpp"
#include "heatside/library/library.hpp"
#include "heatside/library/reliance.hpp"

using namespace heatside;
using namespace heatside::library;
using Catch::Contains;

/// The numbers of consequences and remedies are judgement: what is checked here are facts of the trade (common practice, no
/// source), and what any such record must have.

namespace {

const Library& built_in() {
  static const Library library = built_in_library();
  return library;
}

Json document_of(const std::string& name) {
  for (const RecordText& record : built_in_records()) {
    if (record.name == name) return read_strict_json(record.text, name);
  }
  FAIL("no built-in record " + name);
  return {};
}

std::vector<std::string> problems_of(const Json& document) {
  std::vector<std::string> lines;
  try {
    static_cast<void>(with_record(built_in(), {"changed.json", document.dump()}));
  } catch (const InputError& error) {
    for (const Problem& problem : error.problems()) lines.push_back(problem.pointer + ": " + problem.message);
  }
  return lines;
}

std::vector<std::string> functions(bool (*chosen)(const Consequence&)) {
  std::vector<std::string> ids;
  for (const auto& [id, consequence] : built_in().consequences) {
    if (chosen(consequence)) ids.push_back(id);
  }
  return ids;
}

const Consequence& consequence(const std::string& id) { return built_in().consequences.at(id); }
const RemedyKind& remedy(const std::string& id) { return built_in().remedies.at(id); }

struct Work {
  double segments, wires_each;
};

double parts_of(const std::string& id, Work work) {
  const RemedyKind& kind = remedy(id);
  return kind.parts.value + work.segments * (kind.parts_each.value + work.wires_each * kind.parts_wire.value);
}

double minutes_of(const std::string& id, Work work) {
  const RemedyKind& kind = remedy(id);
  return kind.minutes.value + work.segments * (kind.minutes_each.value + work.wires_each * kind.minutes_wire.value);
}

// A loom on top of an engine: judgement.
constexpr Work top_loom{8.0, 8.0};

}  // namespace

TEST_CASE("consequences: the functions of an engine bay are there", "[library][consequences]") {
  // Scope of the project.
  for (const char* id : {"ignition-feed",
                         "coil-signal",
                         "injector",
                         "fuel-pump-feed",
                         "crank-sensor",
                         "cam-sensor",
                         "air-mass-sensor",
                         "throttle",
                         "oxygen-sensor",
                         "coolant-sensor",
                         "knock-sensor",
                         "oil-pressure",
                         "starter-solenoid",
                         "battery-feed",
                         "alternator-output",
                         "alternator-exciter",
                         "cooling-fan",
                         "engine-control-feed",
                         "engine-earth",
                         "data-bus",
                         "air-conditioning",
                         "lamps",
                         "wiper",
                         "brake",
                         "steering",
                         "airbag",
                         "glow-plug",
                         "transmission"}) {
    CAPTURE(id);
    CHECK(built_in().consequences.count(id) == 1);
  }
}

TEST_CASE("consequences: what no price outweighs", "[library][consequences]") {
  // Common practice, no source: unfused feeds, fuel, brake, steering, airbag.
  CHECK(functions([](const Consequence& c) { return c.never_traded; }) ==
        std::vector<std::string>{"airbag", "alternator-output", "battery-feed", "brake", "fuel-pump-feed", "fuel-system",
                                 "steering"});
  CHECK(functions([](const Consequence& c) { return !c.fused; }) ==
        std::vector<std::string>{"alternator-output", "battery-feed"});
}

TEST_CASE("consequences: what stops an engine and what does not", "[library][consequences]") {
  // Common practice, no source: without spark, fuel, crankshaft signal or control unit an engine stops; without correction
  // of the mixture or the ignition it runs on.
  const double likely = 0.8, seldom = 0.2;
  for (const char* id : {"ignition-feed", "fuel-pump-feed", "crank-sensor", "engine-control-feed", "battery-feed"}) {
    CAPTURE(id);
    CHECK(consequence(id).stop_open.value > likely);
  }
  for (const char* id : {"oxygen-sensor", "knock-sensor", "cam-sensor", "air-conditioning", "coolant-sensor", "injector"}) {
    CAPTURE(id);
    CHECK(consequence(id).stop_open.value < seldom);
  }
}

TEST_CASE("consequences: a short of a feed takes its fuse with it, so it stops at least as often as a break",
          "[library][consequences]") {
  // Common practice, no source: a blown fuse is an open circuit, of everything behind it.
  for (const char* id : {"ignition-feed", "injector", "oxygen-sensor", "sensor-supply", "lamps", "battery-feed"}) {
    CAPTURE(id);
    CHECK(consequence(id).stop_short.value >= consequence(id).stop_open.value);
  }
}

TEST_CASE("consequences: every number has a range and confesses judgement", "[library][consequences]") {
  for (const auto& [id, record] : built_in().consequences) {
    CAPTURE(id);
    for (const Sourced* number : {&record.short_share, &record.stop_open, &record.stop_short}) {
      CHECK(number->low.has_value());
      CHECK(number->from.grade == Grade::judgement);
    }
    CHECK(weakest_grade(record) == Grade::judgement);
  }
}

TEST_CASE("consequences: an unfused feed cannot be traded, numbers are chances, units fit",
          "[library][consequences][error]") {
  Json document = document_of("consequences/battery-feed.json");
  CHECK(problems_of(document).empty());
  document["never_traded"] = false;
  CHECK_THAT(problems_of(document).at(0), Contains("/never_traded") && Contains("unfused"));
  document["fused"] = true;
  CHECK(problems_of(document).empty());
  document["stop_open"]["value"] = 1.2;
  document["short_share"]["unit"] = "%";
  document["when_opens"] = document["when_open"];
  CHECK(problems_of(document).size() == 4);  // the unit, the range, its low above the value, the key
}

TEST_CASE("remedies: each way to act has its kind", "[library][remedies]") {
  std::set<RemedyAct> acts;
  for (const auto& [id, kind] : built_in().remedies) acts.insert(kind.act);
  CHECK(acts.size() == remedy_act_names.size());
  CHECK(ids_of(built_in().remedies) ==
        std::vector<std::string>{"branches", "leave", "new-part", "rebuilt", "rewire", "sleeve-and-tape", "used-part"});
}

TEST_CASE("remedies: leaving costs nothing and touches nothing", "[library][remedies]") {
  CHECK(parts_of("leave", top_loom) == 0.0);
  CHECK(minutes_of("leave", top_loom) == 0.0);
  CHECK(remedy("leave").disturbs.value == 0.0);
}

TEST_CASE("remedies: what whole looms cost", "[library][remedies]") {
  // Common practice, no source: a loom on top of an engine is fitted in an hour and a half to two, a used one costs about
  // half of a new one, and one that is rebuilt can cost as much as new.
  for (const char* id : {"used-part", "new-part"}) {
    CHECK(minutes_of(id, top_loom) >= 90.0);
    CHECK(minutes_of(id, top_loom) <= 120.0);
  }
  CHECK(parts_of("used-part", top_loom) / parts_of("new-part", top_loom) == Approx(0.5).margin(0.1));
  CHECK(remedy("rebuilt").parts.high.value() >= remedy("new-part").parts.value);
  // And the opening order reckons with the same loom.
  const Sourced& loom = built_in().model.opening.loom_cost;
  CHECK(parts_of("new-part", top_loom) + minutes_of("new-part", top_loom) == Approx(loom.value).epsilon(0.05));
}

TEST_CASE("remedies: rewiring is cheap in parts and long in hours", "[library][remedies]") {
  // Common practice, no source.
  CHECK(parts_of("rewire", top_loom) < 0.5 * parts_of("new-part", top_loom));
  CHECK(minutes_of("rewire", top_loom) > 5.0 * minutes_of("new-part", top_loom));
  // For one short branch nobody buys a loom.
  constexpr Work stub{1.0, 3.0};
  CHECK(parts_of("branches", stub) + minutes_of("branches", stub) < 0.5 * parts_of("new-part", stub));
}

TEST_CASE("remedies: tape does not restore insulation, and handling it breaks what an opening breaks",
          "[library][remedies]") {
  // Common practice, no source.
  CHECK_THAT(remedy("sleeve-and-tape").about.text, Contains("does not restore"));
  for (const auto& [id, kind] : built_in().remedies) {
    CAPTURE(id);
    CHECK(kind.disturbs.value <= remedy("sleeve-and-tape").disturbs.value);
    CHECK(weakest_grade(kind) == Grade::judgement);
    CHECK(kind.parts.unit == "min");
    CHECK(kind.lead_days.unit == "d");
  }
}

TEST_CASE("remedies: a record says what it does and what it costs", "[library][remedies][error]") {
  Json document = document_of("remedies/new-part.json");
  CHECK(problems_of(document).empty());
  document["act"] = "new-prt";
  CHECK_THAT(problems_of(document).at(0), Contains("/act") && Contains("nearest is \"new-part\""));
  document = document_of("remedies/new-part.json");
  document["parts"].erase("wire");
  document["minutes"]["once"]["value"] = -1;
  document["minutes"]["once"].erase("low");
  document["minutes"]["once"].erase("high");
  document["lead_days"]["unit"] = "min";
  document["disturb"] = 0;
  CHECK(problems_of(document).size() == 4);
}
