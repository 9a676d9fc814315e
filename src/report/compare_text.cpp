#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "base/text.hpp"
#include "heatside/report/cautions.hpp"
#include "heatside/report/compare_report.hpp"
#include "report/compare_tables.hpp"
#include "report/compare_words.hpp"
#include "report/layout.hpp"

namespace heatside::report {

namespace {

using remedy::Candidate;
using remedy::Comparison;

std::string use_text(const casefile::Case& job, const Comparison& comparison) {
  const remedy::WhatIf& change = comparison.request.what_if;
  const auto* duty = std::get_if<std::string>(&job.future.duty);
  const std::string driven = !change.duty.empty() ? change.duty : duty != nullptr ? *duty : "trips of its own";
  const double kelvin = change.ambient.value();
  return fmt::format("duty {}, climate {}{}", driven, job.future.climate,
                     kelvin == 0.0 ? "" : fmt::format(" {:+g} K", kelvin));
}

std::string question_text(const Comparison& comparison, const casefile::Case& job) {
  const bool own = comparison.request.insulations.empty();
  return wrapped(fmt::format("{} of loom (harness) {}, {} segments, {}{}; use to come: {}.",
                             own ? "The wires that are in now" : "New wires", join(comparison.looms),
                             comparison.candidates.front().segments.size(),
                             own ? "years from the inspection of " : "made and fitted on ", format_date(comparison.from),
                             use_text(job, comparison)),
                 "");
}

std::string headline(const Comparison& comparison, double cap) {
  const Candidate& best = comparison.candidates.front();
  const remedy::SegmentOutcome& weakest = best.segments[best.weakest];
  const bool own = comparison.request.insulations.empty();
  const std::string who = own                                  ? "As changed"
                          : comparison.candidates.size() == 1u ? fmt::format("{}, new", best.insulation)
                                                               : fmt::format("Of these {} lasts best", best.insulation);
  return wrapped(fmt::format("{}: {} last {} years. Its weakest segment is {} ({}): half of the draws crack there when "
                             "handled {}, a tenth {}.",
                             who, chance_in_words(best.whole.lasts), plain_number(comparison.request.wanted.value()),
                             weakest.id, weakest.zone, after_in_words(weakest.life.flex_cracks.p50, cap),
                             after_in_words(weakest.life.flex_cracks.p10, cap)),
                 "");
}

std::string assumptions_text(const Comparison& comparison, const population::Estimate& estimate) {
  std::string text = "Assumed of the comparison, each a choice that can be replaced:\n";
  for (const casefile::Assumption& assumption : comparison.assumptions)
    text += wrapped(fmt::format("{} [{}]", assumption.text, name_of(assumption.grade)), "  - ");
  return text + wrapped(fmt::format("All that `heatside estimate` assumes of route, zones and use holds here too ({} "
                                    "assumptions). {} draws, seed {}.",
                                    estimate.assumptions.size(), estimate.draws, estimate.seed),
                        "");
}

std::string reliance_text(const Comparison& comparison) {
  std::string text;
  for (std::size_t grade = grade_names.size(); grade-- > 0;) {
    std::vector<std::string> kinds;
    std::string last;
    for (const library::Reliance& record : comparison.rests_on) {
      if (record.weakest != static_cast<Grade>(grade)) continue;
      if (record.kind == last) {
        kinds.back() += ", " + record.id;
      } else {
        kinds.push_back(record.kind + ' ' + record.id);
      }
      last = record.kind;
    }
    if (!kinds.empty()) text += wrapped(join(kinds, "; ") + '.', fmt::format("Rests on {}: ", grade_names[grade]));
  }
  return text + "`heatside materials ID` shows every number with its source and grade.\n";
}

std::string warnings_text(const population::Estimate& estimate) {
  std::string text;
  if (!estimate.learned) return text;
  for (const std::string& warning : estimate.learned->warnings) text += wrapped(warning, "! ");
  return text;
}

}  // namespace

std::string compare_text(const Comparison& comparison, const population::Estimate& estimate, const casefile::Case& job,
                         const library::Library& library, const BirthCertificate& certificate) {
  const double cap = library.model.report.plain_words_cap.value;
  std::string text = wrapped(job.title, "");
  if (job.invented) text += "Invented scenario: an example, not a vehicle.\n";
  text += '\n';
  for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
  text += '\n' + question_text(comparison, job) + headline(comparison, cap) + warnings_text(estimate) + '\n';
  text += candidates_table(comparison, cap) + '\n' + reasons_text(comparison, cap) + '\n';
  for (const std::string& part : {zones_table(comparison), mixed_text(comparison, cap), changes_text(comparison, cap)}) {
    if (!part.empty()) text += part + '\n';
  }
  text += segments_tables(comparison, cap) + assumptions_text(comparison, estimate) + '\n' + reliance_text(comparison);
  if (!certificate.own_records.empty())
    text +=
        wrapped(fmt::format("{}, sha256 {}.", join(certificate.own_records), certificate.own_records_sha256.substr(0, 16)),
                "Records of your own: ");
  text += fmt::format("\n{}{}{}\n", certificate.engine, certificate.case_sha256.empty() ? "" : ", case sha256 ",
                      certificate.case_sha256.substr(0, 16));
  return text;
}

}  // namespace heatside::report
