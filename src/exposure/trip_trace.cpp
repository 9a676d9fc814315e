#include "heatside/exposure/trip_trace.hpp"

#include <algorithm>
#include <array>
#include <boost/numeric/odeint/integrate/integrate_adaptive.hpp>
#include <boost/numeric/odeint/stepper/controlled_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>
#include <limits>

#include "exposure/day_clock.hpp"
#include "exposure/hot_bodies.hpp"
#include "exposure/two_nodes.hpp"

namespace heatside::exposure {

namespace {

namespace odeint = boost::numeric::odeint;
using State = std::array<double, 2>;  // wires and surface [K]

constexpr double seconds_per_minute = 60.0;
constexpr double coldest = 50.0, hottest = 2000.0;  // [K]

// The slower of the two decay rates of C_w w' = -(w - s)/R, C_s s' = (w - s)/R - G s.
double slow_rate(double inner_rate, double surface_inner_rate, double surface_rate) {
  const double sum = inner_rate + surface_inner_rate + surface_rate;
  const double product = inner_rate * surface_rate;
  return 2.0 * product / (sum + std::sqrt(sum * sum - 4.0 * product));
}

// Everything that acts on the wire at any time of the trip.
class TripModel {
 public:
  TripModel(const ZoneTrace& zone, const DailyCourse& day, const PlacedWire& wire, const HeatStore& store, const Trip& trip)
      : zone_{zone}, day_{day}, wire_{wire}, trip_{trip}, nodes_{two_nodes(wire, store)}, hot_{wire.hot_bodies} {}

  struct Surroundings {
    TraceState warmth;
    double rise, air;  // [K]
  };

  [[nodiscard]] Surroundings surroundings(const TraceInterval& interval, double time) const {
    Surroundings around{state_at(zone_, interval, Minutes{time} - interval.start), 0.0, 0.0};
    around.rise = rise_above_ambient(zone_, around.warmth, day_, zone_.heat.rise[state()]).value();
    around.air = day_.mean.value() + day_.half_range.value() * day_cosine(zone_.constants, Minutes{time}) + around.rise;
    return around;
  }

  [[nodiscard]] WireFlows flows(const TraceInterval& interval, const State& kelvin) const {
    const bool loaded = trip_.loaded && interval.running;
    return flows_of(nodes_, kelvin[0], kelvin[1], loaded ? wire_.current.value() : 0.0,
                    loaded ? wire_.bundle.other_heat.value() : 0.0);
  }

  // Change of the two temperatures [K/min].
  [[nodiscard]] State rates(const TraceInterval& interval, const State& tried, double time) const {
    // A step that is tried and found too long may lead anywhere; it must be possible to see that.
    const State kelvin{std::clamp(tried[0], coldest, hottest), std::clamp(tried[1], coldest, hottest)};
    const Surroundings around = surroundings(interval, time);
    WireSetting setting;
    setting.air = Kelvin{around.air};
    if (interval.running) setting.speed = wire_.running_air_speed[state()];
    if (hot_.view > 0.0)
      setting.hot_body =
          hot_.seen(combined_fourth_power(hot_, wire_.hot_bodies, state(), around.warmth.exhaust, around.air));
    const WireFlows now = flows(interval, kelvin);
    return {seconds_per_minute * now.into_wires / nodes_.wires_capacity,
            seconds_per_minute * (now.to_surface - net_loss(nodes_.path, setting, kelvin[1])) / nodes_.surface_capacity};
  }

  void expect_meaningful(const TraceInterval& interval, const State& kelvin) const {
    if (flows(interval, kelvin).conductor > hottest_meaningful.value())
      no_steady_state({wire_.current, wire_.bundle.other_heat.value() > 0.0, !wire_.hot_bodies.empty()});
  }

