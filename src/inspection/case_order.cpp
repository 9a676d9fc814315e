#include "heatside/inspection/case_order.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <variant>

#include "base/text.hpp"
#include "heatside/casefile/record.hpp"
#include "heatside/remedy/default_losses.hpp"

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

std::vector<population::Choice> choices_of(const Case& job, const library::ModelConstants::Opening& opening, double rate) {
  std::vector<population::Choice> choices;
  for (const casefile::Loom& loom : job.looms) {
    std::vector<std::size_t> segments;
    for (std::size_t i = 0; i < job.segments.size(); ++i) {
      if (job.segments[i].loom == loom.id) segments.push_back(i);
    }
    if (!segments.empty()) choices.push_back(remedy::leave_or_replace(loom.id, segments, opening, rate));
  }
  return choices;
}

OpeningQuestion question_of(const Case& job, const Library& library, const DrawnAnswer& answer, OrderOptions options) {
  const library::ModelConstants::Opening& opening = library.model.opening;
  const double rate = job.currency.empty() ? 1.0 : opening.minute_rate.value;
  OpeningQuestion question;
  question.knowledge = answer.knowledge;
  question.choices = choices_of(job, opening, rate);
  question.money_per_minute = rate;
  question.allowed = job.openings.allowed;
  question.cost_limit = job.openings.cost_limit;
  question.tree.depth = options.depth;
  SharedAccess access = access_of(job, opening);
  question.covers = access.covers;
  const std::vector<std::string> opened = casefile::opened_segments(job, library);
  const population::OutcomeTable table = outcomes_of(library.methods.at(opening_method));
  for (std::size_t i = 0; i < job.segments.size(); ++i) {
    const casefile::Segment& segment = job.segments[i];
    Candidate candidate;
    candidate.id = segment.id;
    candidate.segment = i;
    candidate.minutes = access.minutes[i];
    candidate.cover = access.cover[i];
    candidate.table = table;
    candidate.break_chance = break_chances(opening);
    candidate.break_cost = opening.break_cost.value * rate;
    candidate.other_harm = opening.latch_chance.value * opening.latch_cost.value * rate;
    candidate.airbag = segment.airbag;
    candidate.opened = std::binary_search(opened.begin(), opened.end(), segment.id);
    if (candidate.opened && candidate.cover) question.covers[*candidate.cover].off = true;
    question.candidates.push_back(std::move(candidate));
  }
  return question;
}

bool found_by(const Case& job, const std::string& method) {
  return std::any_of(job.findings.begin(), job.findings.end(),
                     [&](const casefile::Finding& finding) { return finding.method == method; });
}

std::vector<StepZero> step_zero_of(const Case& job) {
  const bool codes =
      std::all_of(job.looms.begin(), job.looms.end(), [](const casefile::Loom& loom) { return !loom.date_code.empty(); });
  const bool compounds =
      std::all_of(job.lots.begin(), job.lots.end(), [](const casefile::Lot& lot) { return lot.compound_known; });
  const bool repairs = std::any_of(job.findings.begin(), job.findings.end(),
                                   [](const casefile::Finding& finding) { return finding.seen == library::Seen::altered; });
  return {{"boots peeled back and conduit slits parted at every plug within reach", found_by(job, "look-boot")},
          {"a borescope under the covers", found_by(job, "look-borescope")},
          {"flakes and dust of insulation below the loom", false},
          {"date code of each loom: one that was replaced is younger than the vehicle", codes},
          {"print and feel of the jacket: which compound it is", compounds},
          {"earlier repairs: glue, silicone, tape, extra earth wires, splices", repairs},
          {"stored faults and blown fuses; none of them says that the insulation is sound", false}};
}

std::vector<LookAgain> look_again_of(const OpeningQuestion& question, const DrawnAnswer& answer) {
  std::vector<LookAgain> list;
  for (const Candidate& candidate : question.candidates) {
    if (candidate.opened) continue;
    const auto* estimate = casefile::find_by_id(answer.estimate.segments, candidate.id);
    list.push_back({candidate.id, Years{std::max(0.0, estimate->flex_cracks.p10.value())}});
  }
  std::stable_sort(list.begin(), list.end(), [](const LookAgain& a, const LookAgain& b) { return a.after < b.after; });
  return list;
}

std::vector<casefile::Assumption> assumptions_of(const Case& job, const library::ModelConstants::Opening& opening) {
  const std::string unit = job.currency.empty() ? "minutes of work" : job.currency;
  const double rate = job.currency.empty() ? 1.0 : opening.minute_rate.value;
  const auto money = [&](const Sourced& minutes) { return plain_number(std::round(minutes.value * rate)) + " " + unit; };
  std::vector<casefile::Assumption> list;
  list.push_back({"",
                  fmt::format("no remedies are stated: each loom is left or replaced; a replacement costs {}, a bare-wire "
                              "fault on the road {}",
                              money(opening.loom_cost), money(opening.fault_cost)),
                  opening.loom_cost.from.grade});
  list.push_back({"",
                  fmt::format("opening may break what is brittle ({} each) and latches ({})", money(opening.break_cost),
                              money(opening.latch_cost)),
                  opening.break_cost.from.grade});
  if (!job.currency.empty())
    list.push_back({"", fmt::format("a minute of work costs {} {}", plain_number(opening.minute_rate.value), unit),
                    opening.minute_rate.from.grade});
  for (const casefile::Segment& segment : job.segments) {
    if (segment.to_open) continue;
    list.push_back({"/segments",
                    fmt::format("where no minutes_to_open stand, opening takes {} minutes, the cover included",
                                plain_number(opening.minutes_to_open.value)),
                    opening.minutes_to_open.from.grade});
    break;
  }
  return list;
}

}  // namespace

CaseOrder case_order(const Case& job, const Library& library, const DrawnAnswer& answer, OrderOptions options) {
  CaseOrder result;
  result.question = question_of(job, library, answer, options);
  result.order = opening_order(result.question);
  result.method = opening_method;
  result.currency = job.currency;
  result.consent = job.openings.consent;
  result.step_zero = step_zero_of(job);
  result.look_again = look_again_of(result.question, answer);
  result.assumptions = assumptions_of(job, library.model.opening);
  return result;
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
      return "it falls off when moved: open only to replace it, photograph first, keep it from touching metal";
  }
  return "";
}

}  // namespace heatside::inspection
