#include "heatside/exposure/zone_reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

#include "base/text.hpp"

namespace heatside::exposure {

namespace {

using casefile::Measured;
using library::ModelConstants;
using library::RunningState;

constexpr Minutes at_once{0.0};
const TraceState warm_engine{1.0, 1.0, 1.0};

ZoneTrace trace_at(const ZoneLaw& law, double z) {
  return {zone_heat_at(*law.record, z), soak_amplitudes_at(*law.record, law.soak_at_likely, z), law.constants, {}};
}

TraceState running_for(const ZoneTrace& trace, Minutes time) { return state_at(trace, {at_once, time, true, {}}, time); }

TraceState stopped_for(const ZoneTrace& trace, const TraceState& from, Minutes time) {
  return state_at(trace, {at_once, time, false, from}, time);
}

KelvinRise rise_of(const ZoneTrace& trace, const TraceState& state, Kelvin ambient, RunningState driving) {
  return rise_above_ambient(trace, state, {ambient, KelvinRise{0.0}, 1.0},
                            trace.heat.rise[static_cast<std::size_t>(driving)]);
}

TraceState mean_of(const std::vector<TraceState>& states) {
  TraceState mean;
  const double share = 1.0 / static_cast<double>(states.size());
  for (const TraceState& state : states) {
    mean.engine += share * state.engine;
    mean.exhaust += share * state.exhaust;
    mean.running += share * state.running;
    mean.by_engine += share * state.by_engine;
    mean.by_exhaust += share * state.by_exhaust;
  }
  return mean;  // under a constant ambient the day's cosine has no part
}

// An instant, or many, of one drive; the state a little later says how much a wrong time matters.
struct Look {
  std::string words;
  Kelvin temperature{ice_point_kelvin};
  RunningState driving = RunningState::city;
  bool running = false;
  bool timed = true;  // a stated time has an error
  std::function<TraceState(const ZoneTrace&, Minutes later)> state;
  KelvinRise further_sd{0.0};
};

Look spot_look(const casefile::SpotReading& spot) {
  Look look;
  look.temperature = spot.temperature;
  look.running = spot.running.has_value();
  look.driving = spot.running.value_or(RunningState::city);
  const std::string_view state = library::running_state_names[static_cast<std::size_t>(look.driving)];
  if (spot.since_key_on) {
    look.words = fmt::format("{}, {} min after a cold start", state, plain_number(spot.since_key_on->value(), 4));
    look.state = [since = *spot.since_key_on](const ZoneTrace& trace, Minutes later) {
      return running_for(trace, since + later);
    };
  } else if (look.running) {
    look.words = fmt::format("{}, engine warm", state);
    look.timed = false;
    look.state = [](const ZoneTrace&, Minutes) { return warm_engine; };
  } else {
    look.words = fmt::format("{} min after key-off", plain_number(spot.since_key_off->value(), 4));
    look.state = [since = *spot.since_key_off](const ZoneTrace& trace, Minutes later) {
      return stopped_for(trace, warm_engine, since + later);
    };
  }
  return look;
}

// When a zone that was warm from city driving is hottest.
Minutes time_of_peak(const ZoneTrace& trace, Kelvin ambient) {
  constexpr double step = 0.25, latest = 240.0;  // [min]
  double best = -1.0e9, when = 0.0;
  for (double t = 0.0; t <= latest; t += step) {
    const double rise = rise_of(trace, stopped_for(trace, warm_engine, Minutes{t}), ambient, RunningState::city).value();
    if (rise <= best) continue;
    best = rise;
    when = t;
  }
  return Minutes{when};
}

Look peak_look(const casefile::PeakReading& peak, Kelvin ambient, const ModelConstants::Measurement& model) {
  Look look;
  look.words = "highest of a drive and its soak";
  look.temperature = peak.temperature;
  look.running = true;  // with its current, if there is one
  look.timed = false;
  if (!peak.days || *peak.days > model.long_stay.value) look.further_sd = KelvinRise{model.long_stay_sd.value};
  look.state = [ambient](const ZoneTrace& trace, Minutes) {
    return stopped_for(trace, warm_engine, time_of_peak(trace, ambient));
  };
  return look;
}

std::vector<casefile::LoggedTemperature> rows_between(const casefile::LoggerReading& logger, std::optional<Minutes> after,
                                                      std::optional<Minutes> until) {
  std::vector<casefile::LoggedTemperature> rows;
  for (const casefile::LoggedTemperature& row : logger.rows) {
    if ((!after || row.at > *after) && (!until || row.at <= *until)) rows.push_back(row);
  }
  return rows;
}

Kelvin mean_temperature(const std::vector<casefile::LoggedTemperature>& rows) {
  double sum = 0.0;
  for (const casefile::LoggedTemperature& row : rows) sum += row.temperature.value();
  return Kelvin{sum / static_cast<double>(rows.size())};
}

Look rows_look(const casefile::LoggerReading& logger, std::vector<casefile::LoggedTemperature> rows, bool running) {
  Look look;
  look.words = fmt::format("{}, mean of {} rows {}", logger.file, rows.size(), running ? "while driving" : "after key-off");
  look.temperature = mean_temperature(rows);
  look.driving = logger.driving;
  look.running = running;
  look.timed = !running || logger.key_on.has_value();
  look.state = [logger, rows = std::move(rows), running](const ZoneTrace& trace, Minutes later) {
    std::vector<TraceState> states;
    const TraceState before =
        logger.key_on && logger.key_off ? running_for(trace, *logger.key_off - *logger.key_on) : warm_engine;
    for (const casefile::LoggedTemperature& row : rows) {
      if (running) {
        states.push_back(logger.key_on ? running_for(trace, row.at - *logger.key_on + later) : warm_engine);
      } else {
        states.push_back(stopped_for(trace, before, row.at - *logger.key_off + later));
      }
    }
    return mean_of(states);
  };
  return look;
}

std::vector<Look> logger_looks(const casefile::LoggerReading& logger, const ModelConstants::Measurement& model) {
  std::vector<Look> looks;
  std::vector<casefile::LoggedTemperature> driving;
  if (logger.key_on) {
    driving = rows_between(logger, *logger.key_on + Minutes{model.warm_after.value}, logger.key_off);
  }
  if (driving.empty()) driving = rows_between(logger, logger.key_on, logger.key_off);
  if (!driving.empty()) looks.push_back(rows_look(logger, std::move(driving), true));
  if (!logger.key_off) return looks;
  auto soak = rows_between(logger, logger.key_off, *logger.key_off + Minutes{model.soak_window.value});
  if (!soak.empty()) looks.push_back(rows_look(logger, std::move(soak), false));
  return looks;
}

std::vector<Look> looks_of(const Measured& measured, const ModelConstants::Measurement& model) {
  if (const auto* logger = std::get_if<casefile::LoggerReading>(&measured.reading)) return logger_looks(*logger, model);
  if (const auto* peak = std::get_if<casefile::PeakReading>(&measured.reading)) {
    return {peak_look(*peak, measured.ambient, model)};
  }
  const auto& spot = std::get<casefile::SpotReading>(measured.reading);
  if (!spot.running && !spot.since_key_off) return {};
  return {spot_look(spot)};
}

double instrument_sd(casefile::Instrument instrument, const ModelConstants::Measurement& model) {
  switch (instrument) {
    case casefile::Instrument::contact:
      return model.contact_sd.value;
    case casefile::Instrument::indicator:
      return model.indicator_sd.value;
    case casefile::Instrument::logger:
      return model.logger_sd.value;
    case casefile::Instrument::infrared:
      break;
  }
  return model.infrared_sd.value;
}

void set_errors(ZoneReading& reading, const Measured& measured, const Look& look, const ZoneTrace& trace,
                const ModelConstants::Measurement& model) {
  const double open = measured.bonnet_open ? model.open_bonnet_loss.value : 0.0;
  const double shiny = measured.shiny ? model.shiny_loss.value : 0.0;
  reading.seen_share = (1.0 - open) * (1.0 - shiny);
  const double rise = rise_of(trace, reading.state, measured.ambient, look.driving).value();
  const double later = rise_of(trace, look.state(trace, Minutes{1.0}), measured.ambient, look.driving).value();
  const double seen = std::abs(reading.seen_share * rise);
  const double of_time = look.timed ? model.time_sd.value * reading.seen_share * (later - rise) : 0.0;
  const double of_bonnet = measured.bonnet_open ? *model.open_bonnet_loss.sd * (1.0 - shiny) * rise : 0.0;
  const double of_shine = measured.shiny ? *model.shiny_loss.sd * (1.0 - open) * rise : 0.0;
  const double of_state = model.state_share.value * seen;
  const double of_instrument = instrument_sd(measured.instrument, model);
  const double further = look.further_sd.value();
  reading.own_sd = KelvinRise{std::sqrt(of_instrument * of_instrument + of_state * of_state + of_time * of_time +
                                        of_bonnet * of_bonnet + of_shine * of_shine + further * further)};
  reading.zone_sd = KelvinRise{model.day_share.value * seen + model.day_floor.value};
}

bool carries_current(const casefile::Segment& segment) {
  return std::any_of(segment.groups.begin(), segment.groups.end(), [](const casefile::WireGroup& group) {
    return group.current && group.current->value() > 0.0 && group.loaded > 0;
  });
}

// What one entry of the case adds to the readings.
class Entry {
 public:
  Entry(const casefile::Case& job, std::size_t index, const library::Library& library, ZoneReadings& result)
      : measured_{job.measured[index]},
        index_{index},
        segment_{*casefile::find_by_id(job.segments, measured_.segment)},
        stretch_{*casefile::find_by_id(segment_.stretches, measured_.stretch)},
        model_{library.model},
        law_{zone_law(library.zones.at(stretch_.zone), library.model)},
        result_{result} {}

