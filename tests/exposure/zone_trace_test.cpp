#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "exposure/records.hpp"
#include "heatside/exposure/integrate_trace.hpp"
#include "heatside/exposure/zone_trace.hpp"

using Catch::WithinAbs;
using Catch::WithinRel;
using namespace heatside;
using namespace heatside::exposure;
using namespace heatside::exposure::testing;

namespace {

// Switch points and times between them, from the first key-on of the week to the same one a week later.
struct Sample {
  std::vector<Minutes> times;
  std::vector<const TraceInterval*> intervals;
  std::vector<double> after;
};

Sample sample_week(const ZoneTrace& trace) {
  Sample sample;
  for (const TraceInterval& interval : trace.week) {
    for (const double part : {0.0, 0.03, 0.2, 0.5, 0.9, 1.0}) {
      const double after = part * interval.length.value();
      sample.times.push_back(interval.start + Minutes{after});
      sample.intervals.push_back(&interval);
      sample.after.push_back(after);
    }
  }
  return sample;
}

// Largest distance of the closed form from Odeint over a week [K].
double largest_distance(const ZoneTrace& trace, const DailyCourse& day, KelvinRise rise) {
  const Sample sample = sample_week(trace);
  const std::vector<KelvinRise> integrated = integrate_trace(trace, day, rise, sample.times);
  REQUIRE(integrated.size() == sample.times.size());
  double largest = 0.0;
  for (std::size_t i = 0; i < sample.times.size(); ++i) {
    const double closed = rise_at(trace, *sample.intervals[i], sample.after[i], day, rise);
    largest = std::max(largest, std::abs(closed - integrated[i].value()));
  }
  return largest;
}

std::array<double, 8> numbers(const TraceState& state) {
  return {state.engine,     state.exhaust,     state.running,       state.by_engine,
          state.by_exhaust, state.running_cos, state.by_engine_cos, state.by_exhaust_cos};
}

double largest_difference(const TraceState& a, const TraceState& b) {
  double largest = 0.0;
  for (std::size_t i = 0; i < numbers(a).size(); ++i) largest = std::max(largest, std::abs(numbers(a)[i] - numbers(b)[i]));
  return largest;
}

TraceState end_of(const ZoneTrace& trace) { return state_at(trace, trace.week.back(), trace.week.back().length); }

// A zone from cold that runs: theta' = (rise (1 - e^(-t/8)) - theta)/tau, theta(0) = 0, for tau other than 8 min.
double running_from_cold(double rise, double tau, double t) {
  return rise * (1.0 - (tau * std::exp(-t / tau) - 8.0 * std::exp(-t / 8.0)) / (tau - 8.0));
}

// The state of a zone by the test's own formulas.
struct ByHand {
  double engine, exhaust, rise;
};

// Key-on with the zone at `from`: theta decays, engine warmth is 1 - (1-E0) e^(-t/8).
ByHand run_by_hand(const ZoneHeat& heat, ByHand from, double rise, double t) {
  const double tau = 0.6 * heat.tau_warm.value();
  const double own = std::exp(-t / tau);
  const double cold = (1.0 - from.engine) * 8.0 / (8.0 - tau) * (std::exp(-t / 8.0) - own);
  return {1.0 - (1.0 - from.engine) * std::exp(-t / 8.0), 1.0 - (1.0 - from.exhaust) * std::exp(-t / 8.0),
          from.rise * own + rise * (1.0 - own - cold)};
}

// theta0 e^(-t/tau_r) + k S_e E0 (e^(-t/tau_d) - e^(-t/tau_r)) + k S_x X0 (e^(-t/25) - e^(-t/tau_r))
ByHand stand_by_hand(const ZoneHeat& heat, const SoakAmplitudes& soak, ByHand from, double k, double t) {
  const double own = std::exp(-t / heat.tau_soak_rise.value());
  const double slow = std::exp(-t / heat.tau_soak_decay.value());
  const double fast = std::exp(-t / 25.0);
  return {from.engine * slow, from.exhaust * fast,
          from.rise * own + k * soak.engine.value() * from.engine * (slow - own) +
              k * soak.exhaust.value() * from.exhaust * (fast - own)};
}

}  // namespace

TEST_CASE("zone trace: the closed form agrees with Odeint within 1e-6 K", "[exposure][zone-trace]") {
  const std::array<DailyCourse, 4> days{{{celsius(-22.0), KelvinRise{5.5}, 1.0},
                                         {celsius(4.0), KelvinRise{0.0}, 1.0},
                                         {celsius(18.0), KelvinRise{4.0}, 1.0},
                                         {celsius(38.0), KelvinRise{8.0}, 1.0}}};
  const std::string duty = GENERATE("family", "taxi", "delivery", "weekend");
  // s = 0.3 with an exhaust part, 0.9 without one, 1.0.
  const std::string zone = GENERATE("engine-valley", "exhaust-shielded", "upper-bay");
  CAPTURE(duty, zone);
  const ZoneTrace trace = trace_of(zone, duty);
  for (const KelvinRise rise : trace.heat.rise) {
    for (const DailyCourse& day : days) {
      CAPTURE(rise.value(), in_celsius(day.mean));
      // Boost.Odeint integrates the equations of design section 5.1, the closed form is not asked.
      CHECK(largest_distance(trace, day, rise) < 1.0e-6);
    }
  }
}

