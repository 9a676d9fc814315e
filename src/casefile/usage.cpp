#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"
#include "casefile/use.hpp"

namespace heatside::casefile {

namespace {

constexpr double most_usage = 3.0;
constexpr double hours_a_week = 168.0;

const library::Duty* duty_record(const DutyChoice& duty, const library::Library& library) {
  if (const auto* own = std::get_if<library::Duty>(&duty)) return own;
  const auto record = library.duties.find(std::get<std::string>(duty));
  return record == library.duties.end() ? nullptr : &record->second;
}

std::string duty_name(const DutyChoice& duty) {
  const auto* own = std::get_if<library::Duty>(&duty);
  return own != nullptr ? own->head.name : fmt::format("\"{}\"", std::get<std::string>(duty));
}

bool has_own_trips(const ReadPeriod& period) { return std::holds_alternative<library::Duty>(period.value.duty); }

double years_of(const ReadPeriod& period) { return years_between(period.value.from.day, period.value.to.day).value(); }

double full_hours(const ReadPeriod& period, const library::Library& library) {
  return years_of(period) * yearly_hours(period.value.duty, library);
}

double running_hours(const StatedUse& use, const Reading& reading) {
  return use.km ? *use.km / reading.library.model.usage.mean_speed.value : use.running_hours.value_or(0.0);
}

// More than three times a duty is another duty; and a year has no more than its hours.
bool expect_usage(double usage, double yearly, const std::string& pointer, const std::string& whose, Reading& reading) {
  if (usage >= 0.0 && usage <= most_usage && usage * yearly <= hours_per_year) return true;
  reading.complain(
      pointer, fmt::format("this is {} times the use that {} describes; allowed: 0 to {}; choose a busier duty "
                           "or check the kilometres",
                           plain_number(usage, 3), whose, plain_number(std::min(most_usage, hours_per_year / yearly), 3)));
  return false;
}

void list_speed(const std::string& pointer, Reading& reading) {
  const library::ModelConstants::Usage& usage = reading.library.model.usage;
  std::string band;
  if (usage.mean_speed.low && usage.mean_speed.high) {
    band = fmt::format(" ({} to {})", plain_number(*usage.mean_speed.low), plain_number(*usage.mean_speed.high));
  }
  reading.assume(pointer,
                 fmt::format("kilometres become running hours at {}{} km/h, stops included; state running_hours "
                             "if they are known",
                             plain_number(usage.mean_speed.value), band),
                 usage.mean_speed.from.grade);
}

// Once for a case, at the first place that states kilometres.
void list_speed_if_used(const std::vector<ReadPeriod>& periods, bool odometer_used, Reading& reading) {
  if (odometer_used) return list_speed("/vehicle/odometer_km", reading);
  const auto with_km =
      std::find_if(periods.begin(), periods.end(), [](const ReadPeriod& period) { return period.use.km.has_value(); });
  if (with_km != periods.end()) list_speed(with_km->value.pointer + "/km", reading);
}

// Running hours that the periods themselves account for: what they state, and trips of their own.
double accounted_hours(const std::vector<ReadPeriod>& periods, const Reading& reading) {
  double hours = 0.0;
  for (const ReadPeriod& period : periods) {
    if (period.use.is_stated()) {
      hours += running_hours(period.use, reading);
    } else if (has_own_trips(period)) {
      hours += full_hours(period, reading.library);
    }
  }
  return hours;
}

// Running hours of the silent periods where their duties are driven in full.
double silent_hours(const std::vector<ReadPeriod>& periods, const Reading& reading) {
  double hours = 0.0;
  for (const ReadPeriod& period : periods) {
    if (!period.use.is_stated() && !has_own_trips(period)) hours += full_hours(period, reading.library);
  }
  return hours;
}

void set_silent_usage(std::vector<ReadPeriod>& periods, double usage) {
  for (ReadPeriod& period : periods) {
    if (!period.use.is_stated() && !has_own_trips(period)) period.value.usage = usage;
  }
}

// A duty that never runs takes no share of the odometer and keeps the factor 1.
void keep_laid_up(std::vector<ReadPeriod>& periods, const library::Library& library) {
  for (ReadPeriod& period : periods) {
    if (yearly_hours(period.value.duty, library) <= 0.0) period.value.usage = 1.0;
  }
}

// Kilometres that the periods themselves account for; running hours count at the mean speed.
double accounted_km(const std::vector<ReadPeriod>& periods, const Reading& reading) {
  return accounted_hours(periods, reading) * reading.library.model.usage.mean_speed.value;
}

// The odometer and the periods must tell one story: no answer is better than one from a wrong mileage.
bool expect_agreement(const std::vector<ReadPeriod>& periods, double odometer_km, bool all_stated, Reading& reading) {
  constexpr double slack = 1.02;
  const double stated = accounted_km(periods, reading);
  if (stated > slack * odometer_km) {
    reading.complain(
        "/vehicle/odometer_km",
        fmt::format("the service periods account for {} km, more than the {} km of the odometer; correct one of "
                    "them, or leave the odometer out where it was replaced",
                    plain_number(stated, 7), plain_number(odometer_km, 7)));
    return false;
  }
  constexpr double unexplained = 1.10;
  if (all_stated && odometer_km > unexplained * stated) {
    reading.assume("/vehicle/odometer_km",
                   fmt::format("the service periods account for {} of the odometer's {} km, and the rest is left out; "
                               "correct the periods",
                               plain_number(stated, 7), plain_number(odometer_km, 7)));
  }
  return true;
}

void share_odometer(std::vector<ReadPeriod>& periods, double odometer_km, double silent, Reading& reading) {
  const double speed = reading.library.model.usage.mean_speed.value;
  const double left = std::max(0.0, odometer_km / speed - accounted_hours(periods, reading));
  const double usage = left / silent;
  double yearly = 0.0;
  for (const ReadPeriod& period : periods) yearly = std::max(yearly, yearly_hours(period.value.duty, reading.library));
  if (!expect_usage(usage, yearly, "/vehicle/odometer_km", "the duty of the periods without km or hours", reading)) return;
  set_silent_usage(periods, usage);
  reading.assume("/vehicle/odometer_km",
                 fmt::format("{} km of the odometer are shared by the periods that state neither km nor hours, in "
                             "proportion to time and duty: {} times the use that the duty records describe; state km "
                             "for each period",
                             plain_number(left * speed, 7), plain_number(usage, 3)));
}

void list_full_usage(const std::vector<ReadPeriod>& periods, Reading& reading) {
  for (const ReadPeriod& period : periods) {
    const double hours = yearly_hours(period.value.duty, reading.library);
    if (period.use.is_stated() || has_own_trips(period) || hours <= 0.0) continue;
    reading.assume(period.value.pointer,
                   fmt::format("driven as the duty {} says, about {} running hours a year; state km or running_hours of "
                               "the period, or the odometer",
                               duty_name(period.value.duty), plain_number(hours, 3)));
  }
}

}  // namespace

double yearly_hours(const DutyChoice& duty, const library::Library& library) {
  const library::Duty* record = duty_record(duty, library);
  if (record == nullptr) return 0.0;
  return hours(library::weekly_running_time(*record)).value() * hours_per_year / hours_a_week;
}

double usage_of(const StatedUse& use, double years, const DutyChoice& duty, const std::string& pointer, Reading& reading) {
  const double hours_stated = running_hours(use, reading);
  const double hours_of_duty = years * yearly_hours(duty, reading.library);
  if (hours_of_duty <= 0.0) {
    if (hours_stated > 0.0) {
      reading.complain(pointer, fmt::format("the duty {} never runs, but km or hours are stated; choose a duty that is "
                                            "driven",
                                            duty_name(duty)));
    }
    return 1.0;
  }
  const double usage = hours_stated / hours_of_duty;
  const double yearly = yearly_hours(duty, reading.library);
  return expect_usage(usage, yearly, pointer, "the duty " + duty_name(duty), reading) ? usage : 1.0;
}

void set_usage(std::vector<ReadPeriod>& periods, std::optional<double> odometer_km, Reading& reading) {
  for (ReadPeriod& period : periods) {
    if (!period.use.is_stated()) continue;
    const std::string pointer = period.value.pointer + (period.use.km ? "/km" : "/running_hours");
    period.value.usage = usage_of(period.use, years_of(period), period.value.duty, pointer, reading);
  }
  const double silent = silent_hours(periods, reading);
  if (odometer_km && !expect_agreement(periods, *odometer_km, silent <= 0.0, reading)) return;
  const bool shared = odometer_km && silent > 0.0;
  if (shared) {
    share_odometer(periods, *odometer_km, silent, reading);
  } else {
    list_full_usage(periods, reading);
  }
  keep_laid_up(periods, reading.library);
  list_speed_if_used(periods, shared, reading);
}

}  // namespace heatside::casefile
