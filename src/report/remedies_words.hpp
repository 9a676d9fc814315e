#pragma once

#include <string>

#include "heatside/remedy/remedies.hpp"

/// Words and numbers that the texts about remedies share.

namespace heatside::report {

/// No more digits than a choice hangs on.
[[nodiscard]] double rounded_money(double amount);

/// "1230 EUR": no more digits than a choice hangs on.
[[nodiscard]] std::string money_text(const remedy::Worth& worth, double amount);

/// "under 1 %", "37 %"
[[nodiscard]] std::string percent_text(double chance);

/// True where the functions of every segment are known, so that a chance of a stop on the road can be told.
[[nodiscard]] bool tells_stops(const remedy::Result& result);

/// Of a stop on the road where it can be told, otherwise of a bare-wire fault.
[[nodiscard]] double chance_of_fault_or_stop(const remedy::Result& result);

/// "a stop on the road" where it can be told, otherwise "a bare-wire fault".
[[nodiscard]] std::string fault_word(const remedy::Result& result, bool plural);

/// "1 day", "3 days"
[[nodiscard]] std::string counted(double number, const std::string& one, const std::string& many);

/// "10 years", the horizon
[[nodiscard]] std::string horizon_text(const remedy::Worth& worth);

/// What follows the first fault where old insulation was left in: "in ten years a bare-wire fault with a chance of 80 %, and
/// then the new part"; empty where none is left in.
[[nodiscard]] std::string after_in_words(const remedy::Result& result, const remedy::Question& question,
                                         const remedy::Worth& worth);

/// When to look next once a choice is made, as a sentence.
[[nodiscard]] std::string next_look_in_words(const remedy::Question& question, const casefile::Case& job);

}  // namespace heatside::report
