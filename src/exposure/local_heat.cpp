#include "heatside/exposure/local_heat.hpp"

#include <algorithm>
#include <memory>

#include "exposure/mixture.hpp"

namespace heatside::exposure {

namespace {

Temperature terminal_temperature(const HotTerminal& terminal) {
  return [terminal](const Instant& instant, bool) {
    const double warmth = terminal.cools_with_exhaust ? instant.exhaust_warmth : *instant.engine_warmth;
    const double warm = terminal.surface[static_cast<std::size_t>(instant.state)].value();
    return *instant.air + warmth * (warm - *instant.air);
  };
}

}  // namespace

Mixture::Mixture(const std::vector<std::string>& zones, const std::vector<LocalHeat>& parts,
                 const std::vector<Temperature>& sources) {
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto zone = std::find(zones.begin(), zones.end(), parts[i].zone) - zones.begin();
    parts_.push_back({parts[i].weight, static_cast<std::size_t>(zone), sources.at(i)});
  }
}

std::vector<double> Mixture::weights_of_air() const {
  std::vector<double> weights;
  for (const Part& part : parts_) {
    if (part.differing || part.zone != weights.size()) return {};
    weights.push_back(part.weight);
  }
  return weights;
}

std::vector<std::string> zones_of(const std::vector<LocalHeat>& parts) {
  std::vector<std::string> zones;
  for (const LocalHeat& part : parts) {
    if (std::find(zones.begin(), zones.end(), part.zone) == zones.end()) zones.push_back(part.zone);
  }
  return zones;
}

StateMemory memory_of(const std::vector<LocalHeat>& parts) {
  StateMemory memory = StateMemory::zone;
  for (const LocalHeat& part : parts) {
    const auto* terminal = std::get_if<HotTerminal>(&part.source);
    if (terminal != nullptr && !terminal->cools_with_exhaust) return StateMemory::engine;
    if (terminal != nullptr || std::holds_alternative<PlacedWire>(part.source)) memory = StateMemory::exhaust;
  }
  return memory;
}

Temperature source_temperature(const LocalHeat& part, AirRange air, const std::array<double, 4>& running_mix) {
  if (const auto* wire = std::get_if<PlacedWire>(&part.source)) return insulation_temperature(*wire, air, running_mix);
  if (const auto* terminal = std::get_if<HotTerminal>(&part.source)) return terminal_temperature(*terminal);
  return {};
}

Temperature mixed_temperature(const std::vector<LocalHeat>& parts, const std::vector<Temperature>& sources) {
  return mixed_temperature_in(zones_of(parts), parts, sources);
}

Temperature mixed_temperature_in(const std::vector<std::string>& zones, const std::vector<LocalHeat>& parts,
                                 const std::vector<Temperature>& sources) {
  return [mixture = std::make_shared<const Mixture>(zones, parts, sources)](const Instant& instant, bool loaded) {
    return (*mixture)(instant, loaded);
  };
}

}  // namespace heatside::exposure
