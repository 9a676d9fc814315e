#pragma once

#include <string>
#include <vector>

#include "heatside/base/units.hpp"
#include "heatside/exposure/wire_heat.hpp"
#include "heatside/library/records.hpp"
#include "heatside/library/reliance.hpp"

namespace heatside::report {

/// The answer for one wire or bundle.
struct WireAnswer {
  std::string question;  ///< the wire and what is around it, in one or two sentences
  exposure::Bundle bundle;
  Amperes current{0.0};  ///< in each loaded wire
  Kelvin air{273.15};
  exposure::WireTemperatures temperatures;
  Kelvin limit{273.15};
  std::string limit_from;                           ///< "rating of pvc-105", "as given"
  Amperes allowed{0.0};                             ///< in each loaded wire, conductor of the hottest one at the limit
  const library::Insulation* insulation = nullptr;  ///< null where none was named
  std::vector<library::Reliance> rests_on;
};

/// Hours of dry heat at one temperature until the end point of the record, by its likely numbers:
/// life_hours lot_median / sum over the dry paths of share AF(life temperature, temperature).
///
/// @throws DomainError  an acceleration leaves the range of double
/// @par Valid where  nothing but dry air touches the wire and its wall is the one that the record's point holds for
/// @par Tested by    tests/app/wire_test.py
[[nodiscard]] Hours likely_dry_life(const library::Insulation& insulation, Kelvin temperature);

/// The answer for people, at most 100 columns wide.
/// @param plain_words_cap  lives beyond this are "over N years"
[[nodiscard]] std::string wire_text(const WireAnswer& answer, Years plain_words_cap, const std::string& engine);

/// Format "heatside-wire" version 1. `rise_K` is that of the conductor over the air, `margin_K` from the hottest
/// insulation up to the limit, negative above it; `life_hours` is null without an insulation.
[[nodiscard]] std::string wire_json(const WireAnswer& answer, const std::string& engine);

}  // namespace heatside::report
