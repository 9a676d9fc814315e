#include <algorithm>

#include "base/strict_json.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/remedies_report.hpp"
#include "report/json_parts.hpp"
#include "report/remedies_plan_data.hpp"

/// Remedies for programs.

namespace heatside::report {

namespace {

using remedy::Question;
using remedy::Result;

// Printed quantiles of remaining life stop at the model's cap.
Json years_json(const remedy::Weakest& weakest, double cap) {
  const auto& flex = weakest.flex_cracks;
  const auto capped = [&](Years at) { return std::min(at.value(), cap); };
  return {{"id", weakest.segment},
          {"renewed", weakest.renewed},
          {"flex_cracks",
           {{"p10", capped(flex.p10)},
            {"p50", capped(flex.p50)},
            {"p90", capped(flex.p90)},
            {"capped", flex.p90.value() > cap}}}};
}

Json compounds_json(const casefile::Remedy& remedy) {
  Json list = Json::array();
  for (const casefile::InsulationCandidate& candidate : remedy.candidates)
    list.push_back({{"insulation", candidate.insulation}, {"chance", candidate.weight}});
  return list;
}

// What follows the first fault where old insulation was left in.
Json after_json(const Result& result, const Question& question) {
  Json list = Json::array();
  for (const remedy::AfterFault& after : result.after)
    list.push_back({{"looms", after.looms},
                    {"chance", after.chance},
                    {"renewal", after.renewal ? Json(question.results[*after.renewal].offer.remedy.id) : Json(nullptr)},
                    {"price", after.renewal ? Json(after.price) : Json(nullptr)}});
  return list;
}

Json result_json(const Result& result, const Question& question, double cap) {
  const casefile::Remedy& remedy = result.offer.remedy;
  Json stop = nullptr;
  if (result.stop)
    stop = {
        {"chance", result.stop->chance}, {"segments_counted", result.stop->counted}, {"segments", result.stop->segments}};
  return {{"id", remedy.id},
          {"name", remedy.name},
          {"kind", remedy.kind},
          {"stated", result.offer.stated},
          {"segments", remedy.segments},
          {"compounds", compounds_json(remedy)},
          {"made", remedy.made ? Json(format_date_as_known(*remedy.made)) : Json(nullptr)},
          {"allowed", result.verdict.struck.empty()},
          {"struck_out", result.verdict.struck},
          {"conditions", result.verdict.conditions},
          {"cost",
           {{"expected", result.expected},
            {"standard_error", result.standard_error},
            {"p5", result.low},
            {"p95", result.high},
            {"parts", result.parts},
            {"work", result.work},
            {"breaks", result.harm},
            {"faults", result.faults}}},
          {"chance_cheapest", result.cheapest},
          {"chance_of_a_fault", result.fault_chance},
          {"expected_faults", result.fault_count},
          {"after_the_first_fault", after_json(result, question)},
          {"chance_of_a_stop", stop},
          {"discounted_stops", result.stops},
          {"minutes", result.minutes},
          {"lead_days", result.lead_days},
          {"weakest_left_in", result.left_in ? years_json(*result.left_in, cap) : Json(nullptr)},
          {"weakest", years_json(result.weakest, cap)}};
}

Json break_even_json(const Question& question) {
  Json list = Json::array();
  for (const remedy::BreakEven& piece : question.by_stop)
    list.push_back({{"from_stop", piece.from_stop}, {"id", question.results[piece.line].offer.remedy.id}});
  return list;
}

Json knowing_json(const Question& question) {
  Json list = Json::array();
  for (const remedy::WorthKnowing& known : question.worth)
    list.push_back({{"what", known.words},
                    {"saving", known.saving},
                    {"standard_error", known.standard_error},
                    {"chance_of_change", known.changes},
                    {"instead", question.results[known.instead].offer.remedy.id}});
  return list;
}

Json looks_json(const Question& question) {
  Json list = Json::array();
  for (const remedy::LookWorth& look : question.looks)
    list.push_back({{"id", look.segment}, {"saving", look.saving}, {"standard_error", look.standard_error}});
  return list;
}

Json used_json(const Question& question) {
  Json list = Json::array();
  for (const remedy::UsedPartLimit& limit : question.used)
    list.push_back({{"id", question.results[limit.result].offer.remedy.id},
                    {"compound", limit.compound},
                    {"price", limit.price},
                    {"oldest", limit.oldest ? Json(format_date(*limit.oldest)) : Json(nullptr)},
                    {"any_age", limit.any_age},
                    {"best_of_the_others", limit.instead}});
  return list;
}

Json question_json(const Question& question, const remedy::Worth& worth, const casefile::Case& job, double cap) {
  Json results = Json::array();
  for (const std::size_t i : question.order) results.push_back(result_json(question.results[i], question, cap));
  return {{"id", question.offered.id},
          {"looms", question.offered.looms},
          {"stated", question.offered.stated},
          {"advice", advice_in_words(question, worth, job)},
          {"best", question.best ? Json(question.results[*question.best].offer.remedy.id) : Json(nullptr)},
          {"remedies", results},
          {"cheapest_by_cost_of_a_stop", break_even_json(question)},
          {"worth_knowing", knowing_json(question)},
          {"worth_looking", looks_json(question)},
          {"used_parts", used_json(question)}};
}

}  // namespace

std::string remedies_json(const remedy::Answer& answer, const population::Estimate& estimate, const casefile::Case& job,
                          const library::Library& library, const std::optional<remedy::Plan>& plan,
                          const BirthCertificate& certificate) {
  std::vector<casefile::Assumption> assumptions = estimate.assumptions;
  assumptions.insert(assumptions.end(), answer.assumptions.begin(), answer.assumptions.end());
  const double cap = library.model.report.years_cap.value;
  Json choices = Json::array();
  for (const Question& question : answer.questions) choices.push_back(question_json(question, answer.worth, job, cap));
  Json document = case_head("heatside-remedies", certificate, job);
  document.update({{"draws", estimate.draws},
                   {"seed", estimate.seed},
                   {"unit", answer.worth.unit},
                   {"per_minute", answer.worth.per_minute},
                   {"stop", answer.worth.stop},
                   {"horizon_years", answer.worth.horizon.value()},
                   {"discount_per_year", answer.worth.discount_per_year},
                   {"choices", choices},
                   {"every_remedy_ends_with", remedy::final_checks()},
                   {"plan", plan ? plan_json(*plan) : Json(nullptr)},
                   {"assumptions", assumptions_json(assumptions)},
                   {"cautions", cautions()}});
  return document_text(document);
}

}  // namespace heatside::report
