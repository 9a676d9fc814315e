#include "heatside/exposure/use.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace heatside::exposure {

namespace {

using casefile::Case;
using casefile::Parking;

library::Duty duty_of(const casefile::DutyChoice& choice, const library::Library& library) {
  if (const auto* own = std::get_if<library::Duty>(&choice)) return *own;
  return library.duties.at(std::get<std::string>(choice));
}

UseSpan laid_up(std::chrono::sys_days from, std::chrono::sys_days to, const std::string& climate) {
  return {from, to, climate, {}, 0.0, false};
}

std::string schedule_text(const library::Duty& duty) {
  std::string text =
      fmt::format("{:a} {:a} {:a} {:a}", duty.running_mix[0], duty.running_mix[1], duty.running_mix[2], duty.running_mix[3]);
  for (const Drive& drive : weekly_drives(duty))
    text += fmt::format(" {:a}+{:a}", drive.start.value(), drive.length.value());
  return text;
}

}  // namespace

std::vector<UseSpan> past_use(const Case& job, const casefile::Loom& loom, const library::Library& library) {
  const auto end = job.inspected.day;
  const auto fitted = std::min(loom.fitted.day, end);
  const auto made = std::min(loom.made.day, fitted);
  std::vector<UseSpan> spans;
  auto reached = made;
  const auto rest_until = [&](std::chrono::sys_days day, const std::string& climate) {
    // Cut at the fitting, so that what is counted since then can be told apart.
    for (const auto end_of_rest : {std::min(day, fitted), day}) {
      if (end_of_rest <= reached) continue;
      spans.push_back(laid_up(reached, end_of_rest, climate));
      reached = end_of_rest;
    }
  };

  std::string climate = job.service.front().climate;
  for (const casefile::ServicePeriod& period : job.service) {
    const auto from = std::max(period.from.day, fitted);
    const auto to = std::min(period.to.day, end);
    // On the shelf a part waits in the climate that it will serve in.
    if (reached < fitted && period.to.day > fitted) climate = period.climate;
    if (period.to.day <= fitted) climate = period.climate;
    if (from >= to) continue;
    rest_until(from, climate);
    spans.push_back(
        {from, to, period.climate, duty_of(period.duty, library), period.usage, period.parking == Parking::open});
    reached = to;
    climate = period.climate;
  }
  rest_until(end, climate);
  return spans;
}

UseSpan future_use(const Case& job, const library::Library& library) {
  const casefile::FutureUse& future = job.future;
  return {job.inspected.day, job.inspected.day,
          future.climate,    duty_of(future.duty, library),
          future.usage,      future.parking == Parking::open};
}

PlaceOfUse place_of_use(const std::string& zone, const UseSpan& span, bool driven, const WireOfUse* wire) {
  const bool runs = driven && !span.duty.trips.empty();
  // A zone that nothing warms follows the ambient, whichever zone it is: its year is shared unless the sun shines on it.
  return {runs || span.sun ? zone : "", span.climate, runs ? schedule_text(span.duty) : "", span.sun,
          runs && wire != nullptr ? wire->name : ""};
}

namespace {

TemperatureMeasure year_in_zone(const library::Library& library, const std::string& zone, const UseSpan& span, bool runs,
                                const PlacedWire* wire, AirRange air) {
  const library::Zone& record = library.zones.at(zone);
  const library::Climate& climate = library.climates.at(span.climate);
  const TraceConstants constants = trace_constants(library.model);
  const ZoneHeat heat = likely_zone_heat(record);
  const std::vector<Drive> drives = runs ? weekly_drives(span.duty) : std::vector<Drive>{};
  const ZoneTrace trace = periodic_week(heat, soak_amplitudes(heat, constants), constants, drives);
  YearOfUse use{days_of_year(climate), span.duty.running_mix, {}, {record.sun_share.value}, 0.0};
  if (span.sun) use.sun = {KelvinRise{climate.sun_rise.value}, Hours{climate.sun_hours.value}};
  if (wire == nullptr) return year_of({trace}, use, {});
  use.loaded_share = wire->loaded_share;
  return year_of({trace}, use, insulation_temperature(*wire, air));
}

}  // namespace

const TemperatureMeasure& likely_year(YearsByPlace& years, const library::Library& library, const std::string& zone,
                                      const UseSpan& span, bool driven, const WireOfUse* wire) {
  const PlaceOfUse place = place_of_use(zone, span, driven, wire);
  if (const auto known = years.find(place); known != years.end()) return known->second;
  const bool runs = !place.schedule.empty();
  if (place.wire.empty()) {
    return years.emplace(place, year_in_zone(library, zone, span, runs, nullptr, {})).first->second;
  }
  const AirRange air = range_of(likely_year(years, library, zone, span, driven, nullptr));
  return years.emplace(place, year_in_zone(library, zone, span, runs, &wire->wire, air)).first->second;
}

}  // namespace heatside::exposure
