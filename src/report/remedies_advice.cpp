#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/report/remedies_report.hpp"
#include "report/remedies_words.hpp"

/// The advice of a choice, and other sentences about remedies.

namespace heatside::report {

namespace {

using library::RemedyAct;
using remedy::Question;
using remedy::Result;
using remedy::Worth;

// What comes second among those that the rules allow.
const Result* runner_up(const Question& question) {
  if (question.order.size() < 2) return nullptr;
  const Result& second = question.results[question.order[1]];
  return second.verdict.struck.empty() ? &second : nullptr;
}

std::string range_text(const Result& result, const Worth& worth) {
  const std::string low = money_text(worth, result.low), high = money_text(worth, result.high);
  return "between " + low + " and " + high;
}

// Expected costs so near to each other that neither is better.
bool about_equal(const Result& one, const Result& other) {
  constexpr double near = 0.1;
  const double error = 2.0 * (one.standard_error + other.standard_error);
  return std::abs(other.expected - one.expected) <= std::max(error, near * std::abs(one.expected));
}

std::string renewal_in_words(const remedy::Offer& offer) {
  switch (offer.act) {
    case RemedyAct::rewire:
      return "rewiring";
    case RemedyAct::rebuild:
      return "the rebuilt loom";
    case RemedyAct::used_part:
      return "the used part";
    case RemedyAct::new_part:
      return "the new part";
    default:
      return "the renewal";
  }
}

std::string one_after(const remedy::AfterFault& after, const Question& question, const Worth& worth) {
  const std::string fault = fmt::format("a bare-wire fault with a chance of {}", percent_text(after.chance));
  if (!after.renewal) return fault + ", each of them mended by itself, since no renewal of the whole loom is offered";
  const remedy::Offer& offer = question.results[*after.renewal].offer;
  return fmt::format("{}, and then {} ({}, {})", fault, renewal_in_words(offer), offer.remedy.id,
                     money_text(worth, after.price));
}

std::string reason(const Question& question, const Result& best, const Worth& worth, const casefile::Case& job) {
  const Result& leave = question.results.front();
  const std::string fault = fault_word(leave, false), chance = percent_text(chance_of_fault_or_stop(leave));
  if (&best == &leave) {
    const auto look = remedy::look_again_on(job, best.weakest);
    return fmt::format("Nothing else pays: with all of it left in, the chance of {} in {} is {}, and {}.", fault,
                       horizon_text(worth), chance,
                       look ? "the time to look again is " + format_date(*look).substr(0, 7)
                            : "what cracks when handled is looked at again at every service");
  }
  if (!leave.verdict.struck.empty())
    return fmt::format("Leaving it is no choice at any price: {}.", leave.verdict.struck.front());
  const std::string after = after_in_words(leave, question, worth);
  return fmt::format("Leaving everything is expected to cost {}: {}; the chance of {} is {} then, and {} after this.",
                     money_text(worth, leave.expected), after, fault, chance, percent_text(chance_of_fault_or_stop(best)));
}

}  // namespace

double rounded_money(double amount) {
  // Nobody's choice hangs on the third digit.
  const double size = std::abs(amount);
  const double step = size >= 1000.0 ? 10.0 : (size >= 200.0 ? 5.0 : 1.0);
  return std::round(amount / step) * step + 0.0;
}

std::string money_text(const Worth& worth, double amount) {
  return fmt::format("{:.0f} {}", rounded_money(amount), worth.unit);
}

std::string counted(double number, const std::string& one, const std::string& many) {
  const std::string digits = plain_number(number);
  return digits + " " + (digits == "1" ? one : many);
}

std::string horizon_text(const Worth& worth) { return counted(worth.horizon.value(), "year", "years"); }

std::string after_in_words(const Result& result, const Question& question, const Worth& worth) {
  std::vector<std::string> parts;
  for (const remedy::AfterFault& after : result.after) {
    const std::string where = result.after.size() > 1 ? "loom " + join(after.looms, " and ") + ": " : "";
    parts.push_back(where + one_after(after, question, worth));
  }
  return parts.empty() ? "" : fmt::format("in {} {}", horizon_text(worth), join(parts, "; "));
}

std::string next_look_in_words(const Question& question, const casefile::Case& job) {
  if (!question.best) return "";
  const Result& best = question.results[*question.best];
  const auto look = remedy::look_again_on(job, best.weakest);
  const std::string id = best.offer.remedy.id, segment = best.weakest.segment;
  if (!look)
    return fmt::format("The next look after {}: at every service, because {} cracks when handled as it is.", id, segment);
  return fmt::format("The next look after {}: {}, at {}; by then it cracks when handled in one of ten draws.", id,
                     format_date(*look), segment);
}

std::string percent_text(double chance) {
  // Draws that never showed it do not make it impossible.
  if (chance < 0.01) return "under 1 %";
  if (chance > 0.99) return "over 99 %";
  return fmt::format("{:.0f} %", 100.0 * chance);
}

bool tells_stops(const Result& result) { return result.stop && result.stop->counted == result.stop->segments; }

double chance_of_fault_or_stop(const Result& result) {
  return tells_stops(result) ? result.stop->chance : result.fault_chance;
}

std::string fault_word(const Result& result, bool plural) {
  if (tells_stops(result)) return plural ? "stops on the road" : "a stop on the road";
  return plural ? "bare-wire faults" : "a bare-wire fault";
}

std::string request_in_words(const remedy::Offer& offer) {
  const std::string segments = join(offer.remedy.segments);
  switch (offer.act) {
    case RemedyAct::leave:
      return "Leave it and watch";
    case RemedyAct::cover:
      return "Sleeve and tape " + segments;
    case RemedyAct::branches:
      return "Replace " + segments;
    case RemedyAct::rewire:
      return "Rewire circuit by circuit";
    case RemedyAct::rebuild:
      return "Have the loom rebuilt";
    case RemedyAct::used_part:
      return "Buy and fit the used part";
    case RemedyAct::new_part:
      return "Buy and fit the new part";
  }
  return "";
}

std::string advice_in_words(const Question& question, const Worth& worth, const casefile::Case& job) {
  if (!question.best) {
    std::string text =
        "None of these may be chosen as they stand, whatever they cost; add a remedy that renews what is named.";
    for (const Result& result : question.results)
      text += fmt::format(" {}: {}.", result.offer.remedy.id, result.verdict.struck.front());
    return text;
  }
  const Result& best = question.results[*question.best];
  std::string text =
      fmt::format("{} ({}): over {} that is expected to cost {}, {} in nine of ten futures", request_in_words(best.offer),
                  best.offer.remedy.id, horizon_text(worth), money_text(worth, best.expected), range_text(best, worth));
  if (rounded_money(best.high) < rounded_money(best.expected)) text += " and far more in the few others";
  if (const Result* second = runner_up(question); second != nullptr && about_equal(best, *second))
    text += fmt::format("; {} is about as good ({})", second->offer.remedy.id, money_text(worth, second->expected));
  return text + ". " + reason(question, best, worth, job);
}

}  // namespace heatside::report
