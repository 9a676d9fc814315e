#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/trip_trace.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/estimate.hpp"
#include "heatside/population/oven_line.hpp"

/// Small experiments for teaching, with the same engine that answers cases.

namespace heatside::population {

/// Three pieces of one lot of thin wire in three zones of one engine bay, not joined, so that no heat flows from one to
/// another: `hot` on the head cover, `middle` in the upper bay, `cool` at the bulkhead on the cabin's side. Sixteen years as
/// a family car in a mediterranean climate. Invented.
[[nodiscard]] casefile::Case classroom_case(const library::Library& library, const std::string& insulation);

/// A minute of a trip at one piece.
struct SoakMinute {
  Minutes since_key_on{0.0};
  exposure::TripPhase phase{};
  Kelvin insulation{ice_point_kelvin};
  double pace{};  ///< of ageing, against the same wire at the ambient
};

struct SoakPiece {
  std::string segment, zone;
  std::vector<SoakMinute> minutes;
  double share_running{}, share_after{};  ///< of the ageing of all that was watched; sum to 1
  double against_cool{};                  ///< ageing over that of the cool piece
};

/// One trip in the city and what comes after it.
struct SoakTopic {
  std::string insulation;
  Minutes length{0.0};
  Kelvin ambient{ice_point_kelvin};
  std::vector<SoakPiece> pieces;  ///< hot, middle, cool
};

struct PathsPoint {
  Kelvin temperature{ice_point_kelvin};
  std::vector<double> share;  ///< of the rate, path by path; sums to 1
};

struct PathsPlace {
  std::string segment, zone;
  std::vector<double> share;  ///< of the ageing since fitting, path by path
};

/// Which way of ageing does how much at which temperature, in the dry.
struct PathsTopic {
  std::string insulation;
  std::vector<std::string> paths;      ///< ids
  std::vector<JoulePerMole> energies;  ///< path by path
  std::vector<PathsPoint> points;      ///< coolest first
  std::vector<PathsPlace> places;      ///< pieces of the classroom case
};

struct DrawsRun {
  std::size_t draws{};
  std::uint64_t seed{};
  Quantiles<Years> years{Years{0.0}, Years{0.0}, Years{0.0}};  ///< until the middle piece cracks when handled
  double chance_cracked{};
};

/// The same question with few and with many draws, and with other seeds.
struct DrawsTopic {
  std::string insulation, segment;
  Years likely{0.0};                ///< with every quantity at its likely value
  std::vector<DrawsRun> runs;       ///< by draws, then by seed
  std::vector<SpreadShare> spread;  ///< of the run with the most draws
};

struct FindingsRow {
  std::string seen;     ///< at the hot piece; "nothing" before any look
  std::string segment;  ///< about which it says something
  std::array<double, 5> chance{};
  Quantiles<Years> years{Years{0.0}, Years{0.0}, Years{0.0}};  ///< until it cracks when handled
  double effective_sample{};                                   ///< draws that still count
};

/// What one look at the hot piece says about the others.
struct FindingsTopic {
  std::string insulation, method;
  std::vector<FindingsRow> rows;  ///< by what was seen, then by piece
};

using Topic = std::variant<OvenLine, SoakTopic, PathsTopic, DrawsTopic, FindingsTopic>;

/// Their names, in the order of `Topic`.
inline constexpr std::array<std::string_view, 5> topic_names{"life-line", "soak", "paths", "draws", "findings"};

/// An experiment by its name.
/// @param insulation  id of the compound; empty: one that shows the point best
/// @throws DomainError  no such topic or insulation
/// @par Tested by  tests/population/topics_test.cpp
[[nodiscard]] Topic topic_of(const std::string& name, const library::Library& library, const std::string& insulation);

}  // namespace heatside::population