  void read() {
    if (!stretch_.hot_bodies.empty()) {
      note(
          "measured beside a hot body: it tells of that body's radiation, which is worked out by itself, and not of the "
          "air; left out");
      return;
    }
    const std::vector<Look> looks = looks_of(measured_, model_.measurement);
    if (looks.empty()) note("says nothing about the zone without minutes since key-off or rows of a drive; left out");
    for (const Look& look : looks) add(look);
    note_long_stay();
  }

 private:
  void note(std::string text) { result_.assumptions.push_back({measured_.pointer, std::move(text), Grade::judgement}); }

  void add(const Look& look) {
    const ZoneTrace trace = trace_at(law_, 0.0);
    ZoneReading reading;
    reading.measured = index_;
    reading.zone = stretch_.zone;
    reading.instant = look.words;
    reading.temperature = look.temperature;
    reading.ambient = measured_.ambient;
    reading.driving = look.driving;
    reading.state = look.state(trace, at_once);
    set_errors(reading, measured_, look, trace, model_.measurement);
    if (look.running && carries_current(segment_)) double_errors(reading);
    result_.readings.push_back(std::move(reading));
  }

  void double_errors(ZoneReading& reading) {
    const double factor = model_.measurement.loaded_factor.value;
    reading.own_sd = reading.own_sd * factor;
    reading.zone_sd = reading.zone_sd * factor;
    note(fmt::format("wires of {} carry a current, so that this may be warmer than the air: its spread counts {} times",
                     segment_.id, plain_number(factor, 3)));
  }

