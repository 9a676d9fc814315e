#include "base/strict_json.hpp"
#include "heatside/population/ageing_curves.hpp"
#include "heatside/report/case_drawings.hpp"
#include "heatside/report/loom_map.hpp"
#include "page/engine/asks.hpp"
#include "page/engine/numbers.hpp"

/// Drawings of a case, and the numbers behind its curves.

namespace heatside::page {

namespace {

constexpr double narrowest = 320.0, widest = 1200.0, usual_width = 360.0;

double width_of(const Request& request) { return request.number("width", narrowest, widest).value_or(usual_width); }

std::vector<Kelvin> temperatures() {
  constexpr int coolest = 40, hottest = 200, step = 4;
  std::vector<Kelvin> list;
  for (int degrees = coolest; degrees <= hottest; degrees += step) list.push_back(celsius(degrees));
  return list;
}

Json bands_json(const std::vector<population::HeatBand>& bands) {
  const auto parts = [](const exposure::PerRegime& regimes) {
    return Json{{"running", regimes[0]}, {"soak", regimes[1]}, {"parked", regimes[2]}};
  };
  Json list = Json::array();
  for (const population::HeatBand& band : bands)
    list.push_back({{"from_Cel", band.from_celsius},
                    {"to_Cel", band.to_celsius},
                    {"hours_a_year", parts(band.hours_a_year)},
                    {"share", parts(band.share)}});
  return list;
}

Json curve_json(const population::SegmentCurves& curves) {
  Json points = Json::array();
  for (const population::ElongationAt& point : curves.ageing.points)
    points.push_back({{"years", point.after.value()}, {"elongation_percent", percents_json(point.elongation)}});
  return {{"segment", curves.ageing.segment},
          {"insulation", curves.life.insulation},
          {"points", points},
          {"limits_percent", limits_json(curves.ageing.thresholds)},
          {"life_line", life_json(curves.life)},
          {"heat", bands_json(curves.heat)}};
}

}  // namespace

std::string mapped(const Request& request, Memory& memory) {
  const report::DrawingPlace place{"map", width_of(request)};
  if (request.flag("likely")) {
    const auto opened = memory.opened(request.case_text());
    const population::Estimate likely = population::likely_estimate(opened->job, memory.library());
    return object_of({{"svg", Json(report::loom_map(opened->job, memory.library(), likely, {}, place)).dump()}});
  }
  Drawn& drawn = memory.drawn(request.case_text(), request.draw_choice());
  std::map<std::string, std::size_t> numbers;
  if (request.flag("order")) numbers = report::opening_numbers(memory.order(drawn, inspection::OrderOptions{}.depth));
  return object_of(
      {{"svg", Json(report::loom_map(drawn.opened->job, memory.library(), drawn.answer.estimate, numbers, place)).dump()}});
}

std::string curves_of(const Request& request, Memory& memory) {
  constexpr Years ahead{15.0};
  const Drawn& drawn = memory.drawn(request.case_text(), request.draw_choice());
  const casefile::Case& job = drawn.opened->job;
  const std::string id = request.text("segment");
  const population::SegmentEstimate* segment = casefile::find_by_id(drawn.answer.estimate.segments, id);
  if (segment == nullptr) request.refuse("segment", "the case has no segment \"" + id + "\"");
  const population::SegmentCurves curves =
      population::segment_curves(job, memory.library(), drawn.answer.population, {*segment}, ahead, temperatures()).front();
  const auto place = [width = width_of(request)](const char* prefix) { return report::DrawingPlace{prefix, width}; };
  return object_of({{"ageing_svg", Json(report::ageing_drawing(curves.ageing, job, *segment, place("age"))).dump()},
                    {"life_svg", Json(report::life_drawing(curves.life, job, *segment, place("life"))).dump()},
                    {"heat_svg", Json(report::heat_drawing(curves.heat, *segment, place("heat"))).dump()},
                    {"curve", curve_json(curves).dump()}});
}

}  // namespace heatside::page
