// The hottest moments of a year against the zone's own numbers.
#include "heatside/population/service_heat.hpp"

#include <catch2/catch.hpp>

#include "population/cases.hpp"

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::population;
using namespace heatside::population::testing;

namespace {

library::Library always(double celsius) {
  library::Library library = records();
  library::Climate& climate = library.climates.at("mediterranean");
  climate.monthly_mean.fill(celsius);
  climate.daily_range.fill(0.0);
  climate.deviation_sd.fill(0.0);
  return library;
}

casefile::Case driven(const library::Library& library, const casefile::DutyChoice& duty) {
  Scene scene;
  scene.zones = {"head-cover"};
  casefile::Case job = read(case_of(scene), library);
  job.future.duty = duty;
  return job;
}

Population even(const casefile::Case& job, std::size_t draws) {
  return {Normals{0, draws}, even_belief(draws), exposure::zone_scores(job, records()), true};
}

// Long enough trips in town for the engine to be warm through and through.
library::Duty long_trips() {
  library::Duty duty = records().duties.at("family");
  duty.running_mix = {0.0, 1.0, 0.0, 0.0};
  duty.trips = {{{0, 3}, Minutes{600.0}, Minutes{240.0}, 1, Minutes{0.0}}};
  return duty;
}

}  // namespace

TEST_CASE("service heat: a vehicle that stands is as warm as its climate", "[population][heat]") {
  const library::Library library = always(31.0);
  const casefile::Case job = driven(library, "laid-up");
  const StretchHeat heat = service_heat(job, library, even(job, 200), {0}).front().front();
  CHECK_THAT(in_celsius(heat.hottest().p10), WithinAbs(31.0, 1.0e-6));
  CHECK_THAT(in_celsius(heat.hottest().p90), WithinAbs(31.0, 1.0e-6));
  CHECK_FALSE(heat.soak);
  CHECK_FALSE(heat.hottest_while_running());
}

TEST_CASE("service heat: rises and soak peak are those of the zone's record", "[population][heat]") {
  // At an ambient of 25 degC the record's own numbers hold: rise in town while running, soak peak after key-off. At a score
  // z the band of 5 to 95 % moves them by z/1.645; the tenth and nine tenths of a standard normal lie at -+1.2816.
  const library::Library library = always(25.0);
  const casefile::Case job = driven(library, long_trips());
  const StretchHeat heat = service_heat(job, library, even(job, 4000), {0}).front().front();
  const library::Zone& zone = library.zones.at("head-cover");
  const Sourced &city = zone.rise[1], &peak = zone.soak_peak;
  CHECK_THAT(in_celsius(heat.running.p50), WithinAbs(25.0 + city.value, 1.0));
  CHECK_THAT(in_celsius(heat.stopped.p50), WithinAbs(25.0 + peak.value, 1.0));
  CHECK_THAT(in_celsius(heat.running.p90), WithinAbs(25.0 + city.value + (*city.high - city.value) * 1.2816 / 1.645, 1.5));
  CHECK_THAT(in_celsius(heat.stopped.p10), WithinAbs(25.0 + peak.value - (peak.value - *peak.low) * 1.2816 / 1.645, 1.5));
  CHECK(heat.soak);
  CHECK_FALSE(heat.hottest_while_running());
}

TEST_CASE("service heat: hours above a temperature", "[population][heat]") {
  const library::Library library = always(25.0);
  const casefile::Case job = driven(library, long_trips());
  StretchHeat heat = service_heat(job, library, even(job, 200), {0}).front().front();
  CHECK_THAT(hours_above(heat, celsius(0.0)).value(), WithinRel(8766.0, 1.0e-9));
  CHECK(hours_above(heat, celsius(300.0)).value() == 0.0);
  // Eight hours of driving a week, less the warming up: above 80 degC for most of it and some of the soak.
  const double weeks = 8766.0 / 168.0;
  CHECK(hours_above(heat, celsius(80.0)).value() > 6.0 * weeks);
  CHECK(hours_above(heat, celsius(80.0)).value() < 12.0 * weeks);
  const double full = hours_above(heat, celsius(80.0)).value();
  heat.usage = 0.5;
  CHECK_THAT(hours_above(heat, celsius(80.0)).value(), WithinRel(0.5 * full, 1.0e-12));
}
