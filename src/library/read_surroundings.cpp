#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "library/read_records.hpp"

/// Zones, climates, duties and eras.

namespace heatside::library {

namespace {

constexpr double week_minutes = 7 * 24 * 60;

// "07:40" to minutes after midnight; below 0 when it is not a time of day.
double time_of_day(const std::string& text) {
  const auto digit = [&](std::size_t i) { return text[i] >= '0' && text[i] <= '9' ? text[i] - '0' : 100; };
  if (text.size() != 5 || text[2] != ':') return -1.0;
  const int hour = 10 * digit(0) + digit(1);
  const int minute = 10 * digit(3) + digit(4);
  return hour < 24 && minute < 60 ? 60.0 * hour + minute : -1.0;
}

std::vector<int> read_days(Fields& fields) {
  std::vector<int> days;
  const Json* list = fields.require("days");
  if (list == nullptr) return days;
  const bool well_formed = list->is_array() && !list->empty() &&
                           std::all_of(list->begin(), list->end(),
                                       [](const Json& day) { return day.is_number_unsigned() && day.get<unsigned>() <= 6; });
  if (!well_formed) {
    fields.complain("days", "expected a list of days, 0 (Monday) to 6 (Sunday)");
    return days;
  }
  for (const Json& day : *list) days.push_back(day.get<int>());
  std::sort(days.begin(), days.end());
  if (std::adjacent_find(days.begin(), days.end()) != days.end()) fields.complain("days", "a day is listed twice");
  return days;
}

WeeklyTrip read_trip(Fields fields) {
  WeeklyTrip trip;
  trip.days = read_days(fields);
  const double start = time_of_day(fields.text("start"));
  if (start < 0.0) fields.complain("start", "expected a time of day as \"HH:MM\"");
  trip.start = Minutes{std::max(start, 0.0)};
  trip.length = Minutes{fields.number("minutes", {1.0, 1440.0, "min"})};
  trip.repeat = static_cast<int>(fields.optional_count("repeat", 1, 1000).value_or(1));
  trip.every = Minutes{fields.optional_number("every_minutes", {1.0, 1440.0, "min"}).value_or(0.0)};
  fields.optional_text("note");
  if (fields.has("repeat") != fields.has("every_minutes"))
    fields.complain("", "repeat and every_minutes come together or not at all");
  if (trip.repeat > 1 && trip.every <= trip.length) fields.complain("every_minutes", "must be longer than the trip itself");
  fields.refuse_unknown();
  return trip;
}

void check_no_overlap(Fields& fields, const std::vector<WeeklyTrip>& trips) {
  std::vector<std::pair<double, double>> drives;
  for (const WeeklyTrip& trip : trips) {
    for (const int day : trip.days) {
      for (int i = 0; i < trip.repeat; ++i) {
        const double start = day * 1440.0 + trip.start.value() + i * trip.every.value();
        drives.emplace_back(start, start + trip.length.value());
      }
    }
  }
  std::sort(drives.begin(), drives.end());
  for (std::size_t i = 0; i + 1 < drives.size(); ++i) {
    if (drives[i].second > drives[i + 1].first) fields.complain("trips", "trips overlap in time");
  }
  if (!drives.empty() && drives.back().second - week_minutes > drives.front().first) {
    fields.complain("trips", "the last trip of the week runs into the first");
  }
}

// A zone that lives from radiation says what radiates, and whose air is left when the radiation is worked out apart.
void read_hot_part(Fields& fields, RecordReader& reader, Zone& zone) {
  zone.air_zone = read_kebab_id(fields, "air_zone");
  reader.run.mentions.push_back({reader.file, fields.pointer("air_zone"), "zone", zone.air_zone});
  Fields surface = fields.object("hot_surface");
  zone.hot_surface.emplace();
  for (std::size_t state = 0; state < running_state_names.size(); ++state) {
    (*zone.hot_surface)[state] = reader.number(surface, running_state_names[state], {"Cel", 0.0, 1000.0});
  }
  surface.optional_text("note");
  surface.refuse_unknown();
}

}  // namespace

Zone read_zone(Fields& fields, RecordReader& reader) {
  Zone zone;
  zone.head = reader.head(fields);
  zone.code = fields.text("code");
  zone.ambient_following = reader.number(fields, "ambient_following", {"1", 0.0, 1.0});
  Fields rises = fields.object("rise");
  for (std::size_t state = 0; state < running_state_names.size(); ++state) {
    zone.rise[state] = reader.number(rises, running_state_names[state], {"K", 0.0, 400.0});
  }
  rises.optional_text("note");
  rises.refuse_unknown();
  zone.soak_peak = reader.number(fields, "soak_peak", {"K", 1.0, 400.0});
  zone.tau_warm = reader.number(fields, "tau_warm", {"min", 0.5, 600.0});
  // Beyond this the exhaust, which cools in 25 min, could not lift the zone to a peak.
  zone.tau_soak_rise = reader.number(fields, "tau_soak_rise", {"min", 0.5, 20.0});
  zone.tau_soak_decay = reader.number(fields, "tau_soak_decay", {"min", 1.0, 6000.0});
  zone.sun_share = reader.number(fields, "sun_share", {"1", 0.0, 1.0});
  zone.radiant = fields.flag("radiant");
  if (zone.radiant) read_hot_part(fields, reader, zone);
  zone.bound = reader.text(fields, "bound");
  const double city = zone.rise[static_cast<std::size_t>(RunningState::city)].value;
  if (zone.soak_peak.value < city) fields.complain("soak_peak", "must not lie below the rise of city driving");
  if (zone.tau_soak_decay.value <= zone.tau_soak_rise.value)
    fields.complain("tau_soak_decay", "must be longer than tau_soak_rise");
  return zone;
}

Climate read_climate(Fields& fields, RecordReader& reader) {
  Climate climate;
  climate.head = reader.head(fields);
  climate.generic = fields.choice("scope", {"generic", "station"}) == "generic";
  climate.place = fields.text("place");
  climate.hemisphere = fields.choice("hemisphere", {"north", "south", "equator"});
  climate.monthly_mean = reader.months(fields, "monthly_mean", {"Cel", -80.0, 60.0}, climate.monthly_mean_from);
  climate.daily_range = reader.months(fields, "daily_range", {"K", 0.0, 50.0}, climate.daily_range_from);
  climate.deviation_sd = reader.months(fields, "deviation_sd", {"K", 0.0, 20.0}, climate.deviation_from);
  climate.relative_humidity = reader.number(fields, "relative_humidity", {"%", 1.0, 100.0});
  Fields sun = fields.object("sun");
  climate.sun_rise = reader.number(sun, "rise", {"K", 0.0, 60.0});
  climate.sun_hours = reader.number(sun, "hours", {"h", 0.0, 24.0});
  sun.optional_text("note");
  sun.refuse_unknown();
  return climate;
}

Duty read_duty(Fields& fields, RecordReader& reader) {
  Duty duty;
  duty.head = reader.head(fields);
  Fields mix = fields.object("running_mix");
  double sum = 0.0;
  for (std::size_t state = 0; state < running_state_names.size(); ++state) {
    duty.running_mix[state] = reader.number(mix, running_state_names[state], {"1", 0.0, 1.0}).value;
    sum += duty.running_mix[state];
  }
  mix.optional_text("note");
  mix.refuse_unknown();
  if (std::abs(sum - 1.0) > 1.0e-9) fields.complain("running_mix", "the shares must sum to 1");
  for (const Fields& element : fields.objects("trips", 0)) duty.trips.push_back(read_trip(element));
  check_no_overlap(fields, duty.trips);
  duty.from = reader.provenance(fields);
  return duty;
}

Era read_era(Fields& fields, RecordReader& reader) {
  Era era;
  era.head = reader.head(fields);
  era.region = fields.text("region");
  for (Fields element : fields.objects("decades", 1)) {
    EraDecade decade;
    decade.from = static_cast<int>(element.count("from", 1850, 2200));
    decade.to = static_cast<int>(element.count("to", 1850, 2200));
    double sum = 0.0;
    for (Fields candidate : element.objects("candidates", 1)) {
      decade.candidates.push_back({candidate.text("insulation"), candidate.number("weight", {0.0, 1.0, ""})});
      reader.run.mentions.push_back(
          {reader.file, candidate.pointer("insulation"), "insulation", decade.candidates.back().insulation});
      sum += decade.candidates.back().weight;
      candidate.optional_text("note");
      candidate.refuse_unknown();
    }
    if (std::abs(sum - 1.0) > 1.0e-9) element.complain("candidates", "the weights must sum to 1");
    decade.provenance = reader.provenance(element);
    element.refuse_unknown();
    era.decades.push_back(std::move(decade));
  }
  return era;
}

}  // namespace heatside::library
