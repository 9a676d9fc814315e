#include "heatside/casefile/record.hpp"

#include <catch2/catch.hpp>

#include "heatside/casefile/read.hpp"
#include "sample_case.hpp"

using namespace heatside;
using namespace heatside::casefile;
using Catch::Contains;

/// Rules of this project, no outside source; the sample case is invented.

namespace {

// Stands for SHA-256: 64 hexadecimal digits that depend on every byte (FNV-1a, from memory).
std::string digest(const std::string& bytes) {
  unsigned long long hash = 14695981039346656037ULL;
  for (const char c : bytes) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
  std::string digits;
  for (int i = 0; i < 64; ++i) {
    digits += "0123456789abcdef"[hash & 15U];
    hash = hash >> 4U | (hash & 15U) << 60U;
  }
  return digits;
}

Clerk clerk(int* asked = nullptr) {
  return {"heatside test", "2026-09-14T08:00:00Z", digest, [asked](const Case& job) {
            if (asked != nullptr) ++*asked;
            std::vector<PredictedSegment> predicted;
            for (const Segment& segment : job.segments) predicted.push_back({segment.id, {0.5, 0.25, 0.125, 0.1, 0.025}});
            return predicted;
          }};
}

FindingWords words(const std::string& segment, const std::string& seen, const std::string& on = "2026-09-14") {
  FindingWords result;
  result.segment = segment;
  result.seen = seen;
  result.method = "look-boot";
  result.cause = "heat";
  result.on = on;
  return result;
}

Case read_text(const std::string& text) { return read_case(text, "text", records()); }

std::string recorded(const std::string& text, const FindingWords& entry) {
  return with_finding(text, read_text(text), entry, clerk()).text;
}

std::string taken_back(const std::string& text) { return without_last(text, "text", digest).text; }

// The sample in several hands: as the program writes it, without blanks, and as somebody typed it.
std::vector<std::string> layouts() {
  Json with_lists = sample_case();
  with_lists["findings"] = Json::array();
  with_lists["openings"] = Json::object();
  Json with_finding = sample_case();
  with_finding["findings"] = read_strict_json(R"([{"segment": "S2", "seen": "not-seen", "on": "2026-01-01"}])", "f");
  std::string typed = sample_case().dump(1, '\t');
  typed.replace(typed.find("0.9"), 3, "0.90");
  typed += "   \n\n";
  return {sample_case().dump(2) + '\n', sample_case().dump(), typed, with_lists.dump(2), with_finding.dump(4)};
}

}  // namespace

TEST_CASE("record: a finding is added and can be read", "[casefile][record]") {
  for (const std::string& text : layouts()) {
    const Recorded result = with_finding(text, read_text(text), words("S1", "cracked"), clerk());
    const Case job = read_text(result.text);
    const std::size_t before = read_text(text).findings.size();
    REQUIRE(job.findings.size() == before + 1);
    CHECK(job.findings.back().pointer == result.pointer);
    CHECK(result.pointer == "/findings/" + std::to_string(before));
    CHECK(job.findings.back().segment == "S1");
    CHECK(job.findings.back().seen == library::Seen::cracked);
    CHECK(job.findings.back().cause == Cause::heat);
  }
}

TEST_CASE("record: what is taken back leaves every byte as it was", "[casefile][record][property]") {
  for (const std::string& text : layouts()) {
    const std::string one = recorded(text, words("S1", "cracked"));
    const std::string two = recorded(one, words("S2", "stiff"));
    const std::string three = with_consent(two, clerk()).value().text;
    const std::string four = recorded(three, words("S2", "supple", "2026-09-15"));
    CHECK(taken_back(four) == three);
    CHECK(taken_back(three) == two);
    CHECK(taken_back(two) == one);
    CHECK(taken_back(one) == text);
  }
}

TEST_CASE("record: every other byte and the order of keys stay", "[casefile][record]") {
  for (const std::string& text : layouts()) {
    const std::string longer = recorded(text, words("S1", "cracked"));
    // The old text is what is left when the new parts are skipped.
    std::size_t kept = 0;
    for (const char c : longer) {
      if (kept < text.size() && c == text[kept]) ++kept;
    }
    CHECK(kept == text.size());
    const Json before = read_strict_json(text, "before"), after = read_strict_json(longer, "after");
    std::vector<std::string> keys_before, keys_after;
    for (const auto& member : before.items()) keys_before.push_back(member.key());
    for (const auto& member : after.items()) keys_after.push_back(member.key());
    keys_after.resize(keys_before.size());
    CHECK(keys_after == keys_before);
    for (const std::string& key : keys_before) {
      if (key != "findings") CHECK(after[key] == before[key]);
    }
  }
}

TEST_CASE("record: the prediction is stored once a day, before the first finding", "[casefile][record]") {
  int asked = 0;
  const std::string text = sample_case().dump(2);
  const Recorded first = with_finding(text, read_text(text), words("S1", "cracked"), clerk(&asked));
  CHECK(first.predicted);
  const Recorded second = with_finding(first.text, read_text(first.text), words("S2", "stiff"), clerk(&asked));
  CHECK_FALSE(second.predicted);
  CHECK(asked == 1);
  const Recorded next_day =
      with_finding(second.text, read_text(second.text), words("S2", "stiff", "2026-09-15"), clerk(&asked));
  CHECK(next_day.predicted);
  CHECK(asked == 2);
  const Case job = read_text(next_day.text);
  REQUIRE(job.predictions.size() == 2);
  CHECK(format_date_as_known(job.predictions[0].on) == "2026-09-14");
  CHECK(job.predictions[0].stored == "2026-09-14T08:00:00Z");
  CHECK(job.predictions[0].engine == "heatside test");
  REQUIRE(job.predictions[0].segments.size() == 2);
  CHECK(job.predictions[0].segments[0].segment == "S1");
  CHECK(job.predictions[0].segments[0].chance[3] == 0.1);
  CHECK(job.predictions[0].sha256 == digest(hashed_text(job.predictions[0])));
  CHECK(changed_predictions(job, digest).empty());
}

