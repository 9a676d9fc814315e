#include "heatside/exposure/zone_scores.hpp"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "base/text.hpp"
#include "exposure/score_posterior.hpp"

namespace heatside::exposure {

namespace {

constexpr double half_root = std::numbers::sqrt2 / 2.0;

// The readings of one zone.
struct ZoneSeen {
  ZoneLaw law;
  std::vector<const ZoneReading*> readings;
};

// By id, so that no order of the case can matter.
std::map<std::string, ZoneSeen> zones_seen(const std::vector<ZoneReading>& readings, const library::Library& library) {
  std::map<std::string, ZoneSeen> seen;
  for (const ZoneReading& reading : readings) {
    const auto [place, is_new] = seen.try_emplace(reading.zone);
    if (is_new) place->second.law = zone_law(library.zones.at(reading.zone), library.model);
    place->second.readings.push_back(&reading);
  }
  return seen;
}

// Of a zone's readings, whose errors share a part.
LogLikelihood likelihood_of(const ZoneSeen& seen) {
  const auto count = static_cast<Eigen::Index>(seen.readings.size());
  Eigen::VectorXd shared{count};
  Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(count, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const ZoneReading& reading = *seen.readings[static_cast<std::size_t>(i)];
    shared[i] = reading.zone_sd.value();
    covariance(i, i) = reading.own_sd.value() * reading.own_sd.value();
  }
  covariance += shared * shared.transpose();
  return [seen, errors = Eigen::LLT<Eigen::MatrixXd>{covariance}](double z) {
    Eigen::VectorXd apart{errors.cols()};
    for (Eigen::Index i = 0; i < apart.size(); ++i) {
      const ZoneReading& reading = *seen.readings[static_cast<std::size_t>(i)];
      apart[i] = (reading.temperature - predicted_reading(reading, seen.law, z)).value();
    }
    return -0.5 * errors.matrixL().solve(apart).squaredNorm();
  };
}

// From the normals of the zones seen to the scores of all zones.
class Spreading {
 public:
  Spreading(const ScorePosterior& posterior, std::vector<std::size_t> seen, std::size_t zones)
      : posterior_{posterior}, columns_{std::move(seen)}, zones_{zones} {}

  // sqrt(1/2) (common + own): what is believed of either adds up.
  void set(std::size_t zone, ZoneScore& score, double* gains) const {
    add(0, score, gains);
    const auto place = std::find(columns_.begin(), columns_.end(), zone);
    if (place == columns_.end()) {
      gains[1 + zone] = half_root;
    } else {
      add(static_cast<std::size_t>(place - columns_.begin()) + 1, score, gains);
    }
    double variance = 0.0;
    for (std::size_t i = 0; i <= zones_; ++i) variance += gains[i] * gains[i];
    score.sd = std::sqrt(variance);
  }

 private:
  void add(std::size_t row, ZoneScore& score, double* gains) const {
    const std::size_t width = columns_.size() + 1;
    score.mean += half_root * posterior_.mean[row];
    gains[0] += half_root * posterior_.root[row * width];
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      gains[1 + columns_[k]] += half_root * posterior_.root[row * width + k + 1];
    }
  }

