#pragma once

#include <string_view>

#include "casefile/reading.hpp"
#include "heatside/base/date.hpp"

/// Dates that are known only to the month or year. An order is wrong only when no choice of days makes it right.

namespace heatside::casefile {

/// True when every day that `a` allows comes after every day that `b` allows.
[[nodiscard]] bool certainly_after(const Date& a, const Date& b);

/// Moves the days used within what both texts allow, so that `earlier` does not come after `later`.
/// @pre  not certainly_after(earlier, later)
void put_in_order(Date& earlier, Date& later);

/// Checks the order of two dates that are known and puts them in order; `what` says it, as in "fitted before it was made".
/// @return  false when their order is wrong
bool expect_order(std::optional<Date>& earlier, std::optional<Date>& later, const std::string& pointer,
                  std::string_view what, Reading& reading);

/// As above, but `later` is settled: only `earlier` moves.
void expect_before(std::optional<Date>& earlier, const std::optional<Date>& later, const std::string& pointer,
                   std::string_view what, Reading& reading);

/// Lists every date of the finished case whose day was chosen for it.
void list_inexact_dates(Reading& reading);

}  // namespace heatside::casefile
