#pragma once

#include <optional>
#include <string>
#include <vector>

#include "casefile/reading.hpp"

/// How a vehicle is used: climate, duty, parking, and how much.

namespace heatside::casefile {

/// How far or long a vehicle is driven, as a case states it: at most one of the two.
struct StatedUse {
  std::optional<double> km;
  std::optional<double> running_hours;

  [[nodiscard]] bool is_stated() const { return km || running_hours; }
};

/// A service period with what its usage is worked out from.
struct ReadPeriod {
  ServicePeriod value;
  std::optional<Date> from, to;
  StatedUse use;
};

/// The id of a duty record, or trips of the case's own spread evenly over the week; absent when it is wrong.
std::optional<DutyChoice> read_duty(Fields& fields, Reading& reading);

/// Absent when the case does not say.
std::optional<Parking> read_parking(Fields& fields);
std::string_view name_of(Parking parking);

/// @param km     key of the kilometres, "km" or "km_per_year"
/// @param hours  key of the running hours
StatedUse read_stated_use(Fields& fields, std::string_view km, std::string_view hours);

/// Running hours a year where a week is driven as the duty says.
[[nodiscard]] double yearly_hours(const DutyChoice& duty, const library::Library& library);

/// The usage factor of so much use in `years`; outside of what is read it is a problem at `pointer`.
/// A duty that never runs has the factor 1 and no use.
double usage_of(const StatedUse& use, double years, const DutyChoice& duty, const std::string& pointer, Reading& reading);

/// Sets the usage of every period: from what it states, from the odometer, or 1.
void set_usage(std::vector<ReadPeriod>& periods, std::optional<double> odometer_km, Reading& reading);

/// What a case says about the use to come.
struct StatedFuture {
  std::optional<std::string> climate;
  std::optional<DutyChoice> duty;
  std::optional<Parking> parking;
  StatedUse yearly;
};

StatedFuture read_stated_future(Fields& top, Reading& reading);

/// The use to come: as stated, the rest as in the last period, and listed as such.
FutureUse future_use(const StatedFuture& stated, const ServicePeriod& last, Reading& reading);

}  // namespace heatside::casefile
