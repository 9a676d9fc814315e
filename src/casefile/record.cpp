#include "heatside/casefile/record.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/json_text.hpp"
#include "base/strict_json.hpp"
#include "heatside/base/error.hpp"

namespace heatside::casefile {

namespace {

void put(Json& object, const char* key, const std::string& text) {
  if (!text.empty()) object[key] = text;
}

// Whole numbers are written without a fraction, as people do.
Json written(double number) {
  if (!std::isfinite(number)) return number;
  const auto whole = static_cast<long long>(std::clamp(number, -1.0e15, 1.0e15));
  return static_cast<double>(whole) == number ? Json(whole) : Json(number);
}

void put(Json& object, const char* key, const std::optional<double>& number) {
  if (number) object[key] = written(*number);
}

Json bend_of(const FindingWords& words) {
  Json bend = Json::object();
  put(bend, "diameter_mm", words.bend_diameter_mm);
  put(bend, "temperature_Cel", words.bend_temperature_celsius);
  if (words.cracked) bend["cracked"] = *words.cracked;
  return bend;
}

Json elongation_of(const FindingWords& words) {
  Json elongation = Json::object();
  put(elongation, "percent", words.elongation_percent);
  put(elongation, "standard_error", words.standard_error_percent);
  return elongation;
}

Json resistance_of(const FindingWords& words) {
  return {{"MOhm", written(*words.megohms)},
          {"both_ends_unplugged", words.both_ends_unplugged},
          {"control_units_attached", words.control_units_attached}};
}

Json finding_of(const FindingWords& words) {
  Json finding = Json::object();
  put(finding, "segment", words.segment);
  put(finding, "stretch", words.stretch);
  put(finding, "lot", words.lot);
  put(finding, "seen", words.seen);
  put(finding, "altered_on", words.altered_on);
  put(finding, "method", words.method);
  if (const Json bend = bend_of(words); !bend.empty()) finding["bend"] = bend;
  if (const Json elongation = elongation_of(words); !elongation.empty()) finding["elongation"] = elongation;
  if (words.megohms) finding["resistance"] = resistance_of(words);
  put(finding, "cause", words.cause);
  if (!words.signs.empty()) finding["signs"] = words.signs;
  if (!words.clues.empty()) finding["clues"] = words.clues;
  finding["on"] = words.on;
  put(finding, "by", words.by);
  put(finding, "note", words.note);
  return finding;
}

Json body_of(const Prediction& prediction) {
  Json segments = Json::object();
  for (const PredictedSegment& segment : prediction.segments) {
    Json chances = Json::object();
    for (std::size_t i = 0; i < segment.chance.size(); ++i) {
      chances[std::string{library::seen_names[i]}] = segment.chance[i];
    }
    segments[segment.segment] = chances;
  }
  return {{"on", format_date_as_known(prediction.on)},
          {"stored", prediction.stored},
          {"engine", prediction.engine},
          {"segments", segments}};
}

// One addition to a text, and what is needed to take it back.
struct Entry {
  std::string text;
  Json trail;
};

// Puts an element at the end of a list at the top, and makes the list where there is none.
std::string append(Entry& entry, const char* list, const Json& element) {
  const std::string pointer = child_pointer("", list);
  if (const auto there = value_text(entry.text, pointer)) {
    const std::size_t place = Json::parse(*there).size();
    entry.text = with_element(entry.text, pointer, element);
    return child_pointer(pointer, place);
  }
  entry.text = with_member(entry.text, "", list, Json::array({element}));
  entry.trail["made"].push_back(list);
  return child_pointer(pointer, std::size_t{0});
}

Entry begun(const std::string& text, const char* did, const Clerk& clerk) {
  return {text, {{"did", did}, {"stored", clerk.now}, {"at", ""}, {"made", Json::array()}}};
}

std::string finished(Entry entry) {
  if (value_text(entry.text, "/recorded")) return with_element(entry.text, "/recorded", entry.trail);
  entry.trail["made"].push_back("recorded");
  return with_member(entry.text, "", "recorded", Json::array({entry.trail}));
}

bool is_first_of_day(const Case& job, const Date& day) {
  const auto same_day = [&](const auto& other) { return other.on == day; };
  return std::none_of(job.findings.begin(), job.findings.end(), same_day) &&
         std::none_of(job.predictions.begin(), job.predictions.end(), same_day);
}

bool add_prediction(Entry& entry, const Case& job, const Date& day, const Clerk& clerk) {
  if (!clerk.predict || !is_first_of_day(job, day)) return false;
  Prediction prediction{"", day, clerk.now, clerk.engine, clerk.predict(job), ""};
  prediction.sha256 = clerk.digest(hashed_text(prediction));
  Json document = body_of(prediction);
  document["sha256"] = prediction.sha256;
  append(entry, "predictions", document);
  entry.trail["prediction"] = prediction.sha256;
  return true;
}

[[noreturn]] void refuse(const std::string& file, const std::string& message) {
  throw InputError({{file, "/recorded", message}});
}

// Where the finding of a trail entry stands now: at its place, or moved by hand. Compared by content, so that a new layout
// of the file does no harm.
std::string place_of_finding(const Json& document, const Json& trail, const std::string& file, const Digest& digest) {
  const Json findings = document.value("findings", Json::array());
  for (std::size_t back = findings.size(); back-- > 0;) {
    if (digest(findings[back].dump()) == trail["sha256"]) return child_pointer("/findings", back);
  }
  refuse(file,
         fmt::format("the finding recorded last, at {}, was changed or taken out by hand since; take it out by hand, and "
                     "the last entry of \"recorded\" with it",
                     trail["at"].get<std::string>()));
}

std::string without_prediction(const std::string& text, const Json& document, const Json& trail) {
  const Json predictions = document.value("predictions", Json::array());
  for (std::size_t i = 0; i < predictions.size(); ++i) {
    if (predictions[i]["sha256"] == trail["prediction"]) return without(text, child_pointer("/predictions", i));
  }
  return text;
}

// Lists and objects that came with an entry go with it, unless somebody has put more into them.
std::string without_emptied(std::string text, const Json& made) {
  for (const Json& key : made) {
    const std::string pointer = child_pointer("", key.get_ref<const std::string&>());
    const auto there = value_text(text, pointer);
    if (there && Json::parse(*there).empty()) text = without(text, pointer);
  }
  return text;
}

std::string without_consent(const std::string& text, const Json& trail) {
  if (!value_text(text, "/openings/consent")) return text;
  return trail.contains("was") ? with_value(text, "/openings/consent", trail["was"]) : without(text, "/openings/consent");
}

}  // namespace

Recorded with_finding(const std::string& text, const Case& job, const FindingWords& words, const Clerk& clerk) {
  Entry entry = begun(text, "finding", clerk);
  const std::optional<Date> day = parse_date(words.on);
  const bool predicted = day && add_prediction(entry, job, *day, clerk);
  const Json finding = finding_of(words);
  const std::string pointer = append(entry, "findings", finding);
  entry.trail["at"] = pointer;
  entry.trail["sha256"] = clerk.digest(finding.dump());
  return {finished(std::move(entry)), pointer, predicted};
}

std::optional<Recorded> with_consent(const std::string& text, const Clerk& clerk) {
  const std::string pointer = "/openings/consent";
  Entry entry = begun(text, "consent", clerk);
  entry.trail["at"] = pointer;
  if (const auto consent = value_text(text, pointer)) {
    if (*consent == "true") return std::nullopt;
    entry.trail["was"] = false;
    entry.text = with_value(text, pointer, true);
  } else if (value_text(text, "/openings")) {
    entry.text = with_member(text, "/openings", "consent", true);
  } else {
    entry.text = with_member(text, "", "openings", {{"consent", true}});
    entry.trail["made"].push_back("openings");
  }
  return Recorded{finished(std::move(entry)), pointer, false};
}

Recorded without_last(const std::string& text, const std::string& file, const Digest& digest) {
  const Json document = read_strict_json(text, file);
  const Json trails = document.value("recorded", Json::array());
  if (trails.empty()) refuse(file, "nothing to take back: no finding and no consent was recorded by the program");
  const Json& trail = trails.back();
  const bool is_finding = trail["did"] == "finding";
  const std::string pointer = is_finding ? place_of_finding(document, trail, file, digest) : "/openings/consent";
  std::string result = without(text, child_pointer("/recorded", trails.size() - 1));
  result = is_finding ? without(result, pointer) : without_consent(result, trail);
  const bool predicted = trail.contains("prediction");
  if (predicted) result = without_prediction(result, document, trail);
  return {without_emptied(std::move(result), trail.value("made", Json::array())), pointer, predicted};
}

std::string hashed_text(const Prediction& prediction) {
  Prediction sorted = prediction;
  std::sort(sorted.segments.begin(), sorted.segments.end(),
            [](const PredictedSegment& a, const PredictedSegment& b) { return a.segment < b.segment; });
  return body_of(sorted).dump();
}

std::vector<std::string> changed_predictions(const Case& job, const Digest& digest) {
  std::vector<std::string> pointers;
  for (const Prediction& prediction : job.predictions) {
    if (digest(hashed_text(prediction)) != prediction.sha256) pointers.push_back(prediction.pointer + "/sha256");
  }
  return pointers;
}

void refuse_changed_predictions(const Case& job, const std::string& file, const Digest& digest) {
  std::vector<Problem> problems;
  for (const std::string& pointer : changed_predictions(job, digest))
    problems.push_back({file, pointer, "the prediction is not as it was stored; put it back, or take the entry out"});
  if (!problems.empty()) throw InputError(std::move(problems));
}

std::vector<std::string> opened_segments(const Case& job, const library::Library& library) {
  std::vector<std::string> segments;
  for (const Finding& finding : job.findings) {
    const auto method = library.methods.find(finding.method);
    if (method != library.methods.end() && method->second.opens) segments.push_back(finding.segment);
  }
  std::sort(segments.begin(), segments.end());
  segments.erase(std::unique(segments.begin(), segments.end()), segments.end());
  return segments;
}

}  // namespace heatside::casefile
