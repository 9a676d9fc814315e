#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "heatside/report/score_report.hpp"
#include "report/layout.hpp"

namespace heatside::report {

namespace {

using inspection::ChanceGroup;
using inspection::Interval;
using inspection::Look;
using inspection::OrderComparison;
using inspection::OrderScore;
using inspection::Rule;
using inspection::RuleScore;
using inspection::Score;

std::string counted(std::size_t count, const char* one, const char* many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

// "7 looks in 2 cases: ..."
std::string headline(const ScoreAnswer& answer) {
  const Score& score = answer.score;
  const std::string looks = counted(score.looks, "look", "looks");
  const std::string place =
      answer.cases.size() == 1 ? answer.cases.front().name : counted(answer.cases.size(), "case", "cases");
  std::string text = wrapped(
      fmt::format("How good the predictions were: {} held against the chances stored before, {}.", looks, place), "");
  std::vector<std::string> invented;
  for (std::size_t i = 0; i < answer.cases.size(); ++i) {
    if (answer.jobs[i].job.invented) invented.push_back(answer.cases[i].name);
  }
  if (invented.empty()) return text;
  return text + wrapped(fmt::format("{}.", fmt::join(invented, ", ")), "Invented scenarios, not vehicles: ");
}

std::string left_out_text(const inspection::LeftOut& left_out) {
  std::vector<std::string> parts;
  const auto add = [&](std::size_t count, const char* why) {
    if (count > 0) parts.push_back(fmt::format("{} {}", count, why));
  };
  add(left_out.no_condition, "without a condition seen (not seen, altered, a test, clues)");
  add(left_out.other_cause, "whose cause is neither heat nor unsure");
  add(left_out.no_prediction, "without a prediction stored before");
  add(left_out.merged, "at a segment that has a look on the same prediction, no milder than this one");
  return parts.empty() ? "" : wrapped(fmt::format("{}.", fmt::join(parts, "; ")), "Findings not scored: ");
}

std::string too_few_text(const Score& score) {
  if (score.enough()) return "";
  return wrapped(fmt::format("Nothing can be concluded from {}. The figures are there to be pooled with those of other jobs "
                             "(`heatside score CASE CASE ...`); below {} looks no interval is given.",
                             counted(score.looks, "look", "looks"), inspection::least_looks),
                 "! ");
}

const RuleScore& rule_of(const Score& score, Rule rule) { return score.rules[static_cast<std::size_t>(rule)]; }

std::string three_places(double value) { return fmt::format("{:.3f}", value); }

std::string interval_text(const std::optional<Interval>& interval) {
  return interval ? fmt::format("{:.3f} to {:.3f}", interval->low, interval->high) : "";
}

// Minus zero is no number for people.
double percent(double share) { return std::round(100.0 * share) + 0.0; }

std::string skill_text(const RuleScore& rule) { return rule.skill ? fmt::format("{:.0f} %", percent(*rule.skill)) : "none"; }

std::string skill_interval_text(const RuleScore& rule) {
  if (!rule.skill_interval) return "";
  return fmt::format("{:.0f} to {:.0f} %", percent(rule.skill_interval->low), percent(rule.skill_interval->high));
}

std::string rule_table(const Score& score) {
  struct Row {
    const char* words;
    Rule rule;
  };
  constexpr std::array<Row, inspection::rule_count> order{{{"cracked or worse, Brier", Rule::cracked_brier},
                                                           {"cracked or worse, logarithm", Rule::cracked_log},
                                                           {"five conditions, Brier", Rule::conditions_brier},
                                                           {"five conditions, logarithm", Rule::conditions_log},
                                                           {"five conditions, ranked", Rule::conditions_ranked}}};
  std::vector<std::vector<std::string>> rows;
  for (const Row& row : order) {
    const RuleScore& rule = rule_of(score, row.rule);
    rows.push_back({row.words, three_places(rule.mean), interval_text(rule.mean_interval), three_places(rule.base),
                    skill_text(rule), skill_interval_text(rule)});
  }
  return table({"score, 0 is best", "predicted", "90 %", "base rate", "skill", "90 %"}, rows);
}

std::string rule_legend(const Score& score) {
  std::string text = wrapped(
      "Brier: squared distance of the chances from what was seen. logarithm: -ln of the chance that was given to what came "
      "about, with chances brought within 1e-6 and 1 - 1e-6. ranked: squared distance of the chances summed from supple "
      "upwards, so that being one condition off costs least. base rate: who says every time how often each came about among "
      "these same looks. It knows them all, which makes it a hard yardstick, the harder the fewer they are. skill: part of "
      "the base rate's score that the predictions save; below 0 they are worse than it; none where all looks came out "
      "alike.",
      "");
  if (!score.enough()) return text;
  const std::string drawn = score.resamples_jobs
                                ? "whole cases drawn anew, because looks at one loom hang together"
                                : fmt::format(
                                      "looks drawn anew. Looks at one loom hang together, so the intervals are too narrow; "
                                      "from {} cases on, whole cases are drawn",
                                      inspection::least_looks);
  return text +
         wrapped(fmt::format("90 %: bootstrap, {} times, seed {}; {}.", score.options.resamples, score.options.seed, drawn),
                 "");
}

// Against the base rate, in words.
std::string verdict_of(const char* subject, const RuleScore& rule) {
  if (!rule.skill || !rule.skill_interval) {
    return fmt::format("{}: all looks came out alike, or nearly, so skill cannot be told.", subject);
  }
  constexpr const char* scatter = "than the base rate, by more than these looks scatter";
  if (rule.skill_interval->low > 0.0) return fmt::format("{}: better {}.", subject, scatter);
  if (rule.skill_interval->high < 0.0) return fmt::format("{}: worse {}.", subject, scatter);
  return fmt::format("{}: no clear difference from the base rate.", subject);
}

std::string verdict_text(const Score& score) {
  if (!score.enough()) return "";
  return wrapped(verdict_of("Cracked or worse (Brier)", rule_of(score, Rule::cracked_brier)) + ' ' +
                     verdict_of("Five conditions (ranked)", rule_of(score, Rule::conditions_ranked)),
                 "");
}

std::string group_table(const Score& score) {
  constexpr std::array<const char*, 3> words{"below a third", "a third to two thirds", "two thirds and above"};
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < score.groups.size(); ++i) {
    const ChanceGroup& group = score.groups[i];
    rows.push_back(
        {words[i], fmt::format("{}", group.looks), fmt::format("{:.1f}", group.said), fmt::format("{}", group.cracked)});
  }
  rows.push_back(
      {"all", fmt::format("{}", score.looks), fmt::format("{:.1f}", score.said_cracked), fmt::format("{}", score.cracked)});
  return "Cracked or worse: how many the chances had led to expect, and how many were.\n" +
         table({"chance", "looks", "expected", "found"}, rows);
}

std::vector<std::string> order_row(const char* words, const OrderScore& score) {
  std::vector<std::string> row{words};
  for (const double hits : score.hits) row.push_back(fmt::format("{:.1f}", hits));
  row.push_back(fmt::format("{:.2f}", score.looks_to_first));
  return row;
}

std::string saved_text(const OrderComparison& orders) {
  if (!orders.saved_interval) {
    return wrapped(fmt::format("Nothing can be concluded about the order from {}; at least {} are needed.",
                               counted(orders.rounds, "round", "rounds"), inspection::least_looks),
                   "! ");
  }
  return wrapped(
      fmt::format("The predicted order saves {:.2f} looks to the first find against hottest first (90 %: {:.2f} to "
                  "{:.2f}, rounds drawn anew).",
                  orders.saved, orders.saved_interval->low, orders.saved_interval->high),
      "");
}

std::string order_text(const Score& score) {
  if (!score.orders) {
    return wrapped(
        "Where to look first: cannot be told. It takes looks of one day, some of them cracked or worse and some not.", "");
  }
  const OrderComparison& orders = *score.orders;
  std::string text =
      wrapped(fmt::format("Where to look first: {} at {}, {} of them cracked or worse, taken in another order.",
                          counted(orders.rounds, "round", "rounds"), counted(orders.looks, "place", "places"), orders.hits),
              "");
  text += table({"order", "found in 1 look", "in 2", "in 3", "looks to the first"},
                {order_row("by predicted chance", orders.by_prediction), order_row("hottest first", orders.hottest_first),
                 order_row("at random", orders.at_random)});
  text += wrapped(
      "A round: the looks under one prediction, where some found it cracked or worse and some did not. Found: summed over "
      "the rounds; looks to the first: their mean; ties in any order. hottest first: the rule of thumb, by the constant "
      "temperature that ages as much as the heat did.",
      "");
  return text + saved_text(orders);
}

std::size_t count_of(const ScoreAnswer& answer, bool Look::*property) {
  return static_cast<std::size_t>(
      std::count_if(answer.looks.looks.begin(), answer.looks.looks.end(), [&](const Look& look) { return look.*property; }));
}

std::string limits_text(const ScoreAnswer& answer) {
  std::string text = "What these figures cannot say:\n";
  text += wrapped(
      "Only opened places have findings, and the places that look worst are opened first. Nothing here speaks of the "
      "others: "
      "how many cracked ones were missed cannot be told. A look now and then where little is expected would tell.",
      "  - ");
  text += wrapped(
      "What was seen is taken as true. A look may name the neighbouring condition; that counts against the "
      "prediction.",
      "  - ");
  const auto add = [&](std::size_t count, const char* words) {
    if (count > 0) text += wrapped(fmt::format("{} of {}: {}", count, answer.score.looks, words), "  - ");
  };
  add(count_of(answer, &Look::part),
      "one stretch or one lot was looked at; the chances are for the worst place of the segment.");
  add(count_of(answer, &Look::seen_before),
      "the place had been looked at before and the prediction could know of it, which makes it easy.");
  add(count_of(answer, &Look::late),
      "the prediction was stored two days after the look or later, when it was recorded. Whoever did so knew what was "
      "seen.");
  add(answer.score.certain, "the prediction was certain or nearly so, and the cap of the logarithm decides its score.");
  return text;
}

std::vector<std::string> engines_of(const ScoreAnswer& answer) {
  std::vector<std::string> engines;
  for (const Look& look : answer.looks.looks)
    engines.push_back(answer.jobs[look.job].job.predictions[look.prediction].engine);
  std::sort(engines.begin(), engines.end());
  engines.erase(std::unique(engines.begin(), engines.end()), engines.end());
  return engines;
}

std::string certificate_text(const ScoreAnswer& answer) {
  std::string text;
  if (const auto engines = engines_of(answer); !engines.empty()) {
    text += wrapped(fmt::format("{}.", fmt::join(engines, ", ")), "Predictions made by: ");
  }
  if (!answer.own_records.empty()) {
    text +=
        wrapped(fmt::format("{}, sha256 {}.", fmt::join(answer.own_records, ", "), answer.own_records_sha256.substr(0, 16)),
                "Records of your own: ");
  }
  text += '\n' + answer.engine;
  for (const ScoredCase& scored : answer.cases) {
    text +=
        fmt::format("{}{} sha256 {}", answer.cases.size() == 1 ? ", " : "\n  ", scored.name, scored.sha256.substr(0, 16));
  }
  return text + '\n';
}

std::string figures_text(const ScoreAnswer& answer) {
  const Score& score = answer.score;
  if (score.looks == 0) {
    return wrapped(
        "No look can be scored: it takes a finding with a condition seen, recorded with `heatside record`, which "
        "stores the chances of every segment before the first finding of a day.",
        "");
  }
  return group_table(score) + '\n' + rule_table(score) + verdict_text(score) + rule_legend(score) + '\n' +
         order_text(score) + '\n' + limits_text(answer);
}

}  // namespace

std::string score_text(const ScoreAnswer& answer) {
  std::string text = headline(answer) + '\n';
  for (const std::string& warning : answer.warnings) text += wrapped(warning, "! ");
  if (answer.score.looks > 0) text += too_few_text(answer.score);
  text += left_out_text(answer.looks.left_out);
  if (text.substr(text.size() - 2) != "\n\n") text += '\n';
  return text + figures_text(answer) + '\n' + certificate_text(answer);
}

}  // namespace heatside::report
