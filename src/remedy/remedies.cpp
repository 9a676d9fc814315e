#include "heatside/remedy/remedies.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/remedy/wired.hpp"
#include "remedy/draws.hpp"
#include "remedy/knowing.hpp"
#include "remedy/policy.hpp"
#include "remedy/renewed.hpp"
#include "remedy/results.hpp"

namespace heatside::remedy {

namespace {

using casefile::Assumption;
using casefile::Case;
using library::Library;
using population::DrawnAnswer;

std::vector<std::size_t> allowed_results(const Question& question) {
  std::vector<std::size_t> allowed;
  for (std::size_t i = 0; i < question.results.size(); ++i) {
    if (question.results[i].verdict.struck.empty()) allowed.push_back(i);
  }
  return allowed;
}

void put_in_order(const Common& common, Question& question) {
  for (std::size_t i = 0; i < question.results.size(); ++i) question.order.push_back(i);
  std::stable_sort(question.order.begin(), question.order.end(), [&](std::size_t a, std::size_t b) {
    const Result &one = question.results[a], &other = question.results[b];
    if (one.verdict.struck.empty() != other.verdict.struck.empty()) return one.verdict.struck.empty();
    return one.expected < other.expected;
  });
  const std::vector<std::size_t> allowed = allowed_results(question);
  if (allowed.empty()) return;
  question.best = question.order.front();
  std::vector<CostLine> lines;
  for (const std::size_t i : allowed) {
    const Result& result = question.results[i];
    lines.push_back({result.expected_at(0.0, common.worth), result.stops});
  }
  question.by_stop = cheapest_by_stop(lines);
  for (BreakEven& piece : question.by_stop) piece.line = allowed[piece.line];
}

void add_knowing(const Common& common, const std::vector<RemedyDraws>& draws, Question& question) {
  const std::vector<std::size_t> allowed = allowed_results(question);
  if (!question.best || allowed.size() < 2) return;
  std::vector<std::vector<double>> costs;
  std::size_t best = 0;
  for (const std::size_t i : allowed) {
    if (i == *question.best) best = costs.size();
    costs.push_back(cost_by_draw(common, expected_draws(common, question.offered, draws[i])));
  }
  for (const UnknownGroup& group : unknown_groups(common, question, draws)) {
    WorthKnowing worth = worth_of_knowing(common.answer.knowledge.belief, costs, best, group);
    worth.instead = allowed[worth.instead];
    if (worth.saving > 0.0) question.worth.push_back(std::move(worth));
  }
  std::stable_sort(question.worth.begin(), question.worth.end(),
                   [](const WorthKnowing& a, const WorthKnowing& b) { return a.saving > b.saving; });
}

using NewYears = std::vector<population::ConditionYears>;

// Years of what each offer of each question puts in; empty where it puts in nothing.
std::vector<std::vector<NewYears>> new_years(const Common& common, const std::vector<Offered>& questions) {
  std::vector<Renewal> renewals;
  for (const Offered& question : questions) {
    for (const Offer& offer : question.offers) {
      if (renews(offer.act)) renewals.push_back({offer.remedy, offer.act, covered_segments(common.job, offer.remedy)});
    }
  }
  auto all = years_of_renewals(common.job, common.library, common.answer.population, renewals);
  std::vector<std::vector<NewYears>> years;
  std::size_t at = 0;
  for (const Offered& question : questions) {
    std::vector<NewYears>& of = years.emplace_back();
    for (const Offer& offer : question.offers) of.push_back(renews(offer.act) ? std::move(all[at++]) : NewYears{});
  }
  return years;
}

Question answered(const Common& common, Offered offered_question, std::vector<NewYears> years,
                  const std::vector<double>& chance_cracked, bool knowing) {
  Question question;
  question.offered = std::move(offered_question);
  std::vector<RemedyDraws> draws;
  std::vector<bool> allowed;
  for (std::size_t i = 0; i < years.size(); ++i) {
    const Offer& offer = question.offered.offers[i];
    draws.push_back(remedy_draws(common, question.offered, offer, std::move(years[i])));
    question.results.push_back(judged(common, question.offered, offer, draws.back(), chance_cracked));
    allowed.push_back(question.results.back().verdict.struck.empty());
  }
  const std::vector<Unit> units = units_of(common, question.offered, draws, allowed);
  for (std::size_t i = 0; i < draws.size(); ++i) {
    add_first_faults(common, question.offered, units, draws[i]);
    add_costs(common, question.offered, units, draws[i], question.results[i]);
  }
  add_futures(common, question.offered, draws, question.results);
  put_in_order(common, question);
  question.choice.id = question.offered.id;
  for (std::size_t i = 0; i < draws.size(); ++i) {
    if (question.best && !allowed[i]) continue;
    question.choice.actions.push_back(action_of(common, question.offered, question.offered.offers[i], draws[i]));
  }
  if (!knowing) return question;
  add_knowing(common, draws, question);
  question.looks = worth_of_looks(common, question);
  return question;
}

std::string money_of(const Worth& worth, double minutes) {
  return plain_number(std::round(minutes * worth.per_minute)) + " " + worth.unit;
}

void add_policy_assumptions(const Library& library, std::vector<Assumption>& list) {
  list.push_back(
      {"",
       "after the first fault in a loom in which old insulation was left, that is mended and then the whole loom is "
       "renewed, by the cheapest renewal of the whole loom that is offered; its own faults count in proportion to "
       "the years that are left; where none is offered, and in what is new, faults are mended one by one",
       Grade::judgement});
  for (const auto& [id, kind] : library.remedies) {
    if (kind.act != library::RemedyAct::cover) continue;
    const auto in_100 = [](double share) { return plain_number(std::round(100.0 * share)); };
    list.push_back(
        {"",
         fmt::format("{} prevents {} of 100 bare-wire faults in what it covers ({} to {}), and holds to the end; it "
                     "does not restore insulation, and what it does to temperature is left out",
                     id, in_100(kind.prevents.value), in_100(kind.prevents.low.value_or(kind.prevents.value)),
                     in_100(kind.prevents.high.value_or(kind.prevents.value))),
         kind.prevents.from.grade});
  }
}

void add_assumptions(const Library& library, const Worth& worth, std::vector<Assumption>& list) {
  const library::ModelConstants::Opening& opening = library.model.opening;
  const auto add = [&](const std::string& at, const std::string& text, Grade grade) { list.push_back({at, text, grade}); };
  if (!worth.rate_stated)
    add("/costs/per_minute", fmt::format("a minute of work costs {} {}", plain_number(worth.per_minute), worth.unit),
        opening.minute_rate.from.grade);
  if (!worth.stop_stated)
    add("/costs/stop",
        fmt::format("a stop on the road by a bare-wire fault costs {}: write what it costs the owner",
                    money_of(worth, opening.fault_cost.value)),
        opening.fault_cost.from.grade);
  add("", fmt::format("mending a fault, or what the work breaks, costs {}", money_of(worth, opening.break_cost.value)),
      opening.break_cost.from.grade);
  add("",
      fmt::format("left alone for {} years, bare-wire faults come to {} in 100 segments that are stiff, {} that crack when "
                  "handled, {} that are cracked, {} that crumble; every chance within its range",
                  plain_number(opening.fault_years.value), plain_number(100.0 * opening.fault_stiff.value),
                  plain_number(100.0 * opening.fault_flex_cracks.value), plain_number(100.0 * opening.fault_cracked.value),
                  plain_number(100.0 * opening.fault_crumbling.value)),
      opening.fault_cracked.from.grade);
  add_policy_assumptions(library, list);
  add("",
      fmt::format("a circuit that no price speaks for may not stay where the chance of cracks is {} in 100 or more, and "
                  "is looked at from {} in 100 on",
                  plain_number(100.0 * renew_from), plain_number(100.0 * look_from)),
      Grade::common_practice);
  add("", "leaks go on in what is new: mend them first", Grade::judgement);
}

}  // namespace

Worth worth_of(const Case& job, const Library& library) {
  const library::ModelConstants::Opening& opening = library.model.opening;
  Worth worth;
  worth.unit = job.currency.empty() ? "min" : job.currency;
  worth.rate_stated = job.currency.empty() || job.costs.per_minute.has_value();
  worth.per_minute = job.currency.empty() ? 1.0 : job.costs.per_minute.value_or(opening.minute_rate.value);
  worth.stop_stated = job.costs.stop.has_value();
  worth.stop = job.costs.stop.value_or(opening.fault_cost.value * worth.per_minute);
  worth.mending = opening.break_cost.value * worth.per_minute;
  worth.horizon = job.costs.horizon;
  worth.discount_per_year = job.costs.discount_per_year;
  return worth;
}

Answer remedies(const Case& job, const Library& library, const DrawnAnswer& answer, Wanted wanted) {
  Answer result;
  std::vector<Offered> questions = offered(job, library, answer, wanted.built_in, result.assumptions);
  std::vector<std::size_t> segments;
  for (const Offered& question : questions)
    segments.insert(segments.end(), question.segments.begin(), question.segments.end());
  const Common common = common_of(job, library, answer, segments);
  result.worth = common.worth;
  std::vector<double> chance_cracked;
  for (const population::ConditionChances& chances : answer.knowledge.segments) {
    const population::ConditionRow row = population::mean_chances(answer.knowledge.belief, chances);
    chance_cracked.push_back(row[3] + row[4]);
  }
  std::vector<std::vector<NewYears>> years = new_years(common, questions);
  for (std::size_t q = 0; q < questions.size(); ++q)
    result.questions.push_back(
        answered(common, std::move(questions[q]), std::move(years[q]), chance_cracked, wanted.knowing));
  if (wanted.knowing) add_used_part_limits(common, result.questions);
  add_assumptions(library, result.worth, result.assumptions);
  return result;
}

}  // namespace heatside::remedy
