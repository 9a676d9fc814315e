#include "heatside/population/topics.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/population/segment_trip.hpp"
#include "population/trip_ageing.hpp"
#include "population/worst_place.hpp"

namespace heatside::population {

namespace {

using casefile::Case;
using library::Insulation;
using library::Library;

SoakPiece soak_piece(const Case& job, const Ground& ground, std::size_t number, const TripOptions& options) {
  const Library& library = ground.library;
  const casefile::Segment& segment = job.segments[number];
  LikelyPlaces clocks{job, library, false, ground.scores};
  const Place at = place_at(clocks, {number, 0, 0});
  const exposure::UseSpan& use = clocks.future_use();
  const TripClock clock{at.insulation, clocks.surroundings(at, use),
                        library.climates.at(use.climate).relative_humidity.value, false, options.ambient};
  const SegmentTrip trip = segment_trip(job, library, segment.id, options);
  const double at_ambient = rate_at(clock, options.ambient, library.model);
  SoakPiece piece{segment.id, at.stretch.zone, {}, 0.0, 0.0, 0.0};
  for (const exposure::TripRow& row : trip.rows)
    piece.minutes.push_back(
        {row.since_key_on, row.phase, row.insulation, rate_at(clock, row.insulation, library.model) / at_ambient});
  const TripAgeing ageing = ageing_of(trip.rows, clock, library.model);
  const double sum = ageing.running + ageing.after;
  piece.share_running = ageing.running / sum;
  piece.share_after = ageing.after / sum;
  piece.against_cool = sum;
  return piece;
}

SoakTopic soak_topic(const Library& library, const std::string& insulation) {
  const Case job = classroom_case(library, insulation);
  const Ground ground = ground_of(job, library);
  const TripOptions options;
  SoakTopic topic{insulation, options.length, options.ambient, {}};
  for (std::size_t number = 0; number < job.segments.size(); ++number)
    topic.pieces.push_back(soak_piece(job, ground, number, options));
  const double cool = topic.pieces.back().against_cool;
  for (SoakPiece& piece : topic.pieces) piece.against_cool /= cool;
  return topic;
}

std::vector<library::AgeingPath> dry_paths(const Insulation& insulation) {
  std::vector<library::AgeingPath> dry = insulation.paths;
  std::erase_if(dry, [](const library::AgeingPath& path) { return path.kind == library::PathKind::hydrolysis; });
  return dry;
}

// Mean rate since fitting of each path by itself, as shares of their sum.
std::vector<double> shares_at(const Case& job, LikelyPlaces& clocks, const Place& at,
                              const std::vector<library::AgeingPath>& paths) {
  std::vector<double> shares;
  double sum = 0.0;
  for (const library::AgeingPath& path : paths) {
    double one = 0.0;
    for (const AgedSpan& span : in_service(job, clocks, at))
      one += span.length.value() * exposure::total(clocks.clock(at, {path}, clocks.surroundings(at, span.use), span.use));
    shares.push_back(one);
    sum += one;
  }
  for (double& share : shares) share /= sum;
  return shares;
}

std::vector<double> shares_at(const Insulation& insulation, const std::vector<library::AgeingPath>& paths, Kelvin at) {
  std::vector<double> shares;
  for (const library::AgeingPath& path : paths) {
    Insulation alone = insulation;
    alone.paths = {path};
    shares.push_back(life_at(insulation, at) / life_at(alone, at));
  }
  return shares;
}

PathsTopic paths_topic(const Library& library, const std::string& id) {
  constexpr int coldest = -10, hottest = 150, step = 5;  // [Cel], [K]
  const Insulation& insulation = insulation_of(library, id);
  const std::vector<library::AgeingPath> paths = dry_paths(insulation);
  PathsTopic topic;
  topic.insulation = id;
  for (const library::AgeingPath& path : paths) {
    topic.paths.push_back(path.id);
    topic.energies.push_back(kilojoule_per_mole(path.activation_energy.value));
  }
  for (int degrees = coldest; degrees <= hottest; degrees += step)
    topic.points.push_back({celsius(degrees), shares_at(insulation, paths, celsius(degrees))});
  const Case job = classroom_case(library, id);
  LikelyPlaces clocks{job, library, true, ground_of(job, library).scores};
  for (std::size_t number = 0; number < job.segments.size(); ++number) {
    const Place at = place_at(clocks, {number, 0, 0});
    topic.places.push_back({at.segment.id, at.stretch.zone, shares_at(job, clocks, at, paths)});
  }
  return topic;
}

const SegmentEstimate& piece_of(const Estimate& estimate, const std::string& id) {
  return *std::find_if(estimate.segments.begin(), estimate.segments.end(),
                       [&](const SegmentEstimate& one) { return one.id == id; });
}

DrawsTopic draws_topic(const Library& library, const std::string& insulation) {
  const Case job = classroom_case(library, insulation);
  DrawsTopic topic{insulation, "middle", Years{0.0}, {}, {}};
  topic.likely =
      piece_of(likely_estimate(job, library, {.solution = ageing::Solution::closed_form}), topic.segment).flex_cracks.p50;
  for (const std::size_t draws : {100u, 400u, 1600u, 6400u}) {
    for (std::uint64_t seed = 0; seed < 8; ++seed) {
      const Estimate estimate = drawn_estimate(job, library, {.draws = draws, .seed = seed});
      const SegmentEstimate& piece = piece_of(estimate, topic.segment);
      topic.runs.push_back({draws, seed, piece.flex_cracks, piece.chance_cracked()});
      topic.spread = piece.spread;
    }
  }
  return topic;
}

casefile::Finding look_at_hot(const Case& job, library::Seen seen, const std::string& method) {
  casefile::Finding finding;
  finding.pointer = "/findings/0";
  finding.segment = "hot";
  finding.seen = seen;
  finding.method = method;
  finding.cause = casefile::Cause::heat;
  finding.on = job.inspected;
  return finding;
}

FindingsTopic findings_topic(const Library& library, const std::string& insulation) {
  constexpr std::size_t draws = 4000;
  FindingsTopic topic{insulation, "look-boot", {}};
  Case job = classroom_case(library, insulation);
  const auto add = [&](const std::string& seen) {
    const Estimate estimate = drawn_estimate(job, library, {.draws = draws});
    for (const casefile::Segment& segment : job.segments) {
      const SegmentEstimate& piece = piece_of(estimate, segment.id);
      topic.rows.push_back({seen, segment.id, piece.chance, piece.flex_cracks,
                            estimate.learned ? estimate.learned->effective_sample : static_cast<double>(draws)});
    }
  };
  add("nothing");
  for (std::size_t seen = 0; seen < library::condition_count; ++seen) {
    job.findings = {look_at_hot(job, static_cast<library::Seen>(seen), topic.method)};
    add(std::string{library::seen_names[seen]});
  }
  return topic;
}

// A compound on which the point of the topic shows.
std::string fitting(const std::string& name) {
  if (name == "life-line" || name == "paths") return "pp-fr";
  return name == "soak" ? "xlpo-125" : "short-lived-1990s";
}

}  // namespace

Topic topic_of(const std::string& name, const Library& library, const std::string& insulation) {
  const std::string id = insulation.empty() ? fitting(name) : insulation_of(library, insulation).head.id;
  if (name == "life-line") return oven_line(library, id);
  if (name == "soak") return soak_topic(library, id);
  if (name == "paths") return paths_topic(library, id);
  if (name == "draws") return draws_topic(library, id);
  if (name == "findings") return findings_topic(library, id);
  const std::vector<std::string> names(topic_names.begin(), topic_names.end());
  throw DomainError(fmt::format("there is no topic \"{}\"; allowed: {}", name, join(names)));
}

}  // namespace heatside::population
