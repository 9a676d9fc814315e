#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/remedies_report.hpp"
#include "report/layout.hpp"
#include "report/remedies_words.hpp"

namespace heatside::report {

namespace {

using remedy::Question;
using remedy::Result;
using remedy::Worth;

std::string cell(double amount) { return fmt::format("{:.0f}", rounded_money(amount)); }

std::string result_table(const Question& question, const Worth& worth) {
  const bool stops = tells_stops(question.results.front());
  std::vector<std::vector<std::string>> rows;
  for (const std::size_t i : question.order) {
    const Result& result = question.results[i];
    const bool out = !result.verdict.struck.empty();
    rows.push_back({fitted((out ? "x " : "  ") + result.offer.remedy.id, 26), cell(result.expected),
                    cell(result.low) + " - " + cell(result.high), cell(result.parts), cell(result.work), cell(result.harm),
                    cell(result.faults), percent_text(chance_of_fault_or_stop(result)), percent_text(result.cheapest)});
  }
  std::string text = table(
      {"  remedy", "expected", "5 - 95 %", "parts", "work", "breaks", "faults", stops ? "stop" : "fault", "cheapest"}, rows);
  text += wrapped(
      fmt::format(
          "In {}, over {}. expected: parts, work, what the work breaks in brittle neighbours, and {} with the renewal that "
          "follows the first one where old insulation was left. "
          "5 - 95 %: nine of ten futures lie between. {}: chance of at least one. cheapest: how often it turns out "
          "to be. {}",
          worth.unit == "min" ? "minutes of work" : worth.unit, horizon_text(worth),
          fault_word(question.results.front(), true), stops ? "stop" : "fault",
          std::any_of(question.results.begin(), question.results.end(),
                      [](const Result& result) { return !result.verdict.struck.empty(); })
              ? "x: struck out by a rule that no price overrides."
              : ""),
      "");
  return text;
}

constexpr double most_years = 40.0;  // beyond them other causes come first

// "now", "within a year", "after 7 years"
std::string by_then(Years at) {
  if (at.value() <= 0.0) return "now";
  if (at.value() < 1.0) return "within a year";
  return at.value() > most_years ? "after more than 40 years" : "after " + counted(std::round(at.value()), "year", "years");
}

std::string years_range(const remedy::Weakest& weakest) {
  const auto& flex = weakest.flex_cracks;
  if (flex.p90.value() <= 0.0) return "cracks when handled now";
  if (flex.p10.value() > most_years) return "lasts over 40 years by heat alone";
  if (flex.p50.value() <= 0.0)
    return fmt::format("cracks when handled now in more than half of the draws (in nine of ten {})", by_then(flex.p90));
  return fmt::format("cracks when handled {} (in one of ten draws {}, in nine of ten {})", by_then(flex.p50),
                     by_then(flex.p10), by_then(flex.p90));
}

std::string compound_text(const Result& result) {
  const casefile::Remedy& remedy = result.offer.remedy;
  if (remedy.candidates.empty()) return "";
  const casefile::InsulationCandidate& first = remedy.candidates.front();
  std::string text = remedy.compound_known ? "of " + first.insulation
                                           : fmt::format("compound not known, likeliest {} ({:.0f} in 100)",
                                                         first.insulation, 100.0 * first.weight);
  if (remedy.made) return text + ", made " + format_date_as_known(*remedy.made).substr(0, 7);
  return text + (result.offer.act == library::RemedyAct::used_part ? ", date not known" : "");
}

// What it is expected to cost, in plain words: what is paid now, and what comes after it.
std::string cost_in_words(const Result& result, const Question& question, const Worth& worth) {
  std::vector<std::string> parts;
  const double now = result.parts + result.work;
  if (rounded_money(now) > 0.0) parts.push_back(money_text(worth, now) + " for it now");
  if (rounded_money(result.harm) > 0.0) parts.push_back("what the work breaks in brittle neighbours");
  if (result.after.empty())
    parts.push_back(fmt::format("in {} a bare-wire fault with a chance of {}, mended by itself", horizon_text(worth),
                                percent_text(result.fault_chance)));
  else
    parts.push_back(after_in_words(result, question, worth));
  return fmt::format("Expected to cost {}: {}.", money_text(worth, result.expected), join(parts, "; "));
}

std::string one_remedy(const Result& result, const Question& question, const Worth& worth, const library::Library& library) {
  const casefile::Remedy& remedy = result.offer.remedy;
  const library::RemedyKind& kind = library.remedies.at(remedy.kind);
  std::vector<std::string> parts{remedy.name.empty() || remedy.name == remedy.id ? kind.head.name : remedy.name};
  if (const std::string compound = compound_text(result); !compound.empty()) parts.push_back(compound);
  if (result.offer.act != library::RemedyAct::leave)
    parts.push_back(fmt::format(
        "{:.0f} min of work, {}", result.minutes,
        result.lead_days < 0.5
            ? std::string{"at hand at once"}
            : "at hand in " + counted(std::round(result.lead_days), "day", "days") + " and the old stays in until then"));
  std::string text = wrapped(
      fmt::format("{}: {}. {} Stays in: {}", remedy.id, join(parts, "; "), kind.about.text, kind.stays_in.text), "  ");
  text += wrapped(cost_in_words(result, question, worth), "    ");
  if (result.left_in)
    text += wrapped(
        fmt::format("Weakest of the old that is left in: {}, {}.", result.left_in->segment, years_range(*result.left_in)),
        "    ");
  if (result.weakest.renewed)
    text += wrapped(fmt::format("Weakest of the new: {}, {}.", result.weakest.segment, years_range(result.weakest)), "    ");
  for (const std::string& reason : result.verdict.struck) text += wrapped("Struck out: " + reason + ".", "  x ");
  for (const std::string& condition : result.verdict.conditions) text += wrapped("First: " + condition + ".", "  ! ");
  return text;
}

std::string break_even_text(const Question& question, const Worth& worth) {
  if (question.by_stop.size() < 2) {
    if (!question.best) return "";
    return wrapped(
        fmt::format("Whatever {} costs, {} stays the cheapest that the rules allow.",
                    fault_word(question.results.front(), false), question.results[*question.best].offer.remedy.id),
        "");
  }
  std::vector<std::string> pieces;
  constexpr double most_times = 10.0;  // what nobody would put on a stop is left out
  for (std::size_t i = 0; i < question.by_stop.size(); ++i) {
    if (i > 1 && question.by_stop[i].from_stop > most_times * worth.stop) break;
    const remedy::BreakEven& piece = question.by_stop[i];
    const std::string& id = question.results[piece.line].offer.remedy.id;
    pieces.push_back(i == 0 ? fmt::format("{} below {}", id, money_text(worth, question.by_stop[1].from_stop))
                            : fmt::format("{} if it costs you more than {}", id, money_text(worth, piece.from_stop)));
  }
  return wrapped(fmt::format("What {} may cost before the choice changes: {}. Here it is taken to cost {}{}.",
                             fault_word(question.results.front(), false), join(pieces, ", "), money_text(worth, worth.stop),
                             worth.stop_stated ? ", as stated" : "; state your own as stop under costs"),
                 "");
}

std::string knowing_text(const Question& question, const Worth& worth) {
  constexpr std::size_t most = 3;
  std::string text;
  std::size_t listed = 0;
  for (const remedy::WorthKnowing& known : question.worth) {
    // What is no more than its own error is not worth a line.
    if (listed == most || known.saving < 1.0 || known.saving < 2.0 * known.standard_error) continue;
    ++listed;
    text += wrapped(fmt::format("{}: worth up to {} (+- {:.0f}); the choice would become {} in {} of the answers",
                                known.words, money_text(worth, known.saving), known.standard_error,
                                question.results[known.instead].offer.remedy.id, percent_text(known.changes)),
                    "  - ");
  }
  listed = 0;
  for (const remedy::LookWorth& look : question.looks) {
    if (listed == most || look.saving < 1.0 || look.saving < 2.0 * look.standard_error) break;
    ++listed;
    text +=
        wrapped(fmt::format("a look at {}, opened: worth up to {} (+- {:.0f}) before what opening costs; `heatside order` "
                            "weighs that",
                            look.segment, money_text(worth, look.saving), look.standard_error),
                "  - ");
  }
  if (text.empty()) return "Nothing that could be found out beforehand is expected to change this choice.\n";
  return "What would have to be known to choose otherwise, and what knowing it is worth:\n" + text;
}

std::string used_limit(const remedy::UsedPartLimit& limit) {
  if (!limit.oldest) return fmt::format("of {}, at no age", limit.compound);
  return fmt::format("of {}, if made in {} or later{}", limit.compound, format_date(*limit.oldest).substr(0, 4),
                     limit.any_age ? " (older than that was not worked out)" : "");
}

std::string used_text(const Question& question, const Worth& worth) {
  std::string text;
  for (std::size_t i = 0; i < question.used.size();) {
    const remedy::UsedPartLimit& first = question.used[i];
    const casefile::Remedy& part = question.results[first.result].offer.remedy;
    std::vector<std::string> words;
    for (; i < question.used.size() && question.used[i].result == first.result; ++i)
      words.push_back(used_limit(question.used[i]));
    if (!part.compound_known) words.emplace_back("of a compound that nobody knows, not before its tag has been read");
    text += wrapped(fmt::format("When {} is worth the {} {} (the best of the others is expected to cost {}): {}.", part.id,
                                part.parts_cost ? "asked" : "assumed", money_text(worth, first.price),
                                money_text(worth, first.instead), join(words, "; ")),
                    "");
  }
  if (text.empty()) return text;
  return text + wrapped(
                    "Read on its tag and on the part: its own date code (not the donor's year of build), compound or class "
                    "letter on the jacket, part number and region, kilometres and climate of the donor, signs of an earlier "
                    "repair; bend a spare tail at its hottest branch before paying.",
                    "  ");
}

std::string stop_note(const Question& question) {
  const Result& first = question.results.front();
  if (tells_stops(first)) return "";
  if (!first.stop)
    return wrapped(
        "No chance of a stop on the road is given: the case lists no circuits with a function that the library knows. Every "
        "bare-wire fault counts as if it stopped the vehicle.",
        "");
  return wrapped(
      fmt::format("No chance of a stop on the road is given: functions are known in {} of {} segments only. Elsewhere "
                  "every bare-wire fault counts as if it stopped the vehicle.",
                  first.stop->counted, first.stop->segments),
      "");
}

std::string question_text(const Question& question, const remedy::Answer& answer, const casefile::Case& job,
                          const library::Library& library) {
  const Worth& worth = answer.worth;
  std::vector<std::string> names;
  for (const std::string& id : question.offered.looms) {
    const casefile::Loom& loom = *casefile::find_by_id(job.looms, id);
    names.push_back(loom.name == id || loom.name.empty() ? id : fmt::format("{} ({})", loom.name, id));
  }
  std::string text = fmt::format("Loom (harness): {}\n", join(names, ", "));
  text += wrapped(advice_in_words(question, worth, job), "> ") + '\n';
  text += result_table(question, worth) + stop_note(question) + '\n';
  for (const std::size_t i : question.order) text += one_remedy(question.results[i], question, worth, library);
  text += '\n' + break_even_text(question, worth) + '\n' + knowing_text(question, worth);
  if (const std::string used = used_text(question, worth); !used.empty()) text += '\n' + used;
  return text + '\n';
}

std::string together_text(const remedy::Answer& answer) {
  double sum = 0.0;
  for (const Question& question : answer.questions) {
    if (!question.best) return "";
    sum += question.results[*question.best].expected;
  }
  if (answer.questions.size() < 2) return "";
  return fmt::format("As advised for all looms together: {} expected.\n\n", money_text(answer.worth, sum));
}

}  // namespace

std::string remedies_text(const remedy::Answer& answer, const population::Estimate& estimate, const casefile::Case& job,
                          const library::Library& library, const BirthCertificate& certificate) {
  std::string text = wrapped(job.title, "");
  if (job.invented) text += "Invented scenario: an example, not a vehicle.\n";
  text += '\n';
  for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
  text += '\n';
  for (const Question& question : answer.questions) text += question_text(question, answer, job, library);
  text += together_text(answer);
  text += "Every remedy ends with:\n";
  for (const std::string& step : remedy::final_checks()) text += wrapped(step, "  - ");
  for (const Question& question : answer.questions) {
    if (const std::string look = next_look_in_words(question, job); !look.empty()) text += wrapped(look, "  - ");
  }
  text += wrapped(
      "Watch meanwhile for misfires and stored faults that come and go when warm, blown fuses, a smell of burning, flakes "
      "below the loom. `heatside remedies FILE --plan ID` prints the work as a list.",
      "  - ");
  text += "\nAssumed of remedies and costs, each replaceable:\n";
  for (const casefile::Assumption& assumption : answer.assumptions)
    text += wrapped(fmt::format("{} [{}]", assumption.text, name_of(assumption.grade)), "  - ");
  text += wrapped(fmt::format("All that `heatside estimate` assumes holds here too ({}). {} draws, seed {}.",
                              counted(static_cast<double>(estimate.assumptions.size()), "assumption", "assumptions"),
                              estimate.draws, estimate.seed),
                  "");
  text += fmt::format("\n{}{}{}\n", certificate.engine, certificate.case_sha256.empty() ? "" : ", case sha256 ",
                      certificate.case_sha256.substr(0, 16));
  return text;
}

}  // namespace heatside::report
