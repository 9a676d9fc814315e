#include "report/record_sheets.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/strict_json.hpp"
#include "base/text.hpp"
#include "heatside/ageing/arrhenius.hpp"
#include "report/layout.hpp"

namespace heatside::report {

using namespace library;

namespace {

std::string unit_text(const Sourced& number) { return number.unit == "1" ? "" : " " + number.unit; }

// "95 kJ/mol (85 to 110, sd 10) [published, source-id]"
std::string number_text(const Sourced& number) {
  std::string text = plain_number(number.value) + unit_text(number);
  std::vector<std::string> spread;
  if (number.low) spread.push_back(plain_number(*number.low) + " to " + plain_number(*number.high));
  if (number.sd) spread.push_back("sd " + plain_number(*number.sd));
  if (!spread.empty()) text += " (" + join(spread) + ")";
  text += fmt::format(" [{}, {}]", name_of(number.from.grade), number.from.source);
  return number.from.note.empty() ? text : text + " " + number.from.note;
}

// Collects the lines of a record and the sources they name.
class Sheet {
 public:
  explicit Sheet(const RecordHead& head, std::string_view kind) {
    text_ = wrapped(fmt::format("{} - {} ({})", head.id, head.name, kind), "");
    if (!head.note.empty()) text_ += wrapped(head.note, "  ");
  }

  void line(std::string_view label, std::string_view value) {
    text_ += wrapped(value, fitted(label, label_width - 1) + " ");
  }
  void number(std::string_view label, const Sourced& value) {
    line(label, number_text(value));
    cite(value.from);
  }
  void sentence(std::string_view label, const SourcedText& value) {
    line(label, fmt::format("{} [{}, {}]", value.text, name_of(value.from.grade), value.from.source));
    cite(value.from);
  }
  void cite(const Provenance& from) {
    if (!from.source.empty() && std::find(sources_.begin(), sources_.end(), from.source) == sources_.end()) {
      sources_.push_back(from.source);
    }
  }

  const std::string& text() const { return text_; }

  std::string finish(const Library& library) {
    text_ += "Sources:\n";
    for (const std::string& id : sources_) {
      const Source& source = library.sources.at(id);
      const std::string where = source.where.empty() ? "" : ", " + source.where;
      const std::string note = source.note.empty() ? "" : " " + source.note;
      text_ += wrapped(fmt::format("{}: {}{} (read: {}).{}", id, source.citation, where, source.read, note), "  ");
    }
    return text_;
  }

