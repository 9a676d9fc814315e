#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "heatside/ageing/clock.hpp"
#include "heatside/casefile/case.hpp"
#include "heatside/exposure/likely_years.hpp"
#include "heatside/exposure/zone_scores.hpp"
#include "heatside/library/library.hpp"
#include "population/loom_copper.hpp"

namespace heatside::population {

/// One wire group in one stretch: everything its ageing depends on.
struct Place {
  const casefile::Segment& segment;
  const casefile::Stretch& stretch;
  const casefile::WireGroup& group;
  const casefile::Lot& lot;
  const library::Insulation& insulation;
  std::string zone;                        ///< whose air it takes
  std::optional<exposure::WarmSpot> spot;  ///< where the insulation differs from that air
  std::optional<Metres> from_start;        ///< of the hottest spot, where conduction makes one

  [[nodiscard]] const exposure::WarmSpot* differing() const { return spot ? &*spot : nullptr; }
};

/// A span of use with its clock: what it does to the extent by regime, and to the stabiliser.
struct AgedSpan {
  exposure::UseSpan use;
  Hours length{0.0};
  exposure::PerRegime extent{};  ///< [1/h], all paths
  double dry = 0.0;              ///< [1/h], dry paths alone
  double guard = 0.0;            ///< [1/h]
};

/// What a year of temperatures is turned into before it ages the wire; the year itself where nothing is asked.
using YearChange = std::function<exposure::TemperatureMeasure(const exposure::TemperatureMeasure&)>;

/// The places of a case and their clocks at the likely numbers, each year and mean worked out once.
class LikelyPlaces {
 public:
  /// @param conduction  false: every stretch by itself, no heat along the copper
  /// @param zone_scores   score of each zone, the mean after the measurements; empty: the records' likely numbers
  /// @param decay_factor  on every zone's soak decay
  LikelyPlaces(const casefile::Case& job, const library::Library& library, bool conduction,
               std::map<std::string, double> zone_scores, double decay_factor = 1.0);
  /// With years that others share.
  /// @param years  of the same library
  LikelyPlaces(const casefile::Case& job, const library::Library& library, bool conduction,
               std::shared_ptr<exposure::LikelyYears> years);

  /// Every wire group in every stretch of a segment.
  [[nodiscard]] std::vector<Place> places(std::size_t segment);

  /// The spans from making to inspection, cut where leaks began, with their clocks.
  [[nodiscard]] std::vector<AgedSpan> past(const Place& at);
  [[nodiscard]] AgedSpan future(const Place& at);

  /// What touches the wire during a span.
  [[nodiscard]] ageing::WireSurroundings surroundings(const Place& at, const exposure::UseSpan& use) const;
  /// The year that a span's clock was taken from.
  [[nodiscard]] const exposure::TemperatureMeasure& year(const Place& at, const exposure::UseSpan& use, bool driven);
  /// Clock rate by regime [1/h] of a use as it is, or with its years changed.
  [[nodiscard]] exposure::PerRegime clock(const Place& at, const std::vector<library::AgeingPath>& paths,
                                          const ageing::WireSurroundings& around, const exposure::UseSpan& use,
                                          const YearChange& change = {});
  /// Gives back what the years of a spot take, by its name.
  void forget_spot(const std::string& spot);

  /// The week of a place's zone in the typical use.
  [[nodiscard]] const exposure::ZoneTrace& week(const Place& at);

  [[nodiscard]] const exposure::UseSpan& future_use() const { return future_; }
  [[nodiscard]] std::vector<exposure::UseSpan> past_use(const casefile::Segment& segment) const;

 private:
  [[nodiscard]] AgedSpan aged_span(const Place& at, const exposure::UseSpan& use);
  [[nodiscard]] exposure::PerRegime path_mean(const Place& at, const library::AgeingPath& path, const exposure::UseSpan& use,
                                              bool driven);
  [[nodiscard]] const exposure::UseSpan* typical_use() const;  // null when nothing is ever driven
  void find_levels();

  const casefile::Case& job_;
  const library::Library& library_;
  exposure::UseSpan future_;
  std::map<std::string, std::vector<exposure::UseSpan>> past_;
  std::shared_ptr<exposure::LikelyYears> years_;
  std::optional<LoomCopper> copper_;
  SourceHeat heat_;  // of the copper's sources, in the typical use
  std::map<std::tuple<exposure::PlaceOfUse, std::string, std::string, double, bool>, exposure::PerRegime> means_;
};

/// Mean scores of the zones after the measurements of a case; empty without any.
[[nodiscard]] std::map<std::string, double> mean_scores(const exposure::ZoneScores& scores);

}  // namespace heatside::population