  void note_long_stay() {
    const auto* peak = std::get_if<casefile::PeakReading>(&measured_.reading);
    if (peak == nullptr || peak->days) return;
    note(fmt::format(
        "the indicator was in place for more than {} days, so that it saw hotter ones than {} Cel; write \"days\"",
        plain_number(model_.measurement.long_stay.value, 3), plain_number(in_celsius(measured_.ambient), 3)));
  }

  const Measured& measured_;
  std::size_t index_;
  const casefile::Segment& segment_;
  const casefile::Stretch& stretch_;
  const ModelConstants& model_;
  ZoneLaw law_;
  ZoneReadings& result_;
};

}  // namespace

ZoneLaw zone_law(const library::Zone& zone, const library::ModelConstants& model) {
  const TraceConstants constants = trace_constants(model);
  return {&zone, soak_amplitudes(likely_zone_heat(zone), constants), constants};
}

Kelvin predicted_reading(const ZoneReading& reading, const ZoneLaw& law, double z) {
  const KelvinRise rise = rise_of(trace_at(law, z), reading.state, reading.ambient, reading.driving);
  return reading.ambient + rise * reading.seen_share;
}

ZoneReadings zone_readings(const casefile::Case& job, const library::Library& library) {
  ZoneReadings result;
  for (std::size_t i = 0; i < job.measured.size(); ++i) Entry{job, i, library, result}.read();
  return result;
}

}  // namespace heatside::exposure
