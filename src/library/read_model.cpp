#include "library/read_records.hpp"

namespace heatside::library {

namespace {

// A group of the model record: numbers by key, each with its own rule.
struct Group {
  Fields fields;
  RecordReader& reader;

  Sourced operator()(std::string_view key, NumberRule rule) { return reader.number(fields, key, rule); }
  void finish() {
    fields.optional_text("note");
    fields.refuse_unknown();
  }
};

ModelConstants::Trace read_trace(Group group) {
  ModelConstants::Trace trace;
  trace.engine_warm_time = group("engine_warm_time", {"min", 0.1, 100.0});
  trace.exhaust_warm_time = group("exhaust_warm_time", {"min", 0.1, 100.0});
  trace.exhaust_decay_time = group("exhaust_decay_time", {"min", 0.1, 1000.0});
  trace.engine_excess = group("engine_excess", {"K", 1.0, 300.0});
  trace.slow_decay_from = group("slow_decay_from", {"min", 0.0, 10000.0});
  trace.running_response_share = group("running_response_share", {"1", 0.01, 10.0});
  trace.soak_threshold = group("soak_threshold", {"K", 0.0, 100.0});
  trace.anchor_ambient = group("anchor_ambient", {"Cel", -50.0, 60.0});
  trace.hottest_hour = group("hottest_hour", {"h", 0.0, 24.0});
  trace.sun_centre_hour = group("sun_centre_hour", {"h", 0.0, 24.0});
  group.finish();
  return trace;
}

ModelConstants::Usage read_usage(Group group) {
  ModelConstants::Usage usage;
  usage.mean_speed = group("mean_speed", {"km/h", 1.0, 200.0});
  usage.ln_sd = group("ln_sd", {"1", 0.0, 2.0});
  group.finish();
  return usage;
}

ModelConstants::Ageing read_ageing(Group group) {
  ModelConstants::Ageing ageing;
  ageing.floor_elongation = group("floor_elongation", {"%", 0.001, 1.0});
  ageing.guard_strength = group("guard_strength", {"1", 1.5, 50.0});
  ageing.seed_extent = group("seed_extent", {"1", 1.0e-6, 0.5});
  ageing.reference_humidity = group("reference_humidity", {"%", 1.0, 100.0});
  ageing.damp_humidity = group("damp_humidity", {"%", 1.0, 100.0});
  ageing.lot_median_pass_mark = group("lot_median_pass_mark", {"1", 0.1, 10.0});
  ageing.lot_ln_sd_pass_mark = group("lot_ln_sd_pass_mark", {"1", 0.0, 3.0});
  ageing.stretch_ln_sd = group("stretch_ln_sd", {"1", 0.0, 3.0});
  ageing.batch_share = group("batch_share", {"1", 0.0, 1.0});
  ageing.vaporisation_enthalpy = group("vaporisation_enthalpy", {"kJ/mol", 30.0, 60.0});
  ageing.inner_wire_loss = group("inner_wire_loss", {"1", 0.0, 1.0});
  group.finish();
  return ageing;
}

ModelConstants::Condition read_condition(Group group) {
  ModelConstants::Condition condition;
  condition.stiff_share = group("stiff_share", {"1", 0.01, 1.0});
  condition.handling_diameters = group("handling_diameters", {"1", 0.1, 100.0});
  condition.notch_factor = group("notch_factor", {"1", 1.0, 10.0});
  condition.relaxed_bend_share = group("relaxed_bend_share", {"1", 0.0, 1.0});
  condition.copper_expansion = group("copper_expansion", {"1/K", 0.0, 1.0e-3});
  condition.thermal_swing = group("thermal_swing", {"K", 0.0, 300.0});
  condition.vibration_strain = group("vibration_strain", {"%", 0.0, 10.0});
  condition.crumbling_elongation = group("crumbling_elongation", {"%", 0.21, 10.0});
  condition.route_radius = group("route_radius", {"mm", 1.0, 500.0});
  group.finish();
  return condition;
}

ModelConstants::HotBody read_hot_body(Group group) {
  ModelConstants::HotBody hot_body;
  hot_body.emissivity = group("emissivity", {"1", 0.01, 1.0});
  hot_body.shield_clean = group("shield_clean", {"1", 0.0, 1.0});
  hot_body.shield_dirty = group("shield_dirty", {"1", 0.0, 1.0});
  group.finish();
  return hot_body;
}

ModelConstants::Finding read_finding(Group group) {
  ModelConstants::Finding finding;
  finding.unsure_heat_share = group("unsure_heat_share", {"1", 0.0, 1.0});
  finding.altered_ratio = group("altered_ratio", {"1", 1.0, 100.0});
  group.finish();
  return finding;
}

ModelConstants::Opening read_opening(Group group) {
  ModelConstants::Opening opening;
  opening.minute_rate = group("minute_rate", {"1/min", 1.0e-3, 1.0e6});
  opening.minutes_to_open = group("minutes_to_open", {"min", 0.0, 10000.0});
  opening.cover_share = group("cover_share", {"1", 0.0, 1.0});
  opening.loom_cost = group("loom_cost", {"min", 0.0, 1.0e6});
  opening.fault_cost = group("fault_cost", {"min", 0.0, 1.0e6});
  opening.fault_stiff = group("fault_stiff", {"1", 0.0, 1.0});
  opening.fault_flex_cracks = group("fault_flex_cracks", {"1", 0.0, 1.0});
  opening.fault_cracked = group("fault_cracked", {"1", 0.0, 1.0});
  opening.fault_crumbling = group("fault_crumbling", {"1", 0.0, 1.0});
  opening.fault_years = group("fault_years", {"a", 1.0, 50.0});
  opening.break_stiff = group("break_stiff", {"1", 0.0, 1.0});
  opening.break_flex_cracks = group("break_flex_cracks", {"1", 0.0, 1.0});
  opening.break_cracked = group("break_cracked", {"1", 0.0, 1.0});
  opening.break_crumbling = group("break_crumbling", {"1", 0.0, 1.0});
  opening.break_cost = group("break_cost", {"min", 0.0, 1.0e6});
  opening.latch_chance = group("latch_chance", {"1", 0.0, 1.0});
  opening.latch_cost = group("latch_cost", {"min", 0.0, 1.0e6});
  group.finish();
  return opening;
}

ModelConstants::Report read_report(Group group) {
  ModelConstants::Report report;
  report.years_cap = group("years_cap", {"a", 1.0, 10000.0});
  report.plain_words_cap = group("plain_words_cap", {"a", 1.0, 10000.0});
  group.finish();
  return report;
}

// A number that is used with its spread.
Sourced with_sd(Group& group, std::string_view key, NumberRule rule) {
  Sourced number = group(key, rule);
  if (group.fields.has(key) && !number.sd) group.fields.complain(key, "\"sd\" is missing");
  return number;
}

ModelConstants::Measurement read_measurement(Group group) {
  ModelConstants::Measurement measurement;
  measurement.infrared_sd = group("infrared_sd", {"K", 0.5, 50.0});
  measurement.contact_sd = group("contact_sd", {"K", 0.5, 50.0});
  measurement.indicator_sd = group("indicator_sd", {"K", 0.5, 50.0});
  measurement.logger_sd = group("logger_sd", {"K", 0.5, 50.0});
  measurement.day_share = group("day_share", {"1", 0.0, 1.0});
  measurement.day_floor = group("day_floor", {"K", 0.5, 50.0});
  measurement.state_share = group("state_share", {"1", 0.0, 1.0});
  measurement.time_sd = group("time_sd", {"min", 0.0, 30.0});
  measurement.open_bonnet_loss = with_sd(group, "open_bonnet_loss", {"1", 0.0, 0.9});
  measurement.shiny_loss = with_sd(group, "shiny_loss", {"1", 0.0, 0.9});
  measurement.loaded_factor = group("loaded_factor", {"1", 1.0, 10.0});
  measurement.long_stay = group("long_stay", {"d", 0.0, 366.0});
  measurement.long_stay_sd = group("long_stay_sd", {"K", 0.0, 20.0});
  measurement.warm_after = group("warm_after", {"min", 0.0, 120.0});
  measurement.soak_window = group("soak_window", {"min", 1.0, 1440.0});
  measurement.doubtful_beyond = group("doubtful_beyond", {"1", 1.0, 10.0});
  group.finish();
  return measurement;
}

}  // namespace

ModelConstants read_model(Fields& fields, RecordReader& reader) {
  ModelConstants model;
  model.head = reader.head(fields);
  model.trace = read_trace({fields.object("trace"), reader});
  model.usage = read_usage({fields.object("usage"), reader});
  model.ageing = read_ageing({fields.object("ageing"), reader});
  model.condition = read_condition({fields.object("condition"), reader});
  model.hot_body = read_hot_body({fields.object("hot_body"), reader});
  model.opening = read_opening({fields.object("opening"), reader});
  model.report = read_report({fields.object("report"), reader});
  model.finding = read_finding({fields.object("finding"), reader});
  model.measurement = read_measurement({fields.object("measurement"), reader});
  return model;
}

}  // namespace heatside::library
