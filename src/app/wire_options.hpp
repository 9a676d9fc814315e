#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/fields.hpp"
#include "heatside/library/library.hpp"

/// The options of `wire`: read from the command line or a file, and checked one by one.

namespace heatside::app {

/// What one place, command line or file, says; in the units of the options.
struct Wanted {
  std::optional<std::string> size, wall, insulation, shield;
  std::optional<double> od, conductor_diameter, resistance, limit, air, current, wires, loaded, speed, altitude;
  std::optional<std::array<double, 3>> hot_body;  ///< Cel, mm, mm
};

/// An option that takes one number.
struct NumberOption {
  const char* name;
  std::optional<double> Wanted::*member;
  Range range;
  bool whole;
  const char* help;
};

constexpr std::array<NumberOption, 10> number_options{{
    {"od", &Wanted::od, {0.2, 80.0, "mm"}, false, "outer diameter, mm; overrules the wall"},
    {"conductor-diameter", &Wanted::conductor_diameter, {0.05, 60.0, "mm"}, false, "mm; overrules that of the size"},
    {"resistance", &Wanted::resistance, {0.01, 10000.0, "mOhm/m"}, false, "mOhm/m at 20 Cel; overrules that of the size"},
    {"limit", &Wanted::limit, {20.0, 400.0, "Cel"}, false, "Cel, for the allowed current; else the rating"},
    {"air", &Wanted::air, {-60.0, 300.0, "Cel"}, false, "temperature of air and surroundings, Cel"},
    {"current", &Wanted::current, {0.0, 5000.0, "A"}, false, "A in each loaded wire [0]"},
    {"wires", &Wanted::wires, {1.0, 1000.0, ""}, true, "wires of this kind laid together [1]"},
    {"loaded", &Wanted::loaded, {1.0, 1000.0, ""}, true, "how many carry the current at once [all]"},
    {"speed", &Wanted::speed, {0.0, 60.0, "m/s"}, false, "air speed across the wire, m/s [0]"},
    {"altitude", &Wanted::altitude, {-500.0, 11000.0, "m"}, false, "m above the sea [0]"},
}};

/// Takes the name of an option and what is wrong with it.
using Complain = std::function<void(const std::string&, const std::string&)>;

/// The whole text as a finite number, or nothing.
[[nodiscard]] std::optional<double> number_in(const std::string& text);

/// SURFACE_Cel,DIAMETER_mm,AXIS_DISTANCE_mm.
/// @throws Stop  usage
[[nodiscard]] std::array<double, 3> three_numbers(const std::string& text);

/// Numbers within their ranges, whole where they count.
void check_numbers(const Wanted& wanted, const Complain& complain);

/// Words that are known; puts the label of the tables in place of another spelling of a size.
void check_texts(Wanted& wanted, const library::Library& library, const Complain& complain);

/// Options by name from a JSON file.
/// @throws InputError  with every problem of the file
[[nodiscard]] Wanted read_wanted(const std::string& file, const library::Library& library);

/// The command line wins, also over what in the file would overrule it.
[[nodiscard]] Wanted merged(Wanted line, Wanted file);

/// Every option still needed to make a wire of it, each a part of a sentence.
[[nodiscard]] std::vector<std::string> missing_options(const Wanted& wanted);

}  // namespace heatside::app
