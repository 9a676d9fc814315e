#include "population/worst_place.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "base/text.hpp"
#include "heatside/ageing/condition.hpp"
#include "heatside/exposure/zone_scores.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using casefile::Segment;
using exposure::TemperatureMeasure;
using exposure::total;

constexpr auto solution = ageing::Solution::closed_form;

TemperatureMeasure warmer(const TemperatureMeasure& year, KelvinRise by) {
  TemperatureMeasure warm = year;
  for (std::size_t regime = 0; regime < 2; ++regime) {
    for (double& kelvin : warm.by_regime[regime].kelvin) kelvin += by.value();
  }
  return warm;
}

}  // namespace

Ground ground_of(const Case& job, const library::Library& library) {
  return {library, mean_scores(exposure::zone_scores(job, library))};
}

Place place_at(LikelyPlaces& clocks, const Where& where) {
  std::vector<Place> places = clocks.places(where.segment);
  const std::size_t groups = places.front().segment.groups.size();
  return places.at(where.stretch * groups + where.group);
}

std::vector<AgedSpan> in_service(const Case& job, LikelyPlaces& clocks, const Place& at) {
  const auto fitted = casefile::find_by_id(job.looms, at.segment.loom)->fitted.day;
  std::vector<AgedSpan> spans = clocks.past(at);
  std::erase_if(spans, [&](const AgedSpan& span) { return span.use.from < fitted; });
  if (spans.empty()) {
    spans.push_back(clocks.future(at));
    spans.back().length = Hours{1.0};
  }
  return spans;
}

double hours_of(const std::vector<AgedSpan>& spans) {
  double sum = 0.0;
  for (const AgedSpan& span : spans) sum += span.length.value();
  return sum;
}

double mean_clock(const Case& job, LikelyPlaces& clocks, const Where& where) {
  const Place at = place_at(clocks, where);
  const std::vector<AgedSpan> spans = in_service(job, clocks, at);
  return over_service(spans, 0.0,
                      [](double& sum, const AgedSpan& span, double hours) { sum += hours * total(span.extent); }) /
         hours_of(spans);
}

ageing::ClockRates rates_of(const AgedSpan& span) { return {total(span.extent), span.guard}; }

Years Lives::remaining(LikelyPlaces& clocks, const Place& at, const ageing::ClockRates& future) const {
  std::vector<ageing::ClockSpan> spans;
  for (const AgedSpan& span : clocks.past(at)) spans.push_back({span.length, rates_of(span)});
  return until(at, spans, future);
}

Years Lives::new_wire(const Place& at, const ageing::ClockRates& future) const { return until(at, {}, future); }

Years Lives::until(const Place& at, const std::vector<ageing::ClockSpan>& past, const ageing::ClockRates& future) const {
  const ageing::Kinetics kinetics = ageing::likely_kinetics(at.insulation, library_.model);
  const Metres radius = at.segment.route_radius.value_or(millimetres(library_.model.condition.route_radius.value));
  const ageing::ConditionThresholds thresholds = ageing::condition_thresholds(
      kinetics.initial, PerKelvin{at.insulation.expansion.value}, {at.group.outer_diameter, radius}, library_.model);
  return ageing::years_until(kinetics, past, future, thresholds.flex_cracks, solution);
}

ChangeEffect when_warmer(std::string change, KelvinRise by, const Lives& lives, LikelyPlaces& clocks, const Place& at,
                         const AgedSpan& future) {
  const auto changed = [by](const TemperatureMeasure& year) { return warmer(year, by); };
  const ageing::WireSurroundings around = clocks.surroundings(at, future.use);
  const double extent = total(clocks.clock(at, at.insulation.paths, around, future.use, changed));
  const double guard = at.insulation.guard_paths.empty()
                           ? extent
                           : total(clocks.clock(at, at.insulation.guard_paths, around, future.use, changed));
  const ageing::ClockRates rates{extent, guard};
  return {std::move(change), "", extent / total(future.extent), lives.remaining(clocks, at, rates),
          lives.new_wire(at, rates)};
}

Where worst_place(const Case& job, const Ground& ground, const std::string& id) {
  LikelyPlaces clocks{job, ground.library, true, ground.scores};
  return worst_place(job, ground, clocks, id);
}

Where worst_place(const Case& job, const Ground& ground, LikelyPlaces& clocks, const std::string& id) {
  const auto found =
      std::find_if(job.segments.begin(), job.segments.end(), [&](const Segment& segment) { return segment.id == id; });
  if (found == job.segments.end()) {
    std::vector<std::string> ids;
    for (const Segment& segment : job.segments) ids.push_back(segment.id);
    const std::string nearest = nearest_word(id, ids);
    throw DomainError(fmt::format("the case has no segment \"{}\"{}", id,
                                  nearest.empty() ? "" : fmt::format("; did you mean \"{}\"?", nearest)));
  }
  Where where{static_cast<std::size_t>(found - job.segments.begin()), 0, 0};
  const Lives lives{ground.library};
  double soonest = std::numeric_limits<double>::infinity();
  for (const Place& at : clocks.places(where.segment)) {
    const double years = lives.remaining(clocks, at, rates_of(clocks.future(at))).value();
    if (years >= soonest) continue;
    soonest = years;
    where.stretch = static_cast<std::size_t>(&at.stretch - found->stretches.data());
    where.group = static_cast<std::size_t>(&at.group - found->groups.data());
  }
  return where;
}

}  // namespace heatside::population
