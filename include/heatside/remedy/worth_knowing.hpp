#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "heatside/population/belief.hpp"

/// What would have to be known, or be otherwise, for another choice.

namespace heatside::remedy {

/// Expected cost as a straight line in the cost of a stop.
struct CostLine {
  double at_nothing{};  ///< [money] where a stop costs nothing
  double stops{};       ///< expected stops, >= 0
};

/// From this cost of a stop on that line is the lowest.
struct BreakEven {
  double from_stop{};  ///< [money]
  std::size_t line{};
};

/// The lowest of some lines for every cost of a stop from 0 on, in rising order; the first stands at 0. Of equal lines the
/// first.
/// @throws DomainError  no line
/// @par Source     lower envelope of straight lines, exact crossings
/// @par Tested by  tests/remedy/worth_knowing_test.cpp, against brute force
[[nodiscard]] std::vector<BreakEven> cheapest_by_stop(const std::vector<CostLine>& lines);

/// Something that is not known, as its draws.
struct UnknownGroup {
  std::string words;                         ///< what would be known
  std::vector<std::vector<double>> columns;  ///< scores or numbers of candidates, N each
  bool named = false;                        ///< one column of candidates, each a case of its own
};

/// What it would be worth to know a group before choosing.
struct WorthKnowing {
  std::string words;
  double saving{};          ///< [money], expected; >= 0
  double standard_error{};  ///< [money]
  double changes{};         ///< chance that the choice becomes another
  std::size_t instead{};    ///< what it then becomes most often
};

/// Expected value of knowing part of what is not known: the expected cost of each choice given the group is a regression of
/// its cost in each draw on the group's columns (polynomials of third degree; means by candidate where the column names
/// one). Coefficients come from one half of the draws and choose in the other, so that chance agreement adds nothing; what
/// is left is, if anything, too low.
///
/// @param costs  [money], N expected costs of each choice, by draw
/// @param best   the choice that is made without knowing more
/// @throws DomainError  no costs, or unequal numbers of draws
/// @par Source     Strong, Oakley & Brennan 2014, Med. Decis. Making 34, 311-326 (from memory)
/// @par Tested by  tests/remedy/worth_knowing_test.cpp, against the closed form for a normal unknown
[[nodiscard]] WorthKnowing worth_of_knowing(const population::Belief& belief, const std::vector<std::vector<double>>& costs,
                                            std::size_t best, const UnknownGroup& group);

}  // namespace heatside::remedy