TEST_CASE("zone trace: the closed form agrees with Odeint in every zone", "[exposure][zone-trace]") {
  const DailyCourse day{celsius(7.0), KelvinRise{6.0}, 1.0};
  for (const auto& [id, zone] : records().zones) {
    const ZoneTrace trace = trace_of(id, "family");
    CAPTURE(id);
    CHECK(largest_distance(trace, day, city_rise(trace.heat)) < 1.0e-6);
  }
}

TEST_CASE("zone trace: Odeint is back at its start after a week", "[exposure][zone-trace]") {
  const DailyCourse day{celsius(12.0), KelvinRise{6.0}, 1.0};
  for (const char* zone : {"engine-valley", "gearbox-tunnel", "exhaust-close"}) {
    for (const char* duty : {"family", "delivery", "weekend"}) {
      const ZoneTrace trace = trace_of(zone, duty);
      const Minutes start = trace.week.front().start;
      const auto rises = integrate_trace(trace, day, city_rise(trace.heat), {start, start + Minutes{10080.0}});
      CAPTURE(zone, duty);
      CHECK_THAT(rises.at(1).value(), WithinAbs(rises.at(0).value(), 1.0e-6));
    }
  }
}

TEST_CASE("zone trace: one trip from cold is a sum of exponentials", "[exposure][zone-trace]") {
  // One trip a week: from the week before, e^(-10080/130) is left.
  const std::string zone = GENERATE("engine-valley", "upper-bay", "exhaust-shielded", "upper-bulkhead");
  const double ambient = GENERATE(25.0, -15.0, 40.0);
  CAPTURE(zone, ambient);
  const ZoneHeat heat = zone_heat(zone);
  const double trip = 24.0;
  const ZoneTrace trace = trace_of(heat, {{Minutes{460.0}, Minutes{trip}}});
  const double colder = (25.0 - ambient) * (1.0 - heat.ambient_following);
  const double k = (heat.soak_peak.value() + colder) / heat.soak_peak.value();
  const double tau = 0.6 * heat.tau_warm.value();

  for (const KelvinRise rise : heat.rise) {
    const double anchored = rise.value() + colder;
    // The differential equations of design section 5.1 at a constant ambient, solved by hand.
    for (const double t : {0.0, 0.5, 3.0, 10.0, 17.0, trip}) {
      CHECK_THAT(rise_at(trace, trace.week[0], t, even_day(ambient), rise),
                 WithinAbs(running_from_cold(anchored, tau, t), 1.0e-9));
    }
    const ByHand off{1.0 - std::exp(-trip / 8.0), 1.0 - std::exp(-trip / 8.0), running_from_cold(anchored, tau, trip)};
    for (const double t : {0.0, 1.0, 5.0, 14.0, 30.0, 90.0, 300.0, 2000.0}) {
      CHECK_THAT(rise_at(trace, trace.week[1], t, even_day(ambient), rise),
                 WithinAbs(stand_by_hand(heat, trace.soak, off, k, t).rise, 1.0e-9));
    }
  }
}

TEST_CASE("zone trace: a second trip goes on from a warm engine and a warm zone", "[exposure][zone-trace]") {
  const ZoneHeat heat = zone_heat("head-cover");
  const ZoneTrace trace = trace_of(heat, {{Minutes{600.0}, Minutes{15.0}}, {Minutes{660.0}, Minutes{20.0}}});
  const double ambient = 10.0;
  const KelvinRise rise = city_rise(heat);
  const double anchored = rise.value() + 15.0 * 0.7;
  const double k = (80.0 + 15.0 * 0.7) / 80.0;
  // Own arithmetic of the test, interval by interval: run 15, stand 45, run 20, stand.
  const ByHand first = run_by_hand(heat, {0.0, 0.0, 0.0}, anchored, 15.0);
  const ByHand rest = stand_by_hand(heat, trace.soak, first, k, 45.0);
  const ByHand second = run_by_hand(heat, rest, anchored, 20.0);
  REQUIRE(trace.week.size() == 4);
  CHECK(trace.soak.exhaust.value() > 0.0);
  CHECK_THAT(trace.week[2].at_start.engine, WithinAbs(rest.engine, 1.0e-12));
  CHECK_THAT(trace.week[2].at_start.exhaust, WithinAbs(rest.exhaust, 1.0e-12));
  for (const double t : {0.0, 2.0, 9.0, 20.0}) {
    CHECK_THAT(rise_at(trace, trace.week[2], t, even_day(ambient), rise),
               WithinAbs(run_by_hand(heat, rest, anchored, t).rise, 1.0e-9));
  }
  for (const double t : {0.0, 7.0, 60.0, 400.0}) {
    CHECK_THAT(rise_at(trace, trace.week[3], t, even_day(ambient), rise),
               WithinAbs(stand_by_hand(heat, trace.soak, second, k, t).rise, 1.0e-9));
  }
}

