#include <algorithm>
#include <cmath>

#include "base/strict_json.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/compare_report.hpp"
#include "report/compare_words.hpp"
#include "report/json_parts.hpp"

/// A comparison for programs.

namespace heatside::report {

namespace {

using population::Quantiles;
using remedy::Candidate;
using remedy::Comparison;

Json years_json(const Quantiles<Years>& years, double cap) {
  const auto capped = [cap](Years one) { return std::clamp(one.value(), -cap, cap); };
  const auto beyond = [cap](Years one) { return std::abs(one.value()) > cap; };
  return {{"p10", capped(years.p10)},
          {"p50", capped(years.p50)},
          {"p90", capped(years.p90)},
          {"capped", beyond(years.p10) || beyond(years.p50) || beyond(years.p90)}};
}

Json life_json(const remedy::LifeSpread& life, double cap) {
  return {{"flex_cracks_years", years_json(life.flex_cracks, cap)},
          {"cracked_years", years_json(life.cracked, cap)},
          {"chance_of_lasting", life.lasts}};
}

Json celsius_json(const Quantiles<Kelvin>& kelvin) {
  return {{"p10", in_celsius(kelvin.p10)}, {"p50", in_celsius(kelvin.p50)}, {"p90", in_celsius(kelvin.p90)}};
}

Json heat_json(const remedy::HeatMargin& heat) {
  const Quantiles<KelvinRise> margin = heat.margin();
  return {{"hottest_Cel", celsius_json(heat.hottest)},
          {"when", name_of(heat.moment)},
          {"limit_Cel", in_celsius(heat.limit)},
          {"margin_K", {{"p10", margin.p10.value()}, {"p50", margin.p50.value()}, {"p90", margin.p90.value()}}},
          {"hours_a_year_above", heat.above.value()}};
}

Json change_json(const std::optional<remedy::ChangeOfLife>& change, double cap) {
  if (!change) return nullptr;
  return {{"before", life_json(change->before, cap)},
          {"gain_years", years_json(change->gain, 2.0 * cap)},
          {"hottest_before_Cel", change->hottest_before ? Json(in_celsius(*change->hottest_before)) : Json(nullptr)}};
}

Json class_json(const std::optional<remedy::TemperatureClass>& of_class) {
  return of_class ? Json(std::string{of_class->letter}) : Json(nullptr);
}

Json segments_json(const Candidate& candidate, double cap) {
  Json list = Json::array();
  for (const remedy::SegmentOutcome& segment : candidate.segments) {
    Json json = life_json(segment.life, cap);
    json.update(heat_json(segment.heat));
    json.update({{"id", segment.id},
                 {"loom", segment.loom},
                 {"worst_stretch", segment.stretch},
                 {"zone", segment.zone},
                 {"hottest_zone", segment.hottest_zone},
                 {"serves", segment.serves},
                 {"change", change_json(segment.change, cap)}});
    list.push_back(std::move(json));
  }
  return list;
}

Json zones_json(const Candidate& candidate, double cap) {
  Json list = Json::array();
  for (const remedy::ZoneOutcome& zone : candidate.zones) {
    Json json = life_json(zone.life, cap);
    json.update(heat_json(zone.heat));
    json.update({{"zone", zone.zone}, {"segments", zone.segments}, {"serves", zone.serves}});
    list.push_back(std::move(json));
  }
  return list;
}

Json looms_json(const Candidate& candidate, double cap) {
  Json list = Json::array();
  for (const remedy::LoomOutcome& loom : candidate.looms) {
    Json json = life_json(loom.life, cap);
    json["id"] = loom.id;
    list.push_back(std::move(json));
  }
  return list;
}

Json candidates_json(const Comparison& comparison, double cap) {
  Json list = Json::array();
  for (const Candidate& candidate : comparison.candidates) {
    Json json = life_json(candidate.whole, cap);
    json.update({{"rank", list.size() + 1},
                 {"insulation", candidate.insulation.empty() ? Json(nullptr) : Json(candidate.insulation)},
                 {"name", candidate.name},
                 {"class", class_json(candidate.of_class)},
                 {"limit_Cel", in_celsius(candidate.limit)},
                 {"obsolete", candidate.obsolete},
                 {"weakest_grade", candidate.weakest_grade ? Json(name_of(*candidate.weakest_grade)) : Json(nullptr)},
                 {"standard_error", candidate.lasts_error},
                 {"weakest_segment", candidate.segments[candidate.weakest].id},
                 {"insulation_kg", candidate.insulation_kg},
                 {"looms", looms_json(candidate, cap)},
                 {"zones", zones_json(candidate, cap)},
                 {"segments", segments_json(candidate, cap)},
                 {"change", change_json(candidate.change, cap)}});
    list.push_back(std::move(json));
  }
  return list;
}

Json needs_json(const Comparison& comparison) {
  Json list = Json::array();
  for (const remedy::ZoneNeed& need : comparison.zones)
    list.push_back({{"zone", need.zone},
                    {"segments", need.segments},
                    {"hottest_Cel", celsius_json(need.hottest)},
                    {"when", name_of(need.moment)},
                    {"class", class_json(need.by_middle)},
                    {"class_at_p90", class_json(need.by_p90)},
                    {"lowest_that_serves", need.lowest.empty() ? Json(nullptr) : Json(need.lowest)}});
  return list;
}

Json mixed_json(const Comparison& comparison, double cap) {
  if (!comparison.mixed) return nullptr;
  const remedy::MixedBuild& mixed = *comparison.mixed;
  Json parts = Json::array();
  for (const remedy::MixedPart& part : mixed.parts)
    parts.push_back({{"insulation", part.insulation}, {"segments", part.segments}});
  Json json = life_json(mixed.whole, cap);
  json.update({{"parts", parts},
               {"unserved", mixed.unserved},
               {"mixed_circuits", mixed.mixed_circuits},
               {"standard_error", mixed.lasts_error},
               {"insulation_kg", mixed.insulation_kg}});
  return json;
}

}  // namespace

std::string compare_json(const Comparison& comparison, const population::Estimate& estimate, const casefile::Case& job,
                         const library::Library& library, const BirthCertificate& certificate) {
  const double cap = library.model.report.years_cap.value;
  std::vector<casefile::Assumption> assumptions = estimate.assumptions;
  assumptions.insert(assumptions.end(), comparison.assumptions.begin(), comparison.assumptions.end());
  Json document = case_head("heatside-comparison", certificate, job);
  document.update({{"inspected", format_date(job.inspected)},
                   {"draws", estimate.draws},
                   {"seed", certificate.seed},
                   {"looms", comparison.looms},
                   {"years_from", format_date(comparison.from)},
                   {"wanted_years", comparison.request.wanted.value()},
                   {"wanted_chance", comparison.request.chance},
                   {"changes", comparison.changes},
                   {"candidates", candidates_json(comparison, cap)},
                   {"zones", needs_json(comparison)},
                   {"mixed_build", mixed_json(comparison, cap)},
                   {"copper_kg", comparison.copper_kg},
                   {"warnings", estimate.learned ? Json(estimate.learned->warnings) : Json::array()},
                   {"assumptions", assumptions_json(assumptions)},
                   {"rests_on", reliance_json(comparison.rests_on)},
                   {"cautions", cautions()}});
  return document_text(document);
}

}  // namespace heatside::report
