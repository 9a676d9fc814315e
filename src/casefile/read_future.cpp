#include <fmt/format.h>

#include "base/text.hpp"
#include "casefile/use.hpp"

namespace heatside::casefile {

namespace {

double future_usage(const StatedFuture& stated, const DutyChoice& duty, const ServicePeriod& last, Reading& reading) {
  if (stated.yearly.is_stated()) {
    const std::string key = stated.yearly.km ? "/future/km_per_year" : "/future/running_hours_per_year";
    return usage_of(stated.yearly, 1.0, duty, key, reading);
  }
  // The factor of the last period belongs to the duty of the last period.
  return stated.duty ? 1.0 : last.usage;
}

void list_what_is_taken_over(const StatedFuture& stated, Reading& reading) {
  std::vector<std::string> taken;
  if (!stated.climate) taken.emplace_back("climate");
  if (!stated.duty) taken.emplace_back("duty");
  if (!stated.parking) taken.emplace_back("parking");
  if (taken.empty()) return;
  reading.assume("/future", fmt::format("after the inspection as in the last service period: {}; state future to change it",
                                        join(taken)));
}

void list_full_use(const StatedFuture& stated, Reading& reading) {
  const bool by_record = stated.duty && std::holds_alternative<std::string>(*stated.duty);
  if (!by_record || stated.yearly.is_stated()) return;
  const double hours = yearly_hours(*stated.duty, reading.library);
  if (hours <= 0.0) return;
  reading.assume("/future/duty", fmt::format("driven as the duty \"{}\" says, about {} running hours a year; state "
                                             "km_per_year or running_hours_per_year",
                                             std::get<std::string>(*stated.duty), plain_number(hours, 3)));
}

}  // namespace

StatedFuture read_stated_future(Fields& top, Reading& reading) {
  StatedFuture stated;
  std::optional<Fields> future = top.optional_object("future");
  if (!future) return stated;
  if (future->find("climate") != nullptr) {
    stated.climate = read_record_id(*future, "climate", "climate", reading.library.climates);
  }
  if (future->find("duty") != nullptr) stated.duty = read_duty(*future, reading);
  stated.parking = read_parking(*future);
  stated.yearly = read_stated_use(*future, "km_per_year", "running_hours_per_year");
  future->optional_text("note");
  future->refuse_unknown();
  return stated;
}

FutureUse future_use(const StatedFuture& stated, const ServicePeriod& last, Reading& reading) {
  FutureUse use;
  use.climate = stated.climate.value_or(last.climate);
  use.duty = stated.duty.value_or(last.duty);
  use.parking = stated.parking.value_or(last.parking);
  use.usage = future_usage(stated, use.duty, last, reading);
  list_what_is_taken_over(stated, reading);
  list_full_use(stated, reading);
  return use;
}

}  // namespace heatside::casefile