TEST_CASE("zone trace: the end of the week is its start", "[exposure][zone-trace]") {
  for (const auto& [zone, record] : records().zones) {
    for (const auto& [duty, schedule] : records().duties) {
      const ZoneTrace trace = trace_of(zone, duty);
      CAPTURE(zone, duty);
      CHECK(largest_difference(end_of(trace), trace.week.front().at_start) < 1.0e-12);
    }
  }
}

TEST_CASE("zone trace: a zone that remembers for weeks becomes periodic too", "[exposure][zone-trace]") {
  ZoneHeat heat = zone_heat("head-cover");
  heat.tau_soak_decay = Minutes{6000.0};  // the longest that a zone record may state
  const ZoneTrace trace = trace_of(heat, weekly_drives(records().duties.at("weekend")));
  CHECK(trace.week.front().at_start.engine > 0.2);
  CHECK(largest_difference(end_of(trace), trace.week.front().at_start) < 1.0e-12);
}

TEST_CASE("zone trace: a zone that responds as the engine warms is no special case", "[exposure][zone-trace]") {
  // 0.6 tau_warm = 8 min: the two exponentials become one, t e^(-t/8). Reached from both sides.
  const DailyCourse day{celsius(5.0), KelvinRise{6.0}, 1.0};
  ZoneHeat heat = zone_heat("engine-valley");
  heat.tau_warm = Minutes{8.0 / 0.6};
  const std::vector<Drive> drives = weekly_drives(records().duties.at("family"));
  const ZoneTrace at = trace_of(heat, drives);
  CHECK(largest_distance(at, day, city_rise(heat)) < 1.0e-6);

  const ZoneTrace cold = trace_of(heat, {{Minutes{0.0}, Minutes{60.0}}});
  for (const double t : {1.0, 8.0, 30.0, 60.0}) {
    // Limit of running_from_cold for tau -> 8: rise (1 - (1 + t/8) e^(-t/8)), own arithmetic.
    CHECK_THAT(rise_at(cold, cold.week[0], t, even_day(25.0), KelvinRise{78.0}),
               WithinAbs(78.0 * (1.0 - (1.0 + t / 8.0) * std::exp(-t / 8.0)), 1.0e-9));
  }

  for (const double shift : {-1.0e-3, -1.0e-6, -1.0e-9, -1.0e-12, 1.0e-12, 1.0e-9, 1.0e-6, 1.0e-3}) {
    ZoneHeat near = heat;
    near.tau_warm = Minutes{8.0 / 0.6 + shift};
    const ZoneTrace beside = trace_of(near, drives);
    const Sample sample = sample_week(at);
    const Sample moved = sample_week(beside);
    CAPTURE(shift);
    for (std::size_t i = 0; i < sample.times.size(); ++i) {
      const double here = rise_at(at, *sample.intervals[i], sample.after[i], day, city_rise(heat));
      const double there = rise_at(beside, *moved.intervals[i], moved.after[i], day, city_rise(heat));
      // No zone changes faster than 78 K a minute of tau_warm; a cancellation would show as kelvins.
      REQUIRE_THAT(there, WithinAbs(here, 1.0e-9 + 78.0 * std::abs(shift)));
    }
  }
}

TEST_CASE("zone trace: a drive cut in two at once changes nothing", "[exposure][zone-trace][property]") {
  const ZoneHeat heat = zone_heat("upper-bulkhead");
  const ZoneTrace whole = trace_of(heat, {{Minutes{500.0}, Minutes{40.0}}});
  const ZoneTrace halves = trace_of(heat, {{Minutes{500.0}, Minutes{17.0}}, {Minutes{517.0}, Minutes{23.0}}});
  REQUIRE(whole.week.size() == 2);
  REQUIRE(halves.week.size() == 3);
  CHECK(largest_difference(end_of(whole), end_of(halves)) < 1.0e-12);
  CHECK(largest_difference(whole.week[1].at_start, halves.week[2].at_start) < 1.0e-12);
}

