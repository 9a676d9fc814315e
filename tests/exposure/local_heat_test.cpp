// Mixtures of temperatures along the copper. Own arithmetic of the test; no outside source.
#include "heatside/exposure/local_heat.hpp"

#include <catch2/catch.hpp>

using Catch::WithinAbs;
using namespace heatside;
using namespace heatside::exposure;

namespace {

const AirRange range{celsius(-20.0), celsius(140.0)};

HotTerminal stud(bool with_exhaust) {
  HotTerminal terminal;
  terminal.surface = {celsius(90.0), celsius(95.0), celsius(100.0), celsius(110.0)};
  terminal.cools_with_exhaust = with_exhaust;
  return terminal;
}

// One instant with two zones; city driving or just after.
struct Moment {
  std::array<double, 2> air{celsius(40.0).value(), celsius(80.0).value()};
  std::array<double, 2> engine_warmth{1.0, 0.5};
  double exhaust_warmth = 0.25;

  [[nodiscard]] Instant instant() const {
    Instant now;
    now.state = library::RunningState::city;
    now.exhaust_warmth = exhaust_warmth;
    now.air = air.data();
    now.engine_warmth = engine_warmth.data();
    return now;
  }
};

double mixed_celsius(const std::vector<LocalHeat>& parts, const Moment& moment) {
  std::vector<Temperature> sources;
  for (const LocalHeat& part : parts) sources.push_back(source_temperature(part, range, {0.0, 1.0, 0.0, 0.0}));
  return mixed_temperature(parts, sources)(moment.instant(), false) - ice_point_kelvin;
}

}  // namespace

TEST_CASE("mixture: the air of two zones counts by its weights", "[exposure][conduction]") {
  const std::vector<LocalHeat> parts{{0.7, "a", {}, {}}, {0.3, "b", {}, {}}};
  CHECK(zones_of(parts) == std::vector<std::string>{"a", "b"});
  CHECK_THAT(mixed_celsius(parts, {}), WithinAbs(0.7 * 40.0 + 0.3 * 80.0, 1e-9));
}

TEST_CASE("mixture: a terminal stands between its air and its warm temperature", "[exposure][conduction]") {
  // In zone b the engine is half warm: 80 + 0.5 (95 - 80). With the exhaust, a quarter.
  CHECK_THAT(mixed_celsius({{0.0, "a", {}, {}}, {1.0, "b", stud(false), "stud"}}, {}), WithinAbs(87.5, 1e-9));
  CHECK_THAT(mixed_celsius({{0.0, "a", {}, {}}, {1.0, "b", stud(true), "stud"}}, {}), WithinAbs(83.75, 1e-9));
}

TEST_CASE("mixture: it remembers the running state for as long as its parts do", "[exposure][conduction]") {
  CHECK(memory_of({{1.0, "a", {}, {}}}) == StateMemory::zone);
  CHECK(memory_of({{0.5, "a", {}, {}}, {0.5, "a", PlacedWire{}, "wire"}}) == StateMemory::exhaust);
  CHECK(memory_of({{0.5, "a", {}, {}}, {0.5, "a", stud(true), "stud"}}) == StateMemory::exhaust);
  CHECK(memory_of({{0.5, "a", {}, {}}, {0.5, "a", stud(false), "stud"}}) == StateMemory::engine);
}
