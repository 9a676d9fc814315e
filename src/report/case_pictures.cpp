#include "heatside/report/case_pictures.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "heatside/report/case_drawings.hpp"
#include "heatside/report/loom_map.hpp"
#include "report/owner_page.hpp"

namespace heatside::report {

namespace {

constexpr double page_width = 720.0, half_width = 480.0;

std::vector<Kelvin> temperatures() {
  constexpr double coolest = 40.0, hottest = 200.0, step = 4.0;
  std::vector<Kelvin> list;
  for (double celsius_ = coolest; celsius_ <= hottest; celsius_ += step) list.push_back(celsius(celsius_));
  return list;
}

Picture costs(const remedy::Answer& remedies, const remedy::Question& question, const library::Library& library,
              std::size_t number) {
  std::vector<CostRange> ranges;
  for (const std::size_t result : question.order) {
    const remedy::Result& one = question.results[result];
    ranges.push_back({remedy_name(library, one.offer), one.low, one.expected, one.high});
  }
  const std::string unit = remedies.worth.unit == "min" ? "" : remedies.worth.unit;
  return {cost_drawing(ranges, unit, {fmt::format("costs{}", number), page_width}),
          fmt::format("What each remedy for loom {} is expected to cost, and what nine of ten futures cost.",
                      join(question.offered.looms, " and "))};
}

std::vector<Picture> of_segment(const casefile::Case& job, const population::SegmentEstimate& segment,
                                const population::SegmentCurves& curves, std::size_t number) {
  const auto place = [number](const char* what) { return DrawingPlace{fmt::format("{}{}", what, number), half_width}; };
  return {{ageing_drawing(curves.ageing, job, segment, place("age")),
           fmt::format("Elongation at break that is left in {}, over the years.", segment.id)},
          {life_drawing(curves.life, job, segment, place("life")),
           fmt::format("Life of the insulation of {} at constant temperature.", segment.id)},
          {heat_drawing(curves.heat, segment, place("heat")),
           fmt::format("At which temperatures {} aged, and when.", segment.id)}};
}

}  // namespace

ReportPictures case_pictures(const casefile::Case& job, const library::Library& library,
                             const population::DrawnAnswer& answer, const inspection::CaseOrder& order,
                             const remedy::Answer& remedies) {
  ReportPictures pictures;
  pictures.overview.push_back(
      {loom_map(job, library, answer.estimate, opening_numbers(order), {"map", page_width}),
       "The looms by what has to come off to reach them; condition in words, by shade and by line pattern.", true});
  pictures.opening.push_back({order_drawing(order, {"order", half_width}), "What to open first, and what then.", true});
  for (std::size_t i = 0; i < remedies.questions.size(); ++i)
    pictures.remedies.push_back(costs(remedies, remedies.questions[i], library, i));
  constexpr Years ahead{15.0};
  const std::vector<population::SegmentEstimate>& segments = answer.estimate.segments;
  const auto curves = population::segment_curves(job, library, answer.population, segments, ahead, temperatures());
  for (std::size_t i = 0; i < segments.size(); ++i)
    pictures.by_segment[segments[i].id] = of_segment(job, segments[i], curves[i], i);
  return pictures;
}

}  // namespace heatside::report
