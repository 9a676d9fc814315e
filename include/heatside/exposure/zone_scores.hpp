#pragma once

#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/exposure/zone_at_score.hpp"
#include "heatside/exposure/zone_reading.hpp"
#include "heatside/library/library.hpp"

/// How the temperatures that were measured move the zones of a case.
///
/// Before any measurement the score of a zone is z = sqrt(1/2) z_common + sqrt(1/2) z_zone, all of them standard normal:
/// each zone has variance 1 and any two a covariance of 1/2. A reading y of a zone is
///
///     y = predicted_reading(z) + own error + zone error
///
/// with both errors normal and the zone error common to the zone's readings. Given z_common the zones are independent, so
/// means and covariances after the readings are sums over a grid of z_common and one of z: nothing is linearised, the kink
/// of the law at z = 0 and its cuts at +-4 are in it. The joint normal with these means and covariances stands for the
/// answer. Readings correct a zone; they never take its place. A zone that nobody measured moves through z_common alone.
///
/// @par Source     Bayes' rule; the spreads of the errors are judgement, see `zone_reading.hpp`
/// @par Tested by  tests/exposure/zone_scores_test.cpp: by hand for one reading, by plain sampling for several

namespace heatside::exposure {

/// What is believed of one zone's score.
struct ZoneScore {
  double mean = 0.0;
  double sd = 1.0;
};

/// Mean and standard deviation of a rise.
struct RiseSpread {
  KelvinRise mean{0.0}, sd{0.0};
};

/// What the readings did to a zone; rises above an ambient of 25 degC.
struct ZoneCorrection {
  std::string zone;
  bool measured = false;  ///< otherwise it moved with the others
  ZoneScore score;
  RiseSpread city_before, city_after;            ///< warm, driving in town
  RiseSpread soak_peak_before, soak_peak_after;  ///< highest after key-off
};

/// A reading against its prediction.
struct ReadingResidual {
  ZoneReading reading;
  Kelvin expected{ice_point_kelvin};        ///< before any measurement
  KelvinRise expected_sd{0.0};              ///< of zone and errors together
  Kelvin expected_after{ice_point_kelvin};  ///< with all measurements
  bool doubtful = false;                    ///< more than `doubtful_beyond` sd away; it counts all the same

  [[nodiscard]] KelvinRise residual() const { return reading.temperature - expected; }
};

struct ZoneScores {
  std::vector<std::string> zones;  ///< every zone of the library, by id: nothing depends on which of them a case has
  std::vector<ZoneScore> scores;   ///< of each zone
  std::vector<double> gains;       ///< see `scores_of_draw`; zones x (1 + zones), row after row

  std::vector<ZoneCorrection> corrections;  ///< of the zones that a measured case names, by id
  std::vector<ReadingResidual> residuals;   ///< in the order of the case
  std::vector<casefile::Assumption> assumptions;
  std::vector<std::string> warnings;  ///< plain words about doubtful readings
};

/// The scores after the measurements of a case; without any, all means are 0 and all spreads 1.
/// The order of the measurements does not matter.
[[nodiscard]] ZoneScores zone_scores(const casefile::Case& job, const library::Library& library);

/// The score of one zone.  @throws DomainError  no such zone
[[nodiscard]] ZoneScore score_of(const ZoneScores& scores, const std::string& zone);

/// The zones' scores in one draw, cut at +-4: mean + gains * (common, own...).
///
/// Without measurements that is sqrt(1/2) common + sqrt(1/2) own; with some, each normal still means what it meant, as
/// nearly as the readings allow (gains come from the symmetric root), so that draws stay common across cases.
///
/// @param common  standard normal of the whole bay
/// @param own     one standard normal for each zone, in the order of `scores.zones`
[[nodiscard]] std::vector<double> scores_of_draw(const ZoneScores& scores, double common, const std::vector<double>& own);

}  // namespace heatside::exposure
