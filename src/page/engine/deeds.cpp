#include <optional>
#include <utility>

#include "base/sha256.hpp"
#include "base/strict_json.hpp"
#include "heatside/base/date.hpp"
#include "heatside/base/error.hpp"
#include "heatside/casefile/record.hpp"
#include "heatside/casefile/start.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/population/predicted.hpp"
#include "heatside/report/check_report.hpp"
#include "heatside/report/record_report.hpp"
#include "page/engine/asks.hpp"

/// What makes a case, and what changes it.

namespace heatside::page {

namespace {

using casefile::Case;
using casefile::FindingWords;
using casefile::Recorded;

std::optional<Date> date_of(const Request& request, const char* key) {
  if (!request.has(key)) return std::nullopt;
  const std::optional<Date> date = parse_date(request.text(key));
  if (!date) request.refuse(key, "is not a date; allowed: YYYY-MM-DD, YYYY-MM, YYYY");
  return date;
}

std::optional<std::string> perhaps(const Request& request, const char* key) {
  return request.has(key) ? std::optional{request.text(key)} : std::nullopt;
}

std::optional<double> any_number(const Request& request, const char* key) {
  constexpr double most = 1.0e9;
  return request.number(key, -most, most);
}

void add_tests(const Request& finding, FindingWords& words) {
  if (finding.has("bend")) {
    const Request bend = finding.part("bend");
    words.bend_diameter_mm = any_number(bend, "diameter_mm");
    words.bend_temperature_celsius = any_number(bend, "temperature_Cel");
    if (bend.has("cracked")) words.cracked = bend.flag("cracked");
  }
  if (finding.has("elongation")) {
    const Request elongation = finding.part("elongation");
    words.elongation_percent = any_number(elongation, "percent");
    words.standard_error_percent = any_number(elongation, "standard_error");
  }
  if (finding.has("resistance")) {
    const Request resistance = finding.part("resistance");
    words.megohms = any_number(resistance, "MOhm");
    words.both_ends_unplugged = resistance.flag("both_ends_unplugged");
    words.control_units_attached = resistance.flag("control_units_attached");
  }
}

FindingWords words_of(const Request& finding) {
  FindingWords words;
  const auto take = [&finding](const char* key, std::string& into) { into = finding.text_or(key, ""); };
  take("segment", words.segment);
  take("stretch", words.stretch);
  take("lot", words.lot);
  take("seen", words.seen);
  take("method", words.method);
  take("cause", words.cause);
  take("on", words.on);
  take("altered_on", words.altered_on);
  take("by", words.by);
  take("note", words.note);
  words.signs = finding.texts("signs");
  words.clues = finding.texts("clues");
  add_tests(finding, words);
  const std::optional<Date> day = parse_date(words.on);
  if (!day || !day->exact()) finding.refuse("on", "\"" + words.on + "\" is not a day; allowed: YYYY-MM-DD");
  return words;
}

casefile::Clerk clerk_for(const Request& request, const CaseText& of, Memory& memory) {
  return {engine_name(), request.text_or("now", ""), sha256, [&request, &of, &memory](const Case& job) {
            return population::predicted_segments(memory.drawn(of, request.draw_choice()).answer.estimate, job);
          }};
}

// The new text as the reader has it: nothing is kept that could not be read again. What is wrong with the new finding is
// said of the request's.
std::shared_ptr<const OpenedCase> reopened(const CaseText& before, const Recorded& recorded, Memory& memory) {
  CaseText after = before;
  after.text = recorded.text;
  try {
    return memory.opened(after);
  } catch (const InputError& error) {
    std::vector<Problem> problems = error.problems();
    for (Problem& problem : problems) {
      const std::string& pointer = recorded.pointer;
      const bool of_finding = problem.pointer == pointer || problem.pointer.rfind(pointer + '/', 0) == 0;
      if (of_finding) problem = {"request", "/finding" + problem.pointer.substr(pointer.size()), problem.message};
    }
    throw InputError(std::move(problems));
  }
}

std::string told(const OpenedCase& now, report::RecordAnswer answer, Memory& memory) {
  answer.engine = engine_name();
  answer.case_name = now.from.name;
  answer.case_sha256 = sha256(now.from.text);
  answer.opened = casefile::opened_segments(now.job, memory.library());
  return object_of(
      {{"case", Json(now.from.text).dump()}, {"record", report::record_json(answer, now.job, memory.library())}});
}

}  // namespace

std::string started(const Request& request, Memory& memory) {
  const Request from = request.part("intake");
  casefile::Intake intake;
  intake.template_id = from.text("template");
  intake.built = date_of(from, "built");
  if (!intake.built)
    from.refuse("built", "is missing: the year decides which insulations can be there, so it is not assumed");
  intake.region = perhaps(from, "region");
  intake.climate = perhaps(from, "climate");
  intake.odometer_km = any_number(from, "odometer_km");
  intake.parking = perhaps(from, "parking");
  intake.duty = perhaps(from, "duty");
  const std::optional<Date> inspected = date_of(from, "inspected");
  if (!inspected) from.refuse("inspected", "is missing");
  intake.inspected = *inspected;
  return object_of({{"case", Json(casefile::start_case(intake, memory.library())).dump()}});
}

std::string checked(const Request& request, Memory& memory) {
  const CaseText of = request.case_text();
  report::CheckedFile result;
  result.file = of.name;
  try {
    (void)read_strict_json(of.text, of.name);
    result.kind = "case";
    const auto opened = memory.opened(of);
    result.assumptions = population::assumptions_of(opened->job, memory.library());
    result.unused = opened->job.unused;
  } catch (const InputError& error) {
    result.problems = error.problems();
  }
  return report::check_json({result}, engine_name());
}

std::string recorded(const Request& request, Memory& memory) {
  const CaseText of = request.case_text();
  const auto before = memory.opened(of);
  const FindingWords words = words_of(request.part("finding"));
  const Recorded done = casefile::with_finding(of.text, before->job, words, clerk_for(request, of, memory));
  const auto after = reopened(of, done, memory);
  return told(*after, report::record_answer(report::Deed::recorded, done, after->job), memory);
}

std::string agreed(const Request& request, Memory& memory) {
  const CaseText of = request.case_text();
  const auto before = memory.opened(of);
  const std::optional<Recorded> done = casefile::with_consent(of.text, clerk_for(request, of, memory));
  if (!done)
    return told(*before, report::record_answer(report::Deed::nothing, {"", "/openings/consent", false}, before->job),
                memory);
  const auto after = reopened(of, *done, memory);
  return told(*after, report::record_answer(report::Deed::recorded, *done, after->job), memory);
}

std::string taken_back(const Request& request, Memory& memory) {
  const CaseText of = request.case_text();
  const auto before = memory.opened(of);
  const Recorded done = casefile::without_last(of.text, of.name, sha256);
  return told(*reopened(of, done, memory), report::record_answer(report::Deed::taken_back, done, before->job), memory);
}

}  // namespace heatside::page
