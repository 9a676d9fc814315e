#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "base/text.hpp"
#include "library/read_records.hpp"

namespace heatside::library {

namespace {

PathKind path_kind(Fields& fields) {
  const std::string kind = fields.choice("kind", {"oxidation", "plasticiser-loss", "dehydrochlorination", "hydrolysis"});
  if (kind == "plasticiser-loss") return PathKind::plasticiser_loss;
  if (kind == "dehydrochlorination") return PathKind::dehydrochlorination;
  return kind == "hydrolysis" ? PathKind::hydrolysis : PathKind::oxidation;
}

void read_wet_point(Fields& fields, RecordReader& reader, AgeingPath& path) {
  Fields point = fields.object("reference");
  path.wet_temperature = reader.number(point, "temperature", {"Cel", 20.0, 200.0});
  path.wet_humidity = reader.number(point, "relative_humidity", {"%", 1.0, 100.0});
  path.wet_hours = reader.number(point, "hours", {"h", 1.0, 1.0e7});
  point.optional_text("note");
  point.refuse_unknown();
  path.humidity_exponent = reader.number(fields, "humidity_exponent", {"1", 0.0, 5.0});
}

AgeingPath read_path(Fields fields, RecordReader& reader) {
  AgeingPath path;
  path.id = fields.text("id");
  path.kind = path_kind(fields);
  path.activation_energy = reader.number(fields, "activation_energy", {"kJ/mol", 5.0, 400.0});
  if (!path.activation_energy.sd || !path.activation_energy.low) {
    fields.complain("activation_energy", "needs sd, low and high: the draws are taken from them");
  }
  if (path.kind == PathKind::hydrolysis) {
    read_wet_point(fields, reader, path);
  } else {
    path.share = reader.number(fields, "share", {"1", 0.0, 1.0});
  }
  if (path.kind == PathKind::plasticiser_loss)
    path.reference_wall = reader.number(fields, "reference_wall", {"mm", 0.05, 5.0});
  fields.optional_text("note");
  fields.refuse_unknown();
  return path;
}

std::vector<AgeingPath> read_paths(Fields& fields, std::string_view key, std::vector<Fields> elements,
                                   RecordReader& reader) {
  std::vector<AgeingPath> paths;
  double dry_shares = 0.0;
  for (const Fields& element : elements) {
    paths.push_back(read_path(element, reader));
    dry_shares += paths.back().share.value;
  }
  if (!paths.empty() && std::abs(dry_shares - 1.0) > 1.0e-9) {
    fields.complain(key, fmt::format("shares of the dry paths sum to {}; they must sum to 1", plain_number(dry_shares, 10)));
  }
  return paths;
}

void read_fit_covariance(Fields& fields, RecordReader& reader, Insulation& insulation) {
  auto block = fields.optional_object("fit_covariance");
  if (!block) return;
  FitCovariance fit{reader.number(*block, "ln_hours_variance", {"1", 0.0, 100.0}),
                    reader.number(*block, "ln_hours_energy", {"kJ/mol", -1.0e4, 1.0e4}),
                    reader.number(*block, "energy_variance", {"kJ2/mol2", 0.0, 1.0e5})};
  const double product = fit.ln_hours_variance.value * fit.energy_variance.value;
  if (fit.ln_hours_energy.value * fit.ln_hours_energy.value > product * (1.0 + 1.0e-9))
    block->complain("ln_hours_energy", "must not exceed the root of the product of the two variances");
  block->optional_text("note");
  block->refuse_unknown();
  insulation.fit_covariance = std::move(fit);
}

void read_life_point(Fields& fields, RecordReader& reader, Insulation& insulation) {
  Fields life = fields.object("thermal_life");
  insulation.life_temperature = reader.number(life, "temperature", {"Cel", 20.0, 400.0});
  insulation.life_hours = reader.number(life, "hours", {"h", 1.0, 1.0e7});
  insulation.end_elongation = reader.number(life, "end_elongation", {"%", 1.0, 500.0});
  insulation.pass_mark = life.choice("basis", {"pass-mark", "measured"}) == "pass-mark";
  life.optional_text("note");
  life.refuse_unknown();

  Fields lot = fields.object("lot");
  insulation.lot_median = reader.number(lot, "median", {"1", 0.01, 100.0});
  insulation.lot_ln_sd = reader.number(lot, "ln_sd", {"1", 0.0, 3.0});
  lot.optional_text("note");
  lot.refuse_unknown();
}

void read_kinetics(Fields& fields, RecordReader& reader, Insulation& insulation) {
  // A record without a curve ages gradually, and that is judgement.
  auto kinetics = fields.optional_object("kinetics");
  if (!kinetics) {
    insulation.law_from = {"judgement", Grade::judgement, "no curve in the record: taken as gradual"};
    return;
  }
  const bool guarded = kinetics->choice("law", {"gradual", "guarded"}) == "guarded";
  insulation.law = guarded ? KineticsLaw::guarded : KineticsLaw::gradual;
  if (guarded) insulation.induction_share = reader.number(*kinetics, "induction_share", {"1", 0.05, 0.98});
  insulation.law_from = reader.provenance(*kinetics);
  kinetics->refuse_unknown();
}

void read_in_use(Fields& fields, RecordReader& reader, Insulation& insulation) {
  Fields in_use = fields.object("in_use");
  insulation.in_use_from = static_cast<int>(in_use.count("from", 1850, 2200));
  const Json* to = in_use.require("to");
  if (to != nullptr && !to->is_null()) insulation.in_use_to = static_cast<int>(in_use.count("to", 1850, 2200));
  insulation.in_use = reader.provenance(in_use);
  in_use.refuse_unknown();
}

LifeFactors read_life_factors(Fields& fields, RecordReader& reader) {
  Fields factors = fields.object("life_factors");
  const auto factor = [&](std::string_view key) { return reader.number(factors, key, {"1", 0.01, 20.0}); };
  LifeFactors life_factors{factor("bare_copper"),     factor("tinned_copper"), factor("closed_cover"),
                           factor("absorbing_cover"), factor("oil_film"),      factor("hot_coolant")};
  factors.refuse_unknown();
  return life_factors;
}

void check_elongations(Fields& fields, const Insulation& insulation) {
  if (insulation.end_elongation.value >= insulation.initial_elongation.value) {
    fields.complain("initial_elongation", "must be above the elongation of the thermal-life point");
  }
}

}  // namespace

Insulation read_insulation(Fields& fields, RecordReader& reader) {
  Insulation insulation;
  insulation.head = reader.head(fields);
  insulation.family = fields.choice("family", {"pvc", "polyolefin", "rubber", "silicone", "ester", "polyurethane",
                                               "polyamide", "polyimide", "fluoropolymer", "unknown"});
  insulation.abbreviation = fields.text("abbreviation");
  insulation.standard_types = reader.text(fields, "standard_types");
  read_in_use(fields, reader, insulation);
  insulation.rating = reader.number(fields, "rating", {"Cel", 20.0, 400.0});
  read_life_point(fields, reader, insulation);
  read_fit_covariance(fields, reader, insulation);
  read_kinetics(fields, reader, insulation);
  insulation.paths = read_paths(fields, "paths", fields.objects("paths", 1), reader);
  insulation.guard_paths = read_paths(fields, "guard_paths", fields.optional_objects("guard_paths"), reader);
  insulation.initial_elongation = reader.number(fields, "initial_elongation", {"%", 2.0, 2000.0});
  insulation.expansion = reader.number(fields, "expansion", {"1/K", 0.0, 1.0e-3});
  insulation.density = reader.number(fields, "density", {"g/cm3", 0.05, 5.0});
  insulation.thermal_conductivity = reader.number(fields, "thermal_conductivity", {"W/m/K", 0.01, 5.0});
  insulation.emissivity = reader.number(fields, "emissivity", {"1", 0.01, 1.0});
  insulation.life_factors = read_life_factors(fields, reader);
  insulation.mechanism = reader.text(fields, "mechanism");
  insulation.fluids = reader.text(fields, "fluids");
  insulation.copper = reader.text(fields, "copper");
  insulation.oxygen = reader.text(fields, "oxygen");
  check_elongations(fields, insulation);
  return insulation;
}

}  // namespace heatside::library
