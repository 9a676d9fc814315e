#pragma once

#include <array>
#include <string>
#include <variant>
#include <vector>

#include "heatside/exposure/wire_year.hpp"
#include "heatside/exposure/year.hpp"

/// The temperature at one spot of a loom as a mixture: the copper carries heat between what surrounds it nearby.

namespace heatside::exposure {

/// A part that a wire is screwed to. It warms up from the air around it and cools back to it.
struct HotTerminal {
  std::array<Kelvin, 4> surface{Kelvin{273.15}, Kelvin{273.15}, Kelvin{273.15}, Kelvin{273.15}};  ///< warm, by running state
  bool cools_with_exhaust = false;  ///< within half an hour; otherwise slowly, with the engine
};

/// One of the temperatures that are mixed. Without a source it is that of the zone's air.
struct LocalHeat {
  double weight = 1.0;  ///< weights of a spot sum to 1; one may be below 0, see `LoomCopper`
  std::string zone;     ///< id of the zone whose air it is or differs from
  std::variant<std::monostate, PlacedWire, HotTerminal> source;
  std::string name;  ///< of the source, unlike any other of the case; empty for air
};

/// Ids of the zones of a mixture, each once, in order of their first mention.
[[nodiscard]] std::vector<std::string> zones_of(const std::vector<LocalHeat>& parts);

/// For how long the mixture depends on the last running state.
[[nodiscard]] StateMemory memory_of(const std::vector<LocalHeat>& parts);

/// Temperature of one part as a function of the instant, whose first zone is the part's own; empty for air.
///
/// @param air          temperatures that the air of its zone takes
/// @param running_mix  shares of the running time; only states above 0 are asked for
/// @throws DomainError  a current has no steady state, see `wire_temperatures`
[[nodiscard]] Temperature source_temperature(const LocalHeat& part, AirRange air, const std::array<double, 4>& running_mix);

/// The mixture as a function of the instant, for `year_of` over `zones_of(parts)`.
///
/// @param sources  `source_temperature` of each part
/// @par Tested by  tests/exposure/local_heat_test.cpp
[[nodiscard]] Temperature mixed_temperature(const std::vector<LocalHeat>& parts, const std::vector<Temperature>& sources);

/// The same for `year_of` over other zones, among which are those of the parts.
[[nodiscard]] Temperature mixed_temperature_in(const std::vector<std::string>& zones, const std::vector<LocalHeat>& parts,
                                               const std::vector<Temperature>& sources);

}  // namespace heatside::exposure