 private:
  static constexpr std::size_t label_width = 26;
  std::string text_;
  std::vector<std::string> sources_;
};

std::string path_label(const AgeingPath& path) { return "  path " + path.id; }

void add_paths(Sheet& sheet, const std::vector<AgeingPath>& paths) {
  static const std::array<std::string_view, 4> kinds{"oxidation", "plasticiser loss", "dehydrochlorination", "hydrolysis"};
  for (const AgeingPath& path : paths) {
    sheet.line(path_label(path), kinds[static_cast<std::size_t>(path.kind)]);
    sheet.number("    activation energy", path.activation_energy);
    if (path.kind == PathKind::hydrolysis) {
      sheet.number("    at", *path.wet_temperature);
      sheet.number("    humidity", *path.wet_humidity);
      sheet.number("    hours there", *path.wet_hours);
      sheet.number("    humidity exponent", *path.humidity_exponent);
    } else {
      sheet.number("    share", path.share);
    }
    if (path.reference_wall) sheet.number("    reference wall", *path.reference_wall);
  }
}

// Temperature indices only where one path makes the life line a straight one.
void add_indices(Sheet& sheet, const Insulation& record) {
  if (record.paths.size() != 1) return;
  const ageing::ThermalLifePoint point{celsius(record.life_temperature.value), Hours{record.life_hours.value}};
  const JoulePerMole energy = kilojoule_per_mole(record.paths.front().activation_energy.value);
  const Kelvin index = ageing::temperature_for_life(point, energy, Hours{20000.0});
  const KelvinRise interval = ageing::halving_interval(index, energy);
  sheet.line("temperature index",
             fmt::format("{:.0f} Cel for 20 000 h, halving interval {:.1f} K (computed from the two above; "
                         "IEC 60216-1 defines both)",
                         in_celsius(index), interval.value()));
}

void add_opening(Sheet& sheet, const ModelConstants::Opening& opening) {
  sheet.number("money per minute of work", opening.minute_rate);
  sheet.number("to open a segment", opening.minutes_to_open);
  sheet.number("  share of its cover", opening.cover_share);
  sheet.number("a loom, fitted", opening.loom_cost);
  sheet.number("a bare-wire fault", opening.fault_cost);
  sheet.number("  chance, stiff", opening.fault_stiff);
  sheet.number("  chance, flex-cracks", opening.fault_flex_cracks);
  sheet.number("  chance, cracked", opening.fault_cracked);
  sheet.number("  chance, crumbling", opening.fault_crumbling);
  sheet.number("  within", opening.fault_years);
  sheet.number("opening breaks it, stiff", opening.break_stiff);
  sheet.number("  flex-cracks", opening.break_flex_cracks);
  sheet.number("  cracked", opening.break_cracked);
  sheet.number("  crumbling", opening.break_crumbling);
  sheet.number("  costs", opening.break_cost);
  sheet.number("breaks a latch or seal", opening.latch_chance);
  sheet.number("  costs", opening.latch_cost);
}

void add_measurement(Sheet& sheet, const ModelConstants::Measurement& measurement) {
  sheet.number("sd, infrared", measurement.infrared_sd);
  sheet.number("sd, contact", measurement.contact_sd);
  sheet.number("sd, indicator", measurement.indicator_sd);
  sheet.number("sd, logger", measurement.logger_sd);
  sheet.number("sd of a day, of rise", measurement.day_share);
  sheet.number("  and whatever the rise", measurement.day_floor);
  sheet.number("sd of a state, of rise", measurement.state_share);
  sheet.number("sd of a stated time", measurement.time_sd);
  sheet.number("open bonnet takes", measurement.open_bonnet_loss);
  sheet.number("shiny surface hides", measurement.shiny_loss);
  sheet.number("factor with own current", measurement.loaded_factor);
  sheet.number("indicator stays long from", measurement.long_stay);
  sheet.number("  sd of its hottest day", measurement.long_stay_sd);
  sheet.number("logger, driving after", measurement.warm_after);
  sheet.number("logger, soak until", measurement.soak_window);
  sheet.number("doubtful beyond, in sd", measurement.doubtful_beyond);
}

void add_row(Sheet& sheet, std::string_view label, const ChanceRow& row) {
  std::vector<std::string> words;
  for (const double chance : row.chance) words.push_back(plain_number(chance));
  sheet.line(label,
             fmt::format("{} [{}, {}] {}", join(words, " / "), name_of(row.from.grade), row.from.source, row.from.note));
  sheet.cite(row.from);
}

void add_evidence(Sheet& sheet, const LookTable& table) {
  sheet.line("chance of being named", "supple / stiff / flex-cracks / cracked / crumbling, where it is truly");
  for (std::size_t i = 0; i < table.seen.size(); ++i) add_row(sheet, fmt::format("  {}", seen_names[i]), table.seen[i]);
}

void add_evidence(Sheet& sheet, const BendTest& test) {
  sheet.number("round, in diameters", test.diameters);
  add_row(sheet, "cracks there if", test.cracks);
  sheet.line("", "supple / stiff / flex-cracks / cracked / crumbling");
  sheet.number("spread of ln strain", test.strain_ln_sd);
}

void add_evidence(Sheet& sheet, const ElongationTest& test) {
  sheet.number("error, of the reading", test.error_share);
  sheet.number("error, at least", test.error_floor);
}

void add_evidence(Sheet& sheet, const ResistanceReading& reading) {
  sheet.number("high from", reading.high_from);
  add_row(sheet, "reads high if", reading.high);
  sheet.line("", "supple / stiff / flex-cracks / cracked / crumbling");
}

std::string months_text(const std::array<double, 12>& months) {
  std::vector<std::string> words;
  for (const double month : months) words.push_back(plain_number(month));
  return join(words, " ");
}

}  // namespace

std::string sheet_of(const Library& library, const Insulation& record) {
  Sheet sheet{record.head, "insulation"};
  sheet.line("family", record.family + ", " + record.abbreviation);
  sheet.sentence("types", record.standard_types);
  sheet.line("in use", fmt::format("{} to {} [{}, {}]", record.in_use_from,
                                   record.in_use_to ? std::to_string(*record.in_use_to) : "today",
                                   name_of(record.in_use.grade), record.in_use.source));
  sheet.cite(record.in_use);
  sheet.number("rating", record.rating);
  sheet.number("life point, temperature", record.life_temperature);
  sheet.number("life point, hours", record.life_hours);
  sheet.line("", record.pass_mark ? "what a conforming cable must reach; a lower bound" : "measured");
  sheet.number("elongation there", record.end_elongation);
  if (record.fit_covariance) {
    sheet.line("known from a fit", "ln hours there and activation energy, both together");
    sheet.number("  variance of ln hours", record.fit_covariance->ln_hours_variance);
    sheet.number("  covariance", record.fit_covariance->ln_hours_energy);
    sheet.number("  variance of the energy", record.fit_covariance->energy_variance);
  }
  sheet.number("lot factor on life", record.lot_median);
  sheet.number("  spread of its ln", record.lot_ln_sd);
  sheet.line("kinetics", fmt::format("{} [{}, {}] {}", record.law == KineticsLaw::guarded ? "guarded" : "gradual",
                                     name_of(record.law_from.grade), record.law_from.source, record.law_from.note));
  sheet.cite(record.law_from);
  if (record.induction_share) sheet.number("  induction share", *record.induction_share);
  add_paths(sheet, record.paths);
  add_paths(sheet, record.guard_paths);
  add_indices(sheet, record);
  sheet.number("elongation when new", record.initial_elongation);
  sheet.number("expansion", record.expansion);
  sheet.number("density", record.density);
  sheet.number("thermal conductivity", record.thermal_conductivity);
  sheet.number("emissivity", record.emissivity);
  sheet.line("life factors", "at equal temperature");
  sheet.number("  bare copper", record.life_factors.bare_copper);
  sheet.number("  tinned copper", record.life_factors.tinned_copper);
  sheet.number("  closed covering", record.life_factors.closed_cover);
  sheet.number("  absorbing covering", record.life_factors.absorbing_cover);
  sheet.number("  oil film", record.life_factors.oil_film);
  sheet.number("  hot coolant", record.life_factors.hot_coolant);
  sheet.sentence("mechanism", record.mechanism);
  sheet.sentence("fluids", record.fluids);
  sheet.sentence("copper", record.copper);
  sheet.sentence("oxygen", record.oxygen);
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const Covering& record) {
  static const std::array<std::string_view, 3> enclosures{
      "open: air gets through", "closed: keeps plasticiser in and air out", "absorbing: takes up plasticiser and oil"};
  Sheet sheet{record.head, "covering"};
  sheet.line("enclosure", enclosures[static_cast<std::size_t>(record.enclosure)]);
  sheet.line("traps damp", record.traps_damp ? "yes" : "no");
  sheet.number("rating", record.rating);
  sheet.number("life point, temperature", record.life_temperature);
  sheet.number("life point, hours", record.life_hours);
  sheet.number("activation energy", record.activation_energy);
  sheet.number("density", record.density);
  sheet.number("thermal conductivity", record.thermal_conductivity);
  sheet.number("emissivity", record.emissivity);
  sheet.number("thickness", record.thickness);
  sheet.number("trapped air", record.air_gap);
  sheet.sentence("effect", record.effect);
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const Zone& record) {
  Sheet sheet{record.head, "zone"};
  sheet.number("follows the ambient by", record.ambient_following);
  for (std::size_t state = 0; state < record.rise.size(); ++state) {
    sheet.number(fmt::format("rise, {}", running_state_names[state]), record.rise[state]);
  }
  sheet.number("soak peak", record.soak_peak);
  sheet.number("time to warm", record.tau_warm);
  sheet.number("time of soak rise", record.tau_soak_rise);
  sheet.number("time of soak decay", record.tau_soak_decay);
  sheet.number("share of bonnet sun", record.sun_share);
  sheet.line("warmed by radiation", record.radiant ? "mainly" : "no");
  if (record.hot_surface) {
    for (std::size_t state = 0; state < record.hot_surface->size(); ++state) {
      sheet.number(fmt::format("hot surface, {}", running_state_names[state]), (*record.hot_surface)[state]);
    }
    sheet.line("air beside a hot body", "that of " + record.air_zone);
  }
  sheet.sentence("bound", record.bound);
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const Climate& record) {
  Sheet sheet{record.head, "climate"};
  const auto months = [&](std::string_view label, const std::array<double, 12>& values, std::string_view unit,
                          const Provenance& from) {
    sheet.line(label, fmt::format("{} {}, January to December [{}, {}] {}", months_text(values), unit, name_of(from.grade),
                                  from.source, from.note));
    sheet.cite(from);
  };
  sheet.line("place", record.place + " (" + record.hemisphere + ")");
  months("monthly mean", record.monthly_mean, "Cel", record.monthly_mean_from);
  months("daily range", record.daily_range, "K", record.daily_range_from);
  months("sd of a day's mean", record.deviation_sd, "K", record.deviation_from);
  sheet.number("relative humidity", record.relative_humidity);
  sheet.number("sun on the bonnet", record.sun_rise);
  sheet.number("hours of it a day", record.sun_hours);
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const Duty& record) {
  static const std::array<std::string_view, 7> days{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  Sheet sheet{record.head, "duty"};
  const double hours_a_year = weekly_running_time(record).value() / 60.0 / 168.0 * hours_per_year;
  sheet.line("running", fmt::format("{:.0f} h a year [{}, {}] {}", hours_a_year, name_of(record.from.grade),
                                    record.from.source, record.from.note));
  sheet.cite(record.from);
  for (std::size_t state = 0; state < record.running_mix.size(); ++state) {
    sheet.line(fmt::format("  {}", running_state_names[state]), fmt::format("{:.0f} %", 100.0 * record.running_mix[state]));
  }
  for (const WeeklyTrip& trip : record.trips) {
    std::vector<std::string> names;
    for (const int day : trip.days) names.emplace_back(days[static_cast<std::size_t>(day)]);
    const int start = static_cast<int>(trip.start.value());
    const std::string repeat =
        trip.repeat > 1 ? fmt::format(", {} times, every {} min", trip.repeat, trip.every.value()) : "";
    sheet.line("  trip", fmt::format("{} {:02}:{:02}, {} min{}", join(names, " "), start / 60, start % 60,
                                     trip.length.value(), repeat));
  }
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const Conductors& record) {
  Sheet sheet{record.head, "conductors"};
  for (const ConductorSize& size : record.sizes) {
    sheet.line(size.label, "");
    sheet.number("  area", size.area);
    sheet.number("  resistance", size.resistance);
    if (size.diameter) sheet.number("  diameter", *size.diameter);
    const auto wall = [&](std::string_view name, const std::optional<WallSize>& wall_size) {
      if (!wall_size) return;
      sheet.number(fmt::format("  {} wall", name), wall_size->wall);
      sheet.number(fmt::format("  {} outer diameter", name), wall_size->outer_diameter);
    };
    wall("thin", size.thin);
    wall("thick", size.thick);
  }
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const Era& record) {
  Sheet sheet{record.head, "era"};
  for (const EraDecade& decade : record.decades) {
    std::vector<std::string> words;
    for (const EraCandidate& candidate : decade.candidates) {
      words.push_back(fmt::format("{} {:.0f} %", candidate.insulation, 100.0 * candidate.weight));
    }
    sheet.line(fmt::format("{} to {}", decade.from, decade.to),
               fmt::format("{} [{}, {}] {}", join(words), name_of(decade.provenance.grade), decade.provenance.source,
                           decade.provenance.note));
    sheet.cite(decade.provenance);
  }
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const Method& record) {
  Sheet sheet{record.head, "method"};
  sheet.line("takes covering off", record.opens ? "yes" : "no");
  sheet.sentence("how", record.how);
  for (const SourcedText& sentence : record.before) sheet.sentence("before", sentence);
  std::visit([&](const auto& evidence) { add_evidence(sheet, evidence); }, record.evidence);
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const Clue& record) {
  Sheet sheet{record.head, "clue"};
  sheet.line("found by", clue_kind_names[static_cast<std::size_t>(record.found_by)]);
  sheet.sentence("how", record.how);
  for (const auto& [insulation, chance] : record.chance) sheet.number("on " + insulation, chance);
  sheet.number("on all others", record.others);
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const Consequence& record) {
  Sheet sheet{record.head, "consequence"};
  sheet.sentence("when it opens", record.when_open);
  sheet.sentence("when it shorts", record.when_short);
  sheet.number("faults that short", record.short_share);
  sheet.number("stops it, open", record.stop_open);
  sheet.number("stops it, shorted", record.stop_short);
  sheet.line("fused",
             fmt::format("{} [{}, {}]", record.fused ? "usually" : "no", name_of(record.from.grade), record.from.source));
  sheet.line("traded against money", record.never_traded ? "never" : "yes");
  sheet.cite(record.from);
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const RemedyKind& record) {
  Sheet sheet{record.head, "remedy"};
  sheet.sentence("about", record.about);
  sheet.sentence("stays in", record.stays_in);
  sheet.line("parts", "money, in minutes of work that it pays");
  sheet.number("  once", record.parts);
  sheet.number("  for each segment", record.parts_each);
  sheet.number("  for each wire in it", record.parts_wire);
  sheet.line("work", "minutes");
  sheet.number("  once", record.minutes);
  sheet.number("  for each segment", record.minutes_each);
  sheet.number("  for each wire in it", record.minutes_wire);
  sheet.number("parts are there after", record.lead_days);
  sheet.number("disturbs what stays in by", record.disturbs);
  if (record.act == library::RemedyAct::cover) sheet.number("prevents of bare-wire faults", record.prevents);
  return sheet.finish(library);
}

std::string sheet_of(const Library& library, const ModelConstants& record) {
  Sheet sheet{record.head, "model constants"};
  const ModelConstants::Trace& trace = record.trace;
  sheet.number("engine warms in", trace.engine_warm_time);
  sheet.number("exhaust warms in", trace.exhaust_warm_time);
  sheet.number("exhaust cools in", trace.exhaust_decay_time);
  sheet.number("engine above ambient", trace.engine_excess);
  sheet.number("slow decay from", trace.slow_decay_from);
  sheet.number("response when running", trace.running_response_share);
  sheet.number("hot soak above", trace.soak_threshold);
  sheet.number("rises stated at", trace.anchor_ambient);
  sheet.number("hottest hour", trace.hottest_hour);
  sheet.number("sun centred on", trace.sun_centre_hour);
  sheet.number("mean speed", record.usage.mean_speed);
  sheet.number("spread of usage", record.usage.ln_sd);
  sheet.number("elongation left at the end", record.ageing.floor_elongation);
  sheet.number("guard strength", record.ageing.guard_strength);
  sheet.number("seed of the autocatalysis", record.ageing.seed_extent);
  sheet.number("reference humidity", record.ageing.reference_humidity);
  sheet.number("humidity of trapped damp", record.ageing.damp_humidity);
  sheet.number("lot factor, pass mark", record.ageing.lot_median_pass_mark);
  sheet.number("  spread of its ln", record.ageing.lot_ln_sd_pass_mark);
  sheet.number("spread between stretches", record.ageing.stretch_ln_sd);
  sheet.number("spread lots have in common", record.ageing.batch_share);
  sheet.number("vaporisation of water", record.ageing.vaporisation_enthalpy);
  sheet.number("plasticiser loss, inner wire", record.ageing.inner_wire_loss);
  sheet.number("stiff below, of e0", record.condition.stiff_share);
  sheet.number("handling bend, diameters", record.condition.handling_diameters);
  sheet.number("notches and hard skin", record.condition.notch_factor);
  sheet.number("share of a relaxed bend", record.condition.relaxed_bend_share);
  sheet.number("expansion of copper", record.condition.copper_expansion);
  sheet.number("temperature swing", record.condition.thermal_swing);
  sheet.number("strain of vibration", record.condition.vibration_strain);
  sheet.number("crumbling below", record.condition.crumbling_elongation);
  sheet.number("route radius", record.condition.route_radius);
  sheet.number("emissivity of hot parts", record.hot_body.emissivity);
  sheet.number("clean shield lets through", record.hot_body.shield_clean);
  sheet.number("dirty shield lets through", record.hot_body.shield_dirty);
  sheet.number("unsure cause is heat", record.finding.unsure_heat_share);
  sheet.number("earlier repair, ratio", record.finding.altered_ratio);
  add_opening(sheet, record.opening);
  sheet.number("years are capped at", record.report.years_cap);
  sheet.number("and in words at", record.report.plain_words_cap);
  add_measurement(sheet, record.measurement);
  return sheet.finish(library);
}

std::string template_sheet(const std::string& text) {
  const Json record = read_strict_json(text, "template");
  Sheet sheet{{record.at("id").get<std::string>(), record.at("name").get<std::string>(), record.value("note", "")},
              "template"};
  for (const Json& segment : record.at("case").at("segments")) {
    std::vector<std::string> zones;
    for (const Json& stretch : segment.at("stretches")) zones.push_back(stretch.at("zone").get<std::string>());
    sheet.line("  " + segment.at("id").get<std::string>(), segment.value("name", "") + ": " + join(zones));
  }
  return sheet.text();
}

}  // namespace heatside::report