TEST_CASE("record: no prediction comes after findings that were typed in by hand", "[casefile][record]") {
  // It would have been made with hindsight.
  Json document = sample_case();
  document["findings"] = read_strict_json(R"([{"segment": "S2", "seen": "not-seen", "on": "2026-09-14"}])", "f");
  const std::string text = document.dump(2);
  CHECK_FALSE(with_finding(text, read_text(text), words("S1", "cracked"), clerk()).predicted);
}

TEST_CASE("record: a prediction that was changed is found out, a new layout is none", "[casefile][record]") {
  const std::string text = recorded(sample_case().dump(2), words("S1", "cracked"));
  Json document = read_strict_json(text, "text");
  CHECK(changed_predictions(read_text(document.dump(4)), digest).empty());
  // Sorted keys, as other tools write them.
  CHECK(changed_predictions(read_text(nlohmann::json::parse(text).dump()), digest).empty());
  document["predictions"][0]["segments"]["S1"]["supple"] = 0.25;
  document["predictions"][0]["segments"]["S1"]["stiff"] = 0.5;
  CHECK(changed_predictions(read_text(document.dump()), digest) == std::vector<std::string>{"/predictions/0/sha256"});
  document = read_strict_json(text, "text");
  document["predictions"][0]["on"] = "2026-09-13";
  CHECK(changed_predictions(read_text(document.dump()), digest).size() == 1);
}

TEST_CASE("record: every word of a finding arrives where the case has it", "[casefile][record]") {
  FindingWords entry = words("S2", "altered");
  entry.stretch = "rear";
  entry.lot = "signal";
  entry.altered_on = "2011";
  entry.signs = {"glue-or-silicone"};
  entry.clues = {"print-code-2x"};
  entry.by = "An inspector";
  entry.note = "near \"the\" plug, \xC3\xBC";
  const Case job = read_text(recorded(sample_case().dump(2), entry));
  const Finding& finding = job.findings.at(0);
  CHECK(finding.stretch == "rear");
  CHECK(finding.lot == "signal");
  CHECK(format_date_as_known(*finding.altered_on) == "2011");
  CHECK(finding.signs == entry.signs);
  CHECK(finding.clues == entry.clues);
  CHECK(finding.by == entry.by);
  CHECK(finding.note == entry.note);
}

TEST_CASE("record: results of tests arrive as numbers", "[casefile][record]") {
  FindingWords bend = words("S1", "");
  bend.method = "bend-tail";
  bend.bend_diameter_mm = 12.5;
  bend.cracked = false;
  FindingWords pulled = words("S1", "");
  pulled.method = "elongation-tail";
  pulled.elongation_percent = 40;
  pulled.standard_error_percent = 6.5;
  FindingWords measured = words("S1", "");
  measured.method = "resistance-reading";
  measured.megohms = 1e4;
  measured.both_ends_unplugged = true;
  const std::string text = recorded(recorded(recorded(sample_case().dump(2), bend), pulled), measured);
  const Case job = read_text(text);
  CHECK(in_millimetres(job.findings.at(0).bend->diameter) == Approx(12.5));
  CHECK_FALSE(job.findings.at(0).bend->cracked);
  CHECK(in_percent(job.findings.at(1).elongation->standard_error) == Approx(6.5));
  CHECK(job.findings.at(2).resistance->megohms == 1e4);
  CHECK_THAT(text, Contains("\"percent\": 40,") && Contains("\"MOhm\": 10000,"));
}

TEST_CASE("record: consent goes where openings are, and once", "[casefile][record]") {
  const auto after = [](const Json& openings) {
    Json document = sample_case();
    if (!openings.is_null()) document["openings"] = openings;
    return with_consent(document.dump(2), clerk());
  };
  CHECK(read_text(after(nullptr)->text).openings.consent);
  CHECK(read_text(after({{"allowed", 2}})->text).openings.allowed == std::size_t{2});
  CHECK(read_text(after({{"allowed", 2}})->text).openings.consent);
  CHECK(read_text(after({{"consent", false}, {"note", "asked"}})->text).openings.consent);
  CHECK_FALSE(after({{"consent", true}}));
}

TEST_CASE("record: undo finds a finding that was moved, and leaves what others added", "[casefile][record]") {
  const std::string text = recorded(sample_case().dump(2), words("S1", "cracked"));
  Json document = read_strict_json(text, "text");
  const Json by_hand = read_strict_json(R"({"segment": "S2", "seen": "not-seen", "on": "2026-09-14"})", "f");
  document["findings"] = Json::array({by_hand, document["findings"][0], by_hand});
  const Recorded result = without_last(document.dump(1), "text", digest);
  CHECK(result.pointer == "/findings/1");
  CHECK(read_strict_json(result.text, "result")["findings"] == Json::array({by_hand, by_hand}));
}

TEST_CASE("record: undo refuses what it did not write", "[casefile][record][error]") {
  CHECK_THROWS_WITH(without_last(sample_case().dump(), "van.case.json", digest),
                    Contains("van.case.json") && Contains("/recorded") && Contains("nothing to take back"));
  Json document = read_strict_json(recorded(sample_case().dump(2), words("S1", "cracked")), "text");
  document["findings"][0]["seen"] = "stiff";
  CHECK_THROWS_WITH(without_last(document.dump(), "text", digest), Contains("/findings/0") && Contains("by hand"));
  document["findings"] = Json::array();
  CHECK_THROWS_AS(without_last(document.dump(), "text", digest), InputError);
}
