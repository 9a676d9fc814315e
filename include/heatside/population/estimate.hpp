#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "heatside/ageing/condition.hpp"
#include "heatside/ageing/history.hpp"
#include "heatside/base/units.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/exposure/zone_scores.hpp"
#include "heatside/library/library.hpp"
#include "heatside/library/reliance.hpp"

/// What the model says about every segment of a case.

namespace heatside::population {

/// Three quantiles of something that is not known exactly. For a single draw all three are that draw.
template <class Value>
struct Quantiles {
  Value p10, p50, p90;
};

/// Chances of each condition at another time.
struct ChanceAt {
  Years after{0.0};  ///< the inspection
  std::array<double, 5> chance{};
};

/// Part of the variance of ln life that one group of unknowns explains by itself.
struct SpreadShare {
  std::string cause;
  double share{};
};

/// What was believed of a segment before the findings of the case.
struct BeforeFindings {
  std::array<double, 5> chance{};
  Years flex_cracks{0.0};  ///< the middle of the draws
};

/// How the findings of a case were learnt from.
struct Learned {
  std::size_t findings{};             ///< that weigh anything, at their place at least
  double effective_sample{};          ///< independent draws that would tell as much: by weight; after moves, of the
                                      ///< quantity that they moved least
  double effective_by_weight{};       ///< what weighting alone would have left
  int stages{};                       ///< of tempering; 0: weights alone
  double ln_evidence{};               ///< ln of the chance of the findings before they were made
  std::optional<double> replaced;     ///< chance that a loom was replaced at an unknown date; where the findings contradict
  std::vector<std::string> warnings;  ///< plain words
};

/// One segment, reported by its worst group and stretch.
struct SegmentEstimate {
  std::string id, name, loom;
  std::string lot, insulation;             ///< of the worst group; the likely compound
  bool guarded = false;                    ///< its feel gives little warning
  bool compound_known = false;             ///< stated by the case, not drawn from candidates
  double compound_chance = 1.0;            ///< of the compound that the answer is for
  std::string worst_stretch, zone;         ///< where it is worst
  std::optional<Metres> worst_from_start;  ///< of the worst spot, from the segment's `from` node; absent: all along
  Quantiles<Strain> elongation{Strain{0.0}, Strain{0.0}, Strain{0.0}};
  std::array<double, 5> chance{};  ///< of each condition now, in the order of ageing::Condition; sums to 1
  ageing::Condition most_likely{};
  Quantiles<Years> flex_cracks{Years{0.0}, Years{0.0}, Years{0.0}};  ///< from the inspection on; negative: reached
  Quantiles<Years> cracked{Years{0.0}, Years{0.0}, Years{0.0}};
  Kelvin equivalent_temperature{273.15};  ///< of the heat at the worst stretch since fitting, whatever touches the wire
  exposure::PerRegime damage_share{};     ///< of the clock since fitting, by regime; sums to 1
  std::vector<exposure::HoursAtTemperature> hours_at_temperature;  ///< mean year since fitting, at the worst stretch

  std::vector<ChanceAt> chance_at;       ///< at the times that were asked for
  std::optional<BeforeFindings> before;  ///< where findings were learnt from
  std::vector<SpreadShare> spread;       ///< largest first, then "together"; empty for the likely case

  [[nodiscard]] double chance_cracked() const { return chance[3] + chance[4]; }
};

/// The answer for a whole case.
struct Estimate {
  std::vector<SegmentEstimate> segments;  ///< weakest first: by median years until flex-cracks, ties by id
  std::size_t draws = 1;
  std::uint64_t seed = 0;
  bool likely_only = true;  ///< every quantity at its likely value: no interval
  ageing::Solution solution{};
  bool conduction = true;  ///< heat flows along the copper
  std::vector<casefile::Assumption> assumptions;
  std::vector<library::Reliance> relies_on;
  std::optional<Learned> learned;    ///< where the case has findings that weigh anything
  exposure::ZoneScores zone_scores;  ///< what the measured temperatures did to the zones
};

/// Everything that an estimate of the case rests on without anybody having stated it: what the case's reader assumed, what
/// was assumed of the measured temperatures, and where copper follows its zone slowly.
[[nodiscard]] std::vector<casefile::Assumption> assumptions_of(const casefile::Case& job, const library::Library& library);

/// How the likely case is worked out.
struct LikelyOptions {
  ageing::Solution solution = ageing::Solution::integrated;  ///< both agree to 1e-8
  bool histogram = false;                                    ///< also fill hours_at_temperature
  bool conduction = true;                                    ///< heat flows along the copper
};

/// The single likely case: every quantity at its likely value.
///
/// Every stretch ages by its own zone and every wire group by its own compound; a segment is reported by the group and
/// stretch that is first to crack when handled.
///
/// @throws DomainError, NumericsError
[[nodiscard]] Estimate likely_estimate(const casefile::Case& job, const library::Library& library,
                                       LikelyOptions options = {});

}  // namespace heatside::population
