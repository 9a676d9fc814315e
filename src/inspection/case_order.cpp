#include "heatside/inspection/case_order.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <variant>

#include "base/text.hpp"
#include "heatside/casefile/record.hpp"
#include "heatside/remedy/remedies.hpp"
#include "heatside/remedy/rules.hpp"
#include "inspection/order_choices.hpp"

namespace heatside::inspection {

namespace {

using casefile::Case;
using library::Library;
using population::ConditionRow;
using population::DrawnAnswer;

const char* const opening_method = "look-opening";

// Outcomes of a look: what may be named, by condition that is there.
population::OutcomeTable outcomes_of(const library::Method& method) {
  const auto& look = std::get<library::LookTable>(method.evidence);
  population::OutcomeTable table;
  for (std::size_t seen = 0; seen < library::condition_count; ++seen) {
    ConditionRow row{};
    for (std::size_t c = 0; c < row.size(); ++c) row[c] = look.seen[c].chance[seen];
    table.outcomes.push_back(row);
  }
  return table;
}

SharedAccess access_of(const Case& job, const library::ModelConstants::Opening& opening) {
  std::vector<Access> access;
  for (const casefile::Segment& segment : job.segments) access.push_back({segment.to_open, segment.cover_group});
  return shared_access(access, opening);
}

bool opens(const casefile::Finding& finding, const Library& library) {
  const auto method = library.methods.find(finding.method);
  return method != library.methods.end() && method->second.opens;
}

// The last day on which anything was found by opening.
std::optional<Date> last_opening(const Case& job, const Library& library) {
  std::optional<Date> last;
  for (const casefile::Finding& finding : job.findings) {
    if (opens(finding, library) && (!last || last->day < finding.on.day)) last = finding.on;
  }
  return last;
}

// A cover is off where something below it was opened on the last day of openings; what was opened before is closed again.
void take_covers_off(const Case& job, const Library& library, OpeningQuestion& question) {
  const std::optional<Date> last = last_opening(job, library);
  for (const casefile::Finding& finding : job.findings) {
    if (!opens(finding, library) || finding.on.day != last->day) continue;
    for (const Candidate& candidate : question.candidates) {
      if (candidate.id == finding.segment && candidate.cover) question.covers[*candidate.cover].off = true;
    }
  }
}

// What the minutes of the openings so far have cost, each cover taken off once.
double spent_on(const OpeningQuestion& question) {
  double minutes = 0.0;
  std::vector<bool> counted(question.covers.size(), false);
  for (const Candidate& candidate : question.candidates) {
    if (!candidate.opened) continue;
    minutes += candidate.minutes.value();
    if (!candidate.cover || counted[*candidate.cover]) continue;
    counted[*candidate.cover] = true;
    minutes += question.covers[*candidate.cover].minutes.value();
  }
  return minutes * question.money_per_minute;
}

Candidate candidate_of(const Case& job, const Library& library, const SharedAccess& access, std::size_t number,
                       double rate) {
  const library::ModelConstants::Opening& opening = library.model.opening;
  const casefile::Segment& segment = job.segments[number];
  Candidate candidate;
  candidate.id = segment.id;
  candidate.segment = number;
  candidate.minutes = access.minutes[number];
  candidate.cover = access.cover[number];
  candidate.table = outcomes_of(library.methods.at(opening_method));
  candidate.break_chance = break_chances(opening);
  candidate.break_cost = opening.break_cost.value * rate;
  candidate.other_harm = opening.latch_chance.value * opening.latch_cost.value * rate;
  candidate.airbag = segment.airbag;
  return candidate;
}

OpeningQuestion question_of(const Case& job, const Library& library, const DrawnAnswer& answer,
                            const std::vector<WordedChoice>& choices, OrderOptions options) {
  OpeningQuestion question;
  question.knowledge = answer.knowledge;
  for (const WordedChoice& one : choices) question.choices.push_back(one.choice);
  question.money_per_minute = remedy::worth_of(job, library).per_minute;
  question.allowed = job.openings.allowed;
  question.cost_limit = job.openings.cost_limit;
  question.tree.depth = options.depth;
  const SharedAccess access = access_of(job, library.model.opening);
  question.covers = access.covers;
  const std::vector<std::string> opened = casefile::opened_segments(job, library);
  for (std::size_t i = 0; i < job.segments.size(); ++i) {
    Candidate candidate = candidate_of(job, library, access, i, question.money_per_minute);
    candidate.opened = std::binary_search(opened.begin(), opened.end(), candidate.id);
    candidate.ruled_out = ruled_out(choices, i);
    question.candidates.push_back(std::move(candidate));
  }
  take_covers_off(job, library, question);
  return question;
}

// What the owner allowed counts from the first opening on.
void take_off_what_is_used(CaseOrder& order) {
  OpeningQuestion& question = order.question;
  for (const Candidate& candidate : question.candidates) order.opened += candidate.opened ? 1u : 0u;
  order.spent = spent_on(question);
  if (question.allowed) question.allowed = *question.allowed - std::min(*question.allowed, order.opened);
  if (question.cost_limit) question.cost_limit = std::max(0.0, *question.cost_limit - order.spent);
}

bool found_by(const Case& job, const std::string& method) {
  return std::any_of(job.findings.begin(), job.findings.end(),
                     [&](const casefile::Finding& finding) { return finding.method == method; });
}

bool has_symptoms(const Case& job) {
  return std::any_of(job.unused.begin(), job.unused.end(),
                     [](const std::string& part) { return part.rfind("symptoms", 0) == 0; });
}

std::vector<StepZero> step_zero_of(const Case& job) {
  const auto any_finding = [&](auto&& has) { return std::any_of(job.findings.begin(), job.findings.end(), has); };
  const bool codes =
      std::all_of(job.looms.begin(), job.looms.end(), [](const casefile::Loom& loom) { return !loom.date_code.empty(); });
  const bool compounds =
      std::all_of(job.lots.begin(), job.lots.end(), [](const casefile::Lot& lot) { return lot.compound_known; }) ||
      any_finding([](const casefile::Finding& finding) { return !finding.clues.empty(); });
  const bool repairs = any_finding([](const casefile::Finding& finding) { return finding.seen == library::Seen::altered; });
  return {{"boots peeled back and conduit slits parted at every plug within reach", found_by(job, "look-boot")},
          {"a borescope under the covers", found_by(job, "look-borescope")},
          {"flakes and dust of insulation below the loom", false},
          {"date code of each loom: one that was replaced is younger than the vehicle", codes},
          {"print and feel of the jacket: which compound it is", compounds},
          {"earlier repairs: glue, silicone, tape, extra earth wires, splices", repairs},
          {"stored faults and blown fuses; none of them says that the insulation is sound", has_symptoms(job)}};
}

std::vector<LookAgain> look_again_of(const Case& job, const OpeningQuestion& question, const DrawnAnswer& answer) {
  std::vector<LookAgain> list;
  for (const Candidate& candidate : question.candidates) {
    if (candidate.opened || candidate.airbag) continue;
    if (remedy::bare_conductor_seen(job, job.segments[candidate.segment])) continue;
    const auto* estimate = casefile::find_by_id(answer.estimate.segments, candidate.id);
    list.push_back({candidate.id, Years{std::max(0.0, estimate->flex_cracks.p10.value())}});
  }
  std::stable_sort(list.begin(), list.end(), [](const LookAgain& a, const LookAgain& b) { return a.after < b.after; });
  return list;
}

std::vector<FoundBare> found_bare_of(const Case& job) {
  std::vector<FoundBare> list;
  for (const casefile::Segment& segment : job.segments) {
    if (const auto seen = remedy::bare_conductor_seen(job, segment)) list.push_back({segment.id, *seen});
  }
  return list;
}

std::vector<Handling> handlings_of(const Case& job, const DrawnAnswer& answer) {
  std::vector<Handling> list;
  for (const casefile::Segment& segment : job.segments)
    list.push_back(handling_of(segment.id, casefile::find_by_id(answer.estimate.segments, segment.id)->chance));
  return list;
}

// Covers that count as off without anybody having said so.
void add_covers(const OpeningQuestion& question, const std::optional<Date>& last, std::vector<casefile::Assumption>& list) {
  std::vector<std::string> off;
  for (const CoverToRemove& cover : question.covers) {
    if (cover.off) off.push_back(cover.id);
  }
  if (off.empty() || !last) return;
  list.push_back(
      {"/findings",
       fmt::format("still off since the last opening, {}: {}; all other covers are on", format_date(*last), join(off)),
       Grade::judgement});
}

std::vector<casefile::Assumption> assumptions_of(const Case& job, const Library& library, const OpeningQuestion& question) {
  std::vector<casefile::Assumption> list = assumptions_of_choices(job, library);
  const library::ModelConstants::Opening& opening = library.model.opening;
  const remedy::Worth worth = remedy::worth_of(job, library);
  const auto money = [&](const Sourced& minutes) {
    return plain_number(std::round(minutes.value * worth.per_minute)) + " " + worth.unit;
  };
  list.push_back(
      {"",
       fmt::format("opening breaks what it touches in {} of 100 segments that are stiff, {} that crack when "
                   "handled, {} that are cracked and {} that crumble ({} each), and latches or seals in {} of 100 "
                   "({})",
                   plain_number(100.0 * opening.break_stiff.value), plain_number(100.0 * opening.break_flex_cracks.value),
                   plain_number(100.0 * opening.break_cracked.value), plain_number(100.0 * opening.break_crumbling.value),
                   money(opening.break_cost), plain_number(100.0 * opening.latch_chance.value), money(opening.latch_cost)),
       opening.break_cost.from.grade});
  const bool all_stated = std::all_of(job.segments.begin(), job.segments.end(),
                                      [](const casefile::Segment& segment) { return segment.to_open.has_value(); });
  if (!all_stated)
    list.push_back({"/segments",
                    fmt::format("where no minutes_to_open stand, opening takes {} minutes, the cover included",
                                plain_number(opening.minutes_to_open.value)),
                    opening.minutes_to_open.from.grade});
  if (!question.covers.empty())
    list.push_back({"",
                    fmt::format("of the minutes of the quickest segment below a cover, {} in 100 are the cover's, and "
                                "are paid once",
                                plain_number(100.0 * opening.cover_share.value)),
                    opening.cover_share.from.grade});
  add_covers(question, last_opening(job, library), list);
  return list;
}

}  // namespace

CaseOrder case_order(const Case& job, const Library& library, const DrawnAnswer& answer, OrderOptions options) {
  const std::vector<WordedChoice> choices = choices_of(job, library, answer);
  CaseOrder result;
  result.question = question_of(job, library, answer, choices, options);
  take_off_what_is_used(result);
  result.order = opening_order(result.question);
  result.method = opening_method;
  result.currency = job.currency;
  result.consent = job.openings.consent;
  result.step_zero = step_zero_of(job);
  result.look_again = look_again_of(job, result.question, answer);
  result.found_bare = found_bare_of(job);
  result.handling = handlings_of(job, answer);
  for (const WordedChoice& choice : choices) result.actions.push_back(choice.words);
  result.assumptions = assumptions_of(job, library, result.question);
  return result;
}

Handling handling_of(const std::string& segment, const std::array<double, 5>& chance) {
  constexpr double likely_enough = 0.1;
  double worse = 0.0;
  for (std::size_t c = chance.size(); c-- > 1;) {
    worse += chance[c];
    if (worse >= likely_enough) return {segment, static_cast<ageing::Condition>(c), worse};
  }
  return {segment, ageing::Condition::supple, 1.0};
}

std::string handling_advice(ageing::Condition condition) {
  switch (condition) {
    case ageing::Condition::supple:
      return "bend it no more than needed; feel says little where a stabiliser guards the compound";
    case ageing::Condition::stiff:
      return "do not bend it sharply; warm the workshop first";
    case ageing::Condition::flex_cracks:
      return "it cracks when handled: support it along its length, do not twist plugs, cut ties instead of pulling";
    case ageing::Condition::cracked:
      return "bare copper is likely where it bends: touch nothing that need not be, keep pieces apart, power stays off";
    case ageing::Condition::crumbling:
      return "it falls off when moved: have what replaces it at hand before it is opened, photograph first, move nothing, "
             "keep it from touching metal, power stays off";
  }
  return "";
}

}  // namespace heatside::inspection
