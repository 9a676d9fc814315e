#include <algorithm>

#include "heatside/inspection/score.hpp"

/// Which findings can be held against which prediction.

namespace heatside::inspection {

namespace {

using casefile::Case;
using casefile::Cause;
using casefile::Finding;
using casefile::Prediction;

bool has_condition(const Finding& finding) {
  return finding.seen && static_cast<std::size_t>(*finding.seen) < library::condition_count && !finding.segment.empty();
}

bool may_be_heat(const Finding& finding) { return finding.cause == Cause::heat || finding.cause == Cause::unsure; }

const casefile::PredictedSegment* said_of(const Prediction& prediction, const std::string& segment) {
  const auto found = std::find_if(prediction.segments.begin(), prediction.segments.end(),
                                  [&](const casefile::PredictedSegment& said) { return said.segment == segment; });
  return found == prediction.segments.end() ? nullptr : &*found;
}

bool is_changed(const Prediction& prediction, const std::vector<std::string>& changed) {
  return std::find(changed.begin(), changed.end(), prediction.pointer + "/sha256") != changed.end();
}

bool is_later(const Prediction& a, const Prediction& b) {
  return a.on.day != b.on.day ? a.on.day > b.on.day : a.stored > b.stored;
}

std::optional<std::size_t> prediction_for(const Finding& finding, const JobToScore& to_score) {
  const std::vector<Prediction>& predictions = to_score.job.predictions;
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < predictions.size(); ++i) {
    const bool fits = predictions[i].on.day <= finding.on.day && said_of(predictions[i], finding.segment) != nullptr &&
                      !is_changed(predictions[i], to_score.changed);
    if (fits && (!best || is_later(predictions[i], predictions[*best]))) best = i;
  }
  return best;
}

// Findings of an earlier day are known to a prediction. So are those of a later day that stand before it in the case,
// because entries are added at the end; they do not count for a prediction of an earlier day.
bool knew_place(const Case& job, const Finding& finding, const Prediction& prediction) {
  return std::any_of(job.findings.begin(), job.findings.end(), [&](const Finding& other) {
    if (other.segment != finding.segment || !has_condition(other) || !may_be_heat(other)) return false;
    const bool stands_before = &other < &finding && other.on.day > finding.on.day;
    return other.on.day < prediction.on.day || (stands_before && prediction.on.day == finding.on.day);
  });
}

// The day of a time such as 2026-01-02T03:04:05Z. West of Greenwich an evening is the next day there already.
bool stored_after(const Prediction& prediction, const Date& day) {
  const std::optional<Date> stored = parse_date(std::string_view{prediction.stored}.substr(0, 10));
  return stored && stored->day > day.last + std::chrono::days{1};
}

Look look_at(const Finding& finding, const JobToScore& to_score, std::size_t prediction) {
  const Prediction& said = to_score.job.predictions[prediction];
  Look look;
  look.prediction = prediction;
  look.segment = finding.segment;
  look.on = finding.on;
  look.seen = static_cast<ageing::Condition>(*finding.seen);
  look.chances = said_of(said, finding.segment)->chance;
  if (const auto heat = to_score.heat.find(finding.segment); heat != to_score.heat.end()) look.heat = heat->second;
  look.part = !finding.stretch.empty() || !finding.lot.empty();
  look.seen_before = knew_place(to_score.job, finding, said);
  look.late = stored_after(said, finding.on);
  return look;
}

// Adds a look, or lets it take the place of a milder one at the same segment under the same prediction.
void add_or_merge(Looks& all, const Look& look) {
  const auto same = std::find_if(all.looks.begin(), all.looks.end(), [&](const Look& other) {
    return other.job == look.job && other.prediction == look.prediction && other.segment == look.segment;
  });
  if (same == all.looks.end()) {
    all.looks.push_back(look);
    return;
  }
  ++all.left_out.merged;
  if (look.seen > same->seen) *same = look;
}

}  // namespace

Looks looks_of(const std::vector<JobToScore>& jobs) {
  Looks all;
  for (std::size_t job = 0; job < jobs.size(); ++job) {
    for (const Finding& finding : jobs[job].job.findings) {
      if (!has_condition(finding)) {
        ++all.left_out.no_condition;
      } else if (!may_be_heat(finding)) {
        ++all.left_out.other_cause;
      } else if (const auto prediction = prediction_for(finding, jobs[job])) {
        Look look = look_at(finding, jobs[job], *prediction);
        look.job = job;
        add_or_merge(all, look);
      } else {
        ++all.left_out.no_prediction;
      }
    }
  }
  return all;
}

}  // namespace heatside::inspection
