#include <fmt/format.h>

#include <cmath>

#include "base/text.hpp"
#include "casefile/dates.hpp"
#include "casefile/remedies.hpp"
#include "casefile/use.hpp"

/// The life of a used part in the vehicle that it came from.

namespace heatside::casefile {

namespace {

constexpr double days_a_year = 365.25;

// Judgement: standard deviations of the logarithm of wear, from what is not known of a donor. They add as squares.
constexpr double all_known = 0.15;
constexpr double years_not_known = 0.6;
constexpr double end_not_known = 0.3;
constexpr double climate_not_known = 0.3;
constexpr double duty_not_known = 0.3;
constexpr double use_not_known = 0.25;
constexpr double parking_not_known = 0.1;

struct Donor {
  Fields fields;
  PartDates part;
  std::vector<std::string> assumed{};
  double variance = all_known * all_known;

  void assume(std::string what, double ln_sd) {
    assumed.push_back(std::move(what));
    variance += ln_sd * ln_sd;
  }
};

Date moved(const Date& date, double years) {
  return exact_date(date.day + std::chrono::days{std::lround(years * days_a_year)});
}

struct StatedTime {
  std::optional<Date> from, to;
  std::optional<double> years;
};

std::optional<StatedTime> read_time(Donor& donor, Reading& reading) {
  const std::size_t before = reading.problems.size();
  StatedTime time;
  time.from = read_optional_date(donor.fields, "from", reading);
  time.to = read_optional_date(donor.fields, "to", reading);
  time.years = donor.fields.optional_number("years", {0.01, 120.0, "a"});
  if (time.from && time.to && time.years) {
    donor.fields.complain("years", "\"from\" and \"to\" say it already; keep two of the three");
  }
  return reading.problems.size() == before ? std::optional{time} : std::nullopt;
}

Date end_of(const StatedTime& time, Donor& donor) {
  if (time.to) return *time.to;
  if (time.from && time.years) return moved(*time.from, *time.years);
  const Date& fitted = *donor.part.fitted;
  // With the years stated only the calendar is open, which hardly moves the wear.
  donor.assume(fmt::format("in use there until {}", format_date_as_known(fitted)), time.from ? end_not_known : 0.0);
  return fitted;
}

Date start_of(const StatedTime& time, const Date& to, Donor& donor, const Reading& reading) {
  if (time.from) return *time.from;
  if (time.years) return moved(to, -*time.years);
  const Date& start = donor.part.made ? *donor.part.made : *reading.entered_service;
  const Date from = start.day < to.day ? start : moved(to, -1.0);
  donor.assume(fmt::format("in use there since {} ({})", format_date_as_known(from),
                           donor.part.made ? "when it was made" : "as this vehicle is"),
               years_not_known);
  return from;
}

void settle_time(const StatedTime& time, PartPast& past, Donor& donor, Reading& reading) {
  const std::string& pointer = donor.fields.pointer();
  std::optional<Date> to = end_of(time, donor), from = start_of(time, *to, donor, reading);
  std::optional<Date> made = donor.part.made, fitted = donor.part.fitted;
  const std::string at = time.from ? "/from" : time.years ? "/years" : "/to";
  const std::size_t before = reading.problems.size();
  expect_order(from, to, pointer + at, "it came out of the donor before it went in", reading);
  if (made && certainly_after(*made, *from)) {
    reading.complain(pointer + at, fmt::format("in use from {}, before it was made at {}", format_date_as_known(*from),
                                               format_date_as_known(*made)));
  }
  if (certainly_after(*to, *fitted)) {
    reading.complain(pointer + (time.to ? "/to" : at),
                     fmt::format("in use there until {}, after {}, when it can be fitted here", format_date_as_known(*to),
                                 format_date_as_known(*fitted)));
  }
  if (reading.problems.size() != before) return;
  if (from->day >= to->day)
    reading.complain(pointer + at, "no days are left in the donor; write its dates to the month or day");
  past.from = *from;
  past.to = *to;
}

void read_surroundings(PartPast& past, Donor& donor, Reading& reading) {
  const ServicePeriod* here = reading.result.service.empty() ? nullptr : &reading.result.service.back();
  if (donor.fields.find("climate") != nullptr) {
    past.climate = read_record_id(donor.fields, "climate", "climate", reading.library.climates);
  } else if (here != nullptr) {
    past.climate = here->climate;
    donor.assume(fmt::format("climate {}", past.climate), climate_not_known);
  }
  const std::optional<Parking> parking = read_parking(donor.fields);
  past.parking = parking ? *parking : here != nullptr ? here->parking : Parking::shade;
  if (!parking)
    donor.assume(fmt::format("parked {}", past.parking == Parking::open ? "in the open" : "out of the sun"),
                 parking_not_known);
}

bool read_duty_there(PartPast& past, Donor& donor, Reading& reading) {
  if (donor.fields.find("duty") != nullptr) {
    std::optional<DutyChoice> duty = read_duty(donor.fields, reading);
    if (duty) past.duty = *std::move(duty);
    return duty.has_value();
  }
  if (reading.result.service.empty()) return false;
  past.duty = reading.result.service.back().duty;
  donor.assume("driven as here in the last service period", duty_not_known);
  return true;
}

void read_use(PartPast& past, bool time_and_duty_known, Donor& donor, Reading& reading) {
  const std::optional<double> usage = donor.fields.optional_number("usage", {0.0, 3.0, ""});
  const std::optional<double> km = donor.fields.optional_number("km", {0.0, 3.0e6, "km"});
  if (usage && km) {
    donor.fields.complain("", "\"km\" and \"usage\" say the same thing twice; keep one");
  } else if (usage) {
    past.usage = *usage;
  } else if (!km) {
    donor.assume("as much as its duty says", use_not_known);
  } else if (time_and_duty_known) {
    const double years = years_between(past.from.day, past.to.day).value();
    past.usage = usage_of({km, std::nullopt}, years, past.duty, donor.fields.pointer("km"), reading);
  }
}

void list_spread(const PartPast& past, const Donor& donor, Reading& reading) {
  constexpr double ninety_percent = 1.645;
  const std::string known = fmt::format("the wear of the part in its donor is known to a factor of {} either way",
                                        plain_number(std::exp(ninety_percent * past.ln_sd), 2));
  reading.assume(donor.fields.pointer(), donor.assumed.empty()
                                             ? known
                                             : fmt::format("not known of its donor and taken so: {}; {}; ask the seller",
                                                           join(donor.assumed), known));
}

}  // namespace

PartPast read_donor(Fields& part, const PartDates& dates, Reading& reading) {
  static const Json nothing = Json::object();
  const std::size_t before = reading.problems.size();
  std::optional<Fields> stated = part.optional_object("donor");
  Donor donor{stated ? *stated : Fields{nothing, part.pointer("donor"), reading.file, reading.problems}, dates};
  PartPast past;
  const std::optional<StatedTime> time = read_time(donor, reading);
  const bool dates_are_sound = dates.fitted && reading.entered_service;
  if (time && dates_are_sound) settle_time(*time, past, donor, reading);
  const bool time_known = time && dates_are_sound && past.from.day < past.to.day;
  read_surroundings(past, donor, reading);
  const bool duty_known = read_duty_there(past, donor, reading);
  read_use(past, time_known && duty_known, donor, reading);
  donor.fields.optional_text("note");
  donor.fields.refuse_unknown();
  past.ln_sd = std::sqrt(donor.variance);
  if (reading.problems.size() == before) list_spread(past, donor, reading);
  return past;
}

}  // namespace heatside::casefile
