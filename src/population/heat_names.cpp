#include "population/heat_names.hpp"

#include <fmt/format.h>

namespace heatside::population {

namespace {

// Hexadecimal numbers are exact.
class NumberText {
 public:
  void add(double number) { text_ += fmt::format(" {:a}", number); }
  template <class Quantity>
  void add(Quantity quantity) {
    add(quantity.value());
  }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string text_;
};

}  // namespace

std::string numbers_of(const exposure::PlacedWire& wire) {
  NumberText numbers;
  const exposure::WireBuild& build = wire.wire;
  numbers.add(build.conductor_diameter);
  numbers.add(build.outer_diameter);
  numbers.add(build.resistance);
  numbers.add(build.insulation_conductivity);
  numbers.add(build.emissivity);
  numbers.add(static_cast<double>(wire.bundle.wires));
  numbers.add(static_cast<double>(wire.bundle.loaded));
  numbers.add(wire.bundle.other_heat);
  numbers.add(wire.cover.thickness);
  numbers.add(wire.cover.conductivity);
  numbers.add(wire.cover.air_gap);
  numbers.add(wire.cover.emissivity);
  numbers.add(wire.current);
  numbers.add(wire.loaded_share);
  for (const MetresPerSecond speed : wire.running_air_speed) numbers.add(speed);
  for (const exposure::HotNeighbour& body : wire.hot_bodies) {
    for (const Kelvin surface : body.surface) numbers.add(surface);
    numbers.add(body.view_factor);
    numbers.add(body.shield);
    numbers.add(body.emissivity);
  }
  return numbers.text();
}

std::string numbers_of(const exposure::HotTerminal& terminal) {
  NumberText numbers;
  for (const Kelvin surface : terminal.surface) numbers.add(surface);
  numbers.add(terminal.cools_with_exhaust ? 1.0 : 0.0);
  return numbers.text();
}

std::string numbers_of(const std::vector<exposure::LocalHeat>& parts) {
  std::string text;
  for (const exposure::LocalHeat& part : parts) text += fmt::format(" {:a} {} {},", part.weight, part.zone, part.name);
  return text;
}

}  // namespace heatside::population
