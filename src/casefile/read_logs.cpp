#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/text.hpp"
#include "casefile/findings.hpp"

/// What the program itself writes into a case: predictions made before a day's findings, and the trail of its entries.

namespace heatside::casefile {

namespace {

PredictedSegment read_predicted(Fields fields, std::string segment) {
  PredictedSegment predicted{std::move(segment), {}};
  const std::size_t conditions = predicted.chance.size();
  for (std::size_t i = 0; i < conditions; ++i) {
    predicted.chance[i] = fields.number(library::seen_names[i], {0.0, 1.0, ""});
  }
  fields.refuse_unknown();
  const double sum = std::accumulate(predicted.chance.begin(), predicted.chance.end(), 0.0);
  if (std::abs(sum - 1.0) > 1.0e-6) {
    fields.complain("", fmt::format("the chances sum to {}; they must sum to 1", plain_number(sum, 10)));
  }
  return predicted;
}

std::vector<PredictedSegment> read_predicted_segments(Fields& fields, Reading& reading) {
  std::vector<PredictedSegment> segments;
  const Json* list = fields.require("segments");
  if (list == nullptr) return segments;
  Fields by_id{*list, fields.pointer("segments"), reading.file, reading.problems};
  if (!list->is_object()) return segments;
  for (const auto& member : list->items()) {
    if (reading.segments.complete && reading.segments.positions.count(member.key()) == 0) {
      by_id.complain(member.key(), unknown_word("segment", member.key(), library::ids_of(reading.segments.positions)));
    }
    segments.push_back(read_predicted(by_id.object(member.key()), member.key()));
  }
  return segments;
}

Prediction read_prediction(Fields fields, Reading& reading) {
  Prediction prediction;
  prediction.pointer = fields.pointer();
  prediction.on = read_date(fields, "on", reading).value_or(Date{});
  prediction.stored = fields.text("stored");
  prediction.engine = fields.text("engine");
  prediction.segments = read_predicted_segments(fields, reading);
  prediction.sha256 = read_sha256(fields, "sha256");
  fields.refuse_unknown();
  return prediction;
}

void expect_one_a_day(const std::vector<Prediction>& predictions, Reading& reading) {
  for (auto later = predictions.begin(); later != predictions.end(); ++later) {
    const auto same_day = [&](const Prediction& earlier) { return earlier.on == later->on; };
    if (std::any_of(predictions.begin(), later, same_day)) {
      reading.complain(later->pointer + "/on", fmt::format("a prediction for {} stands further up; one a day is kept",
                                                           format_date_as_known(later->on)));
    }
  }
}

void read_trail_entry(Fields entry, Reading& reading) {
  const std::string did = entry.choice("did", {"finding", "consent"});
  entry.text("stored");
  entry.text("at");
  if (did == "finding") read_sha256(entry, "sha256");
  if (entry.find("prediction") != nullptr) read_sha256(entry, "prediction");
  entry.optional_flag("was");
  static_cast<void>(
      read_words(entry, "made", "part of a case", {"findings", "predictions", "openings", "recorded"}, reading));
  entry.refuse_unknown();
}

}  // namespace

std::string read_sha256(Fields& fields, std::string_view key) {
  std::string digits = fields.text(key);
  const bool is_hash = digits.size() == 64 && digits.find_first_not_of("0123456789abcdef") == std::string::npos;
  if (!digits.empty() && !is_hash) fields.complain(key, "expected a SHA-256: 64 hexadecimal digits in small letters");
  return digits;
}

void read_logs(Fields& top, Reading& reading) {
  for (const Fields& fields : top.optional_objects("predictions")) {
    reading.result.predictions.push_back(read_prediction(fields, reading));
  }
  if (reading.problems.empty()) expect_one_a_day(reading.result.predictions, reading);
  for (const Fields& entry : top.optional_objects("recorded")) read_trail_entry(entry, reading);
}

}  // namespace heatside::casefile
