#include <fmt/format.h>

#include <array>
#include <cmath>

#include "base/text.hpp"
#include "casefile/use.hpp"

namespace heatside::casefile {

namespace {

constexpr std::array<std::string_view, 3> parking_names{"open", "shade", "garage"};

// Judgement: most private driving is done between 07:00 and 19:00.
constexpr double first_driving_hour = 7.0;
constexpr double driving_hours_a_day = 12.0;
constexpr double days_a_week = 7.0;

struct OwnTrips {
  std::size_t a_week;
  double minutes;
  std::array<double, 4> running_mix;
};

std::array<double, 4> read_running_mix(Fields mix, Reading& reading) {
  const std::size_t before = reading.problems.size();
  std::vector<double> parts;
  for (const std::string_view state : library::running_state_names) parts.push_back(mix.number(state, {0.0, 1.0, ""}));
  mix.refuse_unknown();
  if (reading.problems.size() == before) expect_whole(parts, mix.pointer(), "the shares of the running mix", reading);
  return {parts[0], parts[1], parts[2], parts[3]};
}

std::optional<OwnTrips> read_own_trips(Fields trips, Reading& reading) {
  const std::size_t before = reading.problems.size();
  OwnTrips own{};
  own.a_week = trips.count("trips_per_week", 1, 400);
  own.minutes = trips.number("trip_minutes", {1.0, 1440.0, "min"});
  if (trips.require("running_mix") != nullptr) own.running_mix = read_running_mix(trips.object("running_mix"), reading);
  trips.refuse_unknown();
  if (reading.problems.size() != before) return std::nullopt;

  const double spacing = days_a_week * driving_hours_a_day * 60.0 / static_cast<double>(own.a_week);
  if (own.minutes <= spacing) return own;
  trips.complain("trip_minutes", fmt::format("{} trips a week leave {} min for each, from one start to the next; {} min "
                                             "are too long",
                                             own.a_week, plain_number(spacing, 4), plain_number(own.minutes)));
  return std::nullopt;
}

library::WeeklyTrip evenly_placed_trip(const OwnTrips& own, std::size_t index) {
  const double part = (static_cast<double>(index) + 0.5) / static_cast<double>(own.a_week);
  const double driving_hour = part * days_a_week * driving_hours_a_day;
  const double day = std::floor(driving_hour / driving_hours_a_day);
  library::WeeklyTrip trip;
  trip.days = {static_cast<int>(day)};
  trip.start = minutes(Hours{first_driving_hour + driving_hour - day * driving_hours_a_day});
  trip.length = Minutes{own.minutes};
  return trip;
}

library::Duty duty_of(const OwnTrips& own) {
  library::Duty duty;
  duty.head.id = "own-trips";
  duty.head.name = fmt::format("{} trips of {} min a week", own.a_week, plain_number(own.minutes));
  duty.running_mix = own.running_mix;
  for (std::size_t i = 0; i < own.a_week; ++i) duty.trips.push_back(evenly_placed_trip(own, i));
  duty.from.grade = Grade::judgement;
  duty.from.note = "Number, length and running mix as the case states them, spread evenly over the week.";
  return duty;
}

}  // namespace

std::optional<DutyChoice> read_duty(Fields& fields, Reading& reading) {
  const Json* duty = fields.require("duty");
  if (duty == nullptr) return std::nullopt;
  if (duty->is_object()) {
    const std::optional<OwnTrips> own = read_own_trips(fields.object("duty"), reading);
    if (!own) return std::nullopt;
    reading.assume(fields.pointer("duty"), fmt::format("the {} trips a week are spread evenly over 07:00 to 19:00 of all "
                                                       "days; name a duty record if one fits better",
                                                       own->a_week));
    return DutyChoice{duty_of(*own)};
  }
  if (!duty->is_string()) {
    fields.complain("duty", fmt::format("expected the id of a duty or an object with \"trips_per_week\", "
                                        "\"trip_minutes\" and \"running_mix\", found {}",
                                        describe_type(*duty)));
    return std::nullopt;
  }
  std::string id = read_record_id(fields, "duty", "duty", reading.library.duties);
  return id.empty() ? std::nullopt : std::optional{DutyChoice{std::move(id)}};
}

std::optional<Parking> read_parking(Fields& fields) {
  const auto word = fields.optional_choice("parking", {parking_names.begin(), parking_names.end()});
  if (!word) return std::nullopt;
  return *word == "open" ? Parking::open : *word == "shade" ? Parking::shade : Parking::garage;
}

std::string_view name_of(Parking parking) { return parking_names.at(static_cast<std::size_t>(parking)); }

StatedUse read_stated_use(Fields& fields, std::string_view km, std::string_view hours) {
  StatedUse use;
  use.km = fields.optional_number(km, {0.0, 3.0e6, "km"});
  use.running_hours = fields.optional_number(hours, {0.0, 3.0e5, "h"});
  if (use.is_stated() && use.km.has_value() == use.running_hours.has_value()) {
    fields.complain("", fmt::format("\"{}\" and \"{}\" say the same thing twice; keep one", km, hours));
  }
  return use;
}

}  // namespace heatside::casefile
