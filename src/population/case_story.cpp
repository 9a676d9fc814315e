#include "heatside/population/case_story.hpp"

#include <algorithm>

#include "heatside/ageing/arrhenius.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/population/oven_line.hpp"
#include "heatside/population/segment_trip.hpp"
#include "population/trip_ageing.hpp"
#include "population/worst_place.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using library::Library;

LoomEnd end_of(const Case& job, const Ground& ground, const std::string& id) {
  const Where where = worst_place(job, ground, id);
  LikelyPlaces clocks{job, ground.library, true, ground.scores};
  const Place at = place_at(clocks, where);
  const AgedSpan future = clocks.future(at);
  const Lives lives{ground.library};
  LoomEnd end{explain_segment(job, ground.library, id),
              when_warmer("10 K hotter while it runs and soaks", KelvinRise{10.0}, lives, clocks, at, future),
              when_warmer("10 K cooler while it runs and soaks", KelvinRise{-10.0}, lives, clocks, at, future),
              KelvinRise{0.0}, JoulePerMole{0.0}};
  end.energy = energy_at(at.insulation, end.explained.equivalent_temperature);
  end.halving = ageing::halving_interval(end.explained.equivalent_temperature, end.energy);
  return end;
}

// The case with one compound in all its wires.
Case all_of(Case job, const std::string& insulation) {
  for (casefile::Lot& lot : job.lots) {
    lot.candidates = {{insulation, 1.0}};
    lot.compound_known = true;
  }
  return job;
}

Years new_wire_at(const Case& job, const Ground& ground, const Where& where) {
  LikelyPlaces clocks{job, ground.library, true, ground.scores};
  const Place at = place_at(clocks, where);
  return Lives{ground.library}.new_wire(at, rates_of(clocks.future(at)));
}

OvenSight oven_sight(const Case& same, const Ground& ground, const Where& cool, const std::string& id) {
  const OvenLine line = oven_line(ground.library, id);
  const std::vector<Kelvin> ovens = oven_temperatures(ground.library.insulations.at(id));
  Library straight = ground.library;
  straight.insulations.at(id) = as_ovens_show(ground.library.insulations.at(id));
  return {line.bends,
          ovens.front(),
          ovens.back(),
          line.line_energy,
          new_wire_at(same, ground, cool),
          new_wire_at(same, {straight, ground.scores}, cool)};
}

// An afternoon of the warmest month, where the use to come is.
Kelvin warm_afternoon(const library::Climate& climate) {
  double warmest = climate.monthly_mean.front() + 0.5 * climate.daily_range.front();
  for (std::size_t month = 1; month < climate.monthly_mean.size(); ++month)
    warmest = std::max(warmest, climate.monthly_mean[month] + 0.5 * climate.daily_range[month]);
  return celsius(warmest);
}

HillTrip hill_trip(const Case& job, const Ground& ground, const std::string& id) {
  const Where where = worst_place(job, ground, id);
  LikelyPlaces clocks{job, ground.library, false, ground.scores};
  const Place at = place_at(clocks, where);
  const exposure::UseSpan& use = clocks.future_use();
  const library::Climate& climate = ground.library.climates.at(use.climate);
  const library::ModelConstants& model = ground.library.model;
  TripOptions options;
  options.ambient = warm_afternoon(climate);
  const TripClock clock{at.insulation, clocks.surroundings(at, use), climate.relative_humidity.value, at.stretch.damp,
                        options.ambient};
  const double ordinary = mean_clock(job, clocks, where);
  HillTrip trip;
  trip.length = options.length;
  trip.ambient = options.ambient;
  const auto drive = [&](library::RunningState state, Kelvin& hottest) {
    options.state = state;
    const SegmentTrip driven = segment_trip(job, ground.library, id, options);
    const TripAgeing ageing = ageing_of(driven.rows, clock, model);
    hottest = hottest_of(driven.rows).insulation;
    return Hours{(ageing.running + ageing.after) / ordinary};
  };
  trip.city = drive(library::RunningState::city, trip.city_hottest);
  trip.hill = drive(library::RunningState::hill, trip.hill_hottest);
  return trip;
}

}  // namespace

CaseStory case_story(const Case& job, const Library& library) {
  const Ground ground = ground_of(job, library);
  const Estimate estimate = likely_estimate(job, library, {.solution = ageing::Solution::closed_form});
  const std::string& hot = estimate.segments.front().id;
  CaseStory story;
  story.heat = end_of(job, ground, hot);
  story.hill = hill_trip(job, ground, hot);
  if (estimate.segments.size() == 1) return story;
  const std::string& cold = estimate.segments.back().id;
  story.cool = end_of(job, ground, cold);
  const std::string& compound = story.heat.explained.insulation;
  const Case same = all_of(job, compound);
  const Where heat = worst_place(job, ground, hot), cool = worst_place(job, ground, cold);
  LikelyPlaces clocks{same, library, true, ground.scores};
  story.pace = mean_clock(same, clocks, heat) / mean_clock(same, clocks, cool);
  story.oven = oven_sight(same, ground, cool, compound);
  return story;
}

}  // namespace heatside::population
