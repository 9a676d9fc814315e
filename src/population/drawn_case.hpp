#pragma once

#include <array>
#include <chrono>
#include <cstddef>
#include <map>
#include <memory>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "heatside/ageing/batch.hpp"
#include "heatside/ageing/condition.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/rate_table.hpp"
#include "heatside/exposure/zone_scores.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/belief.hpp"
#include "heatside/population/normals.hpp"
#include "population/age_law.hpp"
#include "population/heat_memory.hpp"
#include "population/lot_draws.hpp"
#include "population/place.hpp"

/// A whole case in every draw: clocks from rate tables, ages from closed kinetics.

namespace heatside::population {

/// Ages count in thermal-life times: 1 is the age of the thermal-life point.
///
/// One wire group in one stretch, draw by draw. Its clock still lacks the stretch's own factor, which is integrated out
/// where chances are wanted and drawn where years are.
struct PlaceDraws {
  std::vector<Hours> lengths;                ///< of the spans of the past
  std::vector<std::vector<double>> rates;    ///< by span and draw [1/h]
  std::vector<double> future_rate;           ///< [1/h]
  std::array<std::vector<double>, 4> limit;  ///< age at which stiff, flex_cracks, cracked, crumbling begin
  std::vector<double> elongation;            ///< at break, left at the inspection with the stretch's drawn factor [-]
};

struct StretchDraws {
  std::string id;
  std::vector<PlaceDraws> groups;
  std::vector<double> factor;  ///< on the clock of the stretch
};

struct SegmentDraws {
  std::vector<StretchDraws> stretches;
};

/// Age of a wire in every draw, so many years after the inspection: without the factor of its stretch.
[[nodiscard]] std::vector<double> ages_at(const PlaceDraws& place, Years after);

/// Chances of each condition of a segment at a time, draw by draw: the stretches' factors are integrated out.
/// @param after  years after the inspection; negative before it
[[nodiscard]] ConditionChances chances_at(const SegmentDraws& segment, Years after, double stretch_ln_sd);

/// Elongation at break that is left in the worst wire at the inspection, draw by draw [-].
[[nodiscard]] std::vector<double> elongation_left(const SegmentDraws& segment);

/// Years from the inspection until the worst wire of the segment reaches a condition, draw by draw; negative: reached.
/// @param limit  1 flex_cracks, 2 cracked: index into `PlaceDraws::limit`
[[nodiscard]] std::vector<double> years_until(const SegmentDraws& segment, std::size_t limit);

/// Condition of the worst wire of a segment at a time, draw by draw, with the stretches' drawn factors.
[[nodiscard]] std::vector<ageing::Condition> conditions_at(const SegmentDraws& segment, Years after);

class DrawnCase {
 public:
  /// Works out everything that does not change from draw to draw: tables, and what conduction and own heat add.
  /// @param memory  of the same library and scores; null begins one of its own
  DrawnCase(const casefile::Case& job, const library::Library& library, const exposure::ZoneScores& scores, bool conduction,
            std::shared_ptr<HeatMemory> memory = {});

  /// A segment in the draws of `normals`. Lots and zones are worked out once for each set of normals.
  [[nodiscard]] SegmentDraws segment(std::size_t number, Normals& normals);

  [[nodiscard]] const LotDraws& lot(const std::string& id, Normals& normals);

  /// Forgets what was worked out for other normals.
  void forget();

 private:
  // What all wires of one compound and diameter share, draw by draw of the compound.
  struct Limits {
    std::vector<AgeLaw::Scale> scale;
    std::vector<double> stiff, flex, crumbling;  // ages
  };

  const exposure::RateTable& table(const std::string& zone, const exposure::UseSpan& use, bool driven, double drying);
  const exposure::RateCurves& curves(const std::string& zone, const exposure::UseSpan& use, bool driven, double drying,
                                     Normals& normals);
  const exposure::ZoneDraws& zone(const std::string& id, Normals& normals);
  std::vector<double> rate(const Place& at, const CompoundDraws& compound, const exposure::UseSpan& use, Normals& normals);
  void wear_elsewhere(const Place& at, const CompoundDraws& compound, const exposure::UseSpan& use, Normals& normals,
                      std::vector<double>& rate) const;
  const std::vector<double>& mean(const Place& at, const PathDraws& path, const CompoundDraws& compound,
                                  const exposure::UseSpan& use, bool driven, Normals& normals);
  const std::vector<double>& usage_factor(Normals& normals);
  const std::vector<double>& notch_factor(Normals& normals);
  const Limits& limits(const Place& at, const CompoundDraws& compound, Normals& normals);
  const std::vector<double>& cracked_ages(const Place& at, const CompoundDraws& compound, const Limits& shared,
                                          Normals& normals);
  PlaceDraws place(const Place& at, const std::vector<double>& factor, Normals& normals);
  void add_compound(const Place& at, const CompoundDraws& compound, const std::vector<double>& factor, Normals& normals,
                    PlaceDraws& draws);

  const casefile::Case& job_;
  const library::Library& library_;
  const exposure::ZoneScores& scores_;
  std::shared_ptr<HeatMemory> memory_;
  LikelyPlaces likely_;  // at the mean scores
  ageing::GuardTable guard_;
  std::map<TableKey, exposure::RateCurves> curves_;
  std::map<std::string, LotDraws> lots_;
  std::map<std::string, exposure::ZoneDraws> zones_;
  std::vector<double> usage_, notch_;
  std::map<std::tuple<TableKey, std::string, std::string>, std::vector<double>> means_;          // and compound and path
  std::map<std::pair<std::string, double>, Limits> limits_;                                      // by compound and diameter
  std::map<std::tuple<std::string, double, std::string, double>, std::vector<double>> cracked_;  // and segment or bend
};

}  // namespace heatside::population
