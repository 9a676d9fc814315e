#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <string>
#include <tuple>
#include <vector>

#include "exposure/means_about.hpp"
#include "heatside/exposure/likely_years.hpp"
#include "heatside/exposure/zone_scores.hpp"
#include "heatside/library/library.hpp"
#include "population/place.hpp"

/// What own current, hot bodies and conduction make of the rate of a path, against the rate in the zone's air.

namespace heatside::population {

/// ln of that factor at three scores of all zones; in the energy a parabola about the likely one.
struct HeatCorrection {
  struct Node {
    double score = 0.0, at = 0.0, slope = 0.0, bend = 0.0;
  };
  std::array<Node, 3> nodes;
  double energy = 0.0, step = 1.0;  ///< [J/mol]
  bool none = true;                 ///< the factor is 1

  /// Factors for some draws. Between the scores ln is linear, beyond them as between the last two.
  /// @param draws   their numbers among all scores
  /// @param energy  of each [J/mol]
  [[nodiscard]] std::vector<double> factors(const std::vector<std::size_t>& draws, const std::vector<double>& of_energy,
                                            const std::vector<double>& scores) const;
};

/// Corrections by everything they depend on, each worked out once. Where heat of its own rules a place, the zone's score
/// means little: so each is taken with all zones low, likely and high.
class HeatCorrections {
 public:
  HeatCorrections(const library::Library& library, const exposure::ZoneScores& scores);

  /// @param likely  the places at the mean scores; years of a spot are forgotten when another one is asked for
  [[nodiscard]] const HeatCorrection& of(const Place& at, const library::Insulation& insulation,
                                         const library::AgeingPath& path, const exposure::UseSpan& use,
                                         LikelyPlaces& likely);

 private:
  // Spot, use, and what the energies are about [J/mol, K].
  using Key = std::tuple<std::string, std::string, std::array<double, 4>>;

  void forget_other_spots(const std::string& spot, LikelyPlaces& likely);
  const std::array<double, 3>& means_in_air(double score, const exposure::PlaceOfUse& place,
                                            const exposure::EnergyTriple& energies, const exposure::TemperatureMeasure& air);

  const library::Library& library_;
  exposure::ZoneScores scores_;
  exposure::LikelyYears low_, high_;  // of the zones' air, and of the last spot that was asked for
  std::string last_spot_;
  std::map<Key, HeatCorrection> known_;
  // Means in the zones' air, which many spots are held against: by score, place, and what the energies are about.
  std::map<std::tuple<double, exposure::PlaceOfUse, std::array<double, 4>>, std::array<double, 3>> in_air_;
};

}  // namespace heatside::population
