#include "base/strict_json.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/score_report.hpp"
#include "report/json_parts.hpp"

/// How good predictions were, for programs.

namespace heatside::report {

namespace {

using inspection::Look;
using inspection::OrderScore;
using inspection::Rule;
using inspection::Score;

template <class Value>
Json or_null(const std::optional<Value>& value) {
  return value ? Json(*value) : Json(nullptr);
}

Json interval_json(const std::optional<inspection::Interval>& interval) {
  if (!interval) return nullptr;
  return {{"p5", interval->low}, {"p95", interval->high}};
}

Json rule_json(const Score& score, Rule which) {
  const inspection::RuleScore& rule = score.rules[static_cast<std::size_t>(which)];
  if (score.looks == 0) return nullptr;
  return {{"mean", rule.mean},
          {"interval", interval_json(rule.mean_interval)},
          {"base_rate", rule.base},
          {"skill", or_null(rule.skill)},
          {"skill_interval", interval_json(rule.skill_interval)}};
}

Json groups_json(const Score& score) {
  Json list = Json::array();
  for (const inspection::ChanceGroup& group : score.groups) {
    list.push_back({{"from", group.from},
                    {"to", group.to},
                    {"looks", group.looks},
                    {"expected", group.said},
                    {"found", group.cracked}});
  }
  return list;
}

Json order_json(const OrderScore& score) {
  return {{"hits_in_first", score.hits}, {"looks_to_first", score.looks_to_first}};
}

Json orders_json(const Score& score) {
  if (!score.orders) return nullptr;
  const inspection::OrderComparison& orders = *score.orders;
  return {{"rounds", orders.rounds},
          {"looks", orders.looks},
          {"hits", orders.hits},
          {"by_prediction", order_json(orders.by_prediction)},
          {"hottest_first", order_json(orders.hottest_first)},
          {"at_random", order_json(orders.at_random)},
          {"looks_saved", orders.saved},
          {"looks_saved_interval", interval_json(orders.saved_interval)}};
}

Json chances_json(const inspection::Chances& chances) {
  Json json = Json::object();
  for (std::size_t i = 0; i < chances.size(); ++i) json[std::string{ageing::condition_names[i]}] = chances[i];
  return json;
}

Json look_json(const Look& look, const ScoreAnswer& answer) {
  const casefile::Prediction& prediction = answer.jobs[look.job].job.predictions[look.prediction];
  return {{"case", look.job},
          {"segment", look.segment},
          {"on", format_date_as_known(look.on)},
          {"seen", ageing::name_of(look.seen)},
          {"prediction", prediction.pointer},
          {"stored", prediction.stored},
          {"engine", prediction.engine},
          {"chance", chances_json(look.chances)},
          {"equivalent_temperature_Cel", look.heat ? Json(in_celsius(*look.heat)) : Json(nullptr)},
          {"part_of_segment", look.part},
          {"looked_at_before", look.seen_before},
          {"stored_late", look.late}};
}

Json looks_json(const ScoreAnswer& answer) {
  Json list = Json::array();
  for (const Look& look : answer.looks.looks) list.push_back(look_json(look, answer));
  return list;
}

Json cases_json(const ScoreAnswer& answer) {
  Json list = Json::array();
  for (std::size_t i = 0; i < answer.cases.size(); ++i) {
    const casefile::Case& job = answer.jobs[i].job;
    list.push_back({{"case", answer.cases[i].name},
                    {"case_sha256", answer.cases[i].sha256},
                    {"title", job.title},
                    {"invented", job.invented},
                    {"findings", job.findings.size()},
                    {"predictions", job.predictions.size()},
                    {"changed_predictions", answer.jobs[i].changed},
                    {"assumptions", assumptions_json(job.assumptions)}});
  }
  return list;
}

Json left_out_json(const inspection::LeftOut& left_out) {
  return {{"no_condition", left_out.no_condition},
          {"other_cause", left_out.other_cause},
          {"no_prediction", left_out.no_prediction},
          {"merged", left_out.merged}};
}

const char* resampled_word(const Score& score) { return score.resamples_jobs ? "cases" : "looks"; }

}  // namespace

std::string score_json(const ScoreAnswer& answer) {
  const Score& score = answer.score;
  const Json document{{"format", "heatside-score"},
                      {"version", 1},
                      {"engine", answer.engine},
                      {"own_records", answer.own_records},
                      {"own_records_sha256", answer.own_records_sha256},
                      {"cases", cases_json(answer)},
                      {"looks", score.looks},
                      {"enough_to_conclude", score.enough()},
                      {"left_out", left_out_json(answer.looks.left_out)},
                      {"cracked_or_worse",
                       {{"expected", score.said_cracked},
                        {"found", score.cracked},
                        {"by_chance", groups_json(score)},
                        {"brier", rule_json(score, Rule::cracked_brier)},
                        {"logarithm", rule_json(score, Rule::cracked_log)}}},
                      {"conditions",
                       {{"brier", rule_json(score, Rule::conditions_brier)},
                        {"logarithm", rule_json(score, Rule::conditions_log)},
                        {"ranked", rule_json(score, Rule::conditions_ranked)}}},
                      {"orders", orders_json(score)},
                      {"logarithm_chances_within", {inspection::least_scored_chance, 1.0 - inspection::least_scored_chance}},
                      {"logarithm_capped", score.certain},
                      {"base_rate", "pooled over the same looks"},
                      {"resampled", score.enough() ? Json(resampled_word(score)) : Json(nullptr)},
                      {"resamples", score.options.resamples},
                      {"seed", score.options.seed},
                      {"scored", looks_json(answer)},
                      {"only_opened_places_have_findings", true},
                      {"warnings", answer.warnings},
                      {"cautions", cautions()}};
  return document_text(document);
}

}  // namespace heatside::report