  const ScorePosterior& posterior_;
  std::vector<std::size_t> columns_;
  std::size_t zones_;
};

ZoneScores spread_over_zones(const std::map<std::string, ZoneSeen>& seen, const library::Library& library) {
  std::vector<LogLikelihood> likelihoods;
  for (const auto& entry : seen) likelihoods.push_back(likelihood_of(entry.second));
  const ScorePosterior posterior = score_posterior(likelihoods);

  ZoneScores result;
  result.zones = library::ids_of(library.zones);
  const std::size_t count = result.zones.size();
  std::vector<std::size_t> columns;
  for (std::size_t i = 0; i < count; ++i) {
    if (seen.count(result.zones[i]) == 1) columns.push_back(i);
  }
  const Spreading spreading{posterior, std::move(columns), count};
  result.scores.assign(count, {0.0, 0.0});
  result.gains.assign(count * (count + 1), 0.0);
  for (std::size_t i = 0; i < count; ++i) spreading.set(i, result.scores[i], &result.gains[i * (count + 1)]);
  return result;
}

struct MeanAndSd {
  double mean, sd;
};

// Of a function of a normal score.
template <class Function>
MeanAndSd spread_of(const ZoneScore& score, Function function) {
  constexpr double reach = 7.0, step = 0.02;  // in standard deviations
  double weights = 0.0, sum = 0.0, squares = 0.0;
  for (double x = -reach; x <= reach; x += step) {
    const double weight = std::exp(-0.5 * x * x);
    const double value = function(score.mean + score.sd * x);
    weights += weight;
    sum += weight * value;
    squares += weight * value * value;
  }
  const double mean = sum / weights;
  return {mean, std::sqrt(std::max(0.0, squares / weights - mean * mean))};
}

RiseSpread rise_spread(const Sourced& number, const ZoneScore& score) {
  const MeanAndSd spread = spread_of(score, [&](double z) { return value_at_score(number, z); });
  return {KelvinRise{spread.mean}, KelvinRise{spread.sd}};
}

ZoneCorrection correction_of(const library::Zone& zone, bool measured, const ZoneScore& score) {
  const Sourced& city = zone.rise[static_cast<std::size_t>(library::RunningState::city)];
  const ZoneScore before;
  return {zone.head.id,
          measured,
          score,
          rise_spread(city, before),
          rise_spread(city, score),
          rise_spread(zone.soak_peak, before),
          rise_spread(zone.soak_peak, score)};
}

void add_corrections(ZoneScores& result, const casefile::Case& job, const std::map<std::string, ZoneSeen>& seen,
                     const library::Library& library) {
  if (seen.empty()) return;
  std::set<std::string> named;
  for (const casefile::Segment& segment : job.segments) {
    for (const casefile::Stretch& stretch : segment.stretches) named.insert(stretch.zone);
  }
  for (const std::string& id : named) {
    result.corrections.push_back(correction_of(library.zones.at(id), seen.count(id) == 1, score_of(result, id)));
  }
}

ReadingResidual residual_of(const ZoneReading& reading, const ZoneLaw& law, const ZoneScore& after, double doubtful_beyond) {
  const auto kelvin_at = [&](double z) { return predicted_reading(reading, law, z).value(); };
  const MeanAndSd before = spread_of(ZoneScore{}, kelvin_at);
  const double sd = std::hypot(before.sd, reading.own_sd.value(), reading.zone_sd.value());
  ReadingResidual result{reading, Kelvin{before.mean}, KelvinRise{sd}, Kelvin{spread_of(after, kelvin_at).mean}, false};
  result.doubtful = std::abs(result.residual() / result.expected_sd) > doubtful_beyond;
  return result;
}

std::string warning_of(const ReadingResidual& residual, const casefile::Measured& measured) {
  const ZoneReading& reading = residual.reading;
  return fmt::format(
      "{}, {} ({}), {}: {:.0f} Cel was measured where {:.0f} Cel was expected, give or take {:.0f} K. Check "
      "place, unit, ambient and state; it counts all the same",
      measured.segment, measured.stretch, reading.zone, reading.instant, in_celsius(reading.temperature),
      in_celsius(residual.expected), residual.expected_sd.value());
}

void add_residuals(ZoneScores& result, const casefile::Case& job, const std::vector<ZoneReading>& readings,
                   const std::map<std::string, ZoneSeen>& seen, double doubtful_beyond) {
  for (const ZoneReading& reading : readings) {
    result.residuals.push_back(
        residual_of(reading, seen.at(reading.zone).law, score_of(result, reading.zone), doubtful_beyond));
    const ReadingResidual& residual = result.residuals.back();
    if (residual.doubtful) result.warnings.push_back(warning_of(residual, job.measured[reading.measured]));
  }
}

}  // namespace

ZoneScores zone_scores(const casefile::Case& job, const library::Library& library) {
  ZoneReadings read = zone_readings(job, library);
  const std::map<std::string, ZoneSeen> seen = zones_seen(read.readings, library);
  ZoneScores result = spread_over_zones(seen, library);
  result.assumptions = std::move(read.assumptions);
  add_corrections(result, job, seen, library);
  add_residuals(result, job, read.readings, seen, library.model.measurement.doubtful_beyond.value);
  return result;
}

ZoneScore score_of(const ZoneScores& scores, const std::string& zone) {
  const auto place = std::lower_bound(scores.zones.begin(), scores.zones.end(), zone);
  if (place == scores.zones.end() || *place != zone) throw DomainError("no score of a zone \"" + zone + "\"");
  return scores.scores[static_cast<std::size_t>(place - scores.zones.begin())];
}

std::vector<double> scores_of_draw(const ZoneScores& scores, double common, const std::vector<double>& own) {
  const std::size_t count = scores.zones.size();
  std::vector<double> drawn(count);
  for (std::size_t i = 0; i < count; ++i) {
    const double* gains = &scores.gains[i * (count + 1)];
    double z = scores.scores[i].mean + gains[0] * common;
    for (std::size_t j = 0; j < count; ++j) z += gains[1 + j] * own[j];
    drawn[i] = std::clamp(z, -score_limit, score_limit);
  }
  return drawn;
}

}  // namespace heatside::exposure
