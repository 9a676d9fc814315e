#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "base/strict_json.hpp"
#include "heatside/ageing/condition.hpp"
#include "heatside/base/error.hpp"
#include "heatside/population/topics.hpp"
#include "heatside/remedy/temperature_class.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/topic_report.hpp"
#include "page/engine/asks.hpp"
#include "page/engine/numbers.hpp"

/// What a class looks at: a wire that is held at one temperature, and the small experiments.

namespace heatside::page {

namespace {

using casefile::Case;
using library::Library;

constexpr const char* constant = "constant";  // id of a climate without days and seasons
constexpr Years longest{60.0};
constexpr double coldest = -40.0, hottest = 250.0;  // [degC]

// Air that is always as warm and always dry, in which nothing is driven.
library::Climate constant_air(const library::Climate& like, double celsius) {
  library::Climate air = like;
  air.head.id = constant;
  air.monthly_mean.fill(celsius);
  air.daily_range.fill(0.0);
  air.deviation_sd.fill(0.0);
  air.relative_humidity.value = 0.0;
  air.relative_humidity.low = air.relative_humidity.high = air.relative_humidity.sd = std::nullopt;
  return air;
}

// The wire that was made so many years before the inspection and lay in that air ever since. The day of its making stays
// whatever the years: lots of another month would be other draws.
Case held_case(const Library& library, const std::string& insulation, Years held) {
  Case job = population::classroom_case(library, insulation);
  job.segments.resize(1);
  const auto days = std::chrono::days{std::max(1L, std::lround(held.value() * hours_per_year / 24.0))};
  const Date made = exact_date(job.looms.front().made.day);
  job.inspected = exact_date(made.day + days);
  job.built = job.entered_service = made;
  for (casefile::Loom& loom : job.looms) loom.made = loom.fitted = made;
  job.service.resize(1);
  casefile::ServicePeriod& service = job.service.front();
  service.from = made;
  service.climate = job.future.climate = constant;
  service.usage = job.future.usage = 0.0;
  service.parking = job.future.parking = casefile::Parking::garage;
  return job;
}

std::vector<Kelvin> temperatures_with(double celsius_) {
  constexpr int from = 20, to = 200, step = 5;
  std::vector<double> degrees{celsius_};
  for (int at = from; at <= to; at += step) degrees.push_back(at);
  std::sort(degrees.begin(), degrees.end());
  degrees.erase(std::unique(degrees.begin(), degrees.end()), degrees.end());
  std::vector<Kelvin> list;
  for (const double at : degrees) list.push_back(celsius(at));
  return list;
}

Json chances_json(const std::array<double, 5>& chance) {
  Json json = Json::object();
  for (std::size_t i = 0; i < chance.size(); ++i) json[std::string{ageing::condition_names[i]}] = chance[i];
  return json;
}

// Years from new until a condition begins; what lies beyond the cap is cut there and marked.
Json reached_json(const population::Belief& belief, std::vector<double> until, Years held, double cap) {
  for (double& years : until) years += held.value();
  const std::vector<double> cuts = population::quantiles(belief, until, {0.1, 0.5, 0.9});
  const auto capped = [cap](double years) { return std::min(years, cap); };
  return {{"p10", capped(cuts[0])}, {"p50", capped(cuts[1])}, {"p90", capped(cuts[2])}, {"capped", cuts[2] > cap}};
}

Json all_reached_json(const Case& job, const Library& library, const population::Population& population, Years held) {
  static constexpr std::array<const char*, 4> names{"stiff", "flex_cracks", "cracked", "crumbling"};
  const population::ConditionYears years = population::years_to_conditions(job, library, population, {0}).front();
  Json json = Json::object();
  for (std::size_t i = 0; i < names.size(); ++i)
    json[names[i]] = reached_json(population.belief, years.until[i], held, library.model.report.years_cap.value);
  return json;
}

Json points_json(const population::AgeingCurve& curve, Years held) {
  Json points = Json::array();
  for (const population::ElongationAt& point : curve.points)
    points.push_back(
        {{"years", point.after.value() + held.value()}, {"elongation_percent", percents_json(point.elongation)}});
  return points;
}

Json life_at(const population::LifeLine& line, Kelvin temperature) {
  for (const population::LifeAt& point : line.points) {
    if (point.temperature == temperature) return hours_json(point.life);
  }
  return nullptr;
}

// What a lesson asks.
struct Held {
  double celsius{};
  Years years{0.0}, shown{0.0};  ///< held so far, and looked at
  DrawChoice choice;
};

Json insulation_json(const library::Insulation& insulation) {
  const remedy::Rated rated = remedy::rated(insulation);
  return {{"insulation", insulation.head.id},
          {"name", insulation.head.name},
          {"class", rated.of_class ? Json(std::string(1, rated.of_class->letter)) : Json(nullptr)},
          {"rating_Cel", insulation.rating.value},
          {"life_point", {{"temperature_Cel", insulation.life_temperature.value}, {"hours", insulation.life_hours.value}}}};
}

Json held_json(const Library& library, const std::string& insulation, const Held& held) {
  constexpr std::size_t steps = 60;
  const Case job = held_case(library, insulation, held.years);
  const population::DrawnAnswer answer =
      population::drawn_answer(job, library, {.draws = held.choice.draws, .seed = held.choice.seed});
  const population::SegmentEstimate& segment = answer.estimate.segments.front();
  const population::SegmentCurves curves =
      population::segment_curves(job, library, answer.population, {segment}, held.shown - held.years,
                                 temperatures_with(held.celsius), steps)
          .front();
  Json json = insulation_json(library.insulations.at(insulation));
  json.update({{"temperature_Cel", held.celsius},
               {"years", held.years.value()},
               {"points", points_json(curves.ageing, held.years)},
               {"limits", limits_json(curves.ageing.thresholds)},
               {"life_line", life_json(curves.life)},
               {"now",
                {{"elongation_percent", percents_json(segment.elongation)},
                 {"chance", chances_json(segment.chance)},
                 {"most_likely", ageing::name_of(segment.most_likely)}}},
               {"reached_years", all_reached_json(job, library, answer.population, held.years)},
               {"life_hours", life_at(curves.life, celsius(held.celsius))}});
  return json;
}

}  // namespace

std::string lesson_of(const Request& request, Memory& memory) {
  constexpr double fewest_years = 0.1, usual_draws = 500.0;
  Held held;
  held.celsius = request.number("temperature_Cel", coldest, hottest).value_or(100.0);
  held.years = Years{request.number("years", fewest_years, longest.value()).value_or(10.0)};
  held.shown = Years{std::max(request.number("shown_years", fewest_years, longest.value()).value_or(40.0),
                              held.years.value() + fewest_years)};
  held.choice = request.draw_choice();
  if (!request.has("draws")) held.choice.draws = static_cast<std::size_t>(usual_draws);
  std::vector<std::string> insulations{request.text("insulation")};
  if (request.has("second")) insulations.push_back(request.text("second"));

  Library library = memory.library();
  library.climates[constant] = constant_air(library.climates.begin()->second, held.celsius);
  Json lessons = Json::array();
  for (const std::string& insulation : insulations) {
    (void)population::insulation_of(library, insulation);  // refuses what is not there
    lessons.push_back(held_json(library, insulation, held));
  }
  const Json document{{"engine", engine_name()}, {"lessons", lessons}, {"cautions", report::cautions()}};
  return document.dump();
}

std::string topic_of(const Request& request, Memory& memory) {
  const population::Topic topic =
      population::topic_of(request.text("name"), memory.library(), request.text_or("insulation", ""));
  Json document = Json::parse(report::topic_json(topic, engine_name()));
  document["svg"] = report::topic_plot(topic);
  return document.dump();
}

}  // namespace heatside::page