TEST_CASE("zone trace: a week later and a day later is the same to the zone", "[exposure][zone-trace][property]") {
  // Drives moved by whole days see the same daily course, so the responses are the same.
  const ZoneHeat heat = zone_heat("alternator");
  const ZoneTrace monday = trace_of(heat, {{Minutes{480.0}, Minutes{30.0}}});
  const ZoneTrace sunday = trace_of(heat, {{Minutes{6.0 * 1440.0 + 480.0}, Minutes{30.0}}});
  for (const double after : {0.0, 12.0, 30.0}) {
    CHECK(largest_difference(state_at(monday, monday.week[0], Minutes{after}),
                             state_at(sunday, sunday.week[0], Minutes{after})) < 1.0e-12);
  }
}

TEST_CASE("zone trace: its week is the schedule", "[exposure][zone-trace]") {
  for (const auto& [id, duty] : records().duties) {
    const ZoneTrace trace = trace_of("upper-bay", id);
    double running = 0.0, whole = 0.0;
    Minutes reached = trace.week.front().start;
    for (const TraceInterval& interval : trace.week) {
      CHECK_THAT(interval.start.value(), WithinAbs(reached.value(), 1.0e-9));
      reached = interval.start + interval.length;
      whole += interval.length.value();
      if (interval.running) running += interval.length.value();
    }
    CAPTURE(id);
    CHECK_THAT(whole, WithinAbs(10080.0, 1.0e-9));  // minutes of a week
    CHECK_THAT(running, WithinAbs(library::weekly_running_time(duty).value(), 1.0e-9));
  }
  // The notes of the duty records name their hours a year: 370 for the family, 2609 for the taxi.
  CHECK_THAT(library::weekly_running_time(records().duties.at("family")).value() / 60.0 * 8766.0 / 168.0,
             WithinAbs(370.0, 1.0));
  CHECK_THAT(library::weekly_running_time(records().duties.at("taxi")).value() / 60.0 * 8766.0 / 168.0,
             WithinAbs(2609.0, 1.0));
}

TEST_CASE("zone trace: nothing warms a zone that is laid up", "[exposure][zone-trace]") {
  const ZoneTrace trace = trace_of("engine-valley", "laid-up");
  REQUIRE(trace.week.size() == 1);
  for (const double after : {0.0, 700.0, 10080.0}) {
    CHECK(rise_at(trace, trace.week[0], after, {celsius(-10.0), KelvinRise{5.0}, 1.0}, KelvinRise{90.0}) == 0.0);
  }
}

TEST_CASE("zone trace: ambient is warmest at 15 h and coldest at 3 h", "[exposure][zone-trace]") {
  // Design section 5.1: sinusoid with its peak at 15 h.
  for (int day = 0; day < 7; ++day) {
    CHECK_THAT(day_cosine(constants(), Minutes{1440.0 * day + 900.0}), WithinAbs(1.0, 1.0e-12));
    CHECK_THAT(day_cosine(constants(), Minutes{1440.0 * day + 180.0}), WithinAbs(-1.0, 1.0e-12));
    CHECK_THAT(day_cosine(constants(), Minutes{1440.0 * day + 540.0}), WithinAbs(0.0, 1.0e-12));
  }
}

TEST_CASE("zone trace: a zone held by the thermostat gains on a cold day", "[exposure][zone-trace][property]") {
  // Zone temperature changes by s for each kelvin of ambient once all is warm (definition of s in the zone records).
  for (const auto& [id, record] : records().zones) {
    const ZoneHeat heat = likely_zone_heat(record);
    const ZoneTrace trace = trace_of(heat, {{Minutes{0.0}, Minutes{1200.0}}});
    const double cold = -20.0 + rise_at(trace, trace.week[0], 1200.0, even_day(-20.0), city_rise(heat));
    const double warm = 35.0 + rise_at(trace, trace.week[0], 1200.0, even_day(35.0), city_rise(heat));
    CAPTURE(id);
    CHECK_THAT((warm - cold) / 55.0, WithinAbs(heat.ambient_following, 1.0e-9));
    CHECK_THAT(25.0 + rise_at(trace, trace.week[0], 1200.0, even_day(25.0), city_rise(heat)),
               WithinAbs(25.0 + city_rise(heat).value(), 1.0e-9));
  }
}

TEST_CASE("zone trace: drives of a schedule come in order of time", "[exposure][zone-trace]") {
  const std::vector<Drive> drives = weekly_drives(records().duties.at("family"));
  REQUIRE(drives.size() == 20);                       // 14 of 24 min and 6 of 15 min in the record
  CHECK(drives.front().start.value() == 460.0);       // Monday 07:40
  CHECK(drives[1].start.value() == 1035.0);           // Monday 17:15
  CHECK(drives[4].start.value() == 1440.0 + 1180.0);  // Tuesday 19:40
  for (std::size_t i = 1; i < drives.size(); ++i) CHECK(drives[i - 1].start + drives[i - 1].length <= drives[i].start);
}