  [[nodiscard]] TripRow row(const TraceInterval& interval, const State& kelvin, double time) const {
    const Surroundings around = surroundings(interval, time);
    const WireFlows now = flows(interval, kelvin);
    TripRow row;
    row.since_key_on = Minutes{time} - trip_.key_on;
    row.phase = phase(interval.running, around);
    row.air = Kelvin{around.air};
    row.conductor = Kelvin{now.conductor};
    row.insulation = Kelvin{now.insulation};
    row.surface = Kelvin{kelvin[1]};
    for (const HotNeighbour& body : wire_.hot_bodies) {
      const Kelvin here{surface_kelvin(body, state(), around.warmth.exhaust, around.air)};
      row.hot_body = row.hot_body ? std::max(*row.hot_body, here) : here;
    }
    return row;
  }

 private:
  [[nodiscard]] std::size_t state() const { return static_cast<std::size_t>(trip_.state); }

  [[nodiscard]] TripPhase phase(bool running, const Surroundings& around) const {
    constexpr double warm = 0.9;
    if (running) return around.warmth.engine < warm ? TripPhase::warm_up : TripPhase::run;
    return around.rise > zone_.constants.soak_threshold.value() ? TripPhase::soak : TripPhase::parked;
  }

  const ZoneTrace& zone_;
  const DailyCourse& day_;
  const PlacedWire& wire_;
  const Trip& trip_;
  TwoNodes nodes_;
  CombinedHotBody hot_;
};

void check(const Trip& trip, const std::vector<Minutes>& times) {
  const auto finite = [](Minutes time) { return std::isfinite(time.value()); };
  if (!finite(trip.length) || !(trip.length.value() > 0.0) || !finite(trip.key_on)) {
    throw DomainError("a trip of " + std::to_string(trip.length.value()) + " min from minute " +
                      std::to_string(trip.key_on.value()) + " of the week: its length must be above 0");
  }
  if (!std::all_of(times.begin(), times.end(), finite) || !std::is_sorted(times.begin(), times.end()) ||
      (!times.empty() && times.front().value() < 0.0)) {
    throw DomainError("the times of a trip's rows must be finite, not below 0 and in order");
  }
}

std::size_t drive_at(const ZoneTrace& zone, Minutes key_on) {
  constexpr double same = 1.0e-6;  // [min]
  for (std::size_t i = 0; i < zone.week.size(); ++i) {
    const double apart = std::remainder((zone.week[i].start - key_on).value(), week_length.value());
    if (zone.week[i].running && std::abs(apart) < same) return i;
  }
  throw DomainError("no drive of the week starts at minute " + std::to_string(key_on.value()));
}

// The week's intervals before a drive, back to `lead` before it; the first is cut short by its start time alone.
std::vector<TraceInterval> lead_in(const ZoneTrace& zone, std::size_t drive, Minutes key_on, Minutes lead) {
  std::vector<TraceInterval> before;
  Minutes start = key_on;
  for (std::size_t back = 1; start > key_on - lead; ++back) {
    TraceInterval interval = zone.week[(drive + zone.week.size() * back - back) % zone.week.size()];
    start = start - interval.length;
    interval.start = start;
    before.insert(before.begin(), interval);
  }
  return before;
}

// How long before key-on a wire must be followed until its start no longer matters.
Minutes forgetting_time(const PlacedWire& wire, const HeatStore& store, const DailyCourse& day) {
  WireSetting setting;
  setting.air = day.mean;
  return 20.0 * time_constant(wire, store, setting, day.mean + KelvinRise{1.0});
}

// What happens before the trip and in it; the last interval is the standing after it and has no end.
struct Course {
  std::vector<TraceInterval> intervals;
  double start;  // [min], time of the week
};

Course course_of(const ZoneTrace& zone, const DailyCourse& day, const PlacedWire& wire, const HeatStore& store,
                 const Trip& trip) {
  Course course{{}, trip.key_on.value()};
  TraceInterval run{trip.key_on, trip.length, true, {}};
  if (trip.start == TripStart::week) {
    const std::size_t drive = drive_at(zone, trip.key_on);
    const Minutes lead = forgetting_time(wire, store, day);
    run.at_start = zone.week[drive].at_start;
    course.intervals = lead_in(zone, drive, trip.key_on, lead);
    course.start = (trip.key_on - lead).value();
  }
  course.intervals.push_back(run);
  course.intervals.push_back(
      {run.start + run.length, Minutes{std::numeric_limits<double>::infinity()}, false, state_at(zone, run, run.length)});
  return course;
}

void integrate(const TripModel& model, const TraceInterval& interval, State& kelvin, double from, double to) {
  constexpr double tolerance = 1.0e-8;
  if (to <= from) return;
  const auto equations = [&](const State& at, State& rate, double time) { rate = model.rates(interval, at, time); };
  auto stepper = odeint::make_controlled(tolerance, tolerance, odeint::runge_kutta_dopri5<State>());
  try {
    odeint::integrate_adaptive(stepper, equations, kelvin, from, to, std::min(1.0e-3, to - from),
                               [&](const State& at, double) { model.expect_meaningful(interval, at); });
  } catch (const odeint::step_adjustment_error&) {
    throw NumericsError("trip trace: no step is small enough at minute " + std::to_string(from) + " of the week");
  }
}

}  // namespace

HeatStore heat_store(const library::ConductorSize& size, const library::Covering* covering) {
  HeatStore store{square_millimetres(size.area.value)};
  constexpr double kilogram_per_cubic_metre = 1.0e3;  // one g/cm3
  if (covering != nullptr) store.covering = covering->density.value * kilogram_per_cubic_metre * covering_specific_heat;
  return store;
}

Minutes time_constant(const PlacedWire& wire, const HeatStore& store, const WireSetting& setting, Kelvin surface) {
  const TwoNodes nodes = two_nodes(wire, store);
  constexpr double step = 0.05;  // [K]
  const double slope =
      (net_loss(nodes.path, setting, surface.value() + step) - net_loss(nodes.path, setting, surface.value() - step)) /
      (2.0 * step);
  const double resistance = nodes.core + nodes.path.covering;
  const double rate = slow_rate(1.0 / (resistance * nodes.wires_capacity), 1.0 / (resistance * nodes.surface_capacity),
                                slope / nodes.surface_capacity);
  return Minutes{1.0 / (seconds_per_minute * rate)};
}

std::vector<Minutes> trip_times(Minutes length, Minutes until, Minutes step) {
  constexpr double most = 1.0e6;
  if (!(length.value() > 0.0 && until.value() > 0.0 && step.value() > 0.0 && until / step < most)) {
    throw DomainError("rows every " + std::to_string(step.value()) + " min until minute " + std::to_string(until.value()) +
                      " of a trip of " + std::to_string(length.value()) +
                      " min: each must be above 0, a million rows at most");
  }
  std::vector<Minutes> times;
  for (double i = 0.0; i * step.value() <= until.value(); i += 1.0) times.push_back(i * step);
  // A step that meets key-off but for rounding gives way to it.
  const auto is_key_off = [&](Minutes time) { return std::abs((time - length).value()) < 1.0e-9 * length.value(); };
  times.erase(std::remove_if(times.begin(), times.end(), is_key_off), times.end());
  if (length <= until || is_key_off(until)) times.insert(std::lower_bound(times.begin(), times.end(), length), length);
  return times;
}

std::vector<TripRow> trip_trace(const ZoneTrace& zone, const DailyCourse& day, const PlacedWire& wire,
                                const HeatStore& store, const Trip& trip, const std::vector<Minutes>& times) {
  check(trip, times);
  const TripModel model{zone, day, wire, store, trip};
  const Course course = course_of(zone, day, wire, store, trip);
  double now = course.start;
  // Long before a trip of the week it does not matter where the wire starts.
  const double air = model.surroundings(course.intervals.front(), now).air;
  State kelvin{air, air};
  std::vector<TripRow> rows;
  auto wanted = times.begin();
  for (const TraceInterval& interval : course.intervals) {
    const double end = (interval.start + interval.length).value();
    const bool before = end <= trip.key_on.value();
    for (; !before && wanted != times.end() && (trip.key_on + *wanted).value() <= end; ++wanted) {
      const double time = (trip.key_on + *wanted).value();
      integrate(model, interval, kelvin, now, time);
      now = std::max(now, time);
      rows.push_back(model.row(interval, kelvin, time));
    }
    if (wanted == times.end() || !std::isfinite(end)) break;
    integrate(model, interval, kelvin, now, end);
    now = end;
  }
  return rows;
}

}  // namespace heatside::exposure
