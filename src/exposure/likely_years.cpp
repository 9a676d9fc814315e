#include "heatside/exposure/likely_years.hpp"

#include <array>
#include <cstring>

#include "exposure/sampled_week.hpp"
#include "heatside/exposure/zone_at_score.hpp"

namespace heatside::exposure {

namespace {

// The numbers of a duty one after the other, as they lie in memory: a key that is asked for often, and read by nobody.
std::string schedule_key(const library::Duty& duty) {
  std::string key;
  const auto add = [&](double number) {
    std::array<char, sizeof number> bytes;
    std::memcpy(bytes.data(), &number, sizeof number);
    key.append(bytes.data(), bytes.size());
  };
  for (const double share : duty.running_mix) add(share);
  for (const Drive& drive : weekly_drives(duty)) {
    add(drive.start.value());
    add(drive.length.value());
  }
  return key;
}

const ZoneTrace& week_of(LikelyYears& known, const std::string& zone, const std::string& schedule,
                         const library::Duty& duty) {
  const auto key = std::pair(zone, schedule);
  if (const auto found = known.traces.find(key); found != known.traces.end()) return found->second;
  const TraceConstants constants = trace_constants(known.library.model);
  const library::Zone& record = known.library.zones.at(zone);
  const auto score = known.zone_scores.find(zone);
  const double z = score == known.zone_scores.end() ? 0.0 : score->second;
  const SoakAmplitudes likely = soak_amplitudes(likely_zone_heat(record), constants);
  const std::vector<Drive> drives = schedule.empty() ? std::vector<Drive>{} : weekly_drives(duty);
  ZoneHeat heat = zone_heat_at(record, z);
  heat.tau_soak_decay = heat.tau_soak_decay * known.decay_factor;
  ZoneTrace trace = periodic_week(heat, soak_amplitudes_at(record, likely, z), constants, drives);
  return known.traces.emplace(key, std::move(trace)).first->second;
}

YearOfUse year_of_use(const LikelyYears& known, const std::vector<std::string>& zones, const UseSpan& span) {
  const library::Climate& climate = known.library.climates.at(span.climate);
  YearOfUse use;
  use.days = gauss_days(climate);
  use.running_mix = span.duty.running_mix;
  if (span.sun) use.sun = {KelvinRise{climate.sun_rise.value}, Hours{climate.sun_hours.value}};
  for (const std::string& zone : zones) use.sun_shares.push_back(known.library.zones.at(zone).sun_share.value);
  return use;
}

const SampledWeek& sampled_week_of(LikelyYears& known, const std::string& zone, const std::string& schedule,
                                   const library::Duty& duty, const SunHeat& sun) {
  const auto key = std::tuple(zone, schedule, sun.rise.value() > 0.0 ? sun.length.value() : 0.0);
  const auto found = known.weeks.find(key);
  if (found != known.weeks.end()) return *found->second;
  auto week = std::make_shared<const SampledWeek>(sampled_week(week_of(known, zone, schedule, duty), sun));
  return *known.weeks.emplace(key, std::move(week)).first->second;
}

template <class TemperatureOf>
TemperatureMeasure year_in_zones(LikelyYears& known, const std::vector<std::string>& zones, const std::string& schedule,
                                 const UseSpan& span, const YearOfUse& use, const TemperatureOf& temperature) {
  std::vector<SampledZone> sampled;
  for (const std::string& zone : zones)
    sampled.push_back(
        {week_of(known, zone, schedule, span.duty), sampled_week_of(known, zone, schedule, span.duty, use.sun)});
  return year_of_samples(sampled, use, temperature);
}

TemperatureMeasure year_of_air(LikelyYears& known, const std::string& zone, const UseSpan& span,
                               const std::string& schedule) {
  return year_in_zones(known, {zone}, schedule, span, year_of_use(known, {zone}, span), Temperature{});
}

Temperature likely_source(LikelyYears& known, const LocalHeat& part, const UseSpan& span, const std::string& schedule) {
  if (part.name.empty()) return {};
  const PlaceOfUse key{part.zone, span.climate, schedule, span.sun, part.name};
  if (const auto found = known.sources.find(key); found != known.sources.end()) return found->second;
  const AirRange air = range_of(likely_year(known, part.zone, span, true, nullptr));
  return known.sources.emplace(key, source_temperature(part, air, span.duty.running_mix)).first->second;
}

TemperatureMeasure year_of_spot(LikelyYears& known, const WarmSpot& spot, const UseSpan& span, const std::string& schedule) {
  const std::vector<std::string> zones = zones_of(spot.parts);
  std::vector<Temperature> sources;
  for (const LocalHeat& part : spot.parts) sources.push_back(likely_source(known, part, span, schedule));
  YearOfUse use = year_of_use(known, zones, span);
  use.loaded_share = spot.loaded_share;
  use.memory = memory_of(spot.parts);
  return year_in_zones(known, zones, schedule, span, use, Mixture{zones, spot.parts, sources});
}

}  // namespace

PlaceOfUse place_of_use(const std::string& zone, const UseSpan& span, bool driven, const WarmSpot* spot) {
  const bool runs = driven && !span.duty.trips.empty();
  // A zone that nothing warms follows the ambient, whichever zone it is: its year is shared unless the sun shines on it.
  return {runs || span.sun ? zone : "", span.climate, runs ? schedule_key(span.duty) : "", span.sun,
          runs && spot != nullptr ? spot->name : ""};
}

const ZoneTrace& likely_week(LikelyYears& known, const std::string& zone, const library::Duty& duty) {
  return week_of(known, zone, duty.trips.empty() ? std::string{} : schedule_key(duty), duty);
}

const TemperatureMeasure& likely_year(LikelyYears& known, const std::string& zone, const UseSpan& span, bool driven,
                                      const WarmSpot* spot) {
  const PlaceOfUse place = place_of_use(zone, span, driven, spot);
  if (const auto found = known.years.find(place); found != known.years.end()) return found->second;
  TemperatureMeasure year =
      place.spot.empty() ? year_of_air(known, zone, span, place.schedule) : year_of_spot(known, *spot, span, place.schedule);
  return known.years.emplace(place, std::move(year)).first->second;
}

SourceSamples sample_sources(LikelyYears& known, const std::vector<LocalHeat>& sources, const UseSpan& span,
                             double loaded_share) {
  const std::vector<std::string> zones = zones_of(sources);
  const std::string schedule = schedule_key(span.duty);
  std::vector<Temperature> each;
  for (const LocalHeat& source : sources) {
    LocalHeat alone = source;
    alone.weight = 1.0;
    each.push_back(mixed_temperature_in(zones, {alone}, {likely_source(known, source, span, schedule)}));
  }
  YearOfUse use = year_of_use(known, zones, span);
  DailyCourse mean{Kelvin{1.0}, KelvinRise{0.0}, 1.0};
  double kelvin = 0.0, half = 0.0;
  for (const DailyCourse& day : use.days) {
    kelvin += day.weight * day.mean.value();
    half += day.weight * day.half_range.value();
  }
  mean.mean = Kelvin{kelvin};
  mean.half_range = KelvinRise{half};
  use.days = {mean};
  use.loaded_share = loaded_share;
  use.memory = memory_of(sources);

  SourceSamples samples;
  samples.kelvin.resize(sources.size());
  // The year keeps one number an instant: here the number of the instant, under which the sources' temperatures stand.
  const Temperature note = [&](const Instant& instant, bool loaded) {
    for (std::size_t i = 0; i < each.size(); ++i) samples.kelvin[i].push_back(each[i](instant, loaded));
    return static_cast<double>(samples.kelvin.front().size());
  };
  const TemperatureMeasure numbers = year_in_zones(known, zones, schedule, span, use, note);
  samples.share.assign(samples.kelvin.front().size(), 0.0);
  for (const Nodes& nodes : numbers.by_regime) {
    for (std::size_t i = 0; i < nodes.kelvin.size(); ++i)
      samples.share[static_cast<std::size_t>(nodes.kelvin[i]) - 1] += nodes.share[i];
  }
  return samples;
}

}  // namespace heatside::exposure
