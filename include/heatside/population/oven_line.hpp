#pragma once

#include <string>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/library/library.hpp"

/// Life at constant temperature: by the law of a compound, and by the straight line through what ovens would show.

namespace heatside::population {

/// Life to the end point of the thermal-life record, in a dry oven at one temperature.
struct OvenLinePoint {
  Kelvin temperature{ice_point_kelvin};
  Hours by_law{0.0};         ///< with every dry path of the compound
  Hours by_line{0.0};        ///< by the straight line through the ovens
  double ten_kelvin_more{};  ///< how many times as fast it ages 10 K hotter, by the law
  bool oven = false;         ///< one of the temperatures that the line was drawn through
};

struct OvenLine {
  std::string insulation, name;  ///< id and words of the record
  bool bends = false;            ///< it has more than one dry path; with one, law and line are the same
  JoulePerMole line_energy{0.0};
  Kelvin index_by_law{ice_point_kelvin}, index_by_line{ice_point_kelvin};  ///< temperature of 20 000 h
  std::vector<OvenLinePoint> points;                                       ///< coolest first, every 5 K
};

/// Life at constant temperature of a likely lot in the dry, nothing touching it.
/// @throws DomainError  see `ageing::acceleration_factor`
[[nodiscard]] Hours life_at(const library::Insulation& insulation, Kelvin temperature);

/// Activation energy that the dry paths show together at a temperature: minus R times the slope of ln rate over 1/T.
[[nodiscard]] JoulePerMole energy_at(const library::Insulation& insulation, Kelvin temperature);

/// Four temperatures, 15 K apart, at which an oven would test the compound: at the coolest it lives for about 5000 h.
/// @par Source  choice of exposure temperatures in IEC 60216-1 (from memory): 5000 h or more at the coolest, steps of
///              10 to 25 K
[[nodiscard]] std::vector<Kelvin> oven_temperatures(const library::Insulation& insulation);

/// The same compound as somebody would describe it who saw the ovens alone: one dry path, on the straight line of ln life
/// over 1/T through lives without scatter. Paths that need damp stay as they are: an oven is dry and says nothing of them.
/// @par Source  least-squares line of IEC 60216-3
[[nodiscard]] library::Insulation as_ovens_show(const library::Insulation& insulation);

/// @param insulation  id of an insulation record
/// @throws DomainError  no such record
/// @par Tested by  tests/population/oven_line_test.cpp
[[nodiscard]] OvenLine oven_line(const library::Library& library, const std::string& insulation);

/// The record of that id. @throws DomainError  there is none; the nearest id is named
[[nodiscard]] const library::Insulation& insulation_of(const library::Library& library, const std::string& id);

}  // namespace heatside::population
