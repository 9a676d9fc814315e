#pragma once

#include <map>
#include <memory>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "heatside/exposure/local_heat.hpp"
#include "heatside/exposure/temperature_measure.hpp"
#include "heatside/exposure/use.hpp"
#include "heatside/library/library.hpp"

/// From kinds of use to years at a place, at the likely numbers of the records.

namespace heatside::exposure {

/// What a year at a place depends on.
struct PlaceOfUse {
  std::string zone, climate;
  std::string schedule;  ///< every number of the duty, a key not to be read; empty when laid up
  bool sun = false;
  std::string spot;  ///< name of a spot that differs from the air; empty when none does
  friend bool operator<(const PlaceOfUse& a, const PlaceOfUse& b) {
    return std::tie(a.zone, a.climate, a.schedule, a.sun, a.spot) < std::tie(b.zone, b.climate, b.schedule, b.sun, b.spot);
  }
};

/// A spot that differs from the air of its zone, under a name that no other spot of the case has.
struct WarmSpot {
  std::string name;
  std::vector<LocalHeat> parts;  ///< the first is of its own zone
  double loaded_share = 0.0;     ///< share of the running time in which currents flow
};

/// @param spot  null where the insulation has the temperature of the air; a laid-up wire always has
[[nodiscard]] PlaceOfUse place_of_use(const std::string& zone, const UseSpan& span, bool driven, const WarmSpot* spot);

struct WeekSample;  // of src/exposure/sampled_week.hpp

/// The years that were computed so far: an exposure is worked out once, whoever asks for it.
struct LikelyYears {
  const library::Library& library;
  double decay_factor = 1.0;                  ///< on every zone's soak decay
  std::map<std::string, double> zone_scores;  ///< z of a zone [-]; 0 where none stands
  std::map<PlaceOfUse, TemperatureMeasure> years;
  std::map<PlaceOfUse, Temperature> sources;                        ///< of parts that differ from air, by their name as spot
  std::map<std::pair<std::string, std::string>, ZoneTrace> traces;  ///< by zone and schedule
  /// Their weeks at the points of the quadrature, by zone, schedule and hours of sun: all spots of a zone share them.
  std::map<std::tuple<std::string, std::string, double>, std::shared_ptr<const std::vector<WeekSample>>> weeks{};
};

/// The week of a zone under a duty at the likely numbers; laid up without trips. Adds it to `known`.
[[nodiscard]] const ZoneTrace& likely_week(LikelyYears& known, const std::string& zone, const library::Duty& duty);

/// The year of a spot in a zone and a kind of use; driven as the duty says, or laid up. Adds it to `known` when it is not
/// there yet. The reference holds as long as `known` does.
/// @throws DomainError  a current has no steady state
[[nodiscard]] const TemperatureMeasure& likely_year(LikelyYears& known, const std::string& zone, const UseSpan& span,
                                                    bool driven, const WarmSpot* spot);

/// Temperatures of several sources at the same instants of a year whose days are all like the mean one.
struct SourceSamples {
  std::vector<std::vector<double>> kelvin;  ///< by source and instant
  std::vector<double> share;                ///< of the year, of each instant; sums to 1
};

/// Samples by which mixtures of the sources can be ranked.
/// @param loaded_share  of the running time, in which currents flow
[[nodiscard]] SourceSamples sample_sources(LikelyYears& known, const std::vector<LocalHeat>& sources, const UseSpan& span,
                                           double loaded_share);

}  // namespace heatside::exposure
