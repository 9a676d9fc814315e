#include "heatside/exposure/zone_at_score.hpp"

#include <catch2/catch.hpp>

#include "exposure/records.hpp"

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::exposure;
using namespace heatside::exposure::testing;

namespace {

const library::Zone& zone(const std::string& id) { return records().zones.at(id); }

std::size_t index_of(library::RunningState state) { return static_cast<std::size_t>(state); }

}  // namespace

TEST_CASE("zone at a score: 0 is the likely zone", "[exposure][score]") {
  for (const auto& [id, record] : records().zones) {
    CAPTURE(id);
    const ZoneHeat likely = likely_zone_heat(record), heat = zone_heat_at(record, 0.0);
    CHECK(heat.rise == likely.rise);
    CHECK(heat.soak_peak == likely.soak_peak);
    CHECK(heat.tau_soak_decay == likely.tau_soak_decay);
    CHECK(heat.ambient_following == likely.ambient_following);
  }
}

TEST_CASE("zone at a score: the bands of the record lie at 1.645", "[exposure][score]") {
  // P(z < 1.645) = 0.95, any table of the normal distribution.
  for (const auto& [id, record] : records().zones) {
    CAPTURE(id);
    const ZoneHeat low = zone_heat_at(record, -1.645), high = zone_heat_at(record, 1.645);
    for (std::size_t state = 0; state < low.rise.size(); ++state) {
      CHECK_THAT(low.rise[state].value(), WithinAbs(*record.rise[state].low, 1e-12));
      CHECK_THAT(high.rise[state].value(), WithinAbs(*record.rise[state].high, 1e-12));
    }
    CHECK_THAT(low.soak_peak.value(), WithinAbs(*record.soak_peak.low, 1e-12));
    CHECK_THAT(high.soak_peak.value(), WithinAbs(*record.soak_peak.high, 1e-12));
  }
}

TEST_CASE("zone at a score: each side has its own slope, and both end at 4", "[exposure][score]") {
  const library::Zone& record = zone("exhaust-close");
  const Sourced& hill = record.rise[index_of(library::RunningState::hill)];
  const auto rise = [&](double z) { return zone_heat_at(record, z).rise[index_of(library::RunningState::hill)].value(); };
  CHECK_THAT(rise(1.0) - rise(0.0), WithinRel((*hill.high - hill.value) / 1.645, 1e-12));
  CHECK_THAT(rise(0.0) - rise(-1.0), WithinRel((hill.value - *hill.low) / 1.645, 1e-12));
  CHECK(rise(4.0) == rise(5.0));
  CHECK(rise(-4.0) == rise(-50.0));
  CHECK(rise(3.9) < rise(4.0));
}

TEST_CASE("zone at a score: a number without a band moves by its sd, or not at all", "[exposure][score]") {
  Sourced number;
  number.value = 20.0;
  CHECK(value_at_score(number, 2.0) == 20.0);
  number.sd = 3.0;
  CHECK(value_at_score(number, 2.0) == 26.0);
  CHECK(value_at_score(number, -1.0) == 17.0);
}

TEST_CASE("zone at a score: the soak peak stays above the city rise and grows with the score", "[exposure][score]") {
  // Columns that move together cannot cross: linear in z, in order at both ends of each side.
  for (const auto& [id, record] : records().zones) {
    double last = -1.0e9;
    for (double z = -4.0; z <= 4.0; z += 0.25) {
      const ZoneHeat heat = zone_heat_at(record, z);
      CAPTURE(id, z);
      CHECK(heat.soak_peak.value() > last);
      CHECK(heat.soak_peak.value() != 0.0);
      last = heat.soak_peak.value();
    }
  }
}

TEST_CASE("zone at a score: soak amplitudes follow the peak", "[exposure][score]") {
  for (const char* id : {"head-cover", "upper-bay", "front-end"}) {
    const library::Zone& record = zone(id);
    const SoakAmplitudes likely = soak_amplitudes(likely_zone_heat(record), constants());
    for (const double z : {-3.29, -1.0, 0.0, 2.0, 9.0}) {
      CAPTURE(id, z);
      const SoakAmplitudes drawn = soak_amplitudes_at(record, likely, z);
      const double ratio = zone_heat_at(record, z).soak_peak.value() / record.soak_peak.value;
      CHECK_THAT(drawn.engine.value(), WithinAbs(likely.engine.value() * ratio, 1e-12));
      CHECK_THAT(drawn.exhaust.value(), WithinAbs(likely.exhaust.value() * ratio, 1e-12));
    }
  }
}

TEST_CASE("zone at a score: what is below the ambient gives a trace that is finite", "[exposure][score]") {
  // front-end: 20 K likely and 10 K low give a peak of 20 - 10 * 3.29 / 1.645 = 0 at z = -3.29.
  const library::Zone& record = zone("front-end");
  const SoakAmplitudes likely = soak_amplitudes(likely_zone_heat(record), constants());
  const ZoneTrace trace = periodic_week(zone_heat_at(record, -3.29), soak_amplitudes_at(record, likely, -3.29), constants(),
                                        weekly_drives(records().duties.at("family")));
  const double rise = rise_at(trace, trace.week[1], 10.0, even_day(10.0), city_rise(trace.heat));
  CHECK(std::abs(rise) < 10.0);
}
