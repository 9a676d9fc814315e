#include "population/heat_correction.hpp"

#include <algorithm>
#include <cmath>

#include "base/four_doubles.hpp"
#include "exposure/means_about.hpp"

namespace heatside::population {

namespace {

constexpr double far_score = 2.0;

std::map<std::string, double> all_zones_at(const library::Library& library, double score) {
  std::map<std::string, double> scores;
  for (const auto& [id, zone] : library.zones) scores[id] = score;
  return scores;
}

exposure::EnergyTriple energies_about(const HeatCorrection& correction, const library::Insulation& insulation,
                                      const library::AgeingPath& path, bool damp, const library::ModelConstants& model) {
  exposure::EnergyTriple energies{JoulePerMole{correction.energy}, JoulePerMole{correction.step},
                                  celsius(insulation.life_temperature.value)};
  if (path.kind != library::PathKind::hydrolysis) return energies;
  energies.reference = celsius(path.wet_temperature->value);
  if (!damp)
    energies.drying = JoulePerMole{1.0e3 * path.humidity_exponent->value * model.ageing.vaporisation_enthalpy.value};
  return energies;
}

HeatCorrection::Node node_of(double score, const std::array<double, 3>& here, const std::array<double, 3>& there) {
  const double low = std::log(here[0] / there[0]), middle = std::log(here[1] / there[1]),
               high = std::log(here[2] / there[2]);
  return {score, middle, 0.5 * (high - low), 0.5 * (high + low) - middle};
}

std::array<double, 4> numbers_of(const exposure::EnergyTriple& energies) {
  return {energies.middle.value(), energies.step.value(), energies.reference.value(), energies.drying.value()};
}

}  // namespace

std::vector<double> HeatCorrection::factors(const std::vector<std::size_t>& draws, const std::vector<double>& of_energy,
                                            const std::vector<double>& scores) const {
  std::vector<double> ln(draws.size());
  const double below = 1.0 / (nodes[1].score - nodes[0].score), above = 1.0 / (nodes[2].score - nodes[1].score);
  const auto at = [](const Node& node, double x) { return node.at + x * (node.slope + x * node.bend); };
  for (std::size_t i = 0; i < ln.size(); ++i) {
    const double score = scores[draws[i]], x = (of_energy[i] - energy) / step;
    const double low = at(nodes[0], x), middle = at(nodes[1], x), high = at(nodes[2], x);
    const bool upper = score > nodes[1].score;
    ln[i] = middle + (score - nodes[1].score) * (upper ? above * (high - middle) : below * (middle - low));
  }
  exponentials(ln.data(), ln.size());
  return ln;
}

HeatCorrections::HeatCorrections(const library::Library& library, const exposure::ZoneScores& scores)
    : library_{library},
      scores_{scores},
      low_{library, 1.0, all_zones_at(library, -far_score), {}, {}, {}},
      high_{library, 1.0, all_zones_at(library, far_score), {}, {}, {}} {}

// A year of a spot is large and wanted only as long as the spot's compounds and uses are gone through.
void HeatCorrections::forget_other_spots(const std::string& spot, LikelyPlaces& likely) {
  if (spot == last_spot_) return;
  for (exposure::LikelyYears* years : {&low_, &high_})
    std::erase_if(years->years, [](const auto& year) { return !year.first.spot.empty(); });
  likely.forget_spot(last_spot_);
  last_spot_ = spot;
}

const std::array<double, 3>& HeatCorrections::means_in_air(double score, const exposure::PlaceOfUse& place,
                                                           const exposure::EnergyTriple& energies,
                                                           const exposure::TemperatureMeasure& air) {
  exposure::PlaceOfUse plain = place;
  plain.spot.clear();
  const auto key = std::tuple(score, std::move(plain), numbers_of(energies));
  if (const auto known = in_air_.find(key); known != in_air_.end()) return known->second;
  return in_air_.emplace(key, exposure::means_about(air, energies)).first->second;
}

const HeatCorrection& HeatCorrections::of(const Place& at, const library::Insulation& insulation,
                                          const library::AgeingPath& path, const exposure::UseSpan& use,
                                          LikelyPlaces& likely) {
  static const HeatCorrection nothing{};
  const exposure::PlaceOfUse place = exposure::place_of_use(at.zone, use, true, at.differing());
  if (place.spot.empty()) return nothing;
  HeatCorrection correction;
  correction.none = false;
  correction.energy = 1.0e3 * path.activation_energy.value;
  correction.step = 1.0e3 * path.activation_energy.sd.value_or(10.0);
  const exposure::EnergyTriple energies = energies_about(correction, insulation, path, at.stretch.damp, library_.model);
  const Key key(place.spot, place.climate + place.schedule + (place.sun ? "+" : "-"), numbers_of(energies));
  if (const auto known = known_.find(key); known != known_.end()) return known->second;
  forget_other_spots(place.spot, likely);
  Place plain = at;
  plain.spot.reset();
  const auto node = [&](double score, const exposure::TemperatureMeasure& spot, const exposure::TemperatureMeasure& air) {
    return node_of(score, exposure::means_about(spot, energies), means_in_air(score, place, energies, air));
  };
  const auto at_score = [&](exposure::LikelyYears& years, double score) {
    return node(score, exposure::likely_year(years, at.zone, use, true, at.differing()),
                exposure::likely_year(years, at.zone, use, true, nullptr));
  };
  const double mean = exposure::score_of(scores_, at.zone).mean;
  correction.nodes = {at_score(low_, std::min(-far_score, mean - 0.5)),
                      node(mean, likely.year(at, use, true), likely.year(plain, use, true)),
                      at_score(high_, std::max(far_score, mean + 0.5))};
  return known_.emplace(key, correction).first->second;
}

}  // namespace heatside::population
