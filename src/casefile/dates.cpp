#include "casefile/dates.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "casefile/place.hpp"

namespace heatside::casefile {

namespace {

std::string wrong_order(std::string_view what, const Date& earlier, const Date& later) {
  return fmt::format("{} ({} is after {})", what, format_date_as_known(earlier), format_date_as_known(later));
}

struct InexactDate {
  std::string text, pointer;
};

// Only what the case itself states: a date taken over from elsewhere is listed at its origin.
void add_if_inexact(const std::string& pointer, const Date& date, const Reading& reading, std::vector<InexactDate>& dates) {
  if (date.exact() || !has_value(reading.document, pointer)) return;
  dates.push_back({fmt::format("{} is taken as {}", format_date_as_known(date), format_date(date)), pointer});
}

void add_donor(const std::string& pointer, const std::optional<PartPast>& past, const Reading& reading,
               std::vector<InexactDate>& dates) {
  if (!past) return;
  add_if_inexact(pointer + "/donor/from", past->from, reading, dates);
  add_if_inexact(pointer + "/donor/to", past->to, reading, dates);
}

}  // namespace

bool certainly_after(const Date& a, const Date& b) { return a.first > b.last; }

void put_in_order(Date& earlier, Date& later) {
  if (earlier.day <= later.day) return;
  earlier.day = std::max(later.day, earlier.first);
  later.day = earlier.day;
}

bool expect_order(std::optional<Date>& earlier, std::optional<Date>& later, const std::string& pointer,
                  std::string_view what, Reading& reading) {
  if (!earlier || !later) return true;
  if (certainly_after(*earlier, *later)) {
    reading.complain(pointer, wrong_order(what, *earlier, *later));
    return false;
  }
  put_in_order(*earlier, *later);
  return true;
}

void expect_before(std::optional<Date>& earlier, const std::optional<Date>& later, const std::string& pointer,
                   std::string_view what, Reading& reading) {
  if (!earlier || !later) return;
  if (certainly_after(*earlier, *later)) {
    reading.complain(pointer, wrong_order(what, *earlier, *later));
  } else if (earlier->first > later->day) {
    reading.complain(pointer, fmt::format("{} and {}: their order cannot be told; write both to the day",
                                          format_date_as_known(*earlier), format_date_as_known(*later)));
  } else {
    earlier->day = std::min(earlier->day, later->day);
  }
}

void list_inexact_dates(Reading& reading) {
  const Case& result = reading.result;
  std::vector<InexactDate> dates;
  add_if_inexact("/vehicle/built", result.built, reading, dates);
  add_if_inexact("/vehicle/entered_service", result.entered_service, reading, dates);
  add_if_inexact("/inspected", result.inspected, reading, dates);
  for (const ServicePeriod& period : result.service) {
    add_if_inexact(period.pointer + "/from", period.from, reading, dates);
    add_if_inexact(period.pointer + "/to", period.to, reading, dates);
  }
  for (std::size_t i = 0; i < result.looms.size(); ++i) {
    const std::string pointer = child_pointer("/looms", i);
    add_if_inexact(pointer + "/made", result.looms[i].made, reading, dates);
    add_if_inexact(pointer + "/fitted", result.looms[i].fitted, reading, dates);
    add_donor(pointer, result.looms[i].elsewhere, reading, dates);
  }
  for (const Segment& segment : result.segments) {
    for (std::size_t i = 0; i < segment.leaks.size(); ++i) {
      add_if_inexact(child_pointer(segment.pointer + "/leaks", i) + "/since", segment.leaks[i].since, reading, dates);
    }
  }
  for (const Finding& finding : result.findings) {
    add_if_inexact(finding.pointer + "/on", finding.on, reading, dates);
    if (finding.altered_on) add_if_inexact(finding.pointer + "/altered_on", *finding.altered_on, reading, dates);
  }
  for (const Remedy& remedy : result.remedies) {
    if (remedy.made) add_if_inexact(remedy.pointer + "/made", *remedy.made, reading, dates);
    add_donor(remedy.pointer, remedy.past, reading, dates);
  }
  // The same date in several places is one assumption, listed at the first of them.
  for (auto date = dates.begin(); date != dates.end(); ++date) {
    const auto same = [&](const InexactDate& other) { return other.text == date->text; };
    if (std::find_if(dates.begin(), date, same) != date) continue;
    const auto others = std::count_if(date + 1, dates.end(), same);
    const std::string also = others == 0 ? "" : fmt::format(" here and in {} more place{}", others, others == 1 ? "" : "s");
    reading.assume(date->pointer, fmt::format("{}{}; write the day if it is known", date->text, also));
  }
}

}  // namespace heatside::casefile
