#include <fmt/format.h>

#include <algorithm>

#include "casefile/dates.hpp"
#include "casefile/place.hpp"
#include "casefile/use.hpp"

namespace heatside::casefile {

namespace {

ReadPeriod read_period(Fields fields, Reading& reading) {
  ReadPeriod period;
  period.value.pointer = fields.pointer();
  period.from = read_date(fields, "from", reading);
  period.to = read_optional_date(fields, "to", reading);
  period.value.climate = read_record_id(fields, "climate", "climate", reading.library.climates);
  if (auto duty = read_duty(fields, reading)) period.value.duty = *std::move(duty);
  period.use = read_stated_use(fields, "km", "running_hours");
  const std::optional<Parking> parking = read_parking(fields);
  if (!parking) {
    reading.assume(fields.pointer("parking"), "parked in the shade; write open, shade or garage");
  }
  period.value.parking = parking.value_or(Parking::shade);
  fields.optional_text("note");
  fields.refuse_unknown();
  return period;
}

// Within one coarse date, such as 2009 to 2009-03, the widest span is meant.
void spread_out(Date& from, Date& to) {
  if (from.day < to.day) return;
  from.day = from.first;
  to.day = to.last;
}

void settle_span(ReadPeriod& period, Reading& reading) {
  const std::string pointer = period.value.pointer;
  if (!period.to) period.to = *reading.inspected;
  if (period.from->first >= period.to->last) {
    reading.complain(pointer, fmt::format("the period ends at {}, before or as it begins at {}",
                                          format_date_as_known(*period.to), format_date_as_known(*period.from)));
    return;
  }
  spread_out(*period.from, *period.to);
  expect_order(period.to, reading.inspected, pointer + "/to", "the period ends after the inspection", reading);
  if (reading.entered_service && certainly_after(*reading.entered_service, *period.from)) {
    reading.complain(pointer + "/from",
                     fmt::format("the period begins at {}, before the vehicle entered service at {}",
                                 format_date_as_known(*period.from), format_date_as_known(*reading.entered_service)));
  }
}

void sort_by_time(std::vector<ReadPeriod>& periods) {
  std::stable_sort(periods.begin(), periods.end(),
                   [](const ReadPeriod& a, const ReadPeriod& b) { return a.from->day < b.from->day; });
}

// Only the last period may leave its end to the inspection.
void expect_ends(const std::vector<ReadPeriod>& periods, Reading& reading) {
  for (std::size_t i = 0; i + 1 < periods.size(); ++i) {
    if (periods[i].to) continue;
    reading.complain(periods[i].value.pointer, "\"to\" is missing; only the last period may leave it out");
  }
}

void settle_neighbours(std::vector<ReadPeriod>& periods, Reading& reading) {
  for (std::size_t i = 0; i + 1 < periods.size(); ++i) {
    ReadPeriod& next = periods[i + 1];
    expect_order(periods[i].to, next.from, next.value.pointer + "/from",
                 fmt::format("the period overlaps with {}", periods[i].value.pointer), reading);
  }
}

void settle_days(std::vector<ReadPeriod>& periods, Reading& reading) {
  for (ReadPeriod& period : periods) {
    period.value.from = *period.from;
    period.value.to = *period.to;
    if (period.from->day < period.to->day) continue;
    reading.complain(period.value.pointer, "no days are left for this period; write its dates to the month or day");
  }
}

bool settle_dates(std::vector<ReadPeriod>& periods, Reading& reading) {
  const std::size_t before = reading.problems.size();
  sort_by_time(periods);
  expect_ends(periods, reading);
  if (reading.problems.size() != before) return false;
  for (ReadPeriod& period : periods) settle_span(period, reading);
  if (reading.problems.size() != before) return false;
  settle_neighbours(periods, reading);
  if (reading.problems.size() == before) settle_days(periods, reading);
  return reading.problems.size() == before;
}

void settle_entry(const ServicePeriod& first, Reading& reading) {
  if (reading.entered_service || has_value(reading.document, "/vehicle/entered_service")) return;
  reading.entered_service = first.from;
  reading.assume("/vehicle/entered_service",
                 fmt::format("entered service with the first service period, {}; write the date if it is known",
                             format_date_as_known(first.from)));
  expect_before(reading.built, reading.entered_service, first.pointer + "/from",
                "the vehicle was built after its first service period began", reading);
}

void list_gap(const Date& from, const Date& to, Reading& reading) {
  if (from.day >= to.day) return;
  reading.assume("/service",
                 fmt::format("laid up from {} to {}, in the shade where it was before; state a period if it was driven",
                             format_date(from), format_date(to)));
}

// Time that no period covers is time off the road, and that is an assumption too.
void list_gaps(const std::vector<ReadPeriod>& periods, Reading& reading) {
  list_gap(*reading.entered_service, *periods.front().from, reading);
  for (std::size_t i = 0; i + 1 < periods.size(); ++i) list_gap(*periods[i].to, *periods[i + 1].from, reading);
  list_gap(*periods.back().to, *reading.inspected, reading);
}

}  // namespace

void read_service(Fields& top, Reading& reading) {
  const std::size_t before = reading.problems.size();
  std::vector<ReadPeriod> periods;
  for (const Fields& fields : top.objects("service", 1)) periods.push_back(read_period(fields, reading));
  // What follows builds on all of the above; half of it would only add problems that are none.
  const bool sound = reading.problems.size() == before && reading.inspected && !periods.empty();
  const StatedFuture future = read_stated_future(top, reading);
  if (!sound || !settle_dates(periods, reading)) return;
  settle_entry(periods.front().value, reading);
  if (reading.entered_service) list_gaps(periods, reading);
  set_usage(periods, reading.result.odometer_km, reading);
  for (const ReadPeriod& period : periods) reading.result.service.push_back(period.value);
  reading.result.future = future_use(future, reading.result.service.back(), reading);
}

}  // namespace heatside::casefile
