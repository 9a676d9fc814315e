#include <fmt/format.h>

#include <algorithm>

#include "base/strict_json.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/estimate_report.hpp"
#include "report/json_parts.hpp"
#include "report/measured_report.hpp"
#include "report/tidy_table.hpp"

/// The answer for programs: JSON and CSV.

namespace heatside::report {

namespace {

using population::Estimate;
using population::Quantiles;
using population::SegmentEstimate;

Json elongation_json(const Quantiles<Strain>& elongation) {
  return {{"p10", in_percent(elongation.p10)}, {"p50", in_percent(elongation.p50)}, {"p90", in_percent(elongation.p90)}};
}

Json remaining_json(const Quantiles<Years>& remaining, double cap) {
  const auto capped = [cap](Years years) { return std::clamp(years.value(), -cap, cap); };
  const bool beyond = std::abs(remaining.p10.value()) > cap || std::abs(remaining.p50.value()) > cap ||
                      std::abs(remaining.p90.value()) > cap;
  return {
      {"p10", capped(remaining.p10)}, {"p50", capped(remaining.p50)}, {"p90", capped(remaining.p90)}, {"capped", beyond}};
}

Json chances_json(const std::array<double, 5>& chances) {
  Json json = Json::object();
  for (std::size_t i = 0; i < chances.size(); ++i) json[std::string{ageing::condition_names[i]}] = chances[i];
  return json;
}

Json condition_json(const SegmentEstimate& segment) {
  return {{"most_likely", ageing::name_of(segment.most_likely)}, {"chance", chances_json(segment.chance)}};
}

Json histogram_json(const SegmentEstimate& segment) {
  Json bins = Json::array();
  for (const exposure::HoursAtTemperature& bin : segment.hours_at_temperature) {
    Json entry{{"temperature_Cel", bin.celsius}};
    for (std::size_t i = 0; i < bin.hours.size(); ++i) entry[std::string{exposure::regime_names[i]} + "_h"] = bin.hours[i];
    bins.push_back(entry);
  }
  return bins;
}

Json later_json(const SegmentEstimate& segment) {
  Json list = Json::array();
  for (const population::ChanceAt& at : segment.chance_at)
    list.push_back({{"years_after", at.after.value()}, {"chance", chances_json(at.chance)}});
  return list;
}

Json spread_json(const SegmentEstimate& segment) {
  Json list = Json::array();
  for (const population::SpreadShare& part : segment.spread) list.push_back({{"cause", part.cause}, {"share", part.share}});
  return list;
}

Json before_json(const SegmentEstimate& segment) {
  if (!segment.before) return nullptr;
  return {{"chance", chances_json(segment.before->chance)}, {"flex_cracks_years", segment.before->flex_cracks.value()}};
}

Json learned_json(const Estimate& estimate) {
  if (!estimate.learned) return nullptr;
  const population::Learned& learned = *estimate.learned;
  return {{"findings", learned.findings},
          {"effective_sample", learned.effective_sample},
          {"effective_by_weight", learned.effective_by_weight},
          {"stages", learned.stages},
          {"ln_evidence", learned.ln_evidence},
          {"replaced_chance", learned.replaced ? Json(*learned.replaced) : Json(nullptr)},
          {"warnings", learned.warnings}};
}

Json unknowns_json(const casefile::Case& job, const library::Library& library) {
  Json list = Json::array();
  for (const population::Unknown& unknown : population::unknowns(job, library)) {
    list.push_back({{"name", unknown.name},
                    {"words", unknown.words},
                    {"law", unknown.law},
                    {"source", unknown.source},
                    {"grade", name_of(unknown.grade)}});
  }
  return list;
}

Json segment_json(const SegmentEstimate& segment, std::size_t rank, double cap, bool histogram) {
  Json json{{"id", segment.id},
            {"name", segment.name},
            {"loom", segment.loom},
            {"lot", segment.lot},
            {"insulation", segment.insulation},
            {"compound_known", segment.compound_known},
            {"compound_chance", segment.compound_chance},
            {"guarded", segment.guarded},
            {"weakest_rank", rank},
            {"worst_stretch", segment.worst_stretch},
            {"zone", segment.zone},
            {"worst_at_m", segment.worst_from_start ? Json(segment.worst_from_start->value()) : Json(nullptr)},
            {"elongation_percent", elongation_json(segment.elongation)},
            {"condition", condition_json(segment)},
            {"remaining_years",
             {{"flex_cracks", remaining_json(segment.flex_cracks, cap)}, {"cracked", remaining_json(segment.cracked, cap)}}},
            {"chance_cracked_now", segment.chance_cracked()},
            {"equivalent_temperature_Cel", in_celsius(segment.equivalent_temperature)},
            {"damage_share", regimes_json(segment.damage_share)},
            {"chance_at", later_json(segment)},
            {"before", before_json(segment)},
            {"spread", spread_json(segment)}};
  if (histogram) json["hours_at_temperature"] = histogram_json(segment);
  return json;
}

}  // namespace

std::string estimate_json(const Estimate& estimate, const casefile::Case& job, const library::Library& library,
                          const BirthCertificate& certificate, bool histogram) {
  Json segments = Json::array();
  for (std::size_t i = 0; i < estimate.segments.size(); ++i) {
    segments.push_back(segment_json(estimate.segments[i], i + 1, library.model.report.years_cap.value, histogram));
  }
  Json document = case_head("heatside-estimate", certificate, job);
  document.update({{"inspected", format_date(job.inspected)},
                   {"draws", estimate.draws},
                   {"seed", certificate.seed},
                   {"likely_only", estimate.likely_only},
                   {"conduction", estimate.conduction},
                   {"rates", estimate.likely_only ? "direct" : "tables"},
                   {"kinetics", estimate.solution == ageing::Solution::integrated ? "integrated" : "closed-form"},
                   {"segments", segments},
                   {"measured", measured_json(estimate.zone_scores, job)},
                   {"learned", learned_json(estimate)},
                   {"unknowns", estimate.likely_only ? Json::array() : unknowns_json(job, library)},
                   {"assumptions", assumptions_json(estimate.assumptions)},
                   {"not_computed_with", job.unused},
                   {"rests_on", reliance_json(estimate.relies_on)},
                   {"cautions", cautions()}});
  return document_text(document);
}

std::string estimate_csv(const Estimate& estimate) {
  std::string text =
      "segment,loom,lot,insulation,compound_known,worst_stretch,zone,worst_at_m,condition,elongation_percent,"
      "flex_cracks_years,cracked_years,equivalent_temperature_Cel,damage_running,damage_soak,damage_parked,"
      "flex_cracks_years_p10,flex_cracks_years_p90,chance_cracked_now,name\r\n";
  for (const SegmentEstimate& segment : estimate.segments) {
    const std::vector<std::string> cells{
        csv_cell(segment.id),
        csv_cell(segment.loom),
        csv_cell(segment.lot),
        segment.insulation,
        segment.compound_known ? "true" : "false",
        csv_cell(segment.worst_stretch),
        segment.zone,
        segment.worst_from_start ? fmt::format("{}", segment.worst_from_start->value()) : "",
        std::string{ageing::name_of(segment.most_likely)},
        fmt::format("{}", in_percent(segment.elongation.p50)),
        fmt::format("{}", segment.flex_cracks.p50.value()),
        fmt::format("{}", segment.cracked.p50.value()),
        fmt::format("{}", in_celsius(segment.equivalent_temperature)),
        fmt::format("{}", segment.damage_share[0]),
        fmt::format("{}", segment.damage_share[1]),
        fmt::format("{}", segment.damage_share[2]),
        fmt::format("{}", segment.flex_cracks.p10.value()),
        fmt::format("{}", segment.flex_cracks.p90.value()),
        fmt::format("{}", segment.chance_cracked()),
        csv_cell(segment.name)};
    text += fmt::format("{}\r\n", fmt::join(cells, ","));
  }
  return text;
}

}  // namespace heatside::report
