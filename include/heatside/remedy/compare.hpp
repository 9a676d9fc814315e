#pragma once

#include <optional>
#include <string>
#include <vector>

#include "heatside/base/date.hpp"
#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/library/reliance.hpp"
#include "heatside/population/drawn_estimate.hpp"
#include "heatside/remedy/temperature_class.hpp"
#include "heatside/remedy/what_if.hpp"

/// Insulations on the same route, and what a change of route, covering, climate or use would do.

namespace heatside::remedy {

struct CompareRequest {
  std::vector<std::string> insulations;  ///< ids, each once; empty: the wires that are in now
  std::vector<std::string> looms;        ///< ids; empty: all
  std::optional<Date> made;              ///< of the new looms, and fitted; absent: the day of the inspection
  Years wanted{15.0};                    ///< how long they should last, above 0
  double chance = 0.5;                   ///< of lasting so long that is asked of every zone and segment, 0 to 1
  WhatIf what_if;                        ///< without problems
};

/// Years from the fitting of new wires, or from the inspection of those that are in.
struct LifeSpread {
  population::Quantiles<Years> flex_cracks{Years{0.0}, Years{0.0}, Years{0.0}};
  population::Quantiles<Years> cracked{Years{0.0}, Years{0.0}, Years{0.0}};
  double lasts{};  ///< chance that none of it cracks when handled within the wanted years
};

enum class HotMoment { running, soak, parked };

/// How hot it gets against the class of the insulation.
struct HeatMargin {
  population::Quantiles<Kelvin> hottest{Kelvin{273.15}, Kelvin{273.15}, Kelvin{273.15}};  ///< see `StretchHeat`
  HotMoment moment{};
  Kelvin limit{ice_point_kelvin};  ///< temperature of the class, see `rated`
  Hours above{0.0};                ///< hours a year above the limit

  /// Limit less hottest; p10 is the smallest of the three.
  [[nodiscard]] population::Quantiles<KelvinRise> margin() const {
    return {limit - hottest.p90, limit - hottest.p50, limit - hottest.p10};
  }
  [[nodiscard]] bool over() const { return hottest.p50 > limit; }
};

/// What a change does to a life: on the same draws.
struct ChangeOfLife {
  LifeSpread before;
  population::Quantiles<Years> gain{Years{0.0}, Years{0.0},
                                    Years{0.0}};  ///< until flex-cracks; lives cut where plain words end
  std::optional<Kelvin> hottest_before;           ///< the middle; of segments
};

struct SegmentOutcome {
  std::string id, loom;
  std::string stretch, zone;  ///< of the stretch with the least p10 of life
  LifeSpread life;
  HeatMargin heat;
  std::string hottest_zone;  ///< of the stretch that `heat` is of
  bool serves = false;       ///< not over its class, and lasts with the chance that is asked
  std::optional<ChangeOfLife> change;
};

/// All stretches of one zone together.
struct ZoneOutcome {
  std::string zone;
  std::vector<std::string> segments;  ///< ids of those that lie in it
  LifeSpread life;
  HeatMargin heat;
  bool serves = false;
};

struct LoomOutcome {
  std::string id;
  LifeSpread life;
};

/// One insulation throughout, or the wires that are in now.
struct Candidate {
  std::string insulation;                    ///< id; empty: what is in now
  std::string name;                          ///< plain words
  std::optional<TemperatureClass> of_class;  ///< of the insulation
  Kelvin limit{ice_point_kelvin};            ///< temperature that it is chosen by
  std::optional<Grade> weakest_grade;        ///< of its record
  bool obsolete = false;                     ///< by its record no longer made when the loom is; kept out of builds
  LifeSpread whole;                          ///< of all compared looms: the first segment to crack
  double lasts_error{};                      ///< standard error of `whole.lasts` by the number of draws
  std::vector<LoomOutcome> looms;
  std::vector<SegmentOutcome> segments;  ///< in the order of the case
  std::size_t weakest{};                 ///< segment with the least p10 of life
  std::vector<ZoneOutcome> zones;        ///< by id
  double insulation_kg{};                ///< nominal; of all compared looms
  std::optional<ChangeOfLife> change;    ///< of the whole, where something was changed
};

/// What a zone asks of an insulation.
struct ZoneNeed {
  std::string zone;
  std::vector<std::string> segments;
  population::Quantiles<Kelvin> hottest{Kelvin{273.15}, Kelvin{273.15}, Kelvin{273.15}};
  HotMoment moment{};
  std::optional<TemperatureClass> by_middle, by_p90;  ///< lowest class that is not exceeded; none: above the highest
  std::string lowest;  ///< insulation of the lowest class that serves it; empty: none compared
};

/// One insulation of a build that takes several.
struct MixedPart {
  std::string insulation;
  std::vector<std::string> segments;
};

/// The lowest class that serves each segment, worked out as one build.
struct MixedBuild {
  std::vector<MixedPart> parts;             ///< lowest class first
  std::vector<std::string> unserved;        ///< segments that no compared insulation serves: they get what lasts longest
  std::vector<std::string> mixed_circuits;  ///< circuits of the case that would change insulation on their way
  LifeSpread whole;
  double lasts_error{};
  double insulation_kg{};
};

struct Comparison {
  CompareRequest request;
  std::vector<std::string> looms;                 ///< ids of the compared ones
  Date from;                                      ///< day that years count from
  std::vector<std::string> changes;               ///< in plain words
  std::vector<Candidate> candidates;              ///< by chance of lasting, then by p10 of life, then by id
  std::vector<ZoneNeed> zones;                    ///< hottest first
  std::optional<MixedBuild> mixed;                ///< of two insulations or more
  double copper_kg{};                             ///< nominal; of all compared looms
  std::vector<casefile::Assumption> assumptions;  ///< of the comparison itself
  std::vector<library::Reliance> rests_on;
};

/// Wrong words of a request, all at once, with the nearest known ones.
[[nodiscard]] std::vector<std::string> problems_of(const CompareRequest& request, const casefile::Case& job,
                                                   const library::Library& library);

/// Compares insulations on the routes of a case, each on the same draws of zones, use and stretches; lots are drawn for each
/// compound by itself. A candidate is the compared looms new, all of one compound, made and fitted on one day, in the future
/// use. Without insulations the wires that are in now go on, with the changes from the inspection on.
///
/// An insulation serves a place when the middle of the hottest temperature does not exceed its class, and the place lasts
/// the wanted years with the wanted chance.
///
/// @param answer   of the case as it is
/// @param request  without problems
/// @throws DomainError  see `population::years_by_stretch`
/// @par Tested by  tests/remedy/compare_test.cpp, tests/remedy/compare_what_if_test.cpp
[[nodiscard]] Comparison compare(const casefile::Case& job, const library::Library& library,
                                 const population::DrawnAnswer& answer, const CompareRequest& request);

/// Insulation of some looms of a case by nominal measures: length times ring area times density, coverings left out.
/// @param insulation  that all of it is made of
/// @return            mass [kg]
[[nodiscard]] double insulation_mass(const casefile::Case& job, const std::vector<std::string>& looms,
                                     const library::Insulation& insulation);

/// Copper of the same wires [kg].
/// @par Source  density of annealed copper 8.89 g/cm3: IEC 60028 (from memory)
[[nodiscard]] double copper_mass(const casefile::Case& job, const std::vector<std::string>& looms,
                                 const library::Library& library);

}  // namespace heatside::remedy
