#include "heatside/report/record_report.hpp"

#include <fmt/format.h>

#include "base/strict_json.hpp"
#include "base/text.hpp"
#include "heatside/report/cautions.hpp"
#include "report/json_parts.hpp"
#include "report/layout.hpp"

namespace heatside::report {

namespace {

using casefile::Case;
using casefile::Finding;

std::string_view name_of(library::Seen seen) { return library::seen_names[static_cast<std::size_t>(seen)]; }
std::string_view name_of(casefile::Cause cause) { return casefile::cause_names[static_cast<std::size_t>(cause)]; }

std::string place_of(const Finding& finding, const Case& job) {
  if (finding.segment.empty()) return "lot " + finding.lot;
  const casefile::Segment* segment = find_by_id(job.segments, finding.segment);
  const std::string name = segment == nullptr || segment->name == finding.segment ? "" : " (" + segment->name + ")";
  return finding.segment + name + (finding.stretch.empty() ? "" : ", stretch " + finding.stretch) +
         (finding.lot.empty() ? "" : ", lot " + finding.lot);
}

// What was found, in the words of a sentence.
std::string outcome_of(const Finding& finding) {
  if (finding.bend) {
    return fmt::format("a tail bent round {} mm at {} degC {}", plain_number(in_millimetres(finding.bend->diameter)),
                       plain_number(in_celsius(finding.bend->temperature)),
                       finding.bend->cracked ? "cracked" : "stayed whole");
  }
  if (finding.elongation) {
    return fmt::format("elongation at break {} % (standard error {} %)",
                       plain_number(in_percent(finding.elongation->elongation)),
                       plain_number(in_percent(finding.elongation->standard_error), 3));
  }
  if (finding.resistance) return fmt::format("insulation resistance {} MOhm", plain_number(finding.resistance->megohms));
  if (!finding.seen) return "clues " + join(finding.clues);
  if (*finding.seen == library::Seen::altered) {
    return "altered by an earlier repair, " + format_date_as_known(*finding.altered_on);
  }
  return fmt::format("seen as {}", name_of(*finding.seen));
}

bool has_cause(const Finding& finding) {
  return finding.seen && *finding.seen != library::Seen::supple && *finding.seen != library::Seen::not_seen;
}

std::string sentence(const Finding& finding, const Case& job) {
  std::string text =
      fmt::format("{}: {} on {}", place_of(finding, job), outcome_of(finding), format_date_as_known(finding.on));
  if (!finding.method.empty()) text += ", by " + finding.method;
  if (has_cause(finding)) text += fmt::format(", cause {}", name_of(finding.cause));
  if (!finding.signs.empty()) text += ", signs " + join(finding.signs);
  if (finding.seen && !finding.clues.empty()) text += ", clues " + join(finding.clues);
  return text;
}

std::string said(const RecordAnswer& answer, const Case& job) {
  const std::string what = answer.finding ? sentence(*answer.finding, job) : "the owner's consent to openings";
  switch (answer.deed) {
    case Deed::recorded:
      return fmt::format("Recorded: {}. [{}]", what, answer.pointer);
    case Deed::taken_back:
      return fmt::format("Taken back: {}.", what);
    case Deed::nothing:
      break;
  }
  return fmt::format("Nothing was changed: {} stands in the case already.", what);
}

std::string openings_text(const RecordAnswer& answer, const Case& job) {
  std::string text;
  const std::size_t opened = answer.opened.size();
  if (job.openings.allowed) {
    text += fmt::format("Opened so far: {} of the {} segments that the owner allows.", opened, *job.openings.allowed);
    if (opened > *job.openings.allowed) text += " That is more than was agreed.";
  } else {
    text += fmt::format("Opened so far: {} segment{}.", opened, opened == 1 ? "" : "s");
  }
  if (!job.openings.consent) {
    text +=
        " The owner's consent is not recorded: say that the vehicle may not run afterwards, ask, and then "
        "`heatside record FILE --consent`.";
  }
  return text;
}

bool is_opening(const RecordAnswer& answer, const library::Library& library) {
  if (!answer.finding || answer.deed != Deed::recorded) return false;
  const auto method = library.methods.find(answer.finding->method);
  return method != library.methods.end() && method->second.opens;
}

std::string notes(const RecordAnswer& answer, const Case& job, const library::Library& library) {
  std::string text;
  if (answer.day_from_clock) text += wrapped("The day is today's by this computer's clock (UTC); --on states another.", "");
  if (answer.predicted) {
    text += wrapped(answer.deed == Deed::taken_back
                        ? "The chances that were stored before it went with it."
                        : fmt::format("Stored before it: what the model says of all {} segments, so that it can be "
                                      "compared with what is found.",
                                      job.segments.size()),
                    "");
  }
  if (is_opening(answer, library)) text += wrapped(openings_text(answer, job), "");
  for (const casefile::Assumption& assumption : answer.assumptions) {
    text += wrapped(fmt::format("{} [{}, {}]", assumption.text, heatside::name_of(assumption.grade), assumption.pointer),
                    "Assumed: ");
  }
  return text;
}

Json texts_of(const Finding& finding) {
  Json document = Json::object();
  const auto put = [&](const char* key, const std::string& text) {
    if (!text.empty()) document[key] = text;
  };
  put("segment", finding.segment);
  put("stretch", finding.stretch);
  put("lot", finding.lot);
  if (finding.seen) document["seen"] = name_of(*finding.seen);
  if (finding.altered_on) document["altered_on"] = format_date_as_known(*finding.altered_on);
  put("method", finding.method);
  document["cause"] = name_of(finding.cause);
  document["signs"] = finding.signs;
  document["clues"] = finding.clues;
  document["on"] = format_date_as_known(finding.on);
  put("by", finding.by);
  put("note", finding.note);
  return document;
}

Json finding_document(const Finding& finding) {
  Json document = texts_of(finding);
  if (finding.bend) {
    document["bend"] = {{"diameter_mm", in_millimetres(finding.bend->diameter)},
                        {"temperature_Cel", in_celsius(finding.bend->temperature)},
                        {"cracked", finding.bend->cracked}};
  }
  if (finding.elongation) {
    document["elongation"] = {{"percent", in_percent(finding.elongation->elongation)},
                              {"standard_error", in_percent(finding.elongation->standard_error)}};
  }
  if (finding.resistance) document["resistance"] = {{"MOhm", finding.resistance->megohms}};
  return document;
}

Json openings_document(const RecordAnswer& answer, const Case& job) {
  return {{"consent", job.openings.consent},
          {"opened", answer.opened},
          {"allowed", job.openings.allowed ? Json(*job.openings.allowed) : Json(nullptr)}};
}

}  // namespace

RecordAnswer record_answer(Deed deed, const casefile::Recorded& recorded, const casefile::Case& holder) {
  RecordAnswer answer;
  answer.deed = deed;
  answer.pointer = recorded.pointer;
  answer.predicted = recorded.predicted;
  for (const casefile::Finding& finding : holder.findings) {
    if (finding.pointer == recorded.pointer) answer.finding = finding;
  }
  if (deed != Deed::recorded) return answer;
  for (const casefile::Assumption& assumption : holder.assumptions) {
    if (assumption.pointer.rfind(recorded.pointer + '/', 0) == 0) answer.assumptions.push_back(assumption);
  }
  return answer;
}

bool needs_cautions(const Finding& finding, const library::Library& library) {
  const auto method = library.methods.find(finding.method);
  return method != library.methods.end() && (method->second.opens || !method->second.before.empty());
}

std::string record_text(const RecordAnswer& answer, const Case& job, const library::Library& library) {
  std::string text;
  const bool consent = !answer.finding && answer.deed == Deed::recorded;
  const bool disturbs = answer.finding && answer.deed == Deed::recorded && needs_cautions(*answer.finding, library);
  if (consent || disturbs) {
    for (const std::string& caution : cautions()) text += wrapped(caution, "! ");
    text += '\n';
  }
  return text + wrapped(said(answer, job), "") + notes(answer, job, library);
}

std::string record_json(const RecordAnswer& answer, const Case& job, const library::Library& library) {
  static const std::array<const char*, 3> deeds{"recorded", "taken-back", "nothing"};
  Json assumptions = Json::array();
  for (const casefile::Assumption& assumption : answer.assumptions) {
    assumptions.push_back(
        {{"at", assumption.pointer}, {"text", assumption.text}, {"grade", heatside::name_of(assumption.grade)}});
  }
  Json document{{"format", "heatside-recorded"},
                {"version", 1},
                {"engine", answer.engine},
                {"case", answer.case_name},
                {"case_sha256", answer.case_sha256},
                {"did", deeds[static_cast<std::size_t>(answer.deed)]},
                {"what", answer.finding ? "finding" : "consent"},
                {"at", answer.pointer},
                {"finding", answer.finding ? finding_document(*answer.finding) : Json(nullptr)},
                {"day_from_clock", answer.day_from_clock},
                {"prediction", answer.predicted},
                {"opens", is_opening(answer, library)},
                {"openings", openings_document(answer, job)},
                {"assumptions", assumptions},
                {"cautions", cautions()}};
  return document_text(document);
}

}  // namespace heatside::report
