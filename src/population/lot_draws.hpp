#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "heatside/casefile/case.hpp"
#include "heatside/library/library.hpp"
#include "heatside/population/normals.hpp"

namespace heatside::population {

/// One path of a compound in every draw of a candidate.
struct PathDraws {
  const library::AgeingPath* path = nullptr;
  std::vector<double> energy;  ///< activation energy [J/mol]
  std::vector<double> share;   ///< of the clock at the thermal-life point; 1 for a wet path
};

/// The draws in which a lot is of one compound.
struct CompoundDraws {
  std::string name;  ///< of the batch and compound: compounds of one name have the same energies, shares and elongations
  const library::Insulation* insulation = nullptr;
  std::vector<std::size_t> draws;  ///< their numbers, rising; the vectors below run along them
  std::vector<double> lot;         ///< factor on life
  std::vector<double> initial;     ///< elongation at break when new [-]
  std::vector<PathDraws> paths;
};

/// A lot in every draw: each draw is of one of its candidates.
struct LotDraws {
  std::vector<CompoundDraws> compounds;  ///< in the order of the lot's candidates; those never drawn are left out
};

/// What makes lots alike: same candidates, made in the same month and region. Their unknowns are shared, so that what is
/// found at one tells about the others.
[[nodiscard]] std::string batch_of(const casefile::Case& job, const casefile::Lot& lot);

/// Names of the quantities behind a lot, for one insulation.
struct LotQuantities {
  std::string compound, batch, own, initial;
  [[nodiscard]] std::string energy(const std::string& path) const { return initial + "/energy/" + path; }
  [[nodiscard]] std::string fitted_hours() const { return initial + "/fitted-hours"; }
  [[nodiscard]] std::string share(const std::string& path) const { return initial + "/share/" + path; }
};
[[nodiscard]] LotQuantities lot_quantities(const casefile::Case& job, const casefile::Lot& lot,
                                           const std::string& insulation);

/// Number of the candidate that each draw falls on, from the scores of the lot's `compound`.
[[nodiscard]] std::vector<std::size_t> candidates_drawn(const casefile::Lot& lot, const std::vector<double>& scores);

[[nodiscard]] LotDraws lot_draws(const casefile::Case& job, const casefile::Lot& lot, const library::Library& library,
                                 Normals& normals);

}  // namespace heatside::population
